"""Limits about pieces and about repairs that fail: what is over, and what was done again since."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.rules.limits import FailedRetests, PerPiece

from ..states import HolidayState, HolidayWord, RepairState
from .counted import One, bound, counted, of, scope, told


def per_piece(limit: PerPiece, holidays: Sequence[HolidayState]) -> Iterator[One]:
    """How many on each piece; those over the limit by name, with what was done about them."""
    by: dict[str, list[HolidayState]] = {}
    for h in holidays:
        by.setdefault({"panel": h.panel, "test_area": h.test_area, "item": h.item}[limit.by], []).append(h)
    standing = {name: [h for h in mine if not _redone(limit.redone_by, [h])] for name, mine in by.items()}
    done = {name for name, mine in by.items() if len(standing[name]) < len(mine)}
    found = _reading(limit, by, "all that were ever found", done=done)
    if standing == by:
        yield msgspec.structs.replace(found, reading=f"per {limit.piece}")
        return
    if limit.counts != "all_found":
        yield _reading(limit, standing, f"as it stands after {limit.redone_by}", by)
    if limit.counts != "as_it_stands":
        yield found


def _reading(
    limit: PerPiece,
    pieces: dict[str, list[HolidayState]],
    how: str,
    all_found: dict[str, list[HolidayState]] | None = None,
    done: Collection[str] = (),
) -> One:
    found = {name: counted(limit, mine) for name, mine in pieces.items()}
    outcomes = {name: told(limit, len(x.sure), len(x.all)) for name, x in found.items()}
    over = sorted(name for name, outcome in outcomes.items() if outcome is not Outcome.MET)
    worst = {outcomes[name] for name in over}
    finding = Outcome.NOT_MET if Outcome.NOT_MET in worst else Outcome.CANNOT_TELL if worst else Outcome.MET
    says = [f"{name}: {len(found[name].all)}{_since(limit.redone_by, done=False) if name not in done else ''}" for name in over]
    again = {n: len(counted(limit, mine).all) for n, mine in (all_found or {}).items() if len(mine) > len(pieces[n])}
    says += [f"{name}: {n} found{_since(limit.redone_by, done=True)}" for name, n in sorted(again.items()) if name not in over]
    most = max((len(x.all) for x in found.values()), default=0)
    text = f"{bound(limit)} per {limit.piece}{scope(limit)}"
    return One(f"per {limit.piece}, {how}", "; ".join(says) or f"{most} at most on one", text, finding)


def failed_retests(limit: FailedRetests, repairs: Sequence[RepairState], holidays: Sequence[HolidayState]) -> One:
    """How often a repair failed its retest, at most; those over the limit by name."""
    failed = {r.number: sum(1 for t in r.retests if t.indications and not t.passed) for r in repairs}
    over = sorted(number for number, n in failed.items() if n > limit.at_most)
    covered = {number: [h for h in holidays if h.fact.id in next(r for r in repairs if r.number == number).covers] for number in over}
    redone = [number for number in over if limit.redone_by and covered[number] and _redone(limit.redone_by, covered[number])]
    value = "; ".join(f"{number}: {failed[number]}{_since(limit.redone_by, done=number in redone)}" for number in over)
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


def _since(class_: str, *, done: bool) -> str:
    if not class_:
        return ""
    return f", {class_}, retest passed" if done else f", {class_} and its retest due"
