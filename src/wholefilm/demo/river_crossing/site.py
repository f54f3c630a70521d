"""The days on site of the job river-crossing."""

from __future__ import annotations

from collections.abc import Iterator

from wholefilm.base.times import clock as told_clock

from ..acts import Act
from ..frame import Day
from ..scribe import Book
from .tables import CHECKS, FRAME, JOINTS, P_1, SWEPT

_DAYS = (1, 2, 3, 4, 5, 6)
_TESTS = (1, 2, 3, 5, 6)
_OFFSETS = {"B": -75, "D": 410, "E": 60, "H": -1200}
_SYNCS: tuple[tuple[str, Day, str], ...] = (
    ("B", "2025-06-30", "07:30"), ("B", "2025-07-03", "18:30"), ("H", "2025-07-04", "07:30"), ("H", "2025-07-04", "15:30"),
    *((letter, day, at) for day in _DAYS for letter, at in (("B", "07:00"), ("D", "07:02"), ("E", "07:04"))),
    ("D", 3, "07:15"), ("E", 1, "17:20"), ("B", 1, "17:12"), ("D", 5, "12:00"), ("B", 5, "12:02"), ("E", 6, "10:50"), ("D", 6, "10:30"),
    ("B", 6, "10:32"), *((letter, day, at) for day in _DAYS for letter, at in (("B", "18:10"), ("D", "18:12"), ("E", "18:14")) if day < 6),
    ("B", 6, "13:10"), ("D", 6, "13:12"), ("E", 6, "13:14"),
)  # fmt: skip
_CLIMATE = (
    (1, "07:20", "18.5", "66", "18.1"), (1, "12:20", "23.0", "52", "22.0"), (2, "07:20", "19.0", "64", "18.7"),
    (2, "12:20", "24.5", "48", "23.6"), (3, "07:20", "17.8", "70", "17.5"), (4, "08:10", "20.0", "60", "19.4"),
    (5, "07:20", "18.2", "68", "17.9"), (5, "12:05", "22.4", "55", "21.3"), (6, "07:20", "17.6", "69", "17.2"),
)  # fmt: skip
MARKS = {1: 5, 2: 11, 3: 19, 4: 2, 5: 2, 6: 2}
"""Marks counted: 4 + 1 false; 6 more; 7 + 1 false more; 17 taken off by repairs; one more and taken off; none."""
_NARRATIVES = {
    1: "J-001 to J-012 tested with P-1. Four holidays; one signal over wet bedding sand. QA waived the first joint.",
    2: "J-013 to J-030 tested. J-019 has four holidays. End check of P-1 failed low: J-019 to J-030 are in doubt.",
    3: "J-019 to J-030 tested again with the sleeve maker's word: J-027 was missed. J-031 to J-040, then the bored joints with P-2.",
    4: "Thirteen patches. J-019 stripped, new sleeve shrunk on.",
    5: "All retested. J-031 at 06:20 fails, patched again. New sleeve of J-019 silent.",
    6: "J-031 retested: silent. Holds released.",
}


def site(_: Book) -> Iterator[Act]:
    """Acts that every day on site repeats, and what went wrong."""
    yield from FRAME.exchanges(_SYNCS, _OFFSETS)
    for row in _CLIMATE:
        yield FRAME.climate(*row, "in the trench, at the work", device="B", by="inspector")
    for tester, day, at, read, occasion in CHECKS:
        when = FRAME.at(day, at)
        label = f"check {tester.instrument} {told_clock(when)}"
        yield tester.check(when, read, occasion, device="B", by="inspector", label=label, as_found=occasion != "change")
    yield FRAME.act(2, "16:50", "instrument.changed", {"instrument": P_1.instrument, "what": "battery"}, device="B", by="inspector")
    stops = "the gas alarm sounds or solvent, fuel or spraying comes near the trench; the site's own permission comes first"
    for day in _TESTS:
        yield FRAME.permitted(
            day, "07:12", "ignition_source", "ignition source in the trench", "gas_tester", "18:00", stops, device="B", by="inspector"
        )
        yield FRAME.grounded(day, "07:36", "clamp on bare pipe end", "bare test post", device="B", by="inspector", value="0.6 ohm")
    for day in (1, 2, 3):
        joints = [j for d, mine, _, _ in SWEPT if d == day for j in mine]
        yield FRAME.looked(day, "07:40", joints, device="B", by="inspector")
    yield FRAME.looked(5, "07:40", list(JOINTS), device="B", by="inspector")
    yield FRAME.looked(6, "07:40", ["J-031"], device="B", by="inspector")
    for day, marks in MARKS.items():
        yield FRAME.closed(day, _NARRATIVES[day], marks, "13:30" if day == 6 else "19:00")
    yield FRAME.act(4, "11:00", "delay.noted", {"reason": "Pump failed: J-041 under water for an hour."}, device="B", by="inspector")
