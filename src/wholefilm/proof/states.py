"""The words and the records of how a job stands."""

from __future__ import annotations

import enum
from typing import Any

import msgspec

from wholefilm.base.findings import Assessment, Finding
from wholefilm.base.sources import Source
from wholefilm.instruments.field_check import CheckResult
from wholefilm.job.facts import Fact, Job


class TestWord(enum.StrEnum):
    """How far a test is proved."""

    __test__ = False

    CHECKED = "checked before and after"
    AWAITING = "awaiting its end check"
    IN_DOUBT = "in doubt"
    NOT_VALID = "not valid"


class PanelWord(enum.StrEnum):
    """How a panel stands as a whole."""

    CHECKED = "checked before and after"
    AWAITING = "awaiting its end check"
    IN_DOUBT = "in doubt"
    NOT_REACHED = "not reached"
    NOT_IN_SCOPE = "not in scope"
    NOT_YET = "not yet tested"


class HolidayWord(enum.StrEnum):
    """How a holiday stands."""

    OPEN = "open"
    REPAIRED = "repaired"
    CLOSED = "closed"


class Use(msgspec.Struct, frozen=True):
    """A use of a tester over a span of time. [ms UTC]"""

    instrument: str
    electrode: str
    lead: str
    set: str
    start: int
    end: int
    day: str
    operator: str = ""
    liquid: str = ""
    offset: str = "+00:00"


class Bracket(msgspec.Struct, frozen=True):
    """The checks on either side of a use, and what they close.

    `why` is empty for a use that is checked before and after; `cause` is one of `missing_before`, `failed_before`,
    `changed_before`, `failed_between`, `low`, `high`, `over_sensitive`, `missing_after`, `interval`, `none_yet`, ``""``.
    """

    word: TestWord
    before: Fact | None
    after: Fact | None
    cause: str
    why: str


class CheckState(msgspec.Struct, frozen=True):
    """One reading of a field check with its verdict, and the uses that it put in doubt."""

    fact: Fact
    result: CheckResult
    tolerance: str
    first_of_day: bool


class Unmet(msgspec.Struct, frozen=True):
    """A need that is not met: its name, a sentence, the rule behind it, whether a written instruction may lift it.

    `lifts` says what may lift it at all: ``instruction``, ``two_answers`` (coating maker and engineer) or ``none``; `supply`
    is the command that supplies what is missing.
    """

    need: str
    says: str
    rule: Source
    liftable: bool = True
    lifts: str = ""
    supply: str = ""


class TestState(msgspec.Struct):
    """One test of a panel."""

    __test__ = False

    fact: Fact
    started: Fact | None
    panel: str
    stage: str
    word: TestWord
    bracket: Bracket | None
    unmet: list[Unmet]
    on_instruction: bool
    area_m2: float
    exposure: int
    consented: bool
    why: str = ""


class PanelState(msgspec.Struct):
    """One panel: its areas by state, its tests, the one that counts."""

    name: str
    test_area: str
    on: str
    item: str
    word: PanelWord
    total_m2: float
    checked_m2: float = 0.0
    awaiting_m2: float = 0.0
    in_doubt_m2: float = 0.0
    not_reached_m2: float = 0.0
    not_in_scope_m2: float = 0.0
    not_yet_tested_m2: float = 0.0
    on_instruction_m2: float = 0.0
    reason: str = ""
    tests: list[TestState] = []
    counts: TestState | None = None

    @property
    def tested_m2(self) -> float:
        """Checked, awaiting and in doubt together. [m2]"""
        return self.checked_m2 + self.awaiting_m2 + self.in_doubt_m2


class IndicationState(msgspec.Struct):
    """One indication: undecided, false or a holiday; the decision may be in doubt."""

    fact: Fact
    number: str
    panel: str
    decided: str
    holiday: Fact | None
    false: Fact | None
    in_doubt: bool
    retest_of: str


class RetestState(msgspec.Struct):
    """One retest: passed, failed, in doubt, awaiting or not valid, and why."""

    fact: Fact
    nth: int
    passed: bool
    counts: bool
    word: TestWord
    bracket: Bracket | None
    unmet: list[Unmet]
    indications: list[str]
    why: str


class RepairState(msgspec.Struct):
    """A repair number: planned, done (again), retested (again)."""

    fact: Fact
    number: str
    word: HolidayWord
    covers: list[str]
    done: list[Fact]
    retests: list[RetestState]
    due: int | None
    due_says: str
    footprint_m2: float
    bare_m2: float | None
    panels: list[str]
    says: str


class HolidayState(msgspec.Struct):
    """A confirmed holiday at its place, with its repair."""

    fact: Fact
    indication: IndicationState
    number: str
    panel: str
    test_area: str
    item: str
    part: str
    u: float
    v: float
    says: str
    near: str
    class_: str
    word: HolidayWord
    repair: RepairState | None


class Reading(msgspec.Struct, frozen=True):
    """One way to read a clause, and what it gives."""

    about: str
    clause: str
    reading: str
    value: str
    limit: str
    finding: str


class Line(msgspec.Struct, frozen=True):
    """One exception for the first page. `bars` = it bars `meets` by itself."""

    what: str
    says: str
    detail: str
    bars: bool
    entries: list[str] = []


NOT_INTACT = ("gap", "broken_chain", "fork", "other_job")
"""Exceptions that say that the record itself is not intact; where they bar, they stand before all others."""


def gravest_first(line: Line) -> tuple[bool, bool]:
    """Sort key of exceptions: the record itself, then what bars `meets`, then the rest."""
    return not (line.bars and line.what in NOT_INTACT), not line.bars


class Requirement(msgspec.Struct):
    """A requirement as noted and, where decided, as decided."""

    fact: Fact
    topic: str
    source: Source
    rule: Any
    says: str
    applies_to: list[str]
    stage: str
    decided: Fact | None
    counts_as_one: list[list[str]]
    usable: bool
    why_not: str

    @property
    def clause(self) -> str:
        """Clause, or the topic where the document names none."""
        return self.source.clause or self.topic


class Standing(msgspec.Struct):
    """How the job stands."""

    job: Job
    assessment: Assessment
    requirements: list[Requirement]
    checks: list[CheckState]
    panels: list[PanelState]
    indications: list[IndicationState]
    holidays: list[HolidayState]
    repairs: list[RepairState]
    made: int
    made_closed: int
    burns: int
    burns_closed: int
    findings: list[Finding]
    readings: list[Reading]
    lines: list[Line]
    missing: list[str]
    surfaces: dict[str, Any]
    falls: list[Any] = []
    earlier: list[HolidayState] = []
    all_repairs: list[RepairState] = []

    def sum_m2(self, name: str) -> float:
        """Sum of one area of all panels, such as ``"checked_m2"``. [m2]"""
        return float(sum(getattr(p, name) for p in self.panels))
