"""Tests before and after the cure, and what the tester spoke on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wholefilm.base.times import utc_ms

from ..acts import Act, later
from ..cast import confirmed, raised
from ..frame import twice
from ..scribe import Book
from .tables import AC_6, AC_9, CAST, FINDS, FRAME, MINUTES, SWEPT, Find

_HANDS = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
_BY_RADIO = ("N5", "N6")
"""Necks told from inside by radio."""


def sweeps(_: Book) -> Iterator[Act]:
    """Acts of all tests and holidays."""
    for day, panels, first, step in SWEPT:
        for n, panel in enumerate(panels):
            begin = later(FRAME.at(day, first), n * step)
            yield from _test(day, panel, begin, later(begin, min(MINUTES, step - 2)))
    e2 = next(f for f in FINDS if f.number == "E2")
    slip = confirmed("E2", e2.place, e2.surface, FRAME.at(8, "17:20"), device="E", by="recorder")
    slip = replace(slip, label="holiday E2 again")
    yield from twice(slip, "E2", (FRAME.at(8, "17:50"), FRAME.at(8, "18:00")), agreed_by=("K", "qa"))


def _test(day: int, panel: str, begin: str, end: str) -> Iterator[Act]:
    device, by = ("D", "inspector") if day == 1 else ("E", "recorder")
    told: dict[str, Any] = dict(_HANDS) if device == "E" else {}
    if device == "E" and panel in _BY_RADIO:
        told["told"] = "radio"
    tester = AC_6 if day == 1 else AC_9
    yield from tester.sweep(panel, begin, end, f"{panel} d{day}", device=device, by=by, told=told)
    mine = [f for f in FINDS if (f.day, f.panel) == (day, panel)]
    step = (utc_ms(end) - utc_ms(begin)) // 60_000 / (len(mine) + 1)
    for n, find in enumerate(mine, start=1):
        yield from _find(find, later(begin, round(n * step * 6) / 6), device, by, told)


def _find(find: Find, at: str, device: str, by: str, told: dict[str, Any]) -> Iterator[Act]:
    yield raised(find.number, find.panel, find.place, at, device=device, by=by, more={"precision": "10 mm", **told})
    more = {"note": find.pattern, **told}
    yield confirmed(find.number, find.place, find.surface, later(at, 1), device=device, by=by, more=more)
