"""A file of thickness readings held against a document's rule, outside any job."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.base.sources import Source
from wholefilm.base.table import TextForm, delimiter_of, encoding_of, head_of
from wholefilm.film.acceptance import ThicknessForm, accept
from wholefilm.film.due import pattern_due
from wholefilm.film.named import NotRead, Own, named_rule
from wholefilm.film.nominal import NominalBase, taken_off_um
from wholefilm.film.readings import Spots, read_columns
from wholefilm.film.result import Readings
from wholefilm.film.statistics import thickness_statistics
from wholefilm.rules.thickness import ThicknessRule, source_of, thickness_rule

MOST_BYTES = 256 * 1024 * 1024
COLUMNS = {"value": "value", "spot": "spot", "class": "class", "on": "place"}
"""Our column to its header in the file; `place` names the measured area of a reading."""
UNITS = ("um", "mil", "mm")


class Due(msgspec.Struct, frozen=True, omit_defaults=True):
    """How many are due: zero where the rule does not count them."""

    areas: int
    spots: int
    readings: int
    repeats: int | None = None


class ThicknessAnswer(msgspec.Struct, frozen=True, omit_defaults=True):
    """Readings of a file, and what comes of holding them against a rule. Means and extremes with what is taken off taken off.

    Attributes
    ----------
    n : int
    mean_um, sd_um, min_um, max_um : float
    due, there : Due
        What the rule asks for on that area (without an area: the least it ever asks for), and what is there.
    finding : Outcome
    because : str
    rule : Source
    limit, value : str
    inside_uncertainty : bool
    unit : str
        Unit in which the values were read.
    unit_from : str
        What said so.
    requirement : dict
        The rule with its figures as a requirement of a job can hold it. Left out where a figure was not read.
    """

    n: int
    mean_um: float
    sd_um: float
    min_um: float
    max_um: float
    due: Due
    there: Due
    finding: Outcome
    because: str
    rule: Source
    limit: str
    value: str
    inside_uncertainty: bool
    unit: str
    unit_from: str
    requirement: dict[str, Any] | None = None


def judge_file(
    path: Path, rule: str, own: Own, *, area: str | None = None, unit: str | None = None, edition: str | None = None,
    classes: Sequence[str] = (), encoding: str | None = None,
) -> ThicknessAnswer:  # fmt: skip
    """Hold a file against a rule.

    Parameters
    ----------
    path : Path
        CSV with a column `value`; optional `spot`, `class`, `place`.
    rule : str
        Id of a rule on the shelf.
    own : Own
        The contract's figures.
    area : str, optional
        Coated area with its unit.
    unit : str, optional
        Unit of the values.
    edition : str, optional
        Asked for by name where editions differ.
    classes : sequence of str
        Classes that are judged; all of the file if empty.
    encoding : str, optional
        Of the file; without it what its byte order mark says, else UTF-8.

    Returns
    -------
    ThicknessAnswer

    Raises
    ------
    BadInput
        Names the option, the column or the line.
    """
    found = thickness_rule(rule)
    size = quantity(area, "area", "area") if area is not None else None
    if size is not None and size.number <= 0:
        raise BadInput("area", area, "an area more than zero, with its unit, such as '500 m2'")
    chosen_edition = found.edition(edition)
    data = _bytes(path)
    text = _text_form(data, encoding)
    header = [h.strip() for h in head_of(data, text.encoding).replace("\ufeff", "").split(text.delimiter)]
    value_header, named_unit = _value_header(header)
    chosen_unit, unit_from = _unit(unit, named_unit, found, own)
    spots = read_columns(data, _columns(header, value_header), {"value": chosen_unit, "text": msgspec.to_builtins(text)})
    readings, judged = _readings(spots, classes)
    try:
        named = named_rule(found, edition, own, judged)
    except NotRead as error:
        return _not_read(found, chosen_edition, readings, error, chosen_unit, unit_from)
    result = accept(named.form, readings, size)
    because = result.because + _pattern_note(found, size)
    body = msgspec.to_builtins(named.form)
    requirement = {k: v for k, v in body.items() if v is not None}
    return ThicknessAnswer(
        result.n, *_statistics(readings, named.form), Due(*_four(result.due)), Due(*_four(result.there)), result.outcome, because,
        named.source, result.limit, result.value, result.inside_uncertainty, chosen_unit, unit_from, requirement,
    )  # fmt: skip


def _four(number: Any) -> tuple[int, int, int, int | None]:
    return number.areas, number.spots, number.readings, number.repeats


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise BadInput("FILE", str(path), f"a file of at most {MOST_BYTES // 1024**2} MiB")
        return path.read_bytes()
    except OSError as error:
        raise BadInput("FILE", str(path), f"a file that can be read ({error.strerror})") from error


def _text_form(data: bytes, asked: str | None) -> TextForm:
    try:
        encoding = TextForm(asked or encoding_of(data)).encoding
    except BadInput as error:
        raise BadInput("--encoding", asked, error.allowed) from None
    return TextForm(encoding, delimiter_of(head_of(data, encoding)))


def _value_header(header: list[str]) -> tuple[str, str]:
    """The header of the values and the unit that it names; a value column may end in its unit."""
    found = [h for h in header if h == "value" or (h.startswith("value_") and h[6:] in UNITS)]
    if len(found) != 1:
        raise BadInput("FILE", ", ".join(header) or "nothing", "a header line with one column value (or value_um, value_mil, value_mm)")
    return found[0], found[0].partition("_")[2]


def _unit(asked: str | None, named: str, rule: ThicknessRule, own: Own) -> tuple[str, str]:
    """Unit of the values and what says so: the option, the header, or the unit in which the contract's figures were typed."""
    if asked is not None:
        if asked not in UNITS:
            raise BadInput("unit", asked, f"one of {', '.join(UNITS)}")
        if named and named != asked:
            raise BadInput("unit", asked, f"the unit of the header, {named}, or none")
        return asked, "--unit"
    if named:
        return named, f"the header value_{named}"
    units = {quantity(t, "length", n).unit for n, t in (("nominal", own.nominal), ("min", own.min), ("max", own.max)) if t}
    if rule.unit and units <= {rule.unit}:
        return rule.unit, f"the rule {rule.id}"
    if not rule.unit and len(units) == 1 and units <= set(UNITS):
        return units.pop(), "the figures given"
    raise BadInput("unit", "nothing", f"the unit of the values: {', '.join(UNITS)}")


