"""Rules for film thickness as documents have them: what is judged, against what, how many readings are due."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from wholefilm.base.errors import BadInput, UnknownEdition
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade, Source

from .document import worst_grade
from .forms import Figure, Part, Text
from .loader import DATA, by_id, read_folder
from .reading import strict
from .sampling import Sampling, check_sampling

FREE, UNREAD = "none", "not known"
"""In place of a share: the document sets no limit; whether it sets one was not seen."""


class Whole(Part, frozen=True, kw_only=True):
    """A whole number, and how it is known."""

    value: Annotated[int, Meta(ge=1, le=1000)]
    grade: Grade


class Choice(Part, frozen=True, kw_only=True):
    """Yes or no, and how it is known."""

    value: bool
    grade: Grade


class Level(Part, frozen=True, kw_only=True):
    """Limits of spots and areas as shares of the least and the most specified, ``none`` or ``not known``.

    Attributes
    ----------
    level : int
        0 where the edition has no levels.
    grade : Grade or None
        None for a level of which no figure was read.
    editions : tuple of str
        Those that it holds for; empty for all of the rule.
    """

    level: Annotated[int, Meta(ge=0, le=9)]
    grade: Grade | None = None
    spot_min: str = ""
    spot_max: str = ""
    area_min: str = ""
    area_max: str = ""
    editions: tuple[Text, ...] = ()


class Extent(Part, frozen=True, kw_only=True):
    """How the extent of a nonconforming area is found: from the bad spot outward in straight lines."""

    step: Figure
    radius: Figure
    directions: Whole
    stop_after: Whole
    editions: tuple[Text, ...] = ()


class SpotsAndAreas(Part, frozen=True, kw_only=True, tag_field="form", tag="spot_and_area"):
    """Means of readings in spots, means of spots in areas, held against a range."""

    readings_a_spot: Whole
    spots_an_area: Whole
    levels: Annotated[tuple[Level, ...], Meta(min_length=1)]
    default_level: Whole | None = None
    single_value: Figure | None = None


class Nominal(Part, frozen=True, kw_only=True, tag_field="form", tag="nominal_share"):
    """Mean, floor and share of single readings, held against a nominal thickness."""

    mean: Figure
    floor: Figure
    low_share: Figure
    strict: Choice | None = None
    max_of_nominal: Figure | None = None
    least_nominal: Figure | None = None
    corrections: dict[str, Figure] = msgspec.field(default_factory=dict)


class ShareAndFloor(Part, frozen=True, kw_only=True, tag_field="form", tag="share_floor"):
    """Share of readings at or above the nominal thickness, and a floor for the rest. Left out: the contract gives it."""

    share: Figure | None = None
    floor: Figure | None = None
    strict: Choice | None = None
    nominal: Figure | None = None


class Points(Part, frozen=True, kw_only=True, tag_field="form", tag="points"):
    """Says how many points to measure, sets no limit here."""


class PatternRow(Part, frozen=True, kw_only=True):
    """Readings due at one kind of place."""

    at: Text
    says: Text
    grade: Grade
    readings: int
    every: str = ""
    to: str = ""
    least: int = 0


class ThicknessRule(Part, frozen=True, kw_only=True):
    """What one document says of film thickness.

    Attributes
    ----------
    id, title, document : str
    editions : tuple of str
        Those of which figures were read or are remembered. Empty where all figures are the contract's.
    written_for, says : str
        In our words.
    accept : SpotsAndAreas, Nominal, ShareAndFloor or Points
    unit : str
        Unit of the document's own figures where it prints several that are no conversions of each other.
    due : Sampling or None
    pattern : tuple of PatternRow
    extent : Extent or None
    unread : tuple of str
        Parts of which no figure ships.
    clause : str
    doubts : tuple of str
    note : str
    """

    id: Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,79}$")]
    title: Text
    document: Text
    written_for: Text
    says: Text
    accept: SpotsAndAreas | Nominal | ShareAndFloor | Points
    editions: tuple[Text, ...] = ()
    unit: Literal["", "um", "mil"] = ""
    due: Sampling | None = None
    pattern: tuple[PatternRow, ...] = ()
    extent: Extent | None = None
    unread: tuple[Text, ...] = ()
    clause: str = ""
    doubts: tuple[Text, ...] = ()
    note: str = ""

    @property
    def grade(self) -> Grade | None:
        """Worst grade of all figures; None if it has none."""
        return worst_grade(grades_in(self))

    def groups(self) -> list[tuple[str, ...]]:
        """Editions whose figures are the same, group by group."""
        if not isinstance(self.accept, SpotsAndAreas):
            return [self.editions] if self.editions else []
        same: dict[tuple[int, ...], list[str]] = {}
        for edition in self.editions:
            key = tuple(n for n, x in enumerate(self.accept.levels) if not x.editions or edition in x.editions)
            same.setdefault(key, []).append(edition)
        return [tuple(x) for x in same.values()]

    def edition(self, asked: str | None) -> str:
        """The edition asked for; without one, all of them by name if they agree.

        Raises
        ------
        UnknownEdition
            If it is not known, or none is named and they differ.
        """
        if not self.editions:
            return asked or "as agreed"
        if asked:
            if asked not in self.editions:
                raise UnknownEdition("edition", asked, f"for {self.id}: {', '.join(self.editions)}")
            return asked
        groups = self.groups()
        if len(groups) > 1:
            told = "; ".join(f"{', '.join(g)} say one thing" if len(g) > 1 else g[0] for g in groups)
            raise UnknownEdition("edition", "nothing", f"one by name, for {self.id} they differ: {told}")
        return "; ".join(self.editions)

    def level(self, edition: str, asked: int | None) -> Level:
        """The limits of spots and areas in an edition.

        Raises
        ------
        BadInput
            If the form has no levels, the edition has none, or that one is not known.
        """
        if not isinstance(self.accept, SpotsAndAreas):
            if asked is None:
                return Level(level=0)
            raise BadInput("level", asked, f"nothing: {self.id} has no levels")
        named = set(edition.split("; "))
        here = {x.level: x for x in self.accept.levels if not x.editions or named <= set(x.editions)}
        if set(here) == {0}:
            if asked is not None:
                raise BadInput("level", asked, f"nothing: edition {edition} of {self.document} has no levels")
            return here[0]
        chosen = asked if asked is not None else self.accept.default_level.value if self.accept.default_level else -1
        if chosen not in here:
            raise BadInput("level", "nothing" if asked is None else asked, f"for {self.id}: {', '.join(map(str, here))}")
        return here[chosen]

    def describe(self) -> list[tuple[str, str]]:
        """Rows of label and text, for printing one rule. Every figure stands with its grade."""
        editions = " | ".join("; ".join(g) for g in self.groups()) or "the contract's own"
        rows = [("id", self.id), ("title", self.title), ("document", self.document), ("editions", editions), ("clause", self.clause)]
        rows += [("written for", self.written_for), ("says", self.says)]
        rows += [(label.replace("_", " "), text) for label, text in _figures(self.accept)]
        rows += [("readings due", text) for _, text in (_figures(self.due) if self.due else [])]
        rows += [("readings due", f"{x.at}: {x.says} [{x.grade.value}]") for x in self.pattern]
        rows += [("extent", f"{label.replace('_', ' ')} {text}") for label, text in (_figures(self.extent) if self.extent else [])]
        rows += [("not read", f"{text}: enter it from your own copy") for text in self.unread]
        rows += [("doubt", doubt) for doubt in self.doubts]
        rows.append(("note", self.note))
        return [(label, text) for label, text in rows if text]


def grades_in(part: object) -> list[Grade]:
    """Grades of every figure inside a rule or a part of it."""
    if isinstance(part, Grade):
        return [part]
    if isinstance(part, msgspec.Struct):
        return [g for name in part.__struct_fields__ for g in grades_in(getattr(part, name))]
    if isinstance(part, tuple | list):
        return [g for one in part for g in grades_in(one)]
    return [g for one in part.values() for g in grades_in(one)] if isinstance(part, dict) else []


def _figures(part: msgspec.Struct) -> list[tuple[str, str]]:
    """Label and text of each figure below a part, with its grade."""
    plain: list[str] = []
    rows: list[tuple[str, str]] = []
    for name in part.__struct_fields__:
        value = getattr(part, name)
        if isinstance(value, Figure | Whole | Choice):
            rows.append((name, f"{value.value} [{value.grade.value}]"))
        elif isinstance(value, msgspec.Struct):
            rows += [(name, f"{label}: {text}") for label, text in _figures(value)]
        elif isinstance(value, dict):
            rows += [(name, f"{key}: {x.value} [{x.grade.value}]") for key, x in value.items()]
        elif isinstance(value, tuple) and value and isinstance(value[0], msgspec.Struct):
            rows += [(name, text) for one in value for _, text in _figures(one)]
        elif value not in (None, "", ()) and not isinstance(value, Grade):
            plain.append(f"{name.rstrip('_').replace('_', ' ')} {', '.join(value) if isinstance(value, tuple) else value}")
    grade = getattr(part, "grade", None)
    if plain:
        rows.insert(0, ("figures", ", ".join(plain) + (f" [{grade.value}]" if grade else "")))
    return rows


def read_thickness_rule(given: Mapping[str, Any]) -> ThicknessRule:
    """Read one rule strictly.

    Raises
    ------
    BadInput
        On an unknown or missing key, a figure without grade or unit, an edition that the rule does not list.
    """
    named = str(given.get("id") or "rule")
    rule = strict(given, ThicknessRule, named)
    if len(set(rule.editions)) != len(rule.editions):
        raise BadInput(f"{named}: editions", ", ".join(rule.editions), "each edition once")
    if not rule.editions and rule.grade is not None:
        raise BadInput(f"{named}: editions", "none", "at least one edition, because the rule has figures")
    if rule.due is not None:
        check_sampling(rule.due, f"{named}: due")
    if rule.extent is not None:
        _check_figures(named, "length", step=rule.extent.step, radius=rule.extent.radius)
        _listed(rule.extent.editions, rule.editions, f"{named}: extent")
    for row in rule.pattern:
        for text in (row.every, row.to):
            if text:
                dimension = "area" if text.endswith("2") else "length"
                quantity(text, dimension, f"{named}: pattern, {row.at}")
    match rule.accept:
        case SpotsAndAreas():
            _check_levels(rule.accept, rule.editions, named)
        case Nominal(mean=mean, floor=floor, low_share=low, max_of_nominal=most, least_nominal=least):
            _check_figures(named, "share", mean=mean, floor=floor, low_share=low, max_of_nominal=most)
            _check_figures(named, "length", least_nominal=least, **rule.accept.corrections)
        case ShareAndFloor(share=share, floor=floor, nominal=nominal):
            _check_figures(named, "share", share=share, floor=floor)
            _check_figures(named, "length", nominal=nominal)
        case _:
            pass
    return rule


def _check_levels(accept: SpotsAndAreas, editions: tuple[str, ...], named: str) -> None:
    for row in accept.levels:
        here = f"{named}: level {row.level}"
        limits = {name: getattr(row, name) for name in ("spot_min", "spot_max", "area_min", "area_max")}
        given = [text for text in limits.values() if text]
        if len(given) not in (0, 4) or bool(given) != (row.grade is not None):
            raise BadInput(here, ", ".join(given) or "nothing", "four limits and their grade, or no figure and no grade")
        for name, text in limits.items():
            if text not in ("", FREE, UNREAD):
                quantity(text, "share", f"{here}.{name}")
    _check_figures(named, "share", single_value=accept.single_value)
    for row in accept.levels:
        _listed(row.editions, editions, f"{named}: level {row.level}")


def _listed(some: tuple[str, ...], editions: tuple[str, ...], where: str) -> None:
    strange = [x for x in some if x not in editions]
    if strange:
        raise BadInput(f"{where}: editions", strange[0], f"one of {', '.join(editions)}")


def _check_figures(named: str, dimension: str, **figures: Figure | None) -> None:
    for name, figure in figures.items():
        if figure is not None and quantity(figure.value, dimension, f"{named}: {name}").number <= 0:
            raise BadInput(f"{named}: {name}", figure.value, "more than zero")


def source_of(rule: ThicknessRule, edition: str, grade: Grade | None) -> Source:
    """Document, edition, clause and the grade of the figures that were used; `entered` where all are the contract's."""
    return Source(rule.document, edition, grade or Grade.ENTERED, rule.clause)


@cache
def load_thickness() -> Mapping[str, ThicknessRule]:
    """All rules for film thickness by id, in order of their documents' file names. Read once.

    Raises
    ------
    BadInput
        If a file cannot be read as a rule document, or an id stands twice.
    """
    return MappingProxyType({found["id"]: found["read"] for found in read_folder(DATA / "thickness", "rule", read_thickness_rule)})


def thickness_rule(id_: str) -> ThicknessRule:
    """The rule for film thickness of that id.

    Raises
    ------
    NotFound
        Names the nearest ids.
    """
    return by_id(load_thickness(), id_, "rule")
