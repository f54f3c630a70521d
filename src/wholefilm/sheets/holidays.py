"""Holidays at their places, and false indications with their reasons."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.proof.states import Standing

from .people import who
from .rows import Row, Table, head, table


class HolidayRow(Row, frozen=True, kw_only=True):
    """A confirmed holiday."""

    number: Annotated[str, head("No.")]
    test_area: Annotated[str, head("Test area")]
    panel: Annotated[str, head("Panel")]
    place: Annotated[str, head("Place")]
    near: Annotated[str, head("Near, m")]
    class_: Annotated[str, head("On")]
    local_thickness: Annotated[str, head("Local film")]
    state: Annotated[str, head("State")]
    repair: Annotated[str, head("Repair")]
    found: Annotated[str, head("Found")]
    by: Annotated[str, head("By")]
    entry: str


class FalseRow(Row, frozen=True, kw_only=True):
    """An indication decided false."""

    number: Annotated[str, head("No.")]
    panel: Annotated[str, head("Panel")]
    reason: Annotated[str, head("Decided false because")]
    tried: Annotated[str, head("Tried")]
    decided: Annotated[str, head("Decided")]
    times: Annotated[int, head("Times", True)]
    in_doubt: Annotated[bool, head("In doubt")]


class OpenRow(Row, frozen=True, kw_only=True):
    """An indication not yet decided."""

    number: Annotated[str, head("No.")]
    panel: Annotated[str, head("Panel")]
    raised: Annotated[str, head("Raised")]


class HolidaysSheet(msgspec.Struct, frozen=True):
    """Holidays, false indications and what is undecided."""

    holidays: list[HolidayRow]
    false_indications: list[FalseRow]
    undecided: list[OpenRow]
    earlier: list[HolidayRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Holidays", HolidayRow, self.holidays, "none found"),
            table("False indications", FalseRow, self.false_indications, "none"),
            table("Not yet decided", OpenRow, self.undecided, "none"),
            *([table("Found at an earlier stage, counted apart", HolidayRow, self.earlier, "none")] if self.earlier else []),
        ]


def holidays_sheet(standing: Standing) -> HolidaysSheet:
    """Holidays and indications of a standing."""
    job = standing.job
    rows, earlier = (
        [
            HolidayRow(
                number=h.number,
                test_area=h.test_area,
                panel=h.panel,
                place=h.says,
                near=h.near,
                class_=h.class_,
                local_thickness=h.fact.body.local_thickness or "",
                state=h.word.value,
                repair=h.repair.number if h.repair else "",
                found=clock(h.indication.fact.when),
                by=h.indication.fact.body.operator or who(job, h.indication.fact.by),
                entry=h.fact.id,
            )
            for h in holidays
        ]
        for holidays in (standing.holidays, standing.earlier)
    )
    times: dict[str, int] = {}
    for f in job.all("indication.false"):
        times[f.body.indication] = times.get(f.body.indication, 0) + 1
    falses = [
        FalseRow(
            number=i.number,
            panel=i.panel,
            reason=i.false.body.reason,
            tried=i.false.body.tried,
            decided=clock(i.false.when),
            times=times.get(i.fact.id, 1),
            in_doubt=i.in_doubt,
        )
        for i in standing.indications
        if i.decided == "false" and i.false is not None
    ]
    undecided = [
        OpenRow(number=i.number, panel=i.panel, raised=clock(i.fact.when))
        for i in standing.indications
        if i.decided == "undecided" and not i.retest_of
    ]
    return HolidaysSheet(rows, falses, undecided, earlier)
