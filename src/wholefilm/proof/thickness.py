"""Film thickness of the test areas against the requirement, on the readings that were there at a time."""

from __future__ import annotations

from array import array
from collections.abc import Iterator
from fractions import Fraction
from itertools import chain

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.film.acceptance import FORMS, accept
from wholefilm.film.nominal import NominalBase
from wholefilm.film.readings import Spots, read_columns
from wholefilm.film.result import Readings, ThicknessResult
from wholefilm.film.spot_and_area import SpotAndArea
from wholefilm.job.facts import Fact, Job

from .site import Site
from .states import Line, Requirement

_Key = tuple[str, str]


class Dot(msgspec.Struct, frozen=True):
    """A spot at its place. [um, m]"""

    test_area: str
    class_: str
    um: float
    on: str
    first: float | None
    second: float | None


class File(msgspec.Struct):
    """The readings of one file, and the time from which they are known. [ms UTC]"""

    end: int
    spots: Spots
    aside: frozenset[int]
    groups: dict[_Key, array[float]]

    def columns(self, area: str, classes: list[str]) -> Iterator[tuple[float, str, str]]:
        """Value, name of spot and measured area of a test area's rows, in the order of the file. [um]"""
        s, wanted = self.spots, set(classes)
        for row, of, class_, um, spot, part in zip(s.row, s.test_area, s.class_, s.values_um, s.spot, s.measured_area, strict=True):
            if of == area and class_ in wanted and row not in self.aside:
                yield um, spot, part


class Single(msgspec.Struct):
    """One spot that was read by hand: its mean, and the readings that make it. [ms UTC, um]"""

    end: int
    name: str
    dot: Dot
    values_um: list[float]
    corrected: bool


