"""The first page of a job: one sentence, the margin, the table of test areas."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.findings import Assessment, area_text, count_of
from wholefilm.base.times import clock
from wholefilm.proof.states import NOT_INTACT, PanelState, PanelWord, Standing

from .assessment import AssessmentSheet, assessment_sheet
from .rows import Row, Table, head, m2, table
from .voltage_parts import in_force


class AreaRow(Row, frozen=True, kw_only=True):
    """One test area."""

    test_area: str
    label: Annotated[str, head("Test area")]
    total_m2: Annotated[str, head("m²", True)]
    state: Annotated[str, head("State")]
    checks: Annotated[str, head("Before / after, as found", True)]
    holidays: Annotated[int, head("Holidays", True)]


class MarginLine(msgspec.Struct, frozen=True):
    """A line of the margin: what a reader must know first."""

    says: str
    detail: str
    bars: bool


class JobSheet(msgspec.Struct, frozen=True):
    """The first page."""

    job: str
    title: str
    contract: str
    as_of: str
    sentence: str
    sub: str
    record: str
    assessment: str
    margin: list[MarginLine]
    notes: list[MarginLine]
    areas: list[AreaRow]
    total: AreaRow
    missing: list[str]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [table("Test areas", AreaRow, [*self.areas, self.total], "no item is entered")]


def job_sheet(standing: Standing, as_of: str = "", assessed: AssessmentSheet | None = None) -> JobSheet:
    """The first page of a standing.

    Parameters
    ----------
    standing : Standing
    as_of : str
        The time asked for; the last entry's time if empty.
    assessed : AssessmentSheet, optional
        If already made.
    """
    sheet = assessed or assessment_sheet(standing, as_of)
    job = standing.job
    lines = [MarginLine(x.says, x.detail, x.bars) for x in standing.lines]
    margin, notes = [x for x in lines if x.bars], [x for x in lines if not x.bars]
    areas = [_area(standing, name) for name in dict.fromkeys(p.test_area for p in standing.panels)]
    s = sheet.area
    parts = [("checked", s.checked_m2), ("awaiting", s.awaiting_m2), ("in doubt", s.in_doubt_m2)]
    said = ", ".join(f"{w} {area_text(v)}" for w, v in parts if v) or "0"
    others = (("not reached", s.not_reached_m2), ("not in scope", s.not_in_scope_m2), ("not yet tested", s.not_yet_tested_m2))
    rest = " · ".join(f"{w} {area_text(v)}" for w, v in others)
    total = AreaRow(
        test_area="",
        label="In all",
        total_m2=area_text(s.total_m2),
        state=f"tested {area_text(s.tested_m2)}: {said} · {rest}",
        checks="",
        holidays=sheet.holidays.confirmed,
    )
    return JobSheet(
        job=job.name,
        title=job.title,
        contract=job.opened.body.contract if job.opened else "",
        as_of=sheet.as_of,
        sentence=_sentence(standing, sheet, len(margin)),
        sub=_sub(standing, sheet),
        record=_record(standing),
        assessment=sheet.assessment,
        margin=margin,
        notes=notes,
        areas=areas,
        total=total,
        missing=sheet.missing,
    )


def _sentence(standing: Standing, sheet: AssessmentSheet, reasons: int) -> str:
    count = f"{reasons} reason{'' if reasons == 1 else 's'} in the margin"
    if standing.assessment is Assessment.MEETS:
        return sheet.says
    not_met = len(dict.fromkeys(f.rule.clause for f in sheet.findings if f.finding == "not_met"))
    clauses = ", ".join(dict.fromkeys(f.rule.clause for f in sheet.findings if f.finding == "not_met"))
    if standing.assessment is Assessment.DOES_NOT_MEET and not_met and not reasons:
        return f"{sheet.says}: clause {clauses}"
    return f"{sheet.says}: {count}" if reasons else sheet.says


def _record(standing: Standing) -> str:
    """What must be said of the record inside a report before anything else; empty if it is intact."""
    places = sum(1 for x in standing.lines if x.bars and x.what in NOT_INTACT)
    return f"The record inside is not intact: {count_of(places, 'place')}, first in the margin." if places else ""


def _sub(standing: Standing, sheet: AssessmentSheet) -> str:
    held = in_force(standing.job)
    sheets = [f for f in standing.job.all("voltage.set") if held[f.id]]
    tested = ""
    if sheets:
        settings = ", ".join(dict.fromkeys(f"{f.body.method} at {f.body.setting}" for f in sheets))
        tested = f" · {settings}, agreed in writing"
    h = sheet.holidays
    if (
        sheet.area.tested_m2
        and not h.open
        and not h.undecided
        and sheet.area.checked_m2 + sheet.area.not_in_scope_m2 >= sheet.area.total_m2 - 0.001
        and h.closed == h.confirmed
    ):
        tested += " · tested, none open"
    return f"As it stood on {clock(sheet.as_of)}{tested}" if sheet.as_of else "Nothing is recorded yet"


def _label(standing: Standing, area: str, on: str) -> str:
    if len({p.on for p in standing.panels if p.test_area == area}) > 1 or not on[:1].islower():
        return area.capitalize() if area.islower() else area  # a group of parts, or a part that bears a name of its own
    base = "Column" if on.startswith("column ") else on.capitalize()
    several = len({p.test_area for p in standing.panels if p.on == on}) > 1
    return f"{base} {area}" if several else base


def _area(standing: Standing, name: str) -> AreaRow:
    mine = [p for p in standing.panels if p.test_area == name]
    pairs = dict.fromkeys(_pair(p) for p in mine if p.counts is not None and p.counts.bracket is not None)
    return AreaRow(
        test_area=name,
        label=_label(standing, name, mine[0].on),
        total_m2=area_text(sum(p.total_m2 for p in mine)),
        state=_state(mine),
        checks="; ".join(list(pairs)[:2]) + (" ..." if len(pairs) > 2 else ""),
        holidays=sum(1 for h in standing.holidays if h.test_area == name),
    )


def _pair(p: PanelState) -> str:
    assert p.counts is not None
    bracket = p.counts.bracket
    assert bracket is not None
    before = bracket.before.body.read if bracket.before else "none"
    after = bracket.after.body.read if bracket.after else "none yet"
    return f"{before} / {after}"


def _state(mine: list[PanelState]) -> str:
    words = list(dict.fromkeys(p.word for p in mine))
    if len(words) == 1:
        reasons = list(dict.fromkeys(p.reason for p in mine if p.reason))
        reason = f": {reasons[0]}" if len(reasons) == 1 and words[0] is not PanelWord.CHECKED else ""
        return words[0].value + reason
    sums = {w: m2(sum(p.total_m2 for p in mine if p.word is w)) for w in words}
    return ", ".join(f"{w.value} {area_text(v)}" for w, v in sums.items())
