"""The chain: indication, holiday, repair, retest 1, retest 2 ... closed. Found stays found."""

from __future__ import annotations

import bisect
from collections import defaultdict

import msgspec

from wholefilm.base.findings import count_of
from wholefilm.base.quantity import quantity
from wholefilm.job.facts import Fact, Job
from wholefilm.surface import Surface

from .checks import Testers
from .falls import Falls
from .needs import Needs
from .panels import Panels, use_of
from .retests import outside, tried
from .site import Site
from .states import (
    HolidayState,
    HolidayWord,
    IndicationState,
    Line,
    RepairState,
    RetestState,
    TestWord,
)


class _Begun:
    """Stages of the tests of one panel by the time at which each began. [ms UTC]"""

    def __init__(self) -> None:
        self._began: list[tuple[int, str]] = []

    def add(self, start: int, stage: str) -> None:
        """A test began."""
        bisect.insort(self._began, (start, stage))

    def at(self, time: int) -> str:
        """Stage of the last test that began at or before a time."""
        n = bisect.bisect_right(self._began, (time, "\U0010ffff"))
        return self._began[n - 1][1] if n else ""


_NONE = _Begun()


class Closing:
    """Indications, holidays and repairs of a job, each with its state."""

    def __init__(self, job: Job, site: Site, testers: Testers, needs: Needs, panels: Panels) -> None:
        self.job, self.site, self.testers, self.needs, self.panels = job, site, testers, needs, panels
        self.lines: list[Line] = []
        self._holiday_of: dict[str, list[Fact]] = defaultdict(list)
        self._false_of: dict[str, list[Fact]] = defaultdict(list)
        for fact in job.all("holiday.confirmed"):
            self._holiday_of[fact.body.indication].append(fact)
        for fact in job.all("indication.false"):
            self._false_of[fact.body.indication].append(fact)
        self._stages_begun: dict[str, _Begun] = defaultdict(_Begun)
        for fact in job.all("panel.started"):
            self._stages_begun[fact.body.panel].add(fact.start, fact.body.stage)
        self.falls = Falls(job, testers)
        self.lines += self.falls.lines()
        self.indications = [self._indication(f) for f in job.all("indication.raised")]
        self._numbers = {i.fact.id: i.number for i in self.indications}
        self._of_retest: dict[str, list[IndicationState]] = defaultdict(list)
        for indication in self.indications:
            self._of_retest[indication.retest_of].append(indication)
        self._orphans()
        self.all_repairs = [self._repair(f) for f in job.all("repair.planned")]
        self.all_holidays = self._holidays()
        self.earlier = [h for h in self.all_holidays if self._of_another_stage(h)]
        before = {i for h in self.earlier for i in (h.fact.id, h.indication.fact.id)}
        self.holidays = [h for h in self.all_holidays if h.fact.id not in before]
        self.repairs = [r for r in self.all_repairs if not set(r.covers) or not set(r.covers) <= before]

    def _indication(self, fact: Fact) -> IndicationState:
        holidays, falses = self._holiday_of.get(fact.id, []), self._false_of.get(fact.id, [])
        repair = self.job.get(fact.body.retest, "repair.planned")
        state = IndicationState(fact, fact.body.number, fact.body.panel, "undecided", None, None, False, repair.id if repair else "")
        if fact.body.retest and repair is None:
            says = f"{state.number} was raised under a repair that is not here; it counts as an indication of the panel"
            self.lines.append(Line("refers_to_absent", says, "", True, [fact.id]))
        if holidays:
            state.decided, state.holiday = "holiday", holidays[0]
            if len(holidays) > 1:
                self.lines.append(
                    Line(
                        "decided_twice",
                        f"{state.number} is confirmed {len(holidays)} times; it counts once",
                        "",
                        False,
                        [h.id for h in holidays],
                    )
                )
        elif falses:
            state.decided, state.false = "false", max(falses, key=lambda f: (f.start, f.rank))
            state.in_doubt = self._decision(state) is TestWord.IN_DOUBT
        return state

    def _decision(self, state: IndicationState) -> TestWord:
        """A decision that it was false stands and falls with the tester with which it was tried."""
        assert state.false is not None
        setup = tried(self.job, state, state.false)
        if setup is None:
            return TestWord.IN_DOUBT
        return self.testers.bracket(use_of(setup, state.false.start, state.false.end)).word

    def _orphans(self) -> None:
        known = {i.fact.id for i in self.indications}
        for ident, facts in sorted({**self._holiday_of, **self._false_of}.items()):
            if ident not in known:
                self.lines.append(
                    Line("refers_to_absent", f"{facts[0].kind} is about an indication that is not here", "", True, [f.id for f in facts])
                )

    def _repair(self, fact: Fact) -> RepairState:
        body = fact.body
        footprint, panels = self.site.footprint(body.outline)
        done = sorted((f for f in self.job.all("repair.done") if f.body.repair == fact.id), key=lambda f: (f.end, f.rank))
        state = RepairState(
            fact,
            body.number,
            HolidayWord.OPEN,
            list(body.holidays),
            done,
            [],
            None,
            "",
            footprint,
            _bare_m2(done),
            panels,
            "not repaired yet",
        )
        if footprint <= 0:
            self.lines.append(Line("unreadable_outline", f"The outline of {body.number} lies on no item", "", True, [fact.id]))
        retests = sorted((f for f in self.job.all("retest.done") if f.body.repair == fact.id), key=lambda f: (f.start, f.rank))
        under = self._of_retest[fact.id]
        for nth, retest in enumerate(retests, start=1):
            until = retests[nth].start if nth < len(retests) else 1 << 62
            state.retests.append(self._retest(state, retest, nth, [i for i in under if retest.start <= i.fact.end < until]))
        early = [i for i in under if not any(i.number in r.indications for r in state.retests)]
        if early:
            says = f"Raised under {body.number} before any retest of it: {', '.join(i.number for i in early)}"
            self.lines.append(Line("indication_of_no_retest", says, "it belongs to no retest", True, [i.fact.id for i in early]))
        if done:
            _, state.due, state.due_says = self.needs.due([state.number, fact.id], 1 << 62, done[-1])
            self._stand(state, done[-1])
        return state

    def _retest(self, repair: RepairState, fact: Fact, nth: int, during: list[IndicationState]) -> RetestState:
        body = fact.body
        use = use_of(fact, fact.start, fact.end)
        done = done_before(repair, use.start)
        unmet = self.needs.of_retest(repair.fact, repair.number, repair.panels, done, body.stage, use)
        bracket = self.testers.bracket(use)
        if bracket.cause == "high" and self.panels.burns_looked_for(repair.panels, fact):
            bracket = msgspec.structs.replace(bracket, word=TestWord.CHECKED, why="end check high; burns looked for")
        raised = [self._numbers.get(i, i[:8]) for i in body.indications]
        raised += [i.number for i in during if i.number not in raised]
        false = [i for i in self._of_retest[repair.fact.id] if i.number in raised and i.decided == "false" and not i.in_doubt]
        standing = [n for n in raised if n not in [i.number for i in false]]
        state = RetestState(fact, nth, not standing, False, bracket.word, bracket, unmet, raised, bracket.why)
        blocking = [u.says for u in unmet if u.need != "check_before"]
        left = outside(self.site, repair, done, body.outline)
        blocking += [f"its outline leaves out {left}"] if left else []
        if body.nth != nth:
            self.lines.append(Line("retest_order", f"Retest {nth} of {repair.number} calls itself retest {body.nth}", "", True, [fact.id]))
        if standing:
            state.why = f"{count_of(len(standing), 'indication')}: {', '.join(standing)}"
        elif blocking:
            state.word, state.why = TestWord.NOT_VALID, "; ".join(blocking)
        elif false:
            self._decided_false(repair, state, false)
        else:
            state.counts = bracket.word is TestWord.CHECKED
        return state

    def _decided_false(self, repair: RepairState, state: RetestState, false: list[IndicationState]) -> None:
        """A retest whose indications were all decided false: it counts when the decisions are proved as well as the retest."""
        words = {state.word, *(self._decision(i) for i in false)}
        state.word = next((w for w in (TestWord.IN_DOUBT, TestWord.AWAITING) if w in words), state.word)
        state.counts = words == {TestWord.CHECKED}
        names = ", ".join(i.number for i in false)
        state.why = "; ".join(x for x in (f"decided false: {names}", state.why) if x)
        said = "; ".join(f"{i.number}: {i.false.body.reason}, tried: {i.false.body.tried}" for i in false if i.false is not None)
        line = f"Indications of retest {state.nth} of {repair.number} were decided false: {names}"
        self.lines.append(Line("retest_indication_false", line, said, False, [state.fact.id]))

    @staticmethod
    def _stand(state: RepairState, last_done: Fact) -> None:
        state.word = HolidayWord.REPAIRED
        state.says = f"repaired, retest {len(state.retests) + 1} due"
        after = [r for r in state.retests if r.fact.start >= last_done.end]
        if not after:
            return
        last = after[-1]
        failed = [r for r in after if not r.passed]
        if failed:  # found stays found until it is repaired again
            state.word, state.says = HolidayWord.OPEN, f"retest {failed[-1].nth} failed: {failed[-1].why}"
        elif last.counts:
            state.word, state.says = HolidayWord.CLOSED, f"retest {last.nth} passed, checked before and after"
        elif last.word is TestWord.AWAITING:
            state.says = f"retest {last.nth} passed, awaiting its end check"
        else:
            state.says = f"retest {last.nth} does not count: {last.why}"

    def _of_another_stage(self, holiday: HolidayState) -> bool:
        """Whether a holiday was found at a stage of test that no coverage requirement of its test area names."""
        stages = self.panels.stages(holiday.test_area)
        found = self.stage_of(holiday.indication)
        return bool(stages) and bool(found) and found not in stages

    def stage_of(self, indication: IndicationState) -> str:
        """Stage of the test during which an indication was raised; empty if none began before it."""
        return self._stages_begun.get(indication.panel, _NONE).at(indication.fact.end)

    def _holidays(self) -> list[HolidayState]:
        repair_of: dict[str, list[RepairState]] = defaultdict(list)
        for repair in self.all_repairs:
            for ident in repair.covers:
                repair_of[ident].append(repair)
        found = []
        for indication in self.indications:
            if indication.decided != "holiday" or indication.retest_of:
                continue
            assert indication.holiday is not None
            found.append(self._holiday(indication, indication.holiday, repair_of))
        return found

    def _holiday(self, indication: IndicationState, fact: Fact, repair_of: dict[str, list[RepairState]]) -> HolidayState:
        ids = [f.id for f in self._holiday_of[indication.fact.id]] + [indication.fact.id]
        repairs = list({r.fact.id: r for i in ids for r in repair_of.get(i, [])}.values())
        if len(repairs) > 1:
            numbers = ", ".join(r.number for r in repairs)
            self.lines.append(
                Line(
                    "two_repairs",
                    f"{indication.number} is covered by more than one repair: {numbers}",
                    "the last one planned counts",
                    True,
                    [r.fact.id for r in repairs],
                )
            )
        repair = repairs[-1] if repairs else None
        word = repair.word if repair else HolidayWord.OPEN
        at = self.site.spot(fact.body.place)
        if at is None:
            self.lines.append(Line("unreadable_place", f"{indication.number} lies on no panel of an item", "", True, [fact.id]))
            area = self.site.test_area_of(indication.panel)
            return HolidayState(
                fact,
                indication,
                indication.number,
                indication.panel,
                area,
                "",
                "",
                0.0,
                0.0,
                "place not readable",
                "",
                fact.body.class_,
                word,
                repair,
            )
        surface, spot = at
        panel = self._panel_of(indication, spot.panel, spot.part, spot.u, spot.v, surface)
        near = surface.say_near(spot.part, spot.u, spot.v) or ""
        return HolidayState(
            fact,
            indication,
            indication.number,
            panel,
            self.site.test_area_of(panel),
            surface.item,
            spot.part,
            spot.u,
            spot.v,
            surface.say(spot.part, spot.u, spot.v),
            near,
            fact.body.class_,
            word,
            repair,
        )

    def _panel_of(self, indication: IndicationState, found: str, part: str, u: float, v: float, surface: Surface) -> str:
        """The recorder's panel where the place lies in it or on its edge, else the panel of the place."""
        holding = surface.panels_holding(part, u, v)
        if indication.panel in holding or indication.panel == found:
            return indication.panel
        if self.site.panel(indication.panel) is not None:
            self.lines.append(
                Line(
                    "panel_differs",
                    f"{indication.number} was raised in {indication.panel}; its place lies in {found}",
                    "the place counts",
                    False,
                    [indication.fact.id],
                )
            )
        return found

    def target_closed(self, ident: str) -> bool:
        """Whether a repair that covers an entry (made holiday, burn inspection) is closed."""
        return any(r.word is HolidayWord.CLOSED for r in self.all_repairs if ident in r.covers)


def done_before(repair: RepairState, start: int) -> Fact | None:
    """The last repair made before a time, if no retest since has failed: what a retest at that time tests. [ms UTC]"""
    made = [d for d in repair.done if d.end <= start]
    if not made or any(not r.passed and made[-1].end <= r.fact.start < start for r in repair.retests):
        return None
    return made[-1]


def _bare_m2(done: list[Fact]) -> float | None:
    """Bare area as prepared the first time. [m2]"""
    if not done:
        return None
    extent = done[0].body.bare
    if extent.area:
        return quantity(extent.area, "area").si
    if extent.length and extent.width:
        return quantity(extent.length, "length").si * quantity(extent.width, "length").si
    return None
