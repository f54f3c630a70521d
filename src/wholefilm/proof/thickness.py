"""Film thickness of the test areas against the requirement, on the readings that were there at a time."""

from __future__ import annotations

from fractions import Fraction

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.film.acceptance import RangeResult, ThicknessRange, accept_range
from wholefilm.film.readings import SpotReading, read_spots
from wholefilm.job.facts import Fact, Job

from .requirements import of_form
from .site import Site
from .states import Line, Requirement


class Thickness:
    """Spots of the job, with the time from which each is known."""

    def __init__(self, job: Job, site: Site, found: list[Requirement]) -> None:
        self.lines: list[Line] = []
        self.rules = of_form(found, ThicknessRange)
        self.spots: list[tuple[int, SpotReading]] = []
        self._cache: dict[tuple[str, str, int], RangeResult] = {}
        for fact in job.all("readings.loaded"):
            self._load(job, fact)
        for fact in job.all("thickness.read"):
            self._single(site, fact)

    def _load(self, job: Job, fact: Fact) -> None:
        data = job.blobs.get(fact.body.blob)
        if data is None:
            return
        aside = {row for f in job.all("rows.set_aside") if f.body.of == fact.id for row in f.body.rows}
        try:
            spots = read_spots(data, fact.body.columns, fact.body.units)
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
        self.spots += [(fact.end, s) for s in spots if s.row not in aside]

    def _single(self, site: Site, fact: Fact) -> None:
        at = site.spot(fact.body.place)
        if at is None:
            self.lines.append(Line("unreadable_place", f"A thickness reading of {fact.when[:10]} lies on no panel", "", True, [fact.id]))
            return
        values = [quantity(v, "length") for v in fact.body.values]
        mean = sum((v.exact("um") for v in values), Fraction(0)) / len(values)
        correction = quantity(fact.body.correction, "length").exact("um") if fact.body.correction else 0
        exact = max(mean - correction, Fraction(0))
        value = Quantity(f"{float(exact):.1f} um", exact, "um", "length")
        self.spots.append((fact.end, SpotReading(fact.seq, at[1].test_area, fact.body.class_, value, at[1].part, at[1].u, at[1].v)))

    def result(self, rule: Requirement, area: str, by: int) -> RangeResult:
        """One rule on one test area, with the readings made by a time. [ms UTC]"""
        known = [s for t, s in self.spots if s.test_area == area and t <= by]
        key = (rule.fact.id, area, len(known))
        if key not in self._cache:
            self._cache[key] = accept_range(rule.rule, known)
        return self._cache[key]

    def unmet(self, area: str, by: int) -> list[tuple[Requirement, RangeResult]]:
        """Rules that the area does not meet, or that cannot be told, by a time. [ms UTC]"""
        results = [(r, self.result(r, area, by)) for r in self.rules if not r.applies_to or area in r.applies_to]
        return [(r, x) for r, x in results if x.outcome is not Outcome.MET]
