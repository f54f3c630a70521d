"""Tests of the cans, and what the tester spoke on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wholefilm.base.times import utc_ms

from ..acts import Act, Ref, later
from ..cast import confirmed, decided_false, raised
from ..frame import twice
from ..scribe import Book
from .finds import CLASS, FINDS, REASON, TRIED, Find
from .tables import CAST, DOSE, FIRST, FRAME, LIQUID, LV_01, MINUTES, STEP_MIN, SWEPT

ALTHOUGH = {
    "needs": ["thickness"],
    "why": "spots outside 200 to 375 um (NCR-01); tested as it stands by the engineer's written instruction",
    "instruction": Ref("instruction"),
}
_HANDS = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
_ON_SLATE = {"P-04": 20}
"""Cans written on a slate, and the minutes after which the recorder entered them."""


def sweeps(_: Book) -> Iterator[Act]:
    """Acts of all tests, indications and decisions."""
    for day, cans in SWEPT.items():
        for n, can in enumerate(cans):
            begin = later(FRAME.at(day, FIRST), n * STEP_MIN)
            yield from _test(day, can, begin, later(begin, MINUTES))
    for number, at in (("B", "15:20"),):
        for n, find in enumerate(f for f in FINDS if f.false and f.number.startswith(number)):
            yield decided_false(find.number, REASON, TRIED, later(FRAME.at(2, at), n), device="B", by="inspector")
    again = next(f for f in FINDS if f.number == "B9")
    slip = confirmed(again.number, again.place, CLASS[again.pattern], FRAME.at(2, "07:50"), device="B", by="inspector")
    slip = replace(slip, label="holiday B9 again")
    yield from twice(slip, "B9", (FRAME.at(2, "17:20"), FRAME.at(2, "17:30")), agreed_by=("E", "qa"))


def _test(day: int, can: str, begin: str, end: str) -> Iterator[Act]:
    device, by = ("B", "inspector") if day < 3 else ("D", "recorder")
    told: dict[str, Any] = dict(_HANDS) if device == "D" else {}
    if can in _ON_SLATE:
        told = {**_HANDS, "told": "slate"}
    for n, act in enumerate(LV_01.sweep(can, begin, end, f"{can} d{day}", device=device, by=by, told=told, more={"although": ALTHOUGH})):
        body = dict(act.body) if isinstance(act.body, dict) else {}
        if act.kind == "panel.started":
            act = replace(act, body={**body, "liquid": LIQUID, "dose": DOSE})
        yield replace(act, at=later(end, _ON_SLATE[can] + n), by="recorder") if can in _ON_SLATE else act
    mine = [f for f in FINDS if (f.day, f.can) == (day, can)]
    step = (utc_ms(end) - utc_ms(begin)) // 60_000 / (len(mine) + 1)
    for n, find in enumerate(mine, start=1):
        yield from _find(find, later(begin, round(n * step * 6) / 6), device, by, told)


def _find(find: Find, at: str, device: str, by: str, told: dict[str, Any]) -> Iterator[Act]:
    yield raised(find.number, find.can, find.place, at, device=device, by=by, more={"precision": "10 mm", **told})
    if find.false:
        return
    more = {"note": "peak of the profile"} if find.pattern == "peak" else {}
    film = {"local_thickness": f"{130 + 7 * find.nth} um"} if find.pattern == "end" else {}
    yield confirmed(find.number, find.place, CLASS[find.pattern], later(at, 1), device=device, by=by, more={**more, **film, **told})
