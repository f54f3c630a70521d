"""May I start here? Every need of an area, a panel, an item or a repair at a time: met or not, why, what to do, until when.

It says what the record says. It gives no permission: the site's own people, the local code and licensed practice do.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.base.findings import Outcome
from wholefilm.base.times import utc_ms
from wholefilm.climate.requirement import ClimateRequired
from wholefilm.film.acceptance import FORMS
from wholefilm.instruments.field_check import same_setting
from wholefilm.job.facts import Fact, Job

from .asked import People
from .assessment import Ground
from .climate import Climate
from .closing import Closing, done_before
from .needs_book import Answer, Need, answer, need_of
from .panels import Panels
from .people import on_card, person_called, qualification
from .requirements import Cure, Holds, of_form
from .setting import is_spark
from .states import RepairState, Use
from .zones import zones_untried

NOBODY = "nobody named yet"
_USUAL: tuple[tuple[str, tuple[type, ...], str], ...] = (
    ("cure", (Cure,), "cure"),
    ("thickness", FORMS, "film thickness"),
    ("hold", (Holds,), "hold points"),
)
_PANEL, _MOST = "\0", 6
_ORDER = {Outcome.NOT_MET: 0, Outcome.CANNOT_TELL: 1, Outcome.MET: 2}


class NeedState(msgspec.Struct, frozen=True):
    """One need over all panels asked: the worst answer, and the panels that share it."""

    answer: Answer
    panels: list[str]


class Ready(msgspec.Struct, frozen=True):
    """Whether a test or retest may start by the record.

    Attributes
    ----------
    about, what : str
        What was asked, and whether it is a ``test`` or a ``retest``.
    stage, at : str
        Stage; the time asked for, as written.
    instrument, setting : str
        The tester and setting that it was asked for; empty if none is known.
    panels : list of str
        Panels asked; those already tested are left out unless all are.
    outcome : Outcome
        Met: ready by the record. Not met: not ready.
    needs : list of NeedState
        Those not met first.
    until : int or None
        The earliest end of what meets the needs. [ms UTC]
    ends : str
        What ends then.
    remarks : list of str
    not_asked : list of (Need, str)
        Needs that no requirement entered asks for, with a sentence. They decide nothing.
    """

    about: str
    what: str
    stage: str
    at: str
    instrument: str
    setting: str
    panels: list[str]
    outcome: Outcome
    needs: list[NeedState]
    until: int | None
    ends: str
    remarks: list[str]
    not_asked: list[tuple[Need, str]]


def ready(job: Job, about: str, at: str, tester: str = "", stage: str = "final", operator: str = "") -> Ready:
    """Ask whether a test may start.

    Parameters
    ----------
    job : Job
    about : str
        A test area, panel or item, or the number of a repair.
    at : str
        When, as written, in the offset of the site.
    tester : str, optional
        Instrument; else the one last checked at the setting of the voltage sheet.
    stage : str, default "final"
    operator : str, optional
        Who will hold the tester: role, name or id; else nobody is named.

    Returns
    -------
    Ready

    Raises
    ------
    BadInput
        If the tester is no instrument of the job.
    NotFound
        If nothing of the job is called `about`.
    """
    ground = Ground(job)
    _known(job, tester, stage, operator)
    mine = [p.name for _, p in ground.site.panels if ground.site.covers([about], p.name)]
    if mine:
        return _test(ground, about, mine, at, tester, stage, operator)
    panels = Panels(job, ground.site, ground.found, ground.testers, ground.needs)
    closing = Closing(job, ground.site, ground.testers, ground.needs, panels)
    repair = next((r for r in closing.all_repairs if r.number == about), None)
    if repair is None:
        areas = sorted({p.test_area for _, p in ground.site.panels})
        raise NotFound("AREA", about, f"a test area ({', '.join(areas) or 'none is entered yet'}), a panel, an item or a repair number")
    return _retest(ground, repair, at, tester, stage, operator)


def _known(job: Job, tester: str, stage: str, operator: str) -> None:
    """Refuse a tester, a stage or a person that the job does not know."""
    held = {f.body.instrument for f in job.all("instrument.checked")}
    added = [f.body for f in job.all("instrument.added")]
    names = sorted({b.instrument for b in added if b.electrodes or b.instrument in held or "tester" in b.what.lower()})
    if tester and tester not in names:
        raise BadInput("--tester", tester, f"a holiday tester of this job: {', '.join(names) or 'none is entered yet'}")
    stages = {f.body.stage for f in job.all("voltage.set", "panel.started", "requirement.noted") if f.body.stage}
    if stage != "final" and stage not in stages:
        raise BadInput("--stage", stage, f"a stage that the job names: {', '.join(sorted(stages | {'final'}))}")
    if operator and person_called(job, operator) not in job.people:
        roles = sorted({role for person in job.people for role in job.roles(person)})
        raise BadInput("--operator", operator, f"a person of this job by role, name or id: {', '.join(roles) or 'nobody joined yet'}")


def _test(ground: Ground, about: str, mine: list[str], at: str, tester: str, stage: str, operator: str) -> Ready:
    ms, remarks = utc_ms(at), []
    before = {f.body.panel for f in ground.job.all("panel.tested") if f.end <= ms}
    left = [p for p in mine if p not in before]
    asked = left or mine
    done = [p for p in mine if p in before]
    if not left:
        remarks.append("all of it was tested before; for the list as it was then, name a time (--as-of)")
    if left and done:
        remarks.append(f"tested before and left out: {', '.join(done)}; to test them again is a second exposure")
    use = _use(ground, ground.site.test_area_of(asked[0]), at, tester, stage, operator)
    found: dict[str, list[tuple[str, Answer]]] = {}
    for panel in asked:
        mine_use = _use(ground, ground.site.test_area_of(panel), at, tester, stage, operator)
        answers = ground.needs.asked_of_test(panel, stage, mine_use)
        if not left and is_spark(mine_use.set):
            answers.append(ground.needs.exposure(panel, ms))
        for one in answers:
            found.setdefault(one.need, []).append((panel, one))
    return _made(ground, about, "test", stage, at, use, asked, found, remarks)


def _retest(ground: Ground, repair: RepairState, at: str, tester: str, stage: str, operator: str) -> Ready:
    ms = utc_ms(at)
    area = ground.site.test_area_of(repair.panels[0]) if repair.panels else ""
    use = _use(ground, area, at, tester, stage, operator)
    answers = ground.needs.asked_of_retest(repair.fact, repair.number, repair.panels, done_before(repair, ms), stage, use)
    found: dict[str, list[tuple[str, Answer]]] = {}
    for one in answers:
        found.setdefault(one.need, []).append((repair.number, one))
    return _made(ground, repair.number, "retest", stage, at, use, list(repair.panels), found, [])


def _use(ground: Ground, area: str, at: str, tester: str, stage: str, operator: str) -> Use:
    """The use that would begin: the setting of the sheet, with the tester, electrode and lead of the last check at it."""
    ms = utc_ms(at)
    sheet = ground.needs.sheet(area, stage, ms)
    setting = str(sheet.body.setting) if sheet else ""
    checks = [f for f in ground.job.all("instrument.checked") if f.start <= ms and (not tester or f.body.instrument == tester)]
    fits = [f for f in checks if setting and _same(f, setting)]
    last = max(fits or checks, key=lambda f: (f.start, f.rank), default=None)
    who = person_called(ground.job, operator) if operator else ""
    return Use(
        tester or (last.body.instrument if last else ""),
        last.body.electrode if last else (sheet.body.electrode if sheet else ""),
        last.body.lead if last else "",
        setting or (last.body.set if last else ""),
        ms,
        ms,
        at[:10],
        who or NOBODY,
        (sheet.body.liquid or "") if sheet else "",
        at[23:],
    )


def _same(check: Fact, setting: str) -> bool:
    try:
        return same_setting(check.body.set, setting)
    except BadInput:
        return False


def _made(
    ground: Ground, about: str, what: str, stage: str, at: str, use: Use, panels: list[str],
    found: dict[str, list[tuple[str, Answer]]], remarks: list[str],
) -> Ready:  # fmt: skip
    if not use.instrument:
        says = "no tester is checked yet; name one with --tester, and record its check"
        found = {k: v for k, v in found.items() if k not in ("check_before", "instrument", "certificate")}
        found["check_before"] = [(about, answer("check_before", Outcome.NOT_MET, says))]
    if use.operator == NOBODY:
        for need in {"qualification", "authorisation"} & set(found):
            says = "the requirement asks it of the operator; name who will hold the tester (--operator)"
            found[need] = [(panel, msgspec.structs.replace(a, outcome=Outcome.CANNOT_TELL, says=says)) for panel, a in found[need]]
    climate = _climate(ground, use, panels, stage)
    if climate:
        found = {**found, "climate": [(about, one) for one in climate]}
    if "cure" not in found:
        coated = {area for f in ground.job.all("coat.applied") if f.start <= use.start for area in f.body.test_areas}
        areas = {n: ground.site.test_area_of(n) for n in panels}
        if any(area in coated and ground.needs.due([n, area], use.start, None)[0] is None for n, area in areas.items()):
            says = "a coat is recorded and no cure release covers it; no requirement of the job asks for one: ask whether the film is cured"
            found["cure"] = [(about, answer("cure", Outcome.CANNOT_TELL, says, spark=is_spark(use.set)))]
    states = [state for pairs in found.values() for state in _states(pairs)]
    states.sort(key=lambda s: _ORDER[s.answer.outcome])
    ends = [(a.until, a.title) for pairs in found.values() for _, a in pairs if a.until is not None and a.outcome is Outcome.MET]
    until, ending = min(ends, default=(None, ""))
    worst = min((s.answer.outcome for s in states), key=lambda o: _ORDER[o], default=Outcome.CANNOT_TELL)
    remarks = [*remarks, *_remarks(ground, use, panels)]
    none = _not_asked(ground, found, is_spark(use.set)) if what == "test" else []
    return Ready(about, what, stage, at, use.instrument, use.set, panels, worst, states, until, ending, remarks, none)


def _climate(ground: Ground, use: Use, panels: list[str], stage: str) -> list[Answer]:
    """What the contract asks of the climate for the test; nothing where no requirement applies it to the test."""
    asked = [
        r
        for r in of_form(ground.found, ClimateRequired)
        if r.rule.applies_to == "test"
        and r.stage in ("", stage)
        and (not r.applies_to or any(ground.site.covers(r.applies_to, panel) for panel in panels))
    ]
    if not asked:
        return []
    readings, answers = Climate(ground.job, ground.site, [], []), []
    for r in asked:
        finding, until = readings.before(r, panels, use.start, use.day)
        says = f"{finding.value}, {finding.limit}: {finding.because}"
        answers.append(answer("climate", finding.finding, says, finding.rule, until=until))
    return answers


def _states(pairs: list[tuple[str, Answer]]) -> list[NeedState]:
    """The answers to one need: each different one that is not met, or the one that is met with the earliest end."""
    bad: dict[Answer, list[str]] = {}
    for panel, one in pairs:
        if one.outcome is not Outcome.MET:
            bad.setdefault(msgspec.structs.replace(one, says=one.says.replace(panel, _PANEL) if panel else one.says), []).append(panel)
    if bad:
        return [NeedState(_told(one, panels), panels) for one, panels in bad.items()]
    first = min(pairs, key=lambda p: p[1].until if p[1].until is not None else 1 << 62)
    return [NeedState(first[1], [p for p, _ in pairs])]


def _told(one: Answer, panels: list[str]) -> Answer:
    """One answer for several panels, that names them all."""
    names = ", ".join(panels[:_MOST]) + (f" and {len(panels) - _MOST} more" if len(panels) > _MOST else "")
    return msgspec.structs.replace(one, says=one.says.replace(_PANEL, names))


def _not_asked(ground: Ground, found: Mapping[str, object], spark: bool) -> list[tuple[Need, str]]:
    """Needs that a contract usually names and that no requirement entered asks for, with a sentence: no outcome, and never met."""
    none = []
    for name, forms, what in _USUAL:
        usable = any(r.usable and isinstance(r.rule, forms) for r in ground.found)
        if name not in found:
            says = f"no requirement of {what} that applies here is entered" if usable else f"no requirement of {what} is entered"
            none.append((need_of(name, spark), f"{says}: nothing is held against it"))
    return none


def _remarks(ground: Ground, use: Use, panels: list[str]) -> list[str]:
    """What bars nothing and should be known."""
    job = ground.job
    remarks = []
    person = job.people.get(use.operator)
    if person is not None and not qualification(job, person) and not of_form(ground.found, People):
        name = on_card(job, getattr(person, "card", ""), "name") or "/".join(job.roles(use.operator))
        remarks.append(f"no qualification is stated of {name}; no requirement entered asks for one")
    zones = zones_untried(job, ground.site, panels, use.start) if is_spark(use.set) else []
    if zones:
        remarks.append(f"no voltage was found on a made holiday in ground zone {', '.join(zones)}, which it hangs on")
    if any(r.why_not for r in ground.found):
        clauses = ", ".join(r.clause for r in ground.found if r.why_not)
        remarks.append(f"requirements not held against the job: {clauses}")
    return remarks
