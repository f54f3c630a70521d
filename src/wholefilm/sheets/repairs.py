"""Repairs and their retests; a failed retest stays."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.proof.states import RepairState, RetestState, Standing

from .panels import reading
from .people import who
from .rows import Row, Table, head, table


class RepairRow(Row, frozen=True, kw_only=True):
    """A repair number."""

    number: Annotated[str, head("Repair")]
    class_: Annotated[str, head("Class")]
    panels: Annotated[list[str], head("Panels")]
    covers: Annotated[list[str], head("Covers")]
    footprint_m2: Annotated[float, head("Footprint m²", True)]
    bare_m2: float | None
    done: Annotated[int, head("Done", True)]
    done_until: Annotated[str, head("Last done")]
    due: Annotated[str, head("Retest due")]
    state: Annotated[str, head("State")]
    says: Annotated[str, head("")]
    procedure: str
    entry: str


class RetestRow(Row, frozen=True, kw_only=True):
    """A retest."""

    repair: Annotated[str, head("Repair")]
    nth: Annotated[int, head("Retest", True)]
    began: Annotated[str, head("From")]
    set: Annotated[str, head("Set")]
    local_thickness: Annotated[str, head("Local film")]
    before: Annotated[str, head("Before, as found")]
    after: Annotated[str, head("After, as found")]
    result: Annotated[str, head("Result")]
    why: Annotated[str, head("Indications, remarks")]
    by: Annotated[str, head("By")]
    entry: str


class RepairsSheet(msgspec.Struct, frozen=True):
    """Repairs, retests and the sum of footprints."""

    repairs: list[RepairRow]
    retests: list[RetestRow]
    footprint_m2: float

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [table("Repairs", RepairRow, self.repairs, "none planned"), table("Retests", RetestRow, self.retests, "none made")]


def repairs_sheet(standing: Standing) -> RepairsSheet:
    """Repairs and retests of a standing."""
    numbers = {i: h.number for h in standing.holidays for i in (h.fact.id, h.indication.fact.id)}
    repairs = [_repair(r, numbers, standing) for r in standing.repairs]
    retests = [_retest(standing, r, x) for r in standing.repairs for x in r.retests]
    return RepairsSheet(
        repairs, sorted(retests, key=lambda x: (x.began, x.repair)), round(sum(r.footprint_m2 for r in standing.repairs), 3)
    )


def _repair(r: RepairState, numbers: dict[str, str], standing: Standing) -> RepairRow:
    return RepairRow(
        number=r.number,
        class_=r.fact.body.class_,
        panels=r.panels,
        covers=[numbers.get(i, i[:8]) for i in r.covers],
        footprint_m2=round(r.footprint_m2, 3),
        bare_m2=round(r.bare_m2, 4) if r.bare_m2 is not None else None,
        done=len(r.done),
        done_until=clock(r.done[-1].until) if r.done else "",
        due=like(r.due, r.done[-1].until) if r.due and r.done else "",
        state=r.word.value,
        says=r.says,
        procedure=r.fact.body.procedure,
        entry=r.fact.id,
    )


def like(ms: int, at: str) -> str:
    """A time in the offset of another, to the minute."""
    zone = datetime.fromisoformat(at).tzinfo
    return datetime.fromtimestamp(ms / 1000, UTC).astimezone(zone).strftime("%Y-%m-%d %H:%M")


def _retest(standing: Standing, r: RepairState, x: RetestState) -> RetestRow:
    if not x.passed:
        result = "failed"
    elif x.counts:
        result = "passed"
    else:
        result = f"no indication, {x.word.value}"
    return RetestRow(
        repair=r.number,
        nth=x.nth,
        began=clock(x.fact.when),
        set=x.fact.body.set,
        local_thickness=x.fact.body.local_thickness,
        before=reading(x.bracket.before if x.bracket else None),
        after=reading(x.bracket.after if x.bracket else None),
        result=result,
        why=x.why,
        by=x.fact.body.operator or who(standing.job, x.fact.by),
        entry=x.fact.id,
    )
