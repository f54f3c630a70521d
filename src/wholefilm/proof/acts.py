"""What an entry needs before it may be typed: the mistakes that cannot be recorded as good."""

from __future__ import annotations

from wholefilm.base.findings import Outcome
from wholefilm.base.sources import Grade, Source
from wholefilm.base.times import clock, utc_ms
from wholefilm.job.corrections import is_fixed
from wholefilm.job.facts import Fact, Job

from .acts_voltage import film_outside_for_retest, film_outside_for_test, voltage_set
from .assessment import Ground, assess
from .closing import Closing, done_before
from .needs_book import Answer
from .panels import Panels, use_of
from .setting import is_spark
from .signing import of_a_day, reserved, work_open
from .states import Unmet

RECORD = Source("this record", "", Grade.DERIVED)


def unmet_needs(job: Job, draft: Fact) -> list[Unmet]:
    """What a draft entry lacks.

    Parameters
    ----------
    job : Job
        As recorded so far, without the draft.
    draft : Fact
        The entry as it would stand.

    Returns
    -------
    list of Unmet
        Empty if it may be stored as it is.
    """
    asked = {
        "panel.started": _panel_started,
        "panel.tested": _panel_tested,
        "retest.done": _retest_done,
        "repair.done": _repair_done,
        "indication.raised": _on_a_panel,
        "holiday.confirmed": _placed,
        "voltage.set": voltage_set,
        "instrument.checked": _instrument_checked,
        "hold.released": _hold_released,
        "permit.stopped": _permit_stopped,
        "signed": _signed,
        "entry.corrected": _changed,
        "entry.withdrawn": _changed,
        "entry.agreed": _agreed,
    }.get(draft.kind)
    return asked(job, draft) if asked else []


def untold_needs(job: Job, draft: Fact) -> list[Answer]:
    """Needs of a test that would start, of which the record does not tell; none for other entries."""
    if draft.kind != "panel.started":
        return []
    asked = Ground(job).needs.asked_of_test(draft.body.panel, draft.body.stage, use_of(draft, draft.start, draft.start))
    return [one for one in asked if one.outcome is Outcome.CANNOT_TELL]


def _panel_started(job: Job, draft: Fact) -> list[Unmet]:
    body = draft.body
    ground = Ground(job)
    unmet = ground.needs.of_test(body.panel, body.stage, use_of(draft, draft.start, draft.start), draft.ms)
    return unmet + film_outside_for_test(ground, body.panel, body.stage, draft.start)


def _panel_tested(job: Job, draft: Fact) -> list[Unmet]:
    body = draft.body
    started = job.get(body.started, "panel.started")
    if started is None or started.body.panel != body.panel:
        return [Unmet("started", f"no entry says with which tester {body.panel} was started", RECORD, False)]
    if bool(body.all) == bool(body.but):
        return [Unmet("extent", "say that all was tested, or all but which pieces", RECORD, False)]
    ground = Ground(job)
    use = use_of(started, min(started.start, draft.start), draft.end)
    unmet = ground.needs.of_test(body.panel, started.body.stage, use, draft.ms)
    before = [f for f in job.all("panel.tested") if f.body.panel == body.panel and f.end <= draft.end]
    if before and is_spark(use.set):
        exposure = ground.needs.exposure(body.panel, use.start)
        unmet += [exposure.unmet] if exposure.outcome is Outcome.NOT_MET else []
    return unmet


def _closing(job: Job) -> tuple[Ground, Closing]:
    ground = Ground(job)
    panels = Panels(job, ground.site, ground.found, ground.testers, ground.needs)
    return ground, Closing(job, ground.site, ground.testers, ground.needs, panels)


def _retest_done(job: Job, draft: Fact) -> list[Unmet]:
    body = draft.body
    ground, closing = _closing(job)
    repair = next((r for r in closing.all_repairs if r.fact.id == body.repair), None)
    if repair is None:
        return [Unmet("repair_done", "no repair of that number is planned", RECORD, False)]
    if body.nth != len(repair.retests) + 1:
        return [Unmet("nth", f"the next retest of {repair.number} is retest {len(repair.retests) + 1}", RECORD, False)]
    done = done_before(repair, draft.start)
    unmet = ground.needs.of_retest(repair.fact, repair.number, repair.panels, done, body.stage, use_of(draft, draft.start, draft.end))
    return unmet + film_outside_for_retest(ground, repair.panels, body.stage, body.local_thickness, draft.start)


