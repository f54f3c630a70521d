"""Job to Standing: the findings, the exceptions, what is missing, and the one word that follows."""

from __future__ import annotations

import msgspec

from wholefilm.base.findings import Assessment, Finding, Outcome, worst
from wholefilm.base.quantity import quantity
from wholefilm.job.facts import Fact, Job

from .checks import Testers
from .clauses import unmet_clauses
from .closing import Closing
from .exceptions import exceptions
from .judge import Judge
from .needs import Needs
from .panels import Panels
from .reconcile import reconcile
from .requirements import CheckInterval, of_form, requirements
from .signing import signed_in_spite
from .site import Site
from .states import HolidayWord, Line, PanelWord, Standing, gravest_first
from .thickness import Thickness

SHIFT_MATTERS_MS = 1000


class Ground:
    """Everything that proof builds on for one job: site, requirements, testers, needs."""

    def __init__(self, job: Job, site: Site | None = None) -> None:
        self.job = job
        self.site = site or Site(job)
        self.found = requirements(job)
        interval = of_form(self.found, CheckInterval)
        longest = [quantity(r.rule.longest, "time").si * 1000 for r in interval if r.rule.longest]
        tolerances = [r.rule.tolerance for r in interval if r.rule.tolerance]
        strictest = min(tolerances, key=lambda t: quantity(t, "share").si) if tolerances else None
        self.testers = Testers(job, int(min(longest)) if longest else None, strictest)
        self.thickness = Thickness(job, self.site, self.found)
        self.needs = Needs(job, self.site, self.found, self.testers, self.thickness)


def assess(job: Job) -> Standing:
    """How a job stands, from what was recorded alone.

    Parameters
    ----------
    job : Job

    Returns
    -------
    Standing
        Never raises for any job that `fold` gave.
    """
    site = Site(job)
    standing = _clock_doubts(job, site, _stand(job, site))
    standing.lines = sorted([*standing.lines, *signed_in_spite(standing)], key=gravest_first)
    return standing


def _stand(job: Job, site: Site) -> Standing:
    ground = Ground(job, site)
    panels = Panels(job, site, ground.found, ground.testers, ground.needs)
    closing = Closing(job, site, ground.testers, ground.needs, panels)
    judge = Judge(job, site, ground.needs, ground.thickness, panels.panels, closing)
    findings = judge.findings(ground.found)
    lines = exceptions(job, ground.found, ground.testers, panels.panels, closing)
    lines += [*site.lines, *ground.thickness.lines, *panels.lines, *closing.lines, *reconcile(job, panels.panels, closing)]
    lines += [*unmet_clauses(job, ground.found, findings), *judge.lines]
    lines.sort(key=gravest_first)
    made, burns = job.all("made_holiday.made"), [f for f in job.all("burn.inspected") if f.body.found]
    made_closed = sum(1 for f in made if closing.target_closed(f.id))
    burns_closed = sum(len(f.body.found) for f in burns if closing.target_closed(f.id))
    standing = Standing(
        job=job,
        assessment=Assessment.CANNOT_TELL,
        requirements=ground.found,
        checks=ground.testers.checks,
        panels=panels.panels,
        indications=closing.indications,
        holidays=closing.holidays,
        repairs=closing.repairs,
        made=len(made),
        made_closed=made_closed,
        burns=sum(len(f.body.found) for f in burns),
        burns_closed=burns_closed,
        findings=findings,
        readings=judge.limits.readings,
        lines=lines,
        missing=[],
        surfaces=dict(site.surfaces),
        falls=closing.falls.all,
        earlier=closing.earlier,
        all_repairs=closing.all_repairs,
    )
    standing.assessment = _overall(standing)
    standing.missing = _missing(standing)
    return standing


def _overall(standing: Standing) -> Assessment:
    """Findings, and by themselves open holidays, panels in doubt and lines that bar."""
    outcomes = [f.finding for f in standing.findings]
    if any(h.word is HolidayWord.OPEN for h in standing.holidays) or any(p.in_doubt_m2 > 0 for p in standing.panels):
        outcomes.append(Outcome.NOT_MET)
    if any(p.on_instruction_m2 > 0 for p in standing.panels):
        outcomes.append(Outcome.NOT_MET)
    if any(x.bars for x in standing.lines) or not standing.findings or not standing.panels:
        outcomes.append(Outcome.CANNOT_TELL)
    if (
        any(p.word in (PanelWord.NOT_YET, PanelWord.AWAITING) for p in standing.panels)
        or standing.made > standing.made_closed
        or standing.burns > standing.burns_closed
    ):
        outcomes.append(Outcome.CANNOT_TELL)
    return worst(outcomes)


