"""Requirements other than limits held against the job: thickness, coverage, checks, cure, hold points."""

from __future__ import annotations

from collections.abc import Iterator

from wholefilm.base.findings import Finding, Outcome, area_text, count_of
from wholefilm.base.quantity import quantity
from wholefilm.base.times import clock
from wholefilm.climate.requirement import ClimateRequired
from wholefilm.film.acceptance import FORMS as THICKNESS_FORMS
from wholefilm.job.facts import Fact, Job
from wholefilm.rules.limits import LimitsRule

from .asked import NEED_OF_TOPIC, People, Permissions, Roles
from .climate import Climate
from .closing import Closing
from .limits import Limits
from .needs import Needs
from .requirements import CheckInterval, Coverage, Cure, Holds, of_form
from .site import Site
from .states import HolidayWord, Line, PanelState, Requirement, TestState, TestWord
from .thickness import Thickness

END = 1 << 62


class Judge:
    """Turns requirements into findings."""

    def __init__(self, job: Job, site: Site, needs: Needs, thickness: Thickness, panels: list[PanelState], closing: Closing) -> None:
        self.job, self.site, self.needs, self.thickness, self.panels, self.closing = job, site, needs, thickness, panels, closing
        self.limits = Limits(site, closing)
        self.areas = list(dict.fromkeys(p.test_area for p in panels))
        self._same: dict[tuple[str, str], tuple[dict[str, None], dict[str, None]]] = {}

    def findings(self, found: list[Requirement]) -> list[Finding]:
        """Every finding of every requirement, in the order noted."""
        decides = [role for r in of_form(found, Roles) for role in r.rule.decides or ()]
        self.limits = Limits(self.site, self.closing, list(dict.fromkeys(decides)))
        return [finding for requirement in found for finding in self._of(requirement)]

    def _of(self, r: Requirement) -> Iterator[Finding]:
        areas = [a for a in r.applies_to if a in self.areas] if r.applies_to else self.areas
        strange = [a for a in r.applies_to if a not in self.areas]
        if strange and r.usable:
            says = f"no test area of this job is called {' or '.join(strange)}"
            yield Finding(", ".join(strange), r.source, "not held against anything", r.says, Outcome.CANNOT_TELL, says)
            if not areas:
                return
        if not r.usable:
            areas = areas or r.applies_to
            if r.rule is not None or r.why_not:
                yield Finding(", ".join(areas) or r.topic, r.source, "not held against anything", r.says, Outcome.CANNOT_TELL, r.why_not)
            return
        if isinstance(r.rule, THICKNESS_FORMS):
            for area in areas:
                yield from self._thickness(r, area)
            return
        match r.rule:
            case Coverage():
                for area in areas:
                    yield self._coverage(r, area)
            case LimitsRule():
                yield from self.limits.findings(r, areas)
            case CheckInterval():
                yield self._checks(r)
            case Cure():
                yield self._needs(r, ["cure"], f"cured by the {r.rule.by} before every test and retest", "too early or not released")
            case Permissions() | People():
                yield self._asked(r, areas)
            case ClimateRequired():
                yield Climate(self.job, self.site, self.panels, self.closing.repairs).finding(r, areas)
            case Holds():
                for point in r.rule.points:
                    yield self._hold(r, point, areas)

    def _thickness(self, r: Requirement, area: str) -> Iterator[Finding]:
        result = self.thickness.result(r, area, END)
        yield Finding(area, r.source, result.value, result.limit, result.outcome, result.because, result.inside_uncertainty)
        told = [t for t in self._counting(area) if t.on_instruction and any(u.need == "thickness" for u in t.unmet)]
        if told:
            m2 = sum(p.on_instruction_m2 for p in self.panels if p.test_area == area)
            yield Finding(
                area,
                r.source,
                f"{area_text(m2)} m2 tested on written instruction",
                "thickness met before the test",
                Outcome.NOT_MET,
                f"tested although not ready: {result.because}",
            )

    def _counting(self, area: str) -> list[TestState]:
        return [p.counts for p in self.panels if p.test_area == area and p.counts is not None]

    def _coverage(self, r: Requirement, area: str) -> Finding:
        mine = [p for p in self.panels if p.test_area == area]
        total = sum(p.total_m2 - p.not_in_scope_m2 for p in mine)
        sums = {
            name: sum(getattr(p, f"{name}_m2") for p in mine)
            for name in ("checked", "awaiting", "in_doubt", "not_reached", "not_yet_tested")
        }
        for p in mine:
            if r.stage and p.counts is not None and p.counts.stage != r.stage:  # what another stage proved does not count here
                for name in ("checked", "awaiting", "in_doubt"):
                    sums[name] -= getattr(p, f"{name}_m2")
                sums["not_yet_tested"] += p.tested_m2
        said = [
            f"{word} {area_text(sums[name])} m2"
            for name, word in (
                ("in_doubt", "in doubt"),
                ("not_yet_tested", "not yet tested"),
                ("not_reached", "not reached"),
                ("awaiting", "awaiting the end check"),
            )
            if sums[name] > 1e-6
        ]
        share = quantity(r.rule.share, "share").si
        value = f"{area_text(sums['checked'])} of {area_text(total)} m2 checked before and after"
        limit = f"{r.rule.share} tested" + (f" at stage {r.stage}" if r.stage else "")
        if sums["in_doubt"] > 1e-6:
            outcome = Outcome.NOT_MET
        elif total <= 0 or sums["checked"] + 1e-6 >= share * total:
            outcome = Outcome.MET
        elif total - sums["not_reached"] + 1e-6 < share * total:
            outcome = Outcome.NOT_MET
        else:
            outcome = Outcome.CANNOT_TELL
        return Finding(area, r.source, value, limit, outcome, "; ".join(said) or "every panel checked before and after")

    def _checks(self, r: Requirement) -> Finding:
        tests = [t for p in self.panels for t in [p.counts] if t is not None]
        doubt = [t.panel for t in tests if t.word is TestWord.IN_DOUBT]
        waiting = [t.panel for t in tests if t.word is TestWord.AWAITING]
        retests = [x for repair in self.closing.repairs for x in repair.retests[-1:] if x.passed]
        doubt += [f"retest {x.nth}" for x in retests if x.word is TestWord.IN_DOUBT]
        limit = (
            "as found before and after"
            + (f", at most {r.rule.longest} apart" if r.rule.longest else "")
            + (f", +-{r.rule.tolerance}" if r.rule.tolerance else "")
        )
        value = f"{len(tests)} tests that count, {len(doubt)} in doubt, {len(waiting)} awaiting"
        if doubt:
            return Finding("checks of testers", r.source, value, limit, Outcome.NOT_MET, f"in doubt: {_some(doubt)}")
        if waiting or not tests:
            return Finding(
                "checks of testers",
                r.source,
                value,
                limit,
                Outcome.CANNOT_TELL,
                f"awaiting the end check: {_some(waiting)}" if waiting else "no test counts yet",
            )
        return Finding(
            "checks of testers", r.source, value, limit, Outcome.MET, "every test that counts stands between two passed readings"
        )

    def _asked(self, r: Requirement, areas: list[str]) -> Finding:
        """Permissions or people that a requirement asks for before every test and retest."""
        if isinstance(r.rule, Permissions):
            needs = [NEED_OF_TOPIC.get(t, t) for t in r.rule.topics]
            limit = "noted by the site before every test and retest: " + ", ".join(t.replace("_", " ") for t in r.rule.topics)
            return self._needs(r, needs, limit, "without it", "permissions", areas)
        needs = ["qualification"] * bool(r.rule.operator) + ["authorisation"] * r.rule.authorised
        limit = "; ".join(["operator", *([r.rule.operator] if r.rule.operator else []), *["authorised by the site"] * r.rule.authorised])
        return self._needs(r, needs, limit, "without it", "operators", areas)

    def _needs(
        self, r: Requirement, needs: list[str], limit: str, how: str, about: str = "cure", areas: list[str] | None = None
    ) -> Finding:
        """Whether every test that counts, or none in its place, and every last retest met some needs."""
        mine = [p for p in self.panels if areas is None or p.test_area in areas]
        tests = [t for p in mine for t in p.tests if t.stage and (p.counts is t or (t.word is TestWord.NOT_VALID and p.counts is None))]
        bad = [f"{t.panel}: {u.says}" for t in tests for u in t.unmet if u.need in needs]
        names = {p.name for p in mine}
        repairs = [x for x in self.closing.repairs if areas is None or names & set(x.panels)]
        for repair in repairs:
            bad += [f"{repair.number} retest {x.nth}: {u.says}" for x in repair.retests[-1:] for u in x.unmet if u.need in needs]
        n = len(tests) + sum(len(x.retests) for x in repairs)
        if bad:
            return Finding(about, r.source, f"{len(bad)} of {n} tests and retests {how}", limit, Outcome.NOT_MET, _some(bad))
        if not n:
            return Finding(about, r.source, "nothing tested yet", limit, Outcome.CANNOT_TELL, "nothing tested yet")
        done = "each released and due before it began" if about == "cure" else "noted before each began"
        return Finding(about, r.source, f"{n} tests and retests", limit, Outcome.MET, done)

    def _hold(self, r: Requirement, point: str, areas: list[str]) -> Finding:
        """Whether work passed a hold point unreleased, or one was released by a person who did the work."""
        begun: list[tuple[str, Fact]]
        if point == "before repair":
            begun = [(panel, done) for x in self.closing.repairs for done in x.done[:1] for panel in x.panels]
        elif point == "after retest":
            begun = []
        else:
            begun = [(p.name, p.tests[0].started) for p in self.panels if p.tests and p.tests[0].started is not None]
        begun = [(name, fact) for name, fact in begun if self.site.test_area_of(name) in areas]
        missed = [name for name, fact in begun if not self.needs.released(point, name, fact.start)]
        releases = [self.needs.released(point, name, END) for name in (areas if point == "after retest" else [n for n, _ in begun])]
        given = list({f.id: f for f in releases if f is not None}.values())
        same = [f for f in given if f.body.by in self._doers(begun)]
        limit, about = "released by name before work goes on", f"hold point {point}"
        early = [a for a in areas if self._released_early(point, a)] if point == "after retest" else []
        if early:
            says = f"released before every panel was checked and every holiday closed: {_some(early)}"
            return Finding(about, r.source, f"released {count_of(len(given), 'time')}", limit, Outcome.NOT_MET, says)
        if missed:
            return Finding(
                about, r.source, f"passed unreleased: {_some(missed)}", limit, Outcome.NOT_MET, "work went on past the hold point"
            )
        if same:
            what = " and ".join(dict.fromkeys(w for f in same for w in self._doers(begun)[f.body.by]))
            says = f"released by a person who {what}"
            self._same_person(point, says, r, same)
            return Finding(about, r.source, f"released {count_of(len(given), 'time')}", limit, Outcome.CANNOT_TELL, says)
        judged = self._judged_own()
        if judged is not None and given:
            says = f"assessed by a person who did the work, {clock(judged.at)}; another person assesses, and records it"
            self._same_person(point, says, r, [judged])
        if point == "after retest":
            closed = all(h.word is HolidayWord.CLOSED for h in self.closing.holidays)
            if any(f is None for f in releases) or not areas:
                return Finding(
                    about,
                    r.source,
                    "not released yet",
                    limit,
                    Outcome.CANNOT_TELL,
                    "all retests passed; the release is due" if closed else "comes after the last retest",
                )
        elif not begun:
            return Finding(about, r.source, "not reached yet", limit, Outcome.CANNOT_TELL, "no work has come to it yet")
        names = ", ".join(sorted({"/".join(self.job.roles(f.body.by)) or f.body.by[:8] for f in given}))
        return Finding(about, r.source, f"released by {names}", limit, Outcome.MET, "released before work went on")

    def _same_person(self, point: str, says: str, r: Requirement, facts: list[Fact]) -> None:
        points, ids = self._same.setdefault((r.clause, says), ({}, {}))
        points[point] = None
        ids.update(dict.fromkeys(f.id for f in facts))

    @property
    def lines(self) -> list[Line]:
        """One person for two of did, checked, assessed and released, at the owner's hold points; known once `findings` were made."""
        return [
            Line("same_person", f"Hold point{'s' * (len(points) > 1)} {', '.join(points)}: {says}", f"clause {clause}", True, list(ids))
            for (clause, says), (points, ids) in self._same.items()
        ]

    def _judged_own(self) -> Fact | None:
        """The last assessment recorded, if a person who tested or retested made it."""
        made = self.job.all("assessment.made")[-1:]
        worked = {t.fact.by for p in self.panels for t in p.tests} | {x.fact.by for y in self.closing.repairs for x in y.retests}
        return next((f for f in made if f.by in worked), None)

    def _doers(self, begun: list[tuple[str, Fact]]) -> dict[str, list[str]]:
        """What each person did of what a hold point is to look at: the work, the checks of testers, the assessment."""
        done: dict[str, list[str]] = {}
        for people, what in (
            (
                {f.by for _, f in begun}
                | {t.fact.by for p in self.panels for t in p.tests}
                | {x.fact.by for y in self.closing.repairs for x in y.retests},
                "did the work",
            ),
            ({f.by for f in self.job.all("instrument.checked")}, "checked the tester"),
            ({f.by for f in self.job.all("assessment.made")}, "made the assessment"),
        ):
            for person in people:
                done.setdefault(person, []).append(what)
        return done

    def _released_early(self, point: str, area: str) -> bool:
        """Whether a test area was released, and never after all of it was checked and closed."""
        releases = [f for f in self.job.all("hold.released") if f.body.point == point and self.site.covers(f.body.about, area)]
        ready = self._ready(area)
        return bool(releases) and (ready is None or all(f.start < ready for f in releases))

    def _ready(self, area: str) -> int | None:
        """When the last panel of a test area was checked and its last holiday closed [ms UTC]; None if not all are."""
        ends: list[int] = []
        for panel in (p for p in self.panels if p.test_area == area):
            if panel.awaiting_m2 + panel.in_doubt_m2 + panel.not_yet_tested_m2 > 1e-6:
                return None
            checked = [t.bracket.after.end for t in panel.tests if t.word is TestWord.CHECKED and t.bracket and t.bracket.after]
            ends += [min(checked)] if checked else []
        for holiday in (h for h in self.closing.holidays if h.test_area == area):
            retests = holiday.repair.retests if holiday.repair else []
            proved = [x.bracket.after.end for x in retests if x.counts and x.bracket and x.bracket.after]
            if holiday.word is not HolidayWord.CLOSED or not proved:
                return None
            ends.append(proved[-1])
        return max(ends, default=0)


def _some(names: list[str], most: int = 8) -> str:
    unique = list(dict.fromkeys(names))
    return ", ".join(unique[:most]) + (f" and {len(unique) - most} more" if len(unique) > most else "")
