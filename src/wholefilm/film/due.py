"""How many readings a document asks for on an area, and at the places that it names."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.rules.sampling import AreaTable, ReadingRow, ReadingTable, Sampling
from wholefilm.rules.thickness import PatternRow

from .result import Number


def number_due(sampling: Sampling, area: Quantity, readings_a_spot: int = 1, spots_an_area: int = 1) -> Number | None:
    """How many areas, spots and readings are due.

    Parameters
    ----------
    sampling : Sampling
        Its figures stand in its own unit; only `area` is converted to it.
    area : Quantity
        Coated area. [area]
    readings_a_spot, spots_an_area : int
        Of the rule; used where areas are counted.

    Returns
    -------
    Number or None
        None where the document says nothing of such an area.

    Raises
    ------
    BadInput
        If the area is not more than zero.
    """
    if area.number <= 0:
        raise BadInput("area", area.text, "an area more than zero, with its unit")
    match sampling:
        case AreaTable():
            areas = _areas(sampling, area)
            return Number(areas, areas * spots_an_area, areas * spots_an_area * readings_a_spot)
        case ReadingTable():
            return _rows(sampling, area)
        case _:
            return Number(readings=_times(area, sampling.one_per))


def least_due(sampling: Sampling | None, readings_a_spot: int = 1, spots_an_area: int = 1) -> Number:
    """The least that is due on any area, for readings of an area that was not told."""
    if isinstance(sampling, AreaTable):
        return Number(1, spots_an_area, spots_an_area * readings_a_spot)
    if isinstance(sampling, ReadingTable):
        return Number(readings=sampling.rows[0].readings)
    return Number(readings=1)


def split_note(sampling: Sampling | None, area: Quantity | None) -> str:
    """What the document says of an area that is too large for one plan, else nothing."""
    if not isinstance(sampling, ReadingTable) or area is None or not sampling.split_over or sampling.split_grade is None:
        return ""
    if area.exact("m2") <= _m2(sampling.split_over):
        return ""
    return f"an area over {sampling.split_over} is divided into smaller ones [{sampling.split_grade.value}]"


def pattern_due(pattern: Sequence[PatternRow], places: Mapping[str, Quantity | int]) -> dict[str, tuple[int, int]]:
    """Readings due at the kinds of place that a document names.

    Parameters
    ----------
    pattern : sequence of PatternRow
    places : mapping
        Kind of place, as in the pattern, to its area or length, or to how many there are where the document counts them.

    Returns
    -------
    dict
        Kind to the least and the most number of readings: apart where the document gives an interval as a range.

    Raises
    ------
    BadInput
        If the document names no such kind of place, or wants another measure of it.
    """
    known = {row.at: row for row in pattern}
    found: dict[str, tuple[int, int]] = {}
    for at, size in places.items():
        if at not in known:
            raise BadInput("place", at, f"one of {', '.join(known)}")
        row = known[at]
        if not row.every:
            if not isinstance(size, int) or size < 0:
                raise BadInput(at, size, "how many there are")
            found[at] = (size * row.readings, size * row.readings)
            continue
        wanted = quantity(row.every, "area" if row.every.endswith("2") else "length").dimension
        if isinstance(size, int) or size.dimension != wanted or size.number <= 0:
            raise BadInput(at, size, f"{'an area' if wanted == 'area' else 'a length'} more than zero, with its unit")
        ends = []
        for each in (row.to or row.every, row.every):
            exact = size.exact("m2" if wanted == "area" else "m") / quantity(each, wanted).exact("m2" if wanted == "area" else "m")
            if wanted == "area":
                ends.append(max(row.least, math.ceil(exact * row.readings)))
            else:
                ends.append(row.readings * max(row.least, math.ceil(exact)))
        found[at] = (ends[0], ends[1])
    return found


def _areas(table: AreaTable, area: Quantity) -> int:
    size = area.exact("m2")
    if size <= _m2(table.all_up_to):
        return _times(area, table.each)
    if size <= _m2(table.up_to):
        return table.areas
    return table.areas + math.ceil((size - _m2(table.up_to)) / _m2(table.then_each))


def _rows(table: ReadingTable, area: Quantity) -> Number | None:
    size, last = area.exact("m2"), Fraction(0)
    for row in table.rows:
        if row.from_ and last < size < _m2(row.from_):
            return None
        if size <= _m2(row.up_to):
            return _row(row, area)
        last = _m2(row.up_to)
    if not table.then_each or table.then_readings is None:
        return None
    readings = table.rows[-1].readings + table.then_readings * math.ceil((size - last) / _m2(table.then_each))
    share = quantity(table.repeats_share, "share").exact("1") if table.repeats_share else None
    return Number(readings=readings, repeats=None if share is None else math.floor(share * readings))


def _row(row: ReadingRow, area: Quantity) -> Number:
    readings = math.ceil(area.exact("m2") / _m2(row.per) * row.readings) if row.per else row.readings
    return Number(readings=readings, repeats=row.repeats)


def _times(area: Quantity, each: str) -> int:
    return math.ceil(area.exact("m2") / _m2(each))


def _m2(text: str) -> Fraction:
    return quantity(text, "area").exact("m2")
