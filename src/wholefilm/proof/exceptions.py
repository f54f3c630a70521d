"""The exceptions: what a reader must know first, one line each, the gravest first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from wholefilm.base.findings import area_text, count_of
from wholefilm.base.times import clock
from wholefilm.instruments.field_check import Verdict
from wholefilm.job.facts import Fact, Job

from .checks import Testers
from .closing import Closing
from .cure import cure_lines, cure_states
from .remarks import remarks
from .remarks_record import of_the_record
from .setting import is_spark
from .states import HolidayState, HolidayWord, IndicationState, Line, PanelState, PanelWord, Requirement, TestState, TestWord, gravest_first


def exceptions(job: Job, found: list[Requirement], testers: Testers, panels: list[PanelState], closing: Closing) -> list[Line]:
    """Every exception of the job.

    Parameters
    ----------
    job : Job
    found : list of Requirement
    testers : Testers
    panels : list of PanelState
    closing : Closing

    Returns
    -------
    list of Line
        Those that bar `meets` first.
    """
    lines = [
        *_failed_checks(testers, panels, closing),
        *_doubt_without_failed_check(panels),
        *_instruction(job, panels),
        *_not_valid(panels),
        *_exposures(panels),
        *_not_reached(job, panels),
        *_open(closing),
        *_earlier(closing),
        *_decisions(found, job),
        *_retests(closing),
        *_concessions(job),
        *_nonconformances(job),
        *cure_lines(cure_states(job, panels, closing.repairs)),
        *remarks(job, found, testers, panels, closing.site),
        *of_the_record(job),
    ]
    return sorted(lines, key=gravest_first)


def _names(names: list[str], most: int = 12) -> str:
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def _failed_checks(testers: Testers, panels: list[PanelState], closing: Closing) -> list[Line]:
    lines = []
    for check in testers.checks:
        if check.result.verdict is Verdict.PASSED:
            continue
        body, fact = check.fact.body, check.fact
        mine = [p for p in panels if p.word is PanelWord.IN_DOUBT and p.counts and p.counts.bracket and p.counts.bracket.after is fact]
        high = [p for p in panels if p.counts and p.counts.bracket and p.counts.bracket.after is fact and p.counts.bracket.cause == "high"]
        tests = [t for p in panels for t in p.tests if t.bracket and t.bracket.after is fact and t.word is TestWord.IN_DOUBT]
        falses = [i.number for i in closing.indications if i.decided == "false" and i.in_doubt]
        retests = [
            f"{r.number} retest {x.nth}"
            for r in closing.repairs
            for x in r.retests
            if x.bracket and x.bracket.after is fact and x.word is TestWord.IN_DOUBT
        ]
        fell = [r for r in closing.repairs for x in r.retests if x.word is TestWord.IN_DOUBT and x.bracket and x.bracket.after is fact]
        unproved = any(r.word is not HolidayWord.CLOSED for r in fell)
        kind = "as found" if body.as_found else "as left"
        says = f"{_occasion(body.occasion)} of {body.instrument} {kind} {body.read} on {body.set} set ({check.result.says})"
        detail = clock(fact.when)
        if mine:
            areas, m2 = _names(sorted({p.test_area for p in mine})), sum(p.in_doubt_m2 for p in mine)
            detail += f" · {count_of(len(mine), 'panel')} of {areas} in doubt, {m2:.1f} m2"
            if falses:
                detail += f" · false indication {', '.join(falses)} too"
        elif high:
            detail += (
                f" · {count_of(len(high), 'panel')}: look for burns"
                if any(p.word is PanelWord.AWAITING for p in high)
                else " · burns looked for"
            )
        elif tests:
            detail += f" · {count_of(len(tests), 'test')} fell with it; all were tested again"
        if retests:
            detail += f" · {', '.join(retests)} in doubt"
        fallen = [f"{f.what} {f.name}" for f in closing.falls.with_check(fact)]
        if fallen:
            detail += f" · in doubt too: {_names(fallen)}"
        lines.append(Line("check_failed", says, detail, bool(mine) or unproved, [fact.id]))
    return lines


def _occasion(occasion: str) -> str:
    return {"before": "Check before", "mid": "Mid check", "after": "End check", "change": "Check after a change"}[occasion]


def _doubt_without_failed_check(panels: list[PanelState]) -> list[Line]:
    groups: dict[str, list[PanelState]] = defaultdict(list)
    for p in panels:
        if p.word is PanelWord.IN_DOUBT and p.counts and p.counts.bracket and p.counts.bracket.cause not in ("low", "failed_between"):
            groups[p.counts.bracket.why].append(p)
    return [
        Line(
            "end_check_missing",
            why[:1].upper() + why[1:],
            f"{count_of(len(g), 'panel')} in doubt, {sum(p.in_doubt_m2 for p in g):.1f} m2: {_names([p.name for p in g])}",
            True,
        )
        for why, g in groups.items()
    ]


def _instruction(job: Job, panels: list[PanelState]) -> list[Line]:
    groups: dict[tuple[str, str], list[PanelState]] = defaultdict(list)
    for p in panels:
        if p.on_instruction_m2 > 0 and p.counts is not None:
            although = p.counts.fact.body.although
            groups[", ".join(although.needs), although.instruction or although.told or ""].append(p)
    lines = []
    for (needs, word), group in groups.items():
        source: Fact | None = job.by_id.get(word)
        areas = sorted({p.test_area for p in panels} - {p.test_area for p in group})
        everything = len(group) == len(panels)
        named = "all" if everything else "all but " + _names(areas) if areas and len(areas) < 4 else _names([p.name for p in group])
        given = source.start if source is not None else 1 << 62
        raised = [f.body.number for f in job.all("nonconformance.raised") if f.start <= given]
        who = (
            f"{source.body.from_}, {clock(source.body.dated)}"
            if source is not None and source.kind in ("instruction.received", "question.answered")
            else (word or "no instruction is here")
        )
        detail = " · ".join(
            x for x in (f"needs not met: {needs}", _names(raised), who, f"{sum(p.on_instruction_m2 for p in group):.1f} m2") if x
        )
        lines.append(
            Line("on_instruction", f"Tested on written instruction: {named}", detail, True, [p.counts.fact.id for p in group if p.counts])
        )
    return lines


def _not_valid(panels: list[PanelState]) -> list[Line]:
    bad: list[TestState] = [t for p in panels if p.counts is None for t in p.tests if t.word is TestWord.NOT_VALID]
    return [Line("test_not_valid", f"Test of {t.panel}, {clock(t.fact.when)}, does not count", t.why, True, [t.fact.id]) for t in bad]


def _exposures(panels: list[PanelState]) -> list[Line]:
    again = [t for p in panels for t in p.tests if t.exposure > 1 and t.word is not TestWord.NOT_VALID]
    sponge = [t for t in again if t.started is not None and not is_spark(t.started.body.set)]
    bad = [t for t in again if not t.consented and t not in sponge]
    good = [t for t in again if t.consented and t not in sponge]
    lines = []
    if sponge:
        lines.append(
            Line(
                "second_exposure",
                f"Swept again under 100 V: {_names([t.panel for t in sponge], 4)}",
                f"{count_of(len(sponge), 'panel')}; counted, no consent is asked for",
                False,
                [t.fact.id for t in sponge],
            )
        )
    if bad:
        lines.append(
            Line(
                "exposure_without_consent",
                f"Tested a second time without written consent: {_names([t.panel for t in bad])}",
                "coating maker or engineer, dated before the test",
                True,
                [t.fact.id for t in bad],
            )
        )
    if good:
        lines.append(
            Line(
                "second_exposure",
                f"Second exposure, with written consent: {_names([t.panel for t in good], 4)}",
                f"{count_of(len(good), 'panel')}",
                False,
                [t.fact.id for t in good],
            )
        )
    doubt = [p for p in panels if p.word is PanelWord.IN_DOUBT and p.counts and p.counts.started and is_spark(p.counts.started.body.set)]
    if doubt:
        lines.append(
            Line(
                "second_exposure_due",
                f"Testing {_names(sorted({p.test_area for p in doubt}))} again is a second exposure",
                "ask for the coating maker's or the engineer's written word first",
                False,
            )
        )
    return lines


def _open(closing: Closing) -> list[Line]:
    count = {w: [h for h in closing.holidays if h.word is w] for w in HolidayWord}
    lines = []
    if count[HolidayWord.OPEN]:
        again = sorted({h.repair.number for h in count[HolidayWord.OPEN] if h.repair and h.repair.done})
        detail = (
            f"failed their retest: {', '.join(again)}"
            if again
            else "none repaired yet"
            if not count[HolidayWord.REPAIRED] and not count[HolidayWord.CLOSED]
            else ""
        )
        says = f"{count_of(len(count[HolidayWord.OPEN]), 'holiday')} open"
        lines.append(Line("open_holidays", says, detail, True, _ids(count[HolidayWord.OPEN])))
    if count[HolidayWord.REPAIRED]:
        lines.append(
            Line(
                "retest_due",
                f"{count_of(len(count[HolidayWord.REPAIRED]), 'holiday')} repaired, retest due",
                _names(sorted({h.repair.number for h in count[HolidayWord.REPAIRED] if h.repair})),
                True,
                _ids(count[HolidayWord.REPAIRED]),
            )
        )
    undecided = [i for i in closing.indications if i.decided == "undecided" and not i.retest_of]
    if undecided:
        says = f"{count_of(len(undecided), 'indication')} not yet decided: {_names([i.number for i in undecided])}"
        lines.append(Line("undecided", says, "", True, _ids(undecided)))
    doubt = [i for i in closing.indications if i.decided == "false" and i.in_doubt]
    if doubt:
        says = f"Decided false with a tester in doubt: {_names([i.number for i in doubt])}"
        lines.append(Line("false_in_doubt", says, "try them again", True, _ids(doubt)))
    return lines


def _ids(found: Sequence[HolidayState | IndicationState]) -> list[str]:
    return [x.fact.id for x in found]


def _not_reached(job: Job, panels: list[PanelState]) -> list[Line]:
    """What nobody could reach, with the reasons; the requirement of coverage judges it."""
    mine = [p for p in panels if p.not_reached_m2 > 1e-9]
    if not mine:
        return []
    area, reasons = sum(p.not_reached_m2 for p in mine), dict.fromkeys(p.reason for p in mine if p.reason)
    says = f"Not reached: {area_text(area)} m2 of {_names([p.name for p in mine], 6)}"
    names = {p.name for p in mine}
    told = [f.id for f in job.all("area.not_reached") if f.body.panel in names]
    return [Line("not_reached", says, "; ".join(reasons), False, told)]


def _earlier(closing: Closing) -> list[Line]:
    """Holidays of another stage of test than the one that counts: they must be mended, and are counted apart."""
    lines = []
    groups: dict[str, list[HolidayState]] = defaultdict(list)
    for h in closing.earlier:
        groups[closing.stage_of(h.indication)].append(h)
    for stage, mine in groups.items():
        left = [h for h in mine if h.repair is None or not h.repair.done]
        says = f"{count_of(len(mine), 'holiday')} found at stage {stage}, counted apart"
        detail = f"not mended: {_names([h.number for h in left])}" if left else "all mended"
        lines.append(Line("earlier_stage", says, detail, bool(left), [h.fact.id for h in mine]))
    return lines


def _decisions(found: list[Requirement], job: Job) -> list[Line]:
    lines = [
        Line("not_assessed", f"Requirement {r.clause} is not held against the job", r.why_not, True, [r.fact.id])
        for r in found
        if r.why_not
    ]
    answered = {f.body.question for f in job.all("question.answered")}
    lines += [
        Line(
            "question_open",
            f"{f.body.number} is not answered: {f.body.text}",
            f"to {', '.join(f.body.to)}, asked {clock(f.at)}",
            False,
            [f.id],
        )
        for f in job.all("question.raised")
        if f.id not in answered
    ]
    return lines


def _retests(closing: Closing) -> list[Line]:
    lines = []
    for repair in closing.repairs:
        for x in repair.retests:
            if not x.passed:
                later = [y for y in repair.retests if y.nth > x.nth and y.counts]
                lines.append(
                    Line(
                        "retest_failed",
                        f"{repair.number} failed retest {x.nth}: {x.why}",
                        f"repaired again, retest {later[-1].nth} passed" if later else "",
                        False,
                        [x.fact.id],
                    )
                )
            elif not x.counts and x.word is not TestWord.AWAITING:
                lines.append(
                    Line(
                        "retest_not_counted",
                        f"Retest {x.nth} of {repair.number} does not count",
                        x.why,
                        repair.word is not HolidayWord.CLOSED,
                        [x.fact.id],
                    )
                )
    return lines


def _concessions(job: Job) -> list[Line]:
    return [
        Line(
            "concession",
            f"Concession by {_role(job, f.body.from_)} on {f.body.requirement}, {f.body.dated[:10]}",
            f"{', '.join(f.body.about)}: {f.body.text}; it changes no finding",
            False,
            [f.id],
        )
        for f in job.all("concession.given")
    ]


def _role(job: Job, person: str) -> str:
    return "the " + "/".join(job.roles(person)) if job.roles(person) else f"person {person[:8]}, who never joined"


def _nonconformances(job: Job) -> list[Line]:
    closed = {f.body.nonconformance for f in job.all("nonconformance.closed")}
    return [
        Line("nonconformance_open", f"{f.body.number} is open: {f.body.finding}", f.body.extent, False, [f.id])
        for f in job.all("nonconformance.raised")
        if f.id not in closed
    ]
