"""How many readings of film thickness a document asks for: by areas, by rows of a table, or by a rate."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from msgspec import Meta

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade

from .forms import Text

Number = Annotated[int, Meta(ge=1, le=1_000_000)]


class SamplingBase(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="form", kw_only=True):
    """Root of the forms; `form` in the data names which one it is. Areas are text in the unit of the document.

    Attributes
    ----------
    grade : Grade
        Of every figure of the table that has no grade of its own.
    """

    grade: Grade


class AreaTable(SamplingBase, tag="areas", frozen=True, kw_only=True):
    """Areas to measure: each `each` up to `all_up_to`, then `areas` up to `up_to`, then one more for each `then_each` or part of it."""

    each: Text
    all_up_to: Text
    areas: Number
    up_to: Text
    then_each: Text


class ReadingRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, kw_only=True, rename={"from_": "from"}):
    """Readings for an area up to `up_to`, both ends inside; for each `per` where given.

    Attributes
    ----------
    up_to : str
    readings : int
    per : str
        Empty: `readings` for the whole area.
    from_ : str
        The row begins here and leaves a gap after the row before. Empty: it begins where that ends.
    repeats : int or None
        Most readings that may be repeated; None if not read.
    grade : Grade or None
        Of this row, where it is not that of the table.
    """

    up_to: Text
    readings: Number
    per: str = ""
    from_: str = ""
    repeats: int | None = None
    grade: Grade | None = None


class ReadingTable(SamplingBase, tag="readings", frozen=True, kw_only=True):
    """Readings by rows; beyond the last row `then_readings` more for each `then_each` or part of it, if the document goes on.

    Attributes
    ----------
    rows : tuple of ReadingRow
    then_each : str
    then_readings : int or None
    split_over : str
        A larger area is to be divided. Empty if the document does not say.
    repeats_share : str
        Beyond the last row: most readings that may be repeated, as a share of the least number.
    repeats_grade : Grade or None
    """

    rows: Annotated[tuple[ReadingRow, ...], Meta(min_length=1)]
    then_each: str = ""
    then_readings: int | None = None
    split_over: str = ""
    split_grade: Grade | None = None
    repeats_share: str = ""
    repeats_grade: Grade | None = None


class ReadingRate(SamplingBase, tag="rate", frozen=True, kw_only=True):
    """One reading for each `one_per` or part of it, of `what` alone."""

    one_per: Text
    what: Text = "the area"


Sampling = AreaTable | ReadingTable | ReadingRate
"""Any one form."""


def check_sampling(given: Sampling, where: str) -> None:
    """Refuse areas without unit, rows out of order, half a rule for what lies beyond the rows.

    Raises
    ------
    BadInput
    """
    match given:
        case AreaTable():
            ends = [_m2(given, name, where) for name in ("each", "all_up_to", "up_to")]
            _m2(given, "then_each", where)
            if ends != sorted(ends):
                raise BadInput(f"{where}.up_to", given.up_to, f"each, all_up_to and up_to in rising order; all_up_to is {given.all_up_to}")
        case ReadingRate():
            _m2(given, "one_per", where)
        case ReadingTable():
            last = 0.0
            for n, row in enumerate(given.rows):
                here = f"{where}.rows[{n}]"
                start = _m2(row, "from_", here) if row.from_ else last
                end = _m2(row, "up_to", here)
                if start < last or end < start or end <= last:
                    raise BadInput(f"{here}.up_to", row.up_to, "rows in rising order")
                if row.per:
                    _m2(row, "per", here)
                last = end
            if bool(given.then_each) != (given.then_readings is not None):
                raise BadInput(f"{where}.then_each", given.then_each or "nothing", "then_each and then_readings together")
            for name in ("then_each", "split_over"):
                if getattr(given, name):
                    _m2(given, name, where)
            for value, grade, name in (
                (given.split_over, given.split_grade, "split_grade"),
                (given.repeats_share or any(r.repeats is not None for r in given.rows), given.repeats_grade, "repeats_grade"),
            ):
                if bool(value) != (grade is not None):
                    raise BadInput(f"{where}.{name}", grade or "nothing", "a grade exactly where there is a figure")
            if given.repeats_share:
                quantity(given.repeats_share, "share", f"{where}.repeats_share")


def _m2(part: Any, name: str, where: str) -> float:
    text = getattr(part, name)
    read = quantity(text, "area", f"{where}.{name.rstrip('_')}")
    if read.number <= 0:
        raise BadInput(f"{where}.{name.rstrip('_')}", text, "an area more than zero")
    return read.si
