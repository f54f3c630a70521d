"""One day of a job, written from its entries: what the inspector reads before closing it, and what a signature of that day froze."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from typing import Annotated

import msgspec

from wholefilm.base.errors import NotFound
from wholefilm.base.findings import area_text, count_of
from wholefilm.base.times import clock
from wholefilm.job.facts import Fact, Job
from wholefilm.job.fold import fold
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.proof.reconcile import marks_at
from wholefilm.proof.states import Standing

from .people import who
from .rows import Row, Table, head, table


class Happening(Row, frozen=True, kw_only=True):
    """Something of the day: a line of the draft."""

    clock: Annotated[str, head("Time")]
    what: Annotated[str, head("What")]
    says: Annotated[str, head("Says")]
    by: Annotated[str, head("By")]
    entry: str


class FrozenRow(Row, frozen=True, kw_only=True):
    """A signature of the day, and whether the day still reads as it did."""

    when: Annotated[str, head("Signed")]
    role: Annotated[str, head("Role")]
    statement: Annotated[str, head("Statement")]
    digest: Annotated[str, head("Day as signed, first 16")]
    since: Annotated[str, head("Since then")]


class DaySheet(msgspec.Struct, frozen=True):
    """A day.

    Attributes
    ----------
    date : str
    summary : list of str
        The draft: one sentence a line.
    marks_expected, marks_counted : int or None
    numbers : list of str
        Wall numbers that should stand on the wall at the end of the day.
    narrative : str
        What the inspector told when the day was closed; empty before.
    happenings : list of Happening
    late : list of str
        What was entered on a later day.
    digest : str
        SHA-256 of the day without its signatures.
    signed : list of FrozenRow
    """

    date: str
    summary: list[str]
    marks_expected: int
    marks_counted: int | None
    numbers: list[str]
    narrative: str
    happenings: list[Happening]
    late: list[str]
    digest: str
    signed: list[FrozenRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("What happened", Happening, self.happenings, "nothing is recorded of that day"),
            table("Signed for the day", FrozenRow, self.signed, "not signed"),
        ]


def day_sheet(standing: Standing, date: str) -> DaySheet:
    """A day of a standing.

    Raises
    ------
    NotFound
        If nothing of the job happened on that calendar day.
    """
    job = standing.job
    facts = [f for f in job.facts if f.when[:10] == date and f.kind not in _SILENT]
    if not facts:
        known = sorted({f.when[:10] for f in job.facts if f.kind in ("panel.tested", "day.closed")})
        raise NotFound("DATE", date, f"a day on which something happened, such as {', '.join(known[-3:]) or 'none yet'}")
    happenings = [h for f in sorted(facts, key=lambda f: (f.start, f.rank)) for h in _happening(job, f)]
    closed = next((f for f in reversed(facts) if f.kind == "day.closed"), None)
    end = closed.end if closed else max(f.end for f in facts)
    numbers = marks_at(job, standing.indications, standing.all_repairs, end)
    plain = DaySheet(
        date,
        draft(standing, date),
        len(numbers),
        closed.body.marks_counted if closed else None,
        numbers,
        closed.body.narrative if closed else "",
        happenings,
        [f"{_word(f)}, entered {clock(f.at)}" for f in facts if f.at[:10] > date],
        "",
        [],
    )
    told = hashlib.sha256(msgspec.json.encode(plain, order="deterministic")).hexdigest()
    return msgspec.structs.replace(plain, digest=told, signed=[_frozen(job, f, date, told) for f in _signatures(job, date)])


_SILENT = ("clock.compared", "signed", "assessment.made", "entry.agreed", "job.opened", "person.joined", "device.joined")


def _signatures(job: Job, date: str) -> list[Fact]:
    return [f for f in job.all("signed") if f"day {date}" in f.body.scope]


def _frozen(job: Job, fact: Fact, date: str, now: str) -> FrozenRow:
    """A signature of the day: the day is made again from what its signer had seen, and compared with the day of now."""
    then = ""
    if fact.heads:
        seen = [e for e in as_of(job.record, entry_id=fact.id) if e.id != fact.id]
        try:
            then = day_sheet(assess(fold(seen, job.blobs)), date).digest
        except NotFound:
            then = ""
    if not then:
        since = "it does not tell what its signer had seen"
    elif then == now:
        since = "unchanged"
    else:
        later = [f for f in job.facts if f.when[:10] == date and f.ms > fact.ms and f.kind not in _SILENT]
        changed = [c for c in job.changes if c.in_force and (target := job.by_id.get(c.by_entry)) is not None and target.ms > fact.ms]
        said = [_word(f) for f in later] + [c.says for c in changed]
        since = "changed: " + ("; ".join(said) or "an entry of that day counts otherwise")
    return FrozenRow(when=clock(fact.at), role=fact.body.role, statement=fact.body.statement, digest=then[:16], since=since)


def days_of(job: Job) -> list[str]:
    """Calendar days of the site on which something of a job happened, in order."""
    return sorted({f.when[:10] for f in job.facts if f.kind not in _SILENT})


def draft(standing: Standing, date: str) -> list[str]:
    """The draft of a day's report: sentences from its entries, in the order of the work."""
    job = standing.job
    said: list[str] = []
    checks = [c for c in standing.checks if c.fact.when[:10] == date]
    if checks:
        failed = [c for c in checks if c.result.verdict.value != "passed"]
        said.append(f"{count_of(len(checks), 'check')} of testers, " + (f"{len(failed)} failed." if failed else "all passed."))
    tests = sorted((t for p in standing.panels for t in p.tests if t.fact.when[:10] == date), key=lambda t: (t.fact.start, t.fact.rank))
    if tests:
        names = [t.panel for t in tests]
        again = sum(1 for t in tests if t.exposure > 1)
        more = f", {again} of them again" if again else ""
        said.append(f"{count_of(len(tests), 'panel')} tested, {area_text(sum(t.area_m2 for t in tests))} m2: {_run(names)}{more}.")
    own = [i for i in standing.indications if i.fact.when[:10] == date]
    if own:
        word = {w: sum(1 for i in own if i.decided == w and not i.retest_of) for w in ("holiday", "false", "undecided")}
        retest = sum(1 for i in own if i.retest_of)
        parts = [count_of(word["holiday"], "holiday")] * bool(word["holiday"])
        parts += [f"{word['false']} false"] * bool(word["false"]) + [f"{word['undecided']} undecided"] * bool(word["undecided"])
        parts += [f"{retest} at retests"] * bool(retest)
        said.append(f"{count_of(len(own), 'indication')}: {', '.join(parts)}; numbers {_run([i.number for i in own])}.")
    done = [f for f in job.all("repair.done") if f.until[:10] == date or f.when[:10] == date]
    if done:
        said.append(f"{count_of(len(done), 'repair')} done.")
    retests = [(r.number, x) for r in standing.repairs for x in r.retests if x.fact.when[:10] == date]
    if retests:
        failed_retests = [number for number, x in retests if not x.passed]
        tail = f", failed: {', '.join(failed_retests)}." if failed_retests else ", none failed."
        said.append(f"{count_of(len(retests), 'retest')}{tail}")
    return said or ["No test, repair or retest."]


