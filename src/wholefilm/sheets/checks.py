"""Checks of testers, changes, ground proofs, instruments, permissions."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.instruments.field_check import Verdict
from wholefilm.proof.states import CheckState, Standing, TestWord

from .people import who
from .rows import Row, Table, head, table

VERDICTS = {Verdict.PASSED: "passed", Verdict.LOW: "failed, low", Verdict.HIGH: "failed, high"}


class CheckRow(Row, frozen=True, kw_only=True):
    """One reading of a field check."""

    when: Annotated[str, head("When")]
    instrument: Annotated[str, head("Tester")]
    occasion: Annotated[str, head("Occasion")]
    as_found: Annotated[str, head("As")]
    means: Annotated[str, head("Means")]
    set: Annotated[str, head("Set")]
    read: Annotated[str, head("Read")]
    deviation: Annotated[str, head("Deviation")]
    tolerance: Annotated[str, head("Tolerance")]
    result: Annotated[str, head("Result")]
    closes: Annotated[str, head("What it did")]
    tolerance_source: str
    by: Annotated[str, head("By")]
    entry: str


class ChangeRow(Row, frozen=True, kw_only=True):
    """Something changed on a tester."""

    when: Annotated[str, head("When")]
    instrument: Annotated[str, head("Tester")]
    what: Annotated[str, head("Changed")]
    note: Annotated[str, head("Note")]


class GroundRow(Row, frozen=True, kw_only=True):
    """A ground proof."""

    when: Annotated[str, head("When")]
    point: Annotated[str, head("Ground point")]
    to: Annotated[str, head("Proved to")]
    proof: Annotated[str, head("Proof")]


class InstrumentRow(Row, frozen=True, kw_only=True):
    """An instrument of the job."""

    instrument: Annotated[str, head("Instrument")]
    what: Annotated[str, head("What it is")]
    range: Annotated[str, head("Range")]
    certificate: Annotated[str, head("Certificate")]
    due: Annotated[str, head("Due")]


class PermitRow(Row, frozen=True, kw_only=True):
    """A permission of the site, as its people wrote it. No verdict of ours."""

    noted: Annotated[str, head("Noted")]
    what: Annotated[str, head("What")]
    by: Annotated[str, head("By")]
    until: Annotated[str, head("Until")]
    stops_when: Annotated[str, head("Stops when")]
    value: Annotated[str, head("As written")]


class ChecksSheet(msgspec.Struct, frozen=True):
    """Checks and what stands around them."""

    checks: list[CheckRow]
    changes: list[ChangeRow]
    grounds: list[GroundRow]
    instruments: list[InstrumentRow]
    permits: list[PermitRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Checks of testers", CheckRow, self.checks, "no check recorded"),
            table("Changes", ChangeRow, self.changes, "none"),
            table("Ground proofs", GroundRow, self.grounds, "no ground proof recorded"),
            table("Permissions of the site", PermitRow, self.permits, "none noted"),
            table("Instruments", InstrumentRow, self.instruments, "none"),
        ]


def checks_sheet(standing: Standing) -> ChecksSheet:
    """Checks of a standing."""
    job = standing.job
    return ChecksSheet(
        checks=[_check(standing, c) for c in standing.checks],
        changes=[
            ChangeRow(when=clock(f.when), instrument=f.body.instrument, what=f.body.what, note=f.body.note or "")
            for f in job.all("instrument.changed")
        ],
        grounds=[
            GroundRow(when=clock(f.when), point=f.body.point, to=f.body.to, proof=f.body.value or f.body.proof or "")
            for f in job.all("ground.checked")
        ],
        instruments=[
            InstrumentRow(
                instrument=f.body.instrument,
                what=f.body.what,
                range=f.body.range,
                certificate=f.body.certificate or "",
                due=(f.body.due or "")[:10],
            )
            for f in job.all("instrument.added")
        ],
        permits=[
            PermitRow(
                noted=clock(f.when),
                what=f.body.what,
                by=f.body.by,
                until=clock(f.body.until),
                stops_when=f.body.stops_when,
                value=f.body.value or "",
            )
            for f in job.all("permit.noted")
        ],
    )


def _check(standing: Standing, c: CheckState) -> CheckRow:
    body = c.fact.body
    uses = [(t.bracket, t.word, "test") for p in standing.panels for t in p.tests]
    uses += [(x.bracket, x.word, "retest") for r in standing.repairs for x in r.retests]
    parts = []
    for what in ("test", "retest"):
        mine = [(bracket, word) for bracket, word, name in uses if name == what and bracket is not None]
        after = [word for bracket, word in mine if bracket.after is c.fact]
        opened = sum(1 for bracket, _ in mine if bracket.before is c.fact)
        doubt = after.count(TestWord.IN_DOUBT) if c.result.verdict is not Verdict.PASSED else 0
        counts = (("closed", after.count(TestWord.CHECKED)), ("put in doubt", doubt), ("opened", opened))
        parts += [f"{verb} {n} {what}{'' if n == 1 else 's'}" for verb, n in counts if n]
    return CheckRow(
        when=clock(c.fact.when),
        instrument=body.instrument,
        occasion=body.occasion,
        as_found="found" if body.as_found else "left",
        means=body.means,
        set=body.set,
        read=body.read,
        deviation=c.result.says,
        tolerance=f"± {c.tolerance}",
        result=VERDICTS[c.result.verdict],
        closes=", ".join(parts),
        tolerance_source=body.tolerance_source,
        by=body.operator or who(standing.job, c.fact.by),
        entry=c.fact.id,
    )
