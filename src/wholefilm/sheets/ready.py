"""The ready-to-test list: each need of an area, a panel, an item or a repair, met or not, why, what to do, until when."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Annotated

import msgspec

from wholefilm.base.cautions import BEFORE_A_TEST
from wholefilm.base.findings import Outcome, count_of
from wholefilm.base.times import clock
from wholefilm.job.facts import Job
from wholefilm.proof.needs_book import Need
from wholefilm.proof.ready import NeedState, Ready

from .rows import Row, Table, head, table

WORDS = {Outcome.MET: "met", Outcome.NOT_MET: "not met", Outcome.CANNOT_TELL: "cannot tell"}
LIFTS = {
    "instruction": "written instruction; never counts as good",
    "two_answers": "coating maker and engineer, in writing; never counts as good",
    "none": "nothing",
}
_MOST = 8


class ReadyRow(Row, frozen=True, kw_only=True):
    """One need."""

    need: str
    title: Annotated[str, head("Need")]
    state: Annotated[str, head("State")]
    panels: Annotated[list[str], head("For")]
    why: Annotated[str, head("Why")]
    until: Annotated[str, head("Until")]
    lifts: Annotated[str, head("What lifts it")]
    rule: Annotated[str, head("Asked by")]
    do: str


class SupplyRow(Row, frozen=True, kw_only=True):
    """What is missing, and the command that supplies it."""

    title: Annotated[str, head("Need")]
    do: Annotated[str, head("Recorded by")]


class ReadySheet(msgspec.Struct, frozen=True):
    """Whether a test or retest may start, by the record alone."""

    job: str
    title: str
    about: str
    what: str
    stage: str
    at: str
    tester: str
    setting: str
    panels: list[str]
    finding: str
    sentence: str
    until: str
    ends: str
    needs: list[ReadyRow]
    remarks: list[str]
    cautions: list[str]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        supplies = [SupplyRow(title=r.title, do=r.do) for r in self.needs if r.do]
        return [
            table(f"Before the {self.what} of {self.about}", ReadyRow, self.needs),
            table("What supplies what is missing", SupplyRow, supplies, "nothing is missing"),
        ]


def ready_to_test_sheet(job: Job, asked: Ready, commands: list[str], local: Callable[[int], str] | None = None) -> ReadySheet:
    """The list for a reader.

    Parameters
    ----------
    job : Job
    asked : Ready
    commands : list of str
        For each need of `asked`, the command that supplies it; shown where it is not met.
    local : function, optional
        Writes a time [ms UTC] in the job's time zone; else all stand in the offset of the time asked for.
    """

    def write(ms: int | None) -> str:
        return local(ms) if local is not None and ms is not None else _like(ms, asked.at)

    rows = [_row(state, asked, command, write) for state, command in zip(asked.needs, commands, strict=True)]
    rows += [_not_asked(need, says) for need, says in asked.not_asked]
    until = write(asked.until)
    return ReadySheet(
        job=job.name,
        title=job.title,
        about=asked.about,
        what=asked.what,
        stage=asked.stage,
        at=asked.at,
        tester=asked.instrument,
        setting=asked.setting,
        panels=list(asked.panels),
        finding=asked.outcome.value,
        sentence=_sentence(asked, until),
        until=until,
        ends=asked.ends,
        needs=rows,
        remarks=list(asked.remarks),
        cautions=list(BEFORE_A_TEST),
    )


def _sentence(asked: Ready, until: str) -> str:
    at = clock(asked.at)
    if asked.outcome is Outcome.MET:
        end = f", until {until} ({asked.ends})" if until else ""
        return f"{asked.about}: ready by the record at {at}{end}"
    if asked.outcome is Outcome.NOT_MET:
        titles = list(dict.fromkeys(s.answer.title for s in asked.needs if s.answer.outcome is Outcome.NOT_MET))
        named = ", ".join(titles[:_MOST]) + (f" and {len(titles) - _MOST} more" if len(titles) > _MOST else "")
        return f"{asked.about}: not ready at {at}: {count_of(len(titles), 'need')} not met: {named}"
    titles = list(dict.fromkeys(s.answer.title for s in asked.needs if s.answer.outcome is Outcome.CANNOT_TELL))
    return f"{asked.about}: cannot tell at {at}: {', '.join(titles) or 'nothing is asked'}"


def _row(state: NeedState, asked: Ready, command: str, write: Callable[[int | None], str]) -> ReadyRow:
    one = state.answer
    met = one.outcome is Outcome.MET
    panels = [] if len(state.panels) == len(asked.panels) > 1 else state.panels
    return ReadyRow(
        need=one.need,
        title=one.title,
        state=WORDS[one.outcome],
        panels=panels[:_MOST] + ([f"{len(panels) - _MOST} more"] if len(panels) > _MOST else []),
        why=one.says,
        until=write(one.until) if met else "",
        do="" if met else command,
        lifts="" if met else LIFTS[one.lifts] if one.outcome is Outcome.NOT_MET else "",
        rule=str(one.rule),
    )


def _not_asked(need: Need, says: str) -> ReadyRow:
    """A need that no requirement asks for: it stands in the list and decides nothing."""
    return ReadyRow(need=need.need, title=need.title, state="not asked", panels=[], why=says, until="", do="", lifts="", rule="")


def _like(ms: int | None, at: str) -> str:
    """A time in the offset of another, to the minute; empty for none, or for one that no calendar holds."""
    if ms is None:
        return ""
    try:
        return datetime.fromtimestamp(ms / 1000, UTC).astimezone(datetime.fromisoformat(at).tzinfo).strftime("%Y-%m-%d %H:%M")
    except (ValueError, OverflowError, OSError):
        return ""
