"""Panels and their tests, one row a panel, one a test."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.job.facts import Fact
from wholefilm.proof.states import PanelState, Standing, TestState

from .people import who
from .rows import Row, Table, head, m2, table


class PanelRow(Row, frozen=True, kw_only=True):
    """A panel."""

    panel: Annotated[str, head("Panel")]
    test_area: Annotated[str, head("Test area")]
    total_m2: Annotated[float, head("m²", True)]
    state: Annotated[str, head("State")]
    reason: Annotated[str, head("Reason")]
    checked_m2: float
    awaiting_m2: float
    in_doubt_m2: float
    on_instruction_m2: float
    not_reached_m2: float
    not_in_scope_m2: float
    not_yet_tested_m2: float
    tests: Annotated[int, head("Tests", True)]
    on_instruction: Annotated[bool, head("On instruction")]


class TestRow(Row, frozen=True, kw_only=True):
    """A test of a panel."""

    __test__ = False

    panel: Annotated[str, head("Panel")]
    began: Annotated[str, head("From")]
    ended: Annotated[str, head("To")]
    stage: Annotated[str, head("Stage")]
    tester: Annotated[str, head("Tester")]
    set: Annotated[str, head("Set")]
    before: Annotated[str, head("Before, as found")]
    after: Annotated[str, head("After, as found")]
    state: Annotated[str, head("State")]
    why: Annotated[str, head("Why")]
    rate_m2_h: Annotated[float, head("m²/h", True)]
    exposure: Annotated[int, head("Exposure", True)]
    by: Annotated[str, head("By")]
    entry: str


class PanelsSheet(msgspec.Struct, frozen=True):
    """Panels and tests."""

    panels: list[PanelRow]
    tests: list[TestRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Panels", PanelRow, self.panels, "no item with panels is entered"),
            table("Tests", TestRow, self.tests, "nothing tested yet"),
        ]


def panels_sheet(standing: Standing) -> PanelsSheet:
    """Panels and tests of a standing."""
    tests = [_test(standing, p, t) for p in standing.panels for t in p.tests]
    return PanelsSheet([_panel(p) for p in standing.panels], sorted(tests, key=lambda t: (t.began, t.panel)))


def _panel(p: PanelState) -> PanelRow:
    return PanelRow(
        panel=p.name,
        test_area=p.test_area,
        total_m2=m2(p.total_m2),
        state=p.word.value,
        reason=p.reason,
        checked_m2=m2(p.checked_m2),
        awaiting_m2=m2(p.awaiting_m2),
        in_doubt_m2=m2(p.in_doubt_m2),
        on_instruction_m2=m2(p.on_instruction_m2),
        not_reached_m2=m2(p.not_reached_m2),
        not_in_scope_m2=m2(p.not_in_scope_m2),
        not_yet_tested_m2=m2(p.not_yet_tested_m2),
        tests=len(p.tests),
        on_instruction=p.on_instruction_m2 > 0,
    )


def reading(fact: Fact | None) -> str:
    """A check as a cell: what it read and when."""
    return "" if fact is None else f"{fact.body.read}, {clock(fact.when)}"


def _test(standing: Standing, p: PanelState, t: TestState) -> TestRow:
    hours = (t.fact.end - t.fact.start) / 3600000
    return TestRow(
        panel=p.name,
        began=clock(t.fact.when),
        ended=clock(t.fact.until),
        stage=t.stage,
        tester=t.started.body.instrument if t.started else "",
        set=t.started.body.set if t.started else "",
        before=reading(t.bracket.before if t.bracket else None),
        after=reading(t.bracket.after if t.bracket else None),
        state=t.word.value + (" (on instruction)" if t.on_instruction else ""),
        why=t.why,
        rate_m2_h=round(t.area_m2 / hours, 1) if hours > 0 else 0.0,
        exposure=t.exposure,
        by=t.fact.body.operator or who(standing.job, t.fact.by),
        entry=t.fact.id,
    )
