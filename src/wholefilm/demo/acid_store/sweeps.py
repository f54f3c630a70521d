"""Tests of bays, plinths, kerb and sump, and what the tester spoke on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wholefilm.base.times import utc_ms

from ..acts import Act, Ref, later
from ..cast import confirmed, decided_false, raised
from ..frame import twice
from ..scribe import Book
from .finds import FINDS, REASON, TRIED, Find
from .papers import INSTRUCTED
from .tables import A_TO_C, CAST, FRAME, HV_02, MINUTES, NEW_LEAD, SWEPT

ALTHOUGH = {
    "needs": ["thickness"],
    "why": "spots outside 2.5 to 3.8 mm (NCR-01); tested as it stands by the engineer's written instruction",
    "instruction": Ref("instruction"),
}
_HANDS = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
_ON_SLATE = {"B3": 15}
"""Bays of day 2 written on a slate, and the minutes after which the recorder entered them."""


def sweeps(_: Book) -> Iterator[Act]:
    """Acts of all tests, indications and decisions."""
    for day, panels, first, step in SWEPT:
        for n, panel in enumerate(panels):
            begin = later(FRAME.at(day, first), n * step)
            yield from _test(day, panel, begin, later(begin, min(MINUTES, step - 2)))
    for n, find in enumerate(f for f in FINDS if f.false):
        yield decided_false(find.number, REASON, TRIED, later(FRAME.at(3, "16:25"), n), device="J", by="recorder")
    one = next(f for f in FINDS if f.number == "H3")
    slip = confirmed(one.number, one.place, one.surface, FRAME.at(1, "16:00"), device="H", by="inspector")
    yield from twice(replace(slip, label="holiday H3 again"), "H3", (FRAME.at(1, "17:10"), FRAME.at(1, "17:25")), agreed_by=("K", "qa"))


def _test(day: int, panel: str, begin: str, end: str) -> Iterator[Act]:
    device, by = ("H", "inspector") if day < 3 else ("J", "recorder")
    told: dict[str, Any] = dict(_HANDS) if device == "J" else {}
    slate = day == 2 and panel in _ON_SLATE
    if slate:
        told = {**_HANDS, "told": "slate"}
    more: dict[str, Any] = {"although": ALTHOUGH} if panel in INSTRUCTED else {}
    if day == 3 and panel in A_TO_C:
        more["exposure_consent"] = Ref("answer Q-03 adviser")
    tester = HV_02 if day < 3 else NEW_LEAD
    for n, act in enumerate(tester.sweep(panel, begin, end, f"{panel} d{day}", device=device, by=by, told=told, more=more)):
        yield replace(act, at=later(end, _ON_SLATE[panel] + n), by="recorder") if slate else act
    mine = [f for f in FINDS if (f.day, f.panel) == (day, panel)]
    step = (utc_ms(end) - utc_ms(begin)) // 60_000 / (len(mine) + 1)
    for n, find in enumerate(mine, start=1):
        yield from _find(find, later(begin, round(n * step * 6) / 6), device, by, told)


def _find(find: Find, at: str, device: str, by: str, told: dict[str, Any]) -> Iterator[Act]:
    yield raised(find.number, find.panel, find.place, at, device=device, by=by, more={"precision": "10 mm", **told})
    if not find.false:
        more = {"note": find.pattern, **told}
        yield confirmed(find.number, find.place, find.surface, later(at, 1), device=device, by=by, more=more)
