"""Tests of the joints, and what the testers spoke on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wholefilm.base.times import utc_ms

from ..acts import Act, Ref, later
from ..cast import confirmed, decided_false, raised
from ..frame import corrected, twice
from ..scribe import Book
from .papers import AGAIN
from .tables import BORED, CAST, CLASS, FINDS, FRAME, MINUTES, P_1, P_2, SWEPT, Find

_HANDS = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
_ON_SLATE = {"J-008": 12}
"""Joints written on a slate, and the minutes after which the recorder entered them."""
_FALSE = (
    ("B3", 1, "14:20", "wet bedding sand between ring and bare pipe end", "joint dried and wiped, tested again, silent"),
    ("D4", 3, "11:25", "a cable touched the ring", "cable led away, tested again, silent"),
)


def sweeps(_: Book) -> Iterator[Act]:
    """Acts of all tests, indications and decisions."""
    for day, joints, first, step in SWEPT:
        for n, joint in enumerate(joints):
            begin = later(FRAME.at(day, first), n * step)
            yield from _test(day, joint, begin, later(begin, MINUTES))
    for number, day, at, reason, tried in _FALSE:
        device = number[0]
        yield decided_false(number, reason, tried, FRAME.at(day, at), device=device, by=CAST.holders[device])
    yield from _slips()


def _test(day: int, joint: str, begin: str, end: str) -> Iterator[Act]:
    device, by = ("B", "inspector") if day < 3 else ("D", "recorder")
    told: dict[str, Any] = dict(_HANDS) if device == "D" else {}
    if joint in _ON_SLATE:
        told = {**_HANDS, "told": "slate"}
    more = {"exposure_consent": Ref("answer Q-03 adviser")} if day == 3 and joint in AGAIN else {}
    tester = P_2 if joint in BORED else P_1
    for n, act in enumerate(tester.sweep(joint, begin, end, f"{joint} d{day}", device=device, by=by, told=told, more=more)):
        yield replace(act, at=later(end, _ON_SLATE[joint] + n), by="recorder") if joint in _ON_SLATE else act
    mine = [f for f in FINDS if (f.day, f.joint) == (day, joint)]
    step = (utc_ms(end) - utc_ms(begin)) // 60_000 / (len(mine) + 1)
    for n, find in enumerate(mine, start=1):
        yield from _find(find, later(begin, round(n * step * 6) / 6), device, by, told)


def _find(find: Find, at: str, device: str, by: str, told: dict[str, Any]) -> Iterator[Act]:
    place = {**find.place, "along": "210 mm"} if find.number == "B2" else find.place  # typed wrong, corrected below
    yield raised(find.number, find.joint, place, at, device=device, by=by, more={"precision": "10 mm", **told})
    if not find.false:
        yield confirmed(find.number, find.place, CLASS[find.pattern], later(at, 1), device=device, by=by, more=told)


def _slips() -> Iterator[Act]:
    """B2 raised at a wrong distance and corrected; B4 confirmed twice, withdrawn and agreed."""
    b2, b4 = (next(f for f in FINDS if f.number == n) for n in ("B2", "B4"))
    right = {"number": "B2", "panel": b2.joint, "place": b2.place, "precision": "10 mm"}
    reason = "typed 210 mm, the mark on the joint is at 120 mm: figures exchanged"
    yield corrected("B2", right, reason, FRAME.at(1, "17:05"), device="B", by="inspector")
    slip = confirmed("B4", b4.place, CLASS[b4.pattern], FRAME.at(1, "16:30"), device="B", by="inspector")
    slip = replace(slip, label="holiday B4 again")
    yield from twice(slip, "B4", (FRAME.at(1, "17:10"), FRAME.at(1, "17:25")), agreed_by=("E", "qa"))