def _repair_done(job: Job, draft: Fact) -> list[Unmet]:
    body = draft.body
    ground, closing = _closing(job)
    repair = next((r for r in closing.all_repairs if r.fact.id == body.repair), None)
    if repair is None:
        return [Unmet("planned", "no repair of that number is planned", RECORD, False)]
    if body.nth != len(repair.done) + 1:
        return [Unmet("nth", f"the next repair of {repair.number} is number {len(repair.done) + 1}", RECORD, False)]
    if repair.done and (not repair.retests or repair.retests[-1].passed):
        return [Unmet("failed_retest", f"{repair.number} is repaired again only after a failed retest", RECORD)]
    return ground.needs.hold("before repair", repair.panels, draft.start)


def _on_a_panel(job: Job, draft: Fact) -> list[Unmet]:
    site = Ground(job).site
    if site.panel(draft.body.panel) is None:
        names = ", ".join(p.name for _, p in site.panels) or "none, since no item is entered"
        return [Unmet("panel", f"{draft.body.panel} is no panel of an item of this job; panels are {names}", RECORD, False)]
    if draft.body.place is not None and site.spot(draft.body.place) is None:
        return [Unmet("place", "the place lies on no panel of an item of this job", RECORD, False)]
    return []


def _placed(job: Job, draft: Fact) -> list[Unmet]:
    if job.get(draft.body.indication, "indication.raised") is None:
        return [Unmet("indication", "no indication of that number is raised", RECORD, False)]
    at = Ground(job).site.spot(draft.body.place)
    return [] if at else [Unmet("place", "the place lies on no panel of an item of this job", RECORD, False)]


def _instrument_checked(job: Job, draft: Fact) -> list[Unmet]:
    added = [f for f in job.all("instrument.added") if f.body.instrument == draft.body.instrument]
    if not added:
        return [Unmet("instrument", f"{draft.body.instrument} is no instrument of this job", RECORD, False)]
    due = added[-1].body.due
    return (
        [Unmet("certificate", f"{draft.body.instrument} was due for calibration {clock(due)}", RECORD)]
        if due and utc_ms(due) < draft.end
        else []
    )


def _hold_released(job: Job, draft: Fact) -> list[Unmet]:
    if draft.body.point != "after retest":
        return []
    standing = assess(job)
    ground = Ground(job)
    mine = [p for p in standing.panels if ground.site.covers(draft.body.about, p.name)]
    return [Unmet(need, says, RECORD) for need, says in work_open(standing, mine)]


def _permit_stopped(job: Job, draft: Fact) -> list[Unmet]:
    if job.get(draft.body.permit, "permit.noted") is not None:
        return []
    return [Unmet("permit", "no permission of the site with that id is noted", RECORD, False)]


def _signed(job: Job, draft: Fact) -> list[Unmet]:
    if of_a_day(draft.body.scope):
        closed = {f"day {f.body.date}" for f in job.all("day.closed")}
        missing = [part for part in draft.body.scope if part not in closed]
        return [Unmet("day", f"{part} is not closed yet: day.closed comes before its signature", RECORD) for part in missing]
    if reserved(draft.body.reservations):
        return []
    standing = assess(job)
    if standing.assessment.value == "meets":
        return []
    clauses = ", ".join(dict.fromkeys(f.rule.clause for f in standing.findings if f.finding is not Outcome.MET))
    word, where = standing.assessment.value.replace("_", " "), clauses or "see the exceptions"
    return [Unmet("reservations", f"the assessment is {word} ({where}); a signature names its reservations", RECORD)]


def _changed(job: Job, draft: Fact) -> list[Unmet]:
    fact = job.by_id.get(draft.body.of)
    if fact is None:
        return [Unmet("of", "the entry that it is about is not here", RECORD, False)]
    if is_fixed(fact.kind):
        return [Unmet("of", f"{fact.kind} cannot be corrected or withdrawn", RECORD, False)]
    return []


def _agreed(job: Job, draft: Fact) -> list[Unmet]:
    fact = job.by_id.get(draft.body.of)
    if fact is None or fact.kind not in ("entry.corrected", "entry.withdrawn"):
        return [Unmet("of", "it agrees to no correction or withdrawal that is here", RECORD, False)]
    return [Unmet("by", "another person agrees, not the one who wrote it", RECORD, False)] if fact.by == draft.by else []
