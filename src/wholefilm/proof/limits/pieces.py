"""Limits about pieces and about repairs that fail: what is over, and what was done again since."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wholefilm.base.findings import Outcome
from wholefilm.rules.limits import FailedRetests, PerPiece

from ..states import HolidayState, HolidayWord, RepairState
from .counted import One, bound, counted, meets, of, scope, told


def per_piece(limit: PerPiece, holidays: Sequence[HolidayState]) -> Iterator[One]:
    """How many on each piece; those over the limit by name, with what was done about them."""
    by: dict[str, list[HolidayState]] = {}
    for h in holidays:
        by.setdefault({"panel": h.panel, "test_area": h.test_area, "item": h.item}[limit.by], []).append(h)
    text = f"{bound(limit)} per {limit.piece}{scope(limit)}" + (f", or {limit.redone_by}" if limit.redone_by else "")
    found = {name: counted(limit, mine) for name, mine in by.items()}
    most = max((len(x.all) for x in found.values()), default=0)
    outcomes = {name: told(limit, len(x.sure), len(x.all)) for name, x in found.items()}
    over = [name for name, outcome in outcomes.items() if outcome is not Outcome.MET]
    redone = [name for name in over if limit.redone_by and _redone(limit.redone_by, by[name])]
    worst = [outcomes[name] for name in over if name not in redone]
    finding = Outcome.NOT_MET if Outcome.NOT_MET in worst else worst[0] if worst else Outcome.MET
    told_over = "; ".join(f"{name}: {len(found[name].all)}{_since(limit.redone_by, name in redone)}" for name in sorted(over))
    value = told_over or f"{most} at most on one"
    if not redone:
        yield One(f"per {limit.piece}", value, text, finding)
        return
    strict = of(all(meets(limit, len(x.sure)) for x in found.values()))
    yield One(f"per {limit.piece}, as it stands after {limit.redone_by}", value, text, finding)
    yield One(f"per {limit.piece}, all that were ever found", value, bound(limit) + f" per {limit.piece}{scope(limit)}", strict)


def failed_retests(limit: FailedRetests, repairs: Sequence[RepairState], holidays: Sequence[HolidayState]) -> One:
    """How often a repair failed its retest, at most; those over the limit by name."""
    failed = {r.number: sum(1 for t in r.retests if t.indications and not t.passed) for r in repairs}
    over = sorted(number for number, n in failed.items() if n > limit.at_most)
    covered = {number: [h for h in holidays if h.fact.id in next(r for r in repairs if r.number == number).covers] for number in over}
    redone = [number for number in over if limit.redone_by and covered[number] and _redone(limit.redone_by, covered[number])]
    value = "; ".join(f"{number}: {failed[number]}{_since(limit.redone_by, number in redone)}" for number in over)
    times = {0: "no failed retest of a repair", 1: "at most one failed retest of a repair"}
    text = times.get(limit.at_most, f"at most {limit.at_most} failed retests of a repair")
    text += f", or {limit.redone_by}" if limit.redone_by else ""
    return One("failed retests", value or f"{max(failed.values(), default=0)} at most of one repair", text, of(len(redone) == len(over)))


def _redone(class_: str, holidays: Sequence[HolidayState]) -> bool:
    """Whether a closed repair of a class covers every one of some holidays."""
    wanted = class_.strip().lower()
    return all(
        h.word is HolidayWord.CLOSED and h.repair is not None and h.repair.fact.body.class_.strip().lower() == wanted for h in holidays
    )


def _since(class_: str, done: bool) -> str:
    if not class_:
        return ""
    return f", {class_}, retest passed" if done else f", {class_} due"