def _columns(header: list[str], value: str) -> dict[str, Any]:
    columns: dict[str, Any] = {ours: theirs for ours, theirs in COLUMNS.items() if theirs in header}
    return {"class": {"constant": "flat"}} | columns | {"value": value, "test_area": {"constant": "file"}}


def _readings(spots: Spots, classes: Sequence[str]) -> tuple[Readings, list[str]]:
    there = list(dict.fromkeys(spots.class_))
    for name in classes:
        if name not in there:
            raise BadInput("class", name, f"a class of the file: {', '.join(there) or 'it has no reading'}")
    names = spots.spot if any(spots.spot) else ()
    places = spots.on if any(spots.on) else ()
    readings = Readings(spots.values_um, names, places)
    if not classes or set(classes) == set(there):
        return readings, there or ["flat"]
    wanted = [c in classes for c in spots.class_]
    return readings.of(wanted), list(classes)


def _statistics(readings: Readings, form: ThicknessForm | None) -> tuple[float, float, float, float]:
    if not len(readings):
        return 0.0, 0.0, 0.0, 0.0
    s = thickness_statistics(readings.values_um)
    off = float(taken_off_um(form)) if isinstance(form, NominalBase) else 0.0
    mean, least, most = (round(x - off, 6) for x in (s.mean_um, s.min_um, s.max_um))
    return mean, round(s.sd_um, 6), least, most


def _pattern_note(rule: ThicknessRule, area: Quantity | None) -> str:
    """That a document counts other places apart from the area that was told."""
    others = [row.at.replace("_", " ") for row in rule.pattern if row.at != "flat"]
    if not others or area is None:
        return ""
    flat = pattern_due(rule.pattern, {"flat": area})["flat"][0]
    return f"; {flat} due on the flat area told, those of {', '.join(others)} are counted by themselves"


def _not_read(rule: ThicknessRule, edition: str, readings: Readings, error: NotRead, unit: str, unit_from: str) -> ThicknessAnswer:
    because = f"{error.field} {error.value} of {rule.document} was not read: enter its figures from your own copy as a rule of the contract"
    return ThicknessAnswer(
        len(readings), *_statistics(readings, None), Due(0, 0, 0), Due(0, 0, len(readings)), Outcome.CANNOT_TELL, because,
        source_of(rule, edition, rule.grade), "not read", "held against nothing", False, unit, unit_from,
    )  # fmt: skip
