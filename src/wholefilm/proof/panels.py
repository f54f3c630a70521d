"""Panels: which test of each counts, and how its area divides. Nothing is assumed tested."""

from __future__ import annotations

from collections import defaultdict

from wholefilm.base.findings import Outcome
from wholefilm.job.facts import Fact, Job

from .checks import Testers
from .needs import Needs, unmet_of
from .requirements import Coverage, of_form
from .setting import is_spark
from .site import Site, piece_m2
from .states import Line, PanelState, PanelWord, Requirement, TestState, TestWord, Use

_MOST = 12
_RANK = {TestWord.CHECKED: 3, TestWord.AWAITING: 2, TestWord.IN_DOUBT: 1, TestWord.NOT_VALID: 0}


def use_of(setup: Fact, start: int, end: int) -> Use:
    """A use of the tester that an entry names (panel.started, retest.done), over a span. [ms UTC]"""
    body = setup.body
    liquid = getattr(body, "liquid", None) or ""
    operator = body.operator or setup.by
    return Use(body.instrument, body.electrode, body.lead, body.set, start, end, setup.when[:10], operator, liquid, setup.when[23:])


class Panels:
    """Every panel of the job with its tests."""

    def __init__(self, job: Job, site: Site, found: list[Requirement], testers: Testers, needs: Needs) -> None:
        self.job, self.site, self.testers, self.needs = job, site, testers, needs
        self.lines: list[Line] = []
        self.coverage = of_form(found, Coverage)
        self.tests: dict[str, list[TestState]] = defaultdict(list)
        self._untold: dict[str, list[tuple[TestState, str]]] = defaultdict(list)
        for fact in sorted(job.all("panel.tested"), key=lambda f: (f.start, f.rank)):
            state = self._test(fact)
            self.tests[state.panel].append(state)
        for name, tests in sorted(self.tests.items()):
            if site.panel(name) is None:
                self.lines.append(
                    Line("unknown_panel", f"{name} was tested and is no panel of an item", "", True, [t.fact.id for t in tests])
                )
        self.lines += [_untold(title, found) for title, found in self._untold.items()]
        self.panels = [self._panel(s.item, p.name, p.test_area, p.on, p.area_m2) for s, p in site.panels]

    def _test(self, fact: Fact) -> TestState:
        body = fact.body
        started = self.job.get(body.started, "panel.started")
        panel = self.site.panel(body.panel)
        but = sum(piece_m2(p) for p in body.but or [])
        area = max(0.0, (panel.area_m2 if panel else 0.0) - but) if body.all or body.but else 0.0
        stage = started.body.stage if started else ""
        exposure = 1 + sum(1 for t in self.tests[body.panel] if t.word is not TestWord.NOT_VALID and t.stage == stage)
        state = TestState(
            fact,
            started,
            body.panel,
            stage,
            TestWord.NOT_VALID,
            None,
            [],
            body.although is not None,
            area,
            exposure,
            True,
        )
        if started is None or started.body.panel != body.panel or started.start > fact.end:
            state.why = "no entry says with which tester this panel was started"
            return state
        if bool(body.all) == bool(body.but):
            state.why = "it says neither that all was tested nor all but some pieces"
            return state
        use = use_of(started, min(started.start, fact.start), fact.end)
        answers = self.needs.asked_of_test(body.panel, started.body.stage, use)
        state.unmet = unmet_of(answers)
        for one in answers:
            if one.outcome is Outcome.CANNOT_TELL:
                self._untold[one.title].append((state, one.says))
        state.bracket = self.testers.bracket(use)
        state.word, state.why = state.bracket.word, state.bracket.why
        if state.bracket.cause == "high" and self.burns_looked_for([body.panel], fact):
            state.word, state.why = TestWord.CHECKED, "end check high; burns looked for"
        lifted = set(body.although.needs) if body.although is not None else set()
        blocking = [u for u in state.unmet if u.need != "check_before" and (u.need not in lifted or not u.liftable)]
        if blocking:
            state.word, state.why = TestWord.NOT_VALID, blocking[0].says
        if exposure > 1 and is_spark(use.set):
            state.consented = self.needs.consent(body.panel, use.start) is not None
        return state

    def burns_looked_for(self, panels: list[str], test: Fact) -> bool:
        """Whether every panel was looked over for burns after a test or retest."""
        looked = [f for f in self.job.all("burn.inspected") if f.start >= test.end]
        return bool(panels) and all(any(self.site.covers(f.body.panels, p) for f in looked) for p in panels)

    def stages(self, area: str) -> set[str]:
        """Stages of test that coverage requirements name for a test area; empty if none names one: then all count."""
        return {r.stage for r in self.coverage if r.stage and (not r.applies_to or area in r.applies_to)}

    def _panel(self, item: str, name: str, area: str, on: str, total: float) -> PanelState:
        state = PanelState(name, area, on, item, PanelWord.NOT_YET, total, tests=self.tests.get(name, []))
        out = [f for f in self.job.all("area.not_in_scope") if f.body.panel == name]
        state.not_in_scope_m2 = min(total, total if any(f.body.piece is None for f in out) else sum(piece_m2(f.body.piece) for f in out))
        scope = total - state.not_in_scope_m2
        stages = self.stages(area)
        counting = [t for t in state.tests if t.word is not TestWord.NOT_VALID and (not stages or t.stage in stages)]
        spoilt = max((f.end for f in self.job.all("area.disturbed") if f.body.panel == name and f.body.piece is None), default=0)
        best = max(counting, key=lambda t: (t.fact.end >= spoilt, _RANK[t.word], t.fact.end, t.fact.rank), default=None)
        left = [
            f
            for f in self.job.all("area.not_reached")
            if f.body.panel == name and (best is None or not best.fact.body.all or f.end >= best.fact.start)
        ]
        state.not_reached_m2 = min(scope, sum(piece_m2(f.body.piece) for f in left))
        tested = disturbed = 0.0
        if best is not None:
            said = {f.body.piece.says for f in left}
            but = sum(piece_m2(p) for p in best.fact.body.but or [] if p.says not in said)
            tested = max(0.0, scope - but - state.not_reached_m2)
            after = [f for f in self.job.all("area.disturbed") if f.body.panel == name and f.end > best.fact.end]
            disturbed = tested if any(f.body.piece is None for f in after) else min(tested, sum(piece_m2(f.body.piece) for f in after))
            tested -= disturbed
        state.not_yet_tested_m2 = max(0.0, scope - state.not_reached_m2 - tested)
        state.reason = "; ".join(dict.fromkeys([f.body.reason for f in [*out, *left]] + ([best.why] if best and best.why else [])))
        if best is not None and tested > 0:
            state.counts = best
            setattr(
                state,
                {TestWord.CHECKED: "checked_m2", TestWord.AWAITING: "awaiting_m2", TestWord.IN_DOUBT: "in_doubt_m2"}[best.word],
                tested,
            )
            if best.on_instruction:
                state.on_instruction_m2 = tested
        state.word = self._word(state, scope)
        if disturbed:
            state.reason = "disturbed after its test"
        elif state.counts is None and state.tests and not state.reason:
            state.reason = state.tests[-1].why
        return state

    @staticmethod
    def _word(state: PanelState, scope: float) -> PanelWord:
        """The worst that is true of a part of the panel."""
        if scope <= 0:
            return PanelWord.NOT_IN_SCOPE
        if state.in_doubt_m2 > 0:
            return PanelWord.IN_DOUBT
        if state.not_yet_tested_m2 > 1e-9:
            return PanelWord.NOT_YET
        if state.awaiting_m2 > 0:
            return PanelWord.AWAITING
        if state.not_reached_m2 > 1e-9:
            return PanelWord.NOT_REACHED
        return PanelWord.CHECKED


def _untold(title: str, found: list[tuple[TestState, str]]) -> Line:
    """Tests that began while the record did not tell whether a need was met; it bars nothing."""
    names = list(dict.fromkeys(t.panel for t, _ in found))
    named = ", ".join(names[:_MOST]) + (f" and {len(names) - _MOST} more" if len(names) > _MOST else "")
    return Line(
        "started_untold",
        f"Tested while the record did not tell: {title}; {named}",
        found[0][1],
        False,
        [t.fact.id for t, _ in found],
    )
