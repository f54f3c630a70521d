"""Checks of testers, changes, ground proofs, instruments, permissions."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.findings import count_of
from wholefilm.base.times import clock, utc_ms
from wholefilm.instruments.certificate import certificate_at
from wholefilm.instruments.field_check import Verdict
from wholefilm.instruments.verification import Device, device_at, verified
from wholefilm.job.facts import Fact, Job
from wholefilm.proof.states import Bracket, CheckState, Standing, TestWord

from .people import who
from .rows import Row, Table, head, table

VERDICTS = {Verdict.PASSED: "passed", Verdict.LOW: "failed, low", Verdict.HIGH: "failed, high"}


class CheckRow(Row, frozen=True, kw_only=True):
    """One reading of a field check."""

    when: Annotated[str, head("When")]
    instrument: Annotated[str, head("Tester")]
    occasion: Annotated[str, head("Occasion")]
    as_found: Annotated[str, head("As found or left")]
    means: Annotated[str, head("Means")]
    set: Annotated[str, head("Set")]
    read: Annotated[str, head("Read")]
    deviation: Annotated[str, head("Deviation")]
    tolerance: Annotated[str, head("Tolerance")]
    result: Annotated[str, head("Result")]
    closes: Annotated[str, head("What it did")]
    in_doubt: Annotated[list[str], head("In doubt with it")]
    closed: list[str]
    verified_with: Annotated[str, head("Verified with")]
    certificate: Annotated[str, head("Certificate of the tester")]
    place: str
    tolerance_source: Annotated[str, head("Tolerance from")]
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
    found: Annotated[str, head("Found")]
    serves: Annotated[list[str], head("What hangs on it")]
    instrument: Annotated[str, head("With")]
    remark: Annotated[str, head("Remark")]


class MadeRow(Row, frozen=True, kw_only=True):
    """A holiday made on purpose, and the voltage found on it."""

    when: Annotated[str, head("When")]
    number: Annotated[str, head("Number")]
    zone: Annotated[str, head("Zone")]
    ground: Annotated[str, head("Ground point")]
    found_voltage: Annotated[str, head("Found at")]
    every_time: Annotated[str, head("Sparked every time")]
    instrument: Annotated[str, head("With")]
    remark: Annotated[str, head("Remark")]


class InstrumentRow(Row, frozen=True, kw_only=True):
    """An instrument of the job."""

    instrument: Annotated[str, head("Instrument")]
    what: Annotated[str, head("What it is")]
    range: Annotated[str, head("Range")]
    serial: Annotated[str, head("Serial")]
    uncertainty: Annotated[str, head("Uncertainty")]
    certificate: Annotated[str, head("Certificate")]
    certified: Annotated[str, head("Of")]
    due: Annotated[str, head("Due")]
    term: Annotated[str, head("At the last entry")]


class PermitRow(Row, frozen=True, kw_only=True):
    """A permission of the site, as its people wrote it. No verdict of ours."""

    noted: Annotated[str, head("Noted")]
    topic: Annotated[str, head("Topic")]
    covers: Annotated[list[str], head("Covers")]
    what: Annotated[str, head("What")]
    by: Annotated[str, head("By")]
    until: Annotated[str, head("Until")]
    stops_when: Annotated[str, head("Stops when")]
    value: Annotated[str, head("As written")]
    device: Annotated[str, head("Device")]
    stopped: Annotated[str, head("Stopped")]


class ChecksSheet(msgspec.Struct, frozen=True):
    """Checks and what stands around them."""

    checks: list[CheckRow]
    changes: list[ChangeRow]
    grounds: list[GroundRow]
    made: list[MadeRow]
    instruments: list[InstrumentRow]
    permits: list[PermitRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Checks of testers", CheckRow, self.checks, "no check recorded"),
            table("Changes", ChangeRow, self.changes, "none"),
            table("Ground proofs", GroundRow, self.grounds, "no ground proof recorded"),
            table("Made holidays and found voltages", MadeRow, self.made, "none made"),
            table("Permissions of the site", PermitRow, self.permits, "none noted"),
            table("Instruments", InstrumentRow, self.instruments, "none"),
        ]


class _Uses(msgspec.Struct):
    """The tests and retests that stand on either side of one check."""

    closed: list[str] = []
    doubt: list[str] = []
    words: dict[tuple[str, str], int] = {}


def checks_sheet(standing: Standing) -> ChecksSheet:
    """Checks of a standing."""
    job = standing.job
    uses, devices = _uses(standing), _devices(job)
    doubts = {f.fact.id: f"in doubt: {f.bracket.why}" for f in standing.falls}
    stopped = {f.body.permit: f"{clock(f.when)}, {f.body.why} ({f.body.by})" for f in job.all("permit.stopped")}
    return ChecksSheet(
        checks=[_check(standing, c, uses.get(c.fact.id, _Uses()), devices) for c in standing.checks],
        changes=[
            ChangeRow(when=clock(f.when), instrument=f.body.instrument, what=f.body.what, note=f.body.note or "")
            for f in job.all("instrument.changed")
        ],
        grounds=[
            GroundRow(
                when=clock(f.when),
                point=f.body.point,
                to=f.body.to,
                proof=f.body.value or f.body.proof or "",
                found=f.body.found or "",
                serves=list(f.body.serves or []),
                instrument=f.body.instrument,
                remark=doubts.get(f.id, ""),
            )
            for f in job.all("ground.checked")
        ],
        made=[_made(f, doubts) for f in job.all("made_holiday.made")],
        instruments=[_instrument(f, job) for f in job.all("instrument.added")],
        permits=[
            PermitRow(
                noted=clock(f.when),
                topic=f.body.topic.replace("_", " "),
                covers=list(f.body.covers or ["the whole job"]),
                what=f.body.what,
                by=f.body.by,
                until=clock(f.body.until),
                stops_when=f.body.stops_when,
                value=f.body.value or "",
                device=f.body.device or "",
                stopped=stopped.get(f.id, ""),
            )
            for f in job.all("permit.noted")
        ],
    )


def _made(fact: Fact, doubts: dict[str, str]) -> MadeRow:
    body = fact.body
    return MadeRow(
        when=clock(fact.when),
        number=body.number,
        zone=body.zone,
        ground=body.ground or "",
        found_voltage=body.found_voltage or "",
        every_time={True: "yes", False: "no", None: ""}[body.sparked_every_time],
        instrument=", ".join(x for x in (body.instrument, body.electrode, body.lead) if x),
        remark=doubts.get(fact.id, ""),
    )


def _instrument(fact: Fact, job: Job) -> InstrumentRow:
    body = fact.body
    held = certificate_at(body.certificate, body.due, utc_ms(job.last_at), body.certified)
    left = f", {held.days_left} d left" if held.days_left is not None and held.days_left >= 0 else ""
    return InstrumentRow(
        instrument=body.instrument,
        what=body.what,
        range=body.range,
        serial=body.serial or "",
        uncertainty=body.uncertainty or "",
        certificate=body.certificate or "",
        certified=(body.certified or "")[:10],
        due=(body.due or "")[:10],
        term=f"{held.term.value}{left}",
    )


def _devices(job: Job) -> list[Device]:
    """Every instrument of the job as entered, the later entry of one name last."""
    return [
        Device(f.body.instrument, f.body.certificate, f.body.due, f.body.certified, f.start)
        for f in sorted(job.all("instrument.added"), key=lambda f: (f.start, f.rank))
    ]


def _uses(standing: Standing) -> dict[str, _Uses]:
    """By check: what it closed, put in doubt and opened, tests and retests apart, all else that fell with it too."""
    found: dict[str, _Uses] = {}
    failed = {c.fact.id for c in standing.checks if c.result.verdict is not Verdict.PASSED}

    def of(fact: Fact) -> _Uses:
        return found.setdefault(fact.id, _Uses([], [], {}))

    def count(uses: _Uses, verb: str, what: str) -> None:
        uses.words[verb, what] = uses.words.get((verb, what), 0) + 1

    def take(bracket: Bracket | None, word: TestWord, what: str, name: str) -> None:
        if bracket is not None and bracket.before is not None:
            count(of(bracket.before), "opened", what)
        if bracket is None or bracket.after is None:
            return
        uses = of(bracket.after)
        if word is TestWord.CHECKED:
            uses.closed.append(name)
            count(uses, "closed", what)
        elif word is TestWord.IN_DOUBT and bracket.after.id in failed:
            uses.doubt.append(name)
            count(uses, "put in doubt", what)

    for panel in standing.panels:
        for test in panel.tests:
            take(test.bracket, test.word, "test", panel.name)
    for repair in standing.repairs:
        for retest in repair.retests:
            take(retest.bracket, retest.word, "retest", f"{repair.number} retest {retest.nth}")
    for fall in standing.falls:
        for fact in (fall.bracket.before, fall.bracket.after):
            if fact is not None and fact.id in failed:
                of(fact).doubt.append(f"{fall.what} {fall.name}")
                count(of(fact), "put in doubt", fall.what)
                break
    return found


def _check(standing: Standing, c: CheckState, uses: _Uses, devices: list[Device]) -> CheckRow:
    body = c.fact.body
    order = [(verb, what) for what in ("test", "retest") for verb in ("closed", "put in doubt", "opened")]
    order += [key for key in uses.words if key not in order]
    parts = [f"{verb} {count_of(uses.words[verb, what], what)}" for verb, what in order if (verb, what) in uses.words]
    tester = device_at(devices, body.instrument, c.fact.start)
    held = certificate_at(tester.certificate, tester.due, c.fact.start, tester.certified) if tester is not None else None
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
        in_doubt=uses.doubt,
        closed=uses.closed,
        verified_with=verified(body.verified_with, devices, c.fact.start).says if body.verified_with else "",
        certificate=held.says if held is not None else "not an instrument of this job",
        place=body.place or "",
        tolerance_source=body.tolerance_source if c.tolerance == body.tolerance else "the contract, stricter than the entry",
        by=body.operator or who(standing.job, c.fact.by),
        entry=c.fact.id,
    )