class Thickness:
    """Readings of the job, with the time from which each is known."""

    def __init__(self, job: Job, site: Site, found: list[Requirement]) -> None:
        self.lines: list[Line] = []
        self.rules = [r for r in found if r.usable and isinstance(r.rule, FORMS)]
        self.files: list[File] = []
        self.singles: list[Single] = []
        self._site = site
        self._cache: dict[tuple[str, str, int, int], ThicknessResult] = {}
        for fact in job.all("readings.loaded"):
            self._load(job, fact)
        for fact in job.all("thickness.read"):
            self._single(site, fact)

    def _load(self, job: Job, fact: Fact) -> None:
        data = job.blobs.get(fact.body.blob)
        if data is None:
            return
        aside = frozenset(row for f in job.all("rows.set_aside") if f.body.of == fact.id for row in f.body.rows)
        try:
            spots = read_columns(data, fact.body.columns, fact.body.units)
        except (BadInput, TypeError, AttributeError) as error:
            self.lines.append(Line("unreadable_readings", f"The readings of {fact.body.about} cannot be read", str(error), True, [fact.id]))
            return
        if len(spots) != fact.body.rows:
            self.lines.append(
                Line(
                    "rows_differ",
                    f"The readings of {fact.body.about}: {fact.body.rows} rows stated, {len(spots)} in the file",
                    "",
                    True,
                    [fact.id],
                )
            )
        self.files.append(File(fact.end, spots, aside, spots.groups(aside)))

    def _single(self, site: Site, fact: Fact) -> None:
        at = site.spot(fact.body.place)
        if at is None:
            self.lines.append(Line("unreadable_place", f"A thickness reading of {fact.when[:10]} lies on no panel", "", True, [fact.id]))
            return
        values = [quantity(v, "length").exact("um") for v in fact.body.values]
        off = fact.body.correction or fact.body.base_metal
        correction = quantity(off, "length").exact("um") if off else Fraction(0)
        mean = max(sum(values, Fraction(0)) / len(values) - correction, Fraction(0))
        dot = Dot(at[1].test_area, fact.body.class_, float(mean), at[1].part, at[1].u, at[1].v)
        self.singles.append(Single(fact.end, f"\0{fact.id}", dot, [float(v - correction) for v in values], bool(correction)))

    def result(self, rule: Requirement, area: str, by: int) -> ThicknessResult:
        """One rule on one test area, with the readings made by a time. [ms UTC]"""
        files = sum(1 for f in self.files if f.end <= by)
        singles = sum(1 for s in self.singles if s.end <= by)
        key = (rule.fact.id, area, files, singles)
        if key not in self._cache:
            result = accept(rule.rule, self._readings(rule.rule, area, by), self._size(area))
            self._cache[key] = self._twice(rule.rule, area, by, result)
        return self._cache[key]

    def _twice(self, rule: object, area: str, by: int, result: ThicknessResult) -> ThicknessResult:
        """A reading that was corrected when it was made is not corrected by the rule again: then nothing can be told."""
        if not isinstance(rule, NominalBase) or not (rule.correction or rule.base_metal):
            return result
        twice = [s for s in self.singles if s.end <= by and s.corrected and s.dot.test_area == area and s.dot.class_ in rule.classes]
        if not twice:
            return result
        off = rule.correction or rule.base_metal
        says = f"{len(twice)} readings were corrected when made, and the rule takes off {off}: one of the two, never both"
        return msgspec.structs.replace(result, outcome=Outcome.CANNOT_TELL, because=says, why=("corrected_twice",))

    def _size(self, area: str) -> Quantity | None:
        m2 = self._site.area_m2(area)
        return quantity(f"{m2:.6f} m2", "area") if m2 else None

    def _readings(self, rule: object, area: str, by: int) -> Readings:
        """Readings of an area by a time: spots by name where the rule makes spots of readings, else single values."""
        classes: list[str] = rule.classes  # type: ignore[attr-defined]
        files = [f for f in self.files if f.end <= by]
        singles = [s for s in self.singles if s.end <= by and s.dot.test_area == area and s.dot.class_ in classes]
        if not isinstance(rule, SpotAndArea):
            values = array("d")
            for part in (f.groups.get((area, c)) for f in files for c in classes):
                values.extend(part or ())
            values.extend(s.dot.um for s in singles)
            return Readings(values)
        rows = list(chain.from_iterable((f.columns(area, classes)) for f in files))
        rows += [(um, s.name, "") for s in singles for um in s.values_um]
        spots, parts = [spot for _, spot, _ in rows], [part for _, _, part in rows]
        return Readings([um for um, _, _ in rows], spots if any(spots) else (), parts if any(parts) else ())

    def results(self, area: str, class_: str, by: int) -> list[tuple[Requirement, ThicknessResult]]:
        """Rules held against a test area that judge a class, with what comes of each by a time. [ms UTC]"""
        mine = [r for r in self.rules if (not r.applies_to or area in r.applies_to) and class_ in r.rule.classes]
        return [(r, self.result(r, area, by)) for r in mine]

    def alone(self, rule: Requirement, area: str, class_: str, by: int) -> ThicknessResult:
        """One rule on the readings of one class alone of a test area, by a time. [ms UTC]"""
        narrow = msgspec.structs.replace(rule.rule, classes=[class_])
        return self._twice(narrow, area, by, accept(narrow, self._readings(narrow, area, by), self._size(area)))

    def between(self, area: str, after: int, by: int) -> list[float]:
        """Spots of a test area that became known after a time and by another, all classes together. [ms UTC, um]"""
        found = [s.dot.um for s in self.singles if after < s.end <= by and s.dot.test_area == area]
        for file in self.files:
            if after < file.end <= by:
                found.extend(um for (of, _), values in file.groups.items() if of == area for um in values)
        return found

    def groups(self) -> dict[_Key, array[float]]:
        """Spots by test area and class. [um]"""
        found: dict[_Key, array[float]] = {}
        for file in self.files:
            for key, values in file.groups.items():
                found.setdefault(key, array("d")).extend(values)
        for s in self.singles:
            found.setdefault((s.dot.test_area, s.dot.class_), array("d")).append(s.dot.um)
        return found

    def dots(self) -> Iterator[Dot]:
        """Every spot that counts, at its place."""
        for file in self.files:
            s = file.spots
            for row, area, class_, um, on, u, v in zip(s.row, s.test_area, s.class_, s.values_um, s.on, s.first, s.second, strict=True):
                if row not in file.aside:
                    yield Dot(area, class_, um, on, None if u != u else u, None if v != v else v)
        for single in self.singles:
            yield single.dot

    def unmet(self, area: str, by: int) -> list[tuple[Requirement, ThicknessResult]]:
        """Rules that the area does not meet, or that cannot be told, by a time. [ms UTC]"""
        results = [(r, self.result(r, area, by)) for r in self.rules if not r.applies_to or area in r.applies_to]
        return [(r, x) for r, x in results if x.outcome is not Outcome.MET]
