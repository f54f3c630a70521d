"""The days on site of the job penstock."""

from __future__ import annotations

from collections.abc import Iterator

from wholefilm.base.times import clock as told_clock

from ..acts import Act
from ..frame import Day, corrected
from ..scribe import Book
from .finds import FINDS
from .tables import CHECKS, FRAME, LV_01, SWEPT

_DAYS = (1, 2, 3, 4, 5, 10, 16)
_TESTS = (1, 2, 3, 4, 10, 16)
_OFFSETS = {"B": 95, "D": -260, "E": 140, "H": -900}
_SYNCS: tuple[tuple[str, Day, str], ...] = (
    ("B", "2025-09-22", "07:30"), ("B", "2025-09-24", "17:30"), ("H", "2025-10-02", "07:30"), ("H", "2025-10-02", "16:30"),
    *((letter, day, at) for day in _DAYS for letter, at in (("B", "07:00"), ("D", "07:02"), ("E", "07:04"))),
    ("B", 2, "17:24"), ("E", 2, "17:27"), ("E", 16, "11:00"), ("B", 16, "10:40"), ("D", 16, "10:41"), ("D", 10, "15:50"),
    ("B", 10, "15:55"),
    *((letter, day, at) for day in _DAYS for letter, at in (("B", "18:10"), ("D", "18:12"), ("E", "18:14"))),
)  # fmt: skip
_CLIMATE = (
    (1, "07:20", "13.0", "70", "12.6"), (2, "07:20", "12.5", "74", "12.1"), (2, "12:20", "14.0", "68", "12.8"),
    (3, "07:20", "12.0", "72", "11.8"), (4, "07:20", "12.8", "69", "12.3"), (5, "07:20", "13.5", "66", "12.9"),
    (10, "07:20", "12.6", "71", "12.0"), (10, "15:40", "14.2", "64", "12.7"), (16, "07:20", "12.2", "70", "11.9"),
)  # fmt: skip
MARKS = {1: 9, 2: 35, 3: 54, 4: 58, 5: 2, 10: 2, 16: 2}
"""Marks counted at the end of each day: 9; 9 + 24 + 2 false; 19 more; 4 more; 56 taken off by repairs; one more and taken off."""
_NARRATIVES = {
    1: "P-01 to P-04 swept. Thin ends as NCR-01 lists them. Nine holidays. QA watched P-01.",
    2: "P-05 to P-08 swept. P-05 has a row along its seam. Two signals at P-08 came over wet film to the bare bevel.",
    3: "P-09 to P-12 swept. End check: LV-01 alarms only under 41 kohm. The four cans are in doubt; LV-01 to the bench.",
    4: "P-09 to P-12 swept again with LV-01 repaired and checked. Four more on P-10.",
    5: "All 35 repairs done, two coats.",
    10: "All repairs retested after drying. The weld strip of P-05 still speaks at 1260 mm; ground out and coated again.",
    16: "Weld strip of P-05 retested: silent. Holds released.",
}


def site(book: Book) -> Iterator[Act]:
    """Acts that every day on site repeats, and what went wrong."""
    yield from FRAME.exchanges(_SYNCS, _OFFSETS)
    for row in _CLIMATE:
        yield from _climate(*row)
    for day, at, read, occasion in CHECKS:
        when = FRAME.at(day, at)
        yield LV_01.check(
            when, read, occasion, device="B", by="inspector", label=f"check {told_clock(when)}", as_found=occasion != "change"
        )
    yield FRAME.act(3, "17:30", "instrument.changed", {"instrument": LV_01.instrument, "what": "repaired"}, device="B")
    for day in _TESTS:
        stops = "the supervisor calls people out, the ventilation stops or work with solvent begins; the site's own permission comes first"
        yield FRAME.permitted(day, "07:10", "entry", "entry into the cans", "supervisor", "18:00", stops, device="B", by="inspector")
        yield FRAME.grounded(day, "07:34", "clip on bare bevel", "far bevel", device="B", by="inspector", value="0.4 ohm")
    for day, cans in SWEPT.items():
        yield FRAME.looked(day, "07:40", cans, device="B", by="inspector")
    dried = {"rinsed": True, "dried": "rinsed with clean water, fan for two hours"}
    yield FRAME.looked(10, "07:45", sorted({f.can for f in FINDS}), device="B", by="inspector", **dried)
    yield FRAME.looked(16, "07:45", ["P-05"], device="B", by="inspector", **dried)
    for day, marks in MARKS.items():
        yield FRAME.closed(day, _NARRATIVES[day], marks)
    yield FRAME.act(3, "16:45", "delay.noted", {"reason": "Work stopped: LV-01 deaf at the end check."}, device="B")


def _climate(day: int, clock: str, air: str, rh: str, surface: str) -> Iterator[Act]:
    """A reading; that of day 2, 12:20, was typed with exchanged figures and corrected the same evening."""
    right = FRAME.climate(day, clock, air, rh, surface, "inside the cans, at the work", device="B", by="inspector")
    if (day, clock) != (2, "12:20"):
        yield right
        return
    yield FRAME.climate(day, clock, air, rh[::-1], surface, "inside the cans, at the work", device="B", by="inspector")
    assert isinstance(right.body, dict)
    reason = f"humidity typed {rh[::-1]} %, the slate says {rh} %: figures exchanged"
    yield corrected(right.label, right.body, reason, FRAME.at(2, "18:05"), device="B", by="inspector")
