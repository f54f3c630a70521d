"""Coats and cure of a job: each test area and each repair against the row of the maker's table that its release names."""

from __future__ import annotations

import re

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.times import clock as written
from wholefilm.base.times import utc_ms
from wholefilm.film.cure import Clock, Row, Steel, clock
from wholefilm.job.facts import Fact, Job

from .states import Line, PanelState, RepairState

SAME_MS = 60_000
"""A coat recorded later than the release says by more than this is another coat. [ms]"""


class CureState(msgspec.Struct, frozen=True):
    """How a test area or a repair stands to its cure.

    Attributes
    ----------
    about : str
        Test area or repair number.
    kind : str
        ``test area`` or ``repair``.
    last_coat : Fact or None
        The entry that tells of the last coat (coat.applied, repair.done); None where only the release tells.
    last_ms : int or None
        When the last coat was finished. [ms UTC]
    release : Fact or None
    at : int
        When it is asked: the first test or retest since the last coat, else the last entry of the job. [ms UTC]
    clock : Clock or None
        None where nothing is released.
    rows : list of Row
        The maker's table as entered.
    says : str
    begun : bool
        Whether a test or a retest has begun since the last coat.
    """

    about: str
    kind: str
    last_coat: Fact | None
    last_ms: int | None
    release: Fact | None
    at: int
    clock: Clock | None
    rows: list[Row]
    says: str
    begun: bool = False


def cure_states(job: Job, panels: list[PanelState], repairs: list[RepairState]) -> list[CureState]:
    """Every test area with a coat or a release, and every repair that is done, in that order.

    Parameters
    ----------
    job : Job
    panels : list of PanelState
    repairs : list of RepairState

    Returns
    -------
    list of CureState
    """
    found = []
    for area in dict.fromkeys(p.test_area for p in panels):
        coats = [f for f in job.all("coat.applied") if area in f.body.test_areas]
        last = max(coats, key=lambda f: (f.end, f.rank), default=None)
        names = {area, *(p.name for p in panels if p.test_area == area)}
        starts = [f.start for f in job.all("panel.started") if f.body.panel in names]
        state = _state(job, area, "test area", names, last, last.end if last else None, starts)
        if last is not None or state.release is not None:
            found.append(state)
    for repair in repairs:
        if repair.done:
            done = repair.done[-1]
            coat = max((utc_ms(c.at) for c in done.body.coats), default=done.end)
            starts = [x.fact.start for x in repair.retests]
            found.append(_state(job, repair.number, "repair", {repair.number, repair.fact.id, *repair.panels}, done, coat, starts))
    return found


def cure_lines(states: list[CureState]) -> list[Line]:
    """What speaks against a test or a retest that waited long enough by its row: colder steel, a later coat. It bars `meets`."""
    return [
        Line(
            "cure_not_told", f"{s.about}: the cure before its test or retest is not told by the row released", s.says, True, [s.release.id]
        )
        for s in states
        if s.begun
        and s.release is not None
        and s.clock is not None
        and s.clock.finding is Outcome.NOT_MET
        and s.clock.earliest is not None
        and s.at >= s.clock.earliest
    ]


def _state(job: Job, about: str, kind: str, names: set[str], last: Fact | None, coat: int | None, starts: list[int]) -> CureState:
    own = names if kind == "test area" else {about, *(n for n in names if len(n) == 36)}
    releases = [f for f in job.all("cure.released") if own & {*f.body.about}]
    release = max(releases, key=lambda f: (f.start, f.rank), default=None)
    told = utc_ms(release.body.last_coat_at) if release is not None else None
    ended = max((t for t in (coat, told) if t is not None), default=None)
    since = [s for s in starts if ended is None or s >= ended]
    at = min(since, default=utc_ms(job.last_at) if job.last_at else 0)
    rows = _rows(job, names if kind == "test area" else set())
    if release is None or ended is None or told is None:
        listed = ", ".join(r.name for r in rows)
        return CureState(
            about,
            kind,
            last,
            ended,
            None,
            at,
            None,
            rows,
            "not released" + (f"; the maker's table as entered has rows {listed}" if listed else ""),
        )
    try:
        found = clock(rows, release.body.table_row, ended, _series(job, names, release, ended, at), at)
    except BadInput as error:
        found = Clock(None, None, None, None, Outcome.CANNOT_TELL, str(error))
    if coat is not None and coat > told + SAME_MS:
        says = f"the release counts from {written(release.body.last_coat_at)}; a later coat is recorded: {found.says}"
        found = msgspec.structs.replace(found, finding=Outcome.NOT_MET, says=says)
    return CureState(about, kind, last, ended, release, at, found, rows, found.says, bool(since))


def _rows(job: Job, areas: set[str]) -> list[Row]:
    """The maker's rows of the systems on these areas; of every system where none is named. Of one name the later counts."""
    systems = job.all("system.set")
    mine = [f for f in systems if areas & {*f.body.test_areas}] or systems
    rows = [Row(r.row, r.what, r.steel, r.wait, r.longest, r.for_) for f in mine for r in (f.body.cure_table or [])]
    return list({r.name: r for r in rows}.values())


def _series(job: Job, names: set[str], release: Fact, begin: int, end: int) -> list[Steel]:
    """Steel temperatures of a span: those read at a place that names the area where there are any, else those of the whole job."""
    read = [
        Steel(f.start, f.body.surface, f"{f.body.place}, {written(f.when)}") for f in job.all("climate.read") if begin <= f.start <= end
    ]
    words = re.compile("|".join(rf"(?<![\w-]){re.escape(n)}(?![\w-])" for n in sorted(names))) if read else None
    near = [s for s in read if words is not None and words.search(s.where)]
    coats = [
        Steel(f.end, f.body.steel, f"at the coat, {written(f.until)}")
        for f in job.all("coat.applied")
        if f.body.steel and names & {*f.body.test_areas} and f.end >= begin
    ]
    stated = Steel(max(begin, min(release.start, end)), release.body.steel, f"as the release of {written(release.when)} states")
    return [*(near or read), *coats, stated]
