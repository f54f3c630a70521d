"""Do the numbers agree: areas, marks on the wall, indications, holidays, repairs, retests."""

from __future__ import annotations

from collections import Counter

from wholefilm.job.facts import Job

from .closing import Closing
from .states import IndicationState, Line, PanelState, RepairState


def reconcile(job: Job, panels: list[PanelState], closing: Closing) -> list[Line]:
    """Lines for every sum that does not come out.

    Parameters
    ----------
    job : Job
    panels : list of PanelState
    closing : Closing

    Returns
    -------
    list of Line
        Empty if everything agrees.
    """
    return [*_areas(panels), *_numbers(job), *_marks(job, closing), *_covered(closing)]


def _areas(panels: list[PanelState]) -> list[Line]:
    lines = []
    for p in panels:
        parts = p.tested_m2 + p.not_reached_m2 + p.not_in_scope_m2 + p.not_yet_tested_m2
        if abs(parts - p.total_m2) > 1e-6:
            says = f"{p.name}: its parts sum to {parts:.2f} of {p.total_m2:.2f} m2"
            lines.append(Line("areas_differ", says, "", True, [t.fact.id for t in p.tests]))
    return lines


def _numbers(job: Job) -> list[Line]:
    """A wall number, or a number of a repair, non-conformance or question, used twice."""
    used: dict[tuple[str, str], list[str]] = {}
    for f in job.all("indication.raised", "made_holiday.made"):
        used.setdefault(("wall", f.body.number), []).append(f.id)
    for f in job.all("burn.inspected"):
        for burn in f.body.found:
            used.setdefault(("wall", burn.number), []).append(f.id)
    for f in job.all("repair.planned", "nonconformance.raised", "question.raised"):
        used.setdefault((f.kind, f.body.number), []).append(f.id)
    twice = sorted((number, ids) for (_, number), ids in used.items() if len(ids) > 1)
    return [Line("number_twice", f"Number {number} is used twice", "", True, list(dict.fromkeys(ids))) for number, ids in twice]


def _marks(job: Job, closing: Closing) -> list[Line]:
    """Marks counted at the end of a day against those raised and not removed."""
    lines = []
    for fact in job.all("day.closed"):
        expected = len(marks_at(job, closing.indications, closing.all_repairs, fact.end))
        if fact.body.marks_counted != expected:
            lines.append(
                Line(
                    "marks_differ",
                    f"{fact.body.marks_counted} marks counted on the wall on {fact.body.date}, {expected} expected",
                    "raised less those removed by repairs",
                    True,
                    [fact.id],
                )
            )
    return lines


def marks_at(job: Job, indications: list[IndicationState], repairs: list[RepairState], end: int) -> list[str]:
    """Numbers that should stand on the wall at a time: raised, and not taken off by a repair. [ms UTC]"""
    number_of = {i.fact.id: [i.number] for i in indications}
    number_of |= {f.id: number_of.get(f.body.indication, []) for f in job.all("holiday.confirmed")}
    number_of |= {f.id: [f.body.number] for f in job.all("made_holiday.made")}
    number_of |= {f.id: [b.number for b in f.body.found] for f in job.all("burn.inspected")}
    raised = [i.number for i in indications if i.fact.end <= end]
    raised += [n for f in job.all("made_holiday.made", "burn.inspected") if f.end <= end for n in number_of[f.id]]
    gone: Counter[str] = Counter()
    for repair in repairs:
        done = [d for d in repair.done if d.end <= end and d.body.mark_removed]
        if not done:
            continue
        gone.update({n for ident in repair.covers for n in number_of.get(ident, [])})
        gone.update(
            i.number
            for i in indications
            if i.retest_of == repair.fact.id and i.fact.end > done[0].end and any(d.end > i.fact.end for d in done[1:])
        )
    left = []
    for number in raised:
        if gone[number]:
            gone[number] -= 1
        else:
            left.append(number)
    return left


def _covered(closing: Closing) -> list[Line]:
    """Repairs that cover something which is neither holiday, made holiday nor burn."""
    known = {i for h in closing.all_holidays for i in (h.fact.id, h.indication.fact.id)}
    known |= {f.id for f in closing.job.all("holiday.confirmed", "made_holiday.made", "burn.inspected")}
    lines = []
    for repair in closing.all_repairs:
        strange = [i for i in repair.covers if i not in known]
        if strange:
            lines.append(
                Line(
                    "covers_nothing",
                    f"{repair.number} covers {len(strange)} entries that are no holiday of this job",
                    "",
                    True,
                    [repair.fact.id],
                )
            )
    absent = {f.body.repair for f in closing.job.all("repair.done", "retest.done")} - {r.fact.id for r in closing.all_repairs}
    if absent:
        lines.append(Line("refers_to_absent", f"{len(absent)} repairs were done or retested that nobody planned", "", True, sorted(absent)))
    return lines