def _run(names: list[str], most: int = 10) -> str:
    unique = list(dict.fromkeys(names))
    return ", ".join(unique) if len(unique) <= most else f"{unique[0]} to {unique[-1]} ({len(unique)})"


def _word(fact: Fact) -> str:
    return fact.kind.replace(".", " ").replace("_", " ")


_SAYS: dict[str, Callable[[Job, Fact], str]] = {
    "climate.read": lambda j, f: f"air {f.body.air}, {f.body.rh or 'wet bulb ' + str(f.body.wet_bulb)}, surface {f.body.surface}",
    "instrument.checked": lambda j, f: (
        f"{f.body.instrument} {f.body.occasion}: {f.body.read} on {f.body.set} set" + ("" if f.body.as_found else ", as left")
    ),
    "instrument.changed": lambda j, f: f"{f.body.instrument}: {f.body.what}",
    "permit.noted": lambda j, f: f"{f.body.what}, by {f.body.by}, until {clock(f.body.until)}",
    "permit.stopped": lambda j, f: f"stopped by {f.body.by}: {f.body.why}",
    "ground.checked": lambda j, f: f"{f.body.point} to {f.body.to}: {'open' if f.body.found == 'open' else f.body.value or f.body.proof}",
    "surface.inspected": lambda j, f: (
        f"{_run(list(f.body.panels))}: {'dry' if f.body.dry else 'wet'}, {'clean' if f.body.clean else 'dirty'}"
    ),
    "panel.tested": lambda j, f: f"{f.body.panel}" + (" all of it" if f.body.all else " in part"),
    "indication.raised": lambda j, f: f"{f.body.number} on {f.body.panel}",
    "repair.done": lambda j, f: f"{_number(j, f.body.repair)}, time {f.body.nth}, by {f.body.applicator}",
    "retest.done": lambda j, f: f"{_number(j, f.body.repair)}, retest {f.body.nth}: {count_of(len(f.body.indications), 'indication')}",
    "repair.planned": lambda j, f: f"{f.body.number}: {f.body.class_}",
    "hold.released": lambda j, f: f"{f.body.point}: {_run(list(f.body.about))}",
    "witness.noted": lambda j, f: f"{f.body.point}: {f.body.came.replace('_', ' ')}",
    "question.raised": lambda j, f: f"{f.body.number} to {' and '.join(f.body.to)}: {f.body.text}",
    "question.answered": lambda j, f: f"by {f.body.from_}: {f.body.text}",
    "instruction.received": lambda j, f: f"from {f.body.from_}: {f.body.text}",
    "nonconformance.raised": lambda j, f: f"{f.body.number}: {f.body.finding}",
    "concession.given": lambda j, f: f"on {f.body.requirement}: {f.body.text}",
    "delay.noted": lambda j, f: f.body.reason,
    "coat.applied": lambda j, f: f"{f.body.coat}: {_run(list(f.body.test_areas))}, batch {f.body.batch}",
    "cure.released": lambda j, f: f"{_run(list(f.body.about))} by row {f.body.table_row}",
    "burn.inspected": lambda j, f: f"{_run(list(f.body.panels))}: {count_of(len(f.body.found), 'burn')}",
    "made_holiday.made": lambda j, f: f"{f.body.number}, zone {f.body.zone}",
}
"""What a kind says in one line; kinds that are not listed stand with their name."""


def _number(job: Job, repair: str) -> str:
    fact = job.get(repair, "repair.planned")
    return fact.body.number if fact else "a repair that is not here"


def _happening(job: Job, fact: Fact) -> Iterator[Happening]:
    if fact.kind in ("panel.started", "holiday.confirmed", "indication.false", "day.closed", "photo.taken", "file.attached"):
        return
    says = _SAYS[fact.kind](job, fact) if fact.kind in _SAYS else ""
    yield Happening(clock=clock(fact.when)[-5:], what=_word(fact), says=str(says), by=who(job, fact.by), entry=fact.id)
