"""Exceptions of the record itself: what was changed and when, what does not hold together, clocks that differ."""

from __future__ import annotations

from wholefilm.job.facts import Change, Fact, Job, Problem

from .signing import of_a_day
from .states import NOT_INTACT, Line

SKEW_MS = 60_000


def of_the_record(job: Job) -> list[Line]:
    """Lines of changes, clocks and problems of a job's record.

    Parameters
    ----------
    job : Job

    Returns
    -------
    list of Line
    """
    problems = [Line(p.what, _of_record(p), "", p.bars, [p.entry] if p.entry else []) for p in job.problems]
    return [*_changes(job), *_clocks(job), *problems]


def _of_record(problem: Problem) -> str:
    """A problem as its line says it: what makes the record itself not intact says so first."""
    return f"The record is not intact: {problem.says}" if problem.bars and problem.what in NOT_INTACT else problem.says


def _changes(job: Job) -> list[Line]:
    """Corrections and withdrawals: those that remove a failure always, and those made after a signature."""
    lines = []
    for change in job.changes:
        fact = job.by_id.get(change.by_entry)
        missed = [x for x in job.all("signed") if fact is not None and _signs(job, x, change) and _after(fact, x)]
        if change.removes_failure and change.in_force:
            word = "alone on the job" if change.alone else "agreed by another person"
            lines.append(Line("failure_withdrawn", change.says, word, False, [change.of, change.by_entry]))
        if missed:
            of_days = all(of_a_day(x.body.scope) for x in missed)
            anew = [x for x in job.all("signed") if fact is not None and _signs(job, x, change) and not _after(fact, x)]
            word = "after the daily report was signed" + ("; signed again since" if anew else "") if of_days else "after a signature"
            bars = not (of_days and anew)
            lines.append(Line("changed_after_signing", change.says, word, bars, [change.of, change.by_entry]))
    return lines


def _signs(job: Job, signed: Fact, change: Change) -> bool:
    """Whether a signature is about what a change changes: one of daily reports is about what happened on their days alone."""
    if not of_a_day(signed.body.scope):
        return True
    fact = job.by_id.get(change.of)
    when = fact.when if fact is not None else next((e.at for e in job.record if e.id == change.of), "")
    return f"day {when[:10]}" in signed.body.scope


def _after(fact: Fact, signed: Fact) -> bool:
    """Whether a signature does not cover an entry: beyond the heads that it states, or later in order where it states none."""
    if signed.heads is None:
        return signed.rank < fact.rank
    return fact.id != signed.id and fact.seq > signed.heads.get(fact.device, (0, ""))[0]


def _clocks(job: Job) -> list[Line]:
    compared = {d for f in job.all("clock.compared") for d in (f.device, f.body.device)}
    never = sorted(job.devices.get(d, d[:8]) for d in set(job.heads) - compared) if len(job.heads) > 1 else []
    lines = (
        [Line("clock_not_compared", f"Clocks of devices never compared: {', '.join(never)}", "their difference is taken as 0", False)]
        if never
        else []
    )
    skewed = [f for f in job.all("clock.compared") if abs(f.body.offset_ms) >= SKEW_MS]
    if skewed:
        worst = max(abs(f.body.offset_ms) for f in skewed)
        lines.append(Line("clock_skew", f"Device clocks differ by up to {worst / 1000:.0f} s", "", False, [f.id for f in skewed]))
    return lines
