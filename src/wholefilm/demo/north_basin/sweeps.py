"""Tests of the panels, and what the tester spoke on: indications, holidays, false indications."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wholefilm.base.times import utc_ms

from ..acts import Act, Ref, later, stamp
from ..cast import confirmed, decided_false, raised
from ..scribe import Book
from .finds import DECIDED_FALSE, FINDS, Find
from .tables import COURSES, DAYS, HV_01, ON_INSTRUCTION, ON_SLATE, SWEEPS, TITLES

ALTHOUGH = {
    "needs": ["thickness"],
    "why": "film over 1000 um or under 600 um in places (NCR-01); tested as it stands by the engineer's written instruction",
    "instruction": Ref("instruction"),
}
_BY_RADIO = (*COURSES[3], *COURSES[4])
_HANDS: dict[str, Any] = {"operator": TITLES["inspector"], "recorder": TITLES["recorder"]}


def _device(panel: str) -> tuple[str, str, dict[str, Any]]:
    """Device, writer, and what is told of the hands, for a panel."""
    return ("D", "recorder", {**_HANDS, "told": "radio"}) if panel in _BY_RADIO else ("B", "inspector", {})


def tests() -> Iterator[tuple[int, str, str, str]]:
    """Day, panel, begin and end of every test, as written times."""
    for day, panels, first, minutes, step in SWEEPS:
        for n, panel in enumerate(panels):
            begin = later(stamp(DAYS[day], first), n * step)
            yield day, panel, begin, later(begin, minutes)


def sweeps(_: Book) -> Iterator[Act]:
    """Acts of all panel tests, indications and decisions."""
    spans = {}
    for day, panel, begin, end in tests():
        spans[day, panel] = (begin, end)
        yield from _test(day, panel, begin, end)
    for key in dict.fromkeys((f.day, f.panel) for f in FINDS):
        here = [f for f in FINDS if (f.day, f.panel) == key]
        begin, end = spans[key]
        step = (utc_ms(end) - utc_ms(begin)) // 60_000 / (len(here) + 1)
        for n, find in enumerate(here, start=1):
            yield from _find(find, later(begin, round(n * step * 6) / 6))
    for number, day, at, reason, tried in DECIDED_FALSE:
        act = decided_false(number, reason, tried, stamp(DAYS[day], at), device=number[0], by="inspector")
        yield replace(act, label=f"false {number} d{day}")
    yield from _twice()


def _test(day: int, panel: str, begin: str, end: str) -> Iterator[Act]:
    device, by, told = _device(panel)
    label = f"{panel} d{day}"
    more: dict[str, Any] = {}
    if panel in ON_INSTRUCTION:
        more["although"] = ALTHOUGH
    if day == 3:
        more["exposure_consent"] = Ref("answer Q-03")
    if panel in ON_SLATE:
        told = {**_HANDS, "told": "slate"}
    acts = HV_01.sweep(panel, begin, end, label, device=device, by=by, told=told, more=more)
    if panel not in ON_SLATE:
        yield from acts
        return
    for n, act in enumerate(acts):
        yield replace(act, at=later(end, ON_SLATE[panel] + n), by="recorder")


def _find(find: Find, at: str) -> Iterator[Act]:
    device, by, told = _device(find.panel)
    yield raised(find.number, find.panel, find.place, at, device=device, by=by, more={"precision": "10 mm", **told})
    if not find.false:
        yield confirmed(find.number, find.place, find.surface, later(at, 1), device=device, by=by, more={**_film(find), **told})


def _film(find: Find) -> dict[str, Any]:
    return {"local_thickness": find.film} if find.film else {}


def _twice() -> Iterator[Act]:
    """B14 confirmed a second time by a slip, withdrawn by its writer, agreed by the owner's QA."""
    find = next(f for f in FINDS if f.number == "B14")
    day = DAYS[1]
    again = confirmed(find.number, find.place, find.surface, stamp(day, "14:46:30"), device="B", by="inspector", more=_film(find))
    yield replace(again, label="holiday B14 again")
    withdrawn = {"of": Ref("holiday B14 again"), "reason": "B14 confirmed twice by a slip; the first entry stands"}
    yield Act(stamp(day, "17:20"), "B", "inspector", "entry.withdrawn", withdrawn, "withdrawn")
    yield Act(stamp(day, "17:30"), "E", "qa", "entry.agreed", {"of": Ref("withdrawn")})