def _missing(standing: Standing) -> list[str]:
    """What stands between the job and `meets`, in the order of work."""
    todo = []
    by_word: dict[PanelWord, list[str]] = {}
    for p in standing.panels:
        by_word.setdefault(p.word, []).append(p.name)
    for word, what in (
        (PanelWord.NOT_YET, "test"),
        (PanelWord.IN_DOUBT, "test again, with consent"),
        (PanelWord.AWAITING, "check the tester as found after"),
    ):
        if word in by_word:
            todo.append(f"{what}: {', '.join(by_word[word])}")
    undecided = [i.number for i in standing.indications if i.decided == "undecided" and not i.retest_of]
    if undecided:
        todo.append(f"decide: {', '.join(undecided)}")
    unplanned = [h.number for h in standing.holidays if h.repair is None]
    if unplanned:
        todo.append(f"plan repairs: {', '.join(unplanned)}")
    for state, what in ((HolidayWord.OPEN, "repair"), (HolidayWord.REPAIRED, "retest")):
        numbers = [r.number for r in standing.repairs if r.word is state]
        if numbers:
            todo.append(f"{what}: {', '.join(numbers)}")
    if not standing.requirements:
        todo.append("no requirement is entered: nothing can be assessed")
    todo += [f"{f.about}: {f.because}" for f in standing.findings if f.finding is Outcome.CANNOT_TELL and "read in ways" in f.because]
    todo += [
        x.says
        for x in standing.lines
        if x.what in ("gap", "fork", "unknown_kind", "unreadable_body", "bytes_missing", "never_joined", "number_twice", "question_open")
        and (x.bars or x.what == "question_open")
    ]
    return todo


def _clock_doubts(job: Job, site: Site, standing: Standing) -> Standing:
    """A finding that would turn if one device's clock were shifted by what was measured is `cannot_tell`."""
    offsets: dict[str, int] = {}
    for fact in job.all("clock.compared"):
        # Which of the two clocks is wrong nobody knows: each is moved by what was measured, the other one's way.
        for device, shift in ((fact.body.device, -fact.body.offset_ms), (fact.device, fact.body.offset_ms)):
            if abs(shift) >= max(SHIFT_MATTERS_MS, abs(offsets.get(device, 0))):
                offsets[device] = shift
    turned: list[Line] = []
    for device, shift in sorted(offsets.items()):
        shifted = _stand(_shifted(job, device, shift), site)
        other = {_key(f): f.finding for f in shifted.findings}
        letter = job.devices.get(device, device[:8])
        because = f"would turn if the clock of device {letter} were shifted by the {abs(shift) / 1000:.0f} s measured"
        for n, finding in enumerate(standing.findings):
            if other.get(_key(finding)) is not finding.finding and finding.finding is not Outcome.CANNOT_TELL:
                standing.findings[n] = _doubtful(finding, because)
                turned.append(Line("clock_doubt", f"{finding.about}, {finding.rule.clause}: {because}", "", True))
        if standing.assessment is Assessment.MEETS and shifted.assessment is not Assessment.MEETS and not turned:
            turned.append(Line("clock_doubt", f"The assessment {because}", "", True))
    if turned:
        standing.lines = [*turned, *standing.lines]
        standing.assessment = _overall(standing)
    return standing


def _key(finding: Finding) -> tuple[str, str, str]:
    return finding.about, str(finding.rule), finding.limit


def _doubtful(finding: Finding, because: str) -> Finding:
    return msgspec.structs.replace(finding, finding=Outcome.CANNOT_TELL, because=f"{finding.because}; {because}")


def _shifted(job: Job, device: str, shift: int) -> Job:
    """The same job with the times of one device moved. [ms]"""

    def move(fact: Fact) -> Fact:
        return (
            msgspec.structs.replace(fact, ms=fact.ms + shift, start=fact.start + shift, end=fact.end + shift)
            if fact.device == device
            else fact
        )

    facts = [move(f) for f in job.facts]
    of: dict[str, list[Fact]] = {}
    for fact in facts:
        of.setdefault(fact.kind, []).append(fact)
    return msgspec.structs.replace(
        job, facts=facts, of=of, by_id={f.id: f for f in facts}, opened=next((f for f in facts if f.id == job.id), None)
    )
