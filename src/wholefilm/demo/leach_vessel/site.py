"""The days on site of the job leach-vessel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wholefilm.base.times import clock as told_clock

from ..acts import Act
from ..frame import Day, corrected
from ..scribe import Book
from .tables import AFTER_MID, BURN, CHECKS, FRAME, PANELS

_DAYS = (1, 2, 8, 9, 10, 12, 15)
_TESTS = (1, 8, 12, 15)
_OFFSETS = {"D": 66, "E": -310, "K": 90, "H": -1000}
_SYNCS: tuple[tuple[str, Day, str], ...] = (
    ("D", "2025-08-25", "07:30"), ("D", "2025-08-28", "17:00"), ("H", "2025-08-29", "07:30"), ("H", "2025-08-29", "16:20"),
    ("D", "2025-09-05", "18:30"),
    *((letter, day, at) for day in _DAYS for letter, at in (("D", "07:00"), ("E", "07:02"), ("K", "07:04"))),
    ("D", 8, "17:55"), ("K", 8, "17:58"), ("E", 12, "12:30"), ("D", 12, "12:32"), ("E", 15, "10:30"), ("K", 15, "10:40"),
    *((letter, day, at) for day in _DAYS for letter, at in (("D", "18:10"), ("E", "18:12"), ("K", "18:14")) if day < 15),
    ("D", 15, "13:10"), ("E", 15, "13:12"), ("K", 15, "13:14"),
)  # fmt: skip
_CLIMATE = (
    (1, "07:20", "21.0", "55", "20.4"), (2, "07:20", "21.5", "54", "20.8"), (8, "07:20", "20.4", "58", "20.1"),
    (8, "12:20", "23.5", "49", "21.6"), (10, "07:20", "21.2", "56", "20.7"), (12, "07:20", "20.8", "58", "20.4"),
    (12, "13:10", "22.1", "52", "20.9"), (15, "07:20", "20.6", "57", "20.2"),
)  # fmt: skip
MARKS = {1: 14, 2: 0, 8: 9, 9: 10, 10: 0, 12: 0, 15: 0}
"""Marks: 14 before the cure, overlaid; 9 after it; a burn; all mended; one of a retest and mended; none."""
_NARRATIVES = {
    1: "Uncured lining tested with a spark of 6 mm: fourteen places, eight of them at the lap of 270 deg.",
    2: "All fourteen overlaid with sheet. Vessel to the autoclave.",
    8: "Cured lining tested with a spark of 9 mm: nine holidays. End check: spark of 10 mm. None is doubted; burns to be looked for.",
    9: "SH-5, SH-6, top head and necks looked over with a lamp: one burn track at 140 deg, 3.60 m.",
    10: "Seven patches, cold-bonded. Damage E10 was caused by the test.",
    12: "Retests: the flare of N4 still speaks at 05:10. Collar cut out and replaced.",
    15: "N4 retested: silent. Holds released.",
}


def site(_: Book) -> Iterator[Act]:
    """Acts that every day on site repeats, and what went wrong."""
    yield from FRAME.exchanges(_SYNCS, _OFFSETS)
    for row in _CLIMATE:
        yield from _climate(*row)
    for tester, day, at, read, occasion in CHECKS:
        when = FRAME.at(day, at)
        label = f"check {told_clock(when)}"
        yield tester.check(when, read, occasion, device="D", by="inspector", label=label, as_found=occasion != "change")
    yield FRAME.act(8, "17:30", "instrument.changed", {"instrument": "AC-01", "what": "adjusted"}, device="D", by="inspector")
    stops = "the gas alarm sounds, the ventilation stops or adhesive is opened; the site's own permission comes first"
    for day in _TESTS:
        what = "ignition source in the vessel"
        yield FRAME.permitted(day, "07:12", "ignition_source", what, "gas_tester", "18:30", stops, device="D", by="inspector")
        yield FRAME.grounded(day, "07:34", "clamp on bare flange of N8", "bare lug", device="D", by="inspector", value="0.3 ohm")
        yield FRAME.looked(day, "07:40", PANELS, device="D", by="inspector")
    burns = {"panels": list(AFTER_MID), "found": [{"number": BURN[0], "place": BURN[1]}]}
    yield FRAME.act(9, "10:00", "burn.inspected", burns, "burn E10", device="E", by="recorder")
    for day, marks in MARKS.items():
        yield FRAME.closed(day, _NARRATIVES[day], marks, "13:30" if day == 15 else "19:00")
    yield FRAME.act(9, "12:00", "delay.noted", {"reason": "A day for the burn inspection."}, device="E", by="recorder")


def _climate(day: int, clock: str, air: str, rh: str, surface: str) -> Iterator[Act]:
    """A reading; that of day 8, 12:20, was typed for the wrong place and corrected the same evening."""
    right = FRAME.climate(day, clock, air, rh, surface, "inside the vessel, at the work", device="D", by="inspector")
    if (day, clock) != (8, "12:20"):
        yield right
        return
    assert isinstance(right.body, dict)
    yield replace(right, body={**right.body, "place": "outside the vessel"})
    yield corrected(
        right.label, right.body, "it was read inside; the place was typed wrong", FRAME.at(8, "18:05"), device="D", by="inspector"
    )
