"""The days on site of the job acid-store: tabs, made holidays, checks, what was counted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wholefilm.base.times import clock as told_clock

from ..acts import Act, Ref, happened
from ..frame import Day, corrected
from ..scribe import Book
from .tables import BAYS, CHECKS, FAR, FRAME, HV_02, MADE, MADE_DAY, NEW_LEAD, SWEPT, TABS

_DAYS = (1, 2, 3, 4, 8)
_OFFSETS = {"H": 45, "J": -520, "K": 130, "L": -700}
_SYNCS: tuple[tuple[str, Day, str], ...] = (
    ("H", "2025-07-21", "07:30"), ("H", "2025-07-25", "17:00"), ("L", "2025-07-29", "07:30"), ("L", "2025-07-29", "16:30"),
    ("H", MADE_DAY, "07:00"), ("H", MADE_DAY, "15:00"),
    *((letter, day, at) for day in _DAYS for letter, at in (("H", "07:00"), ("J", "07:02"), ("K", "07:04"))),
    ("J", 3, "07:15"), ("H", 1, "17:15"), ("K", 1, "17:20"), ("J", 8, "14:50"), ("H", 8, "14:52"),
    *((letter, day, at) for day in _DAYS for letter, at in (("H", "18:10"), ("J", "18:12"), ("K", "18:14"))),
)  # fmt: skip
_CLIMATE = (
    (1, "07:20", "20.5", "62", "21.0"), (2, "07:20", "21.0", "60", "21.3"), (2, "12:20", "24.5", "50", "22.6"),
    (3, "07:20", "20.2", "65", "20.9"), (4, "07:20", "21.4", "58", "21.2"), (8, "07:20", "20.8", "61", "21.1"),
)  # fmt: skip
MARKS = {1: 24, 2: 31, 3: 40, 4: 6, 8: 9}
"""Marks: 3 made + 21; 7 more; 3 + 6 false more; 31 and the 3 made taken off; 3 of a retest."""
_NARRATIVES = {
    1: "Tab T3 is dead: the primer is cut at the saw cut. E3 to F4 wait for a new tab. D1 to D4, E1, E2, F1, F2 and plinths: 21 holidays.",
    2: "A1 to C4: seven. At the end the tester gave no alarm over G1: ground lead open. A1 to C4 are in doubt.",
    3: "A1 to C4 again with a new lead: nothing new. New tab T3b: E3 to F4. Kerb. Sump: three, and six signals over wet walls.",
    4: "All repairs done, made holidays too.",
    8: "Retests: the strip along the saw cut cracks through, three signals. NCR-02. All others silent.",
}


def site(_: Book) -> Iterator[Act]:
    """Acts that every day on site repeats, and what went wrong."""
    yield from FRAME.exchanges(_SYNCS, _OFFSETS)
    for row in _CLIMATE:
        yield from _climate(*row)
    yield from _made()
    for day, at, read, occasion, means in CHECKS:
        when = FRAME.at(day, at)
        tester = HV_02 if when < FRAME.at(2, "17:00") else NEW_LEAD
        tester = replace(tester, means=means) if means else tester
        label = f"check {told_clock(when)}"
        yield tester.check(when, read, occasion, device="H", by="inspector", label=label, as_found=occasion != "change")
    yield FRAME.act(2, "17:00", "instrument.changed", {"instrument": "HV-02", "what": "lead"}, device="H")
    stops = "the gas alarm sounds, solvent is opened or resin is mixed in the store; the site's own permission comes first"
    for day in (MADE_DAY, 1, 2, 3, 8):
        what = "ignition source in the acid store"
        yield FRAME.permitted(day, "07:12", "ignition_source", what, "gas_tester", "18:00", stops, device="H", by="inspector")
        for n, (tab, to, serves) in enumerate(TABS):
            yield FRAME.grounded(day, f"07:3{4 + n}", tab, to, device="H", by="inspector", value=f"{40 + 15 * n} ohm", serves=list(serves))
    for day in (1, 2):
        yield FRAME.grounded(day, "07:38", "T3", "tab T4", device="H", by="inspector", found="open", serves=list(FAR))
    for day in (3, 8):
        yield FRAME.grounded(day, "07:39", "T3b", "tab T4", device="H", by="inspector", value="55 ohm", serves=list(FAR))
    for day in (1, 2, 3):
        yield FRAME.looked(day, "07:45", [p for d, mine, _, _ in SWEPT if d == day for p in mine], device="H", by="inspector")
    yield FRAME.looked(8, "07:45", [*BAYS, "kerb", "SU", "PL1", "PL2", "PL3", "PL4"], device="H", by="inspector")
    for day, marks in MARKS.items():
        yield FRAME.closed(day, _NARRATIVES[day], marks)
    yield FRAME.act(1, "10:00", "delay.noted", {
        "reason": "Tab T3 without continuity: E3 to F4 cannot be tested.",
        "happened": happened(FRAME.at(1, "07:40"), FRAME.at(1, "10:00")),
    }, device="H")  # fmt: skip


def _climate(day: int, clock: str, air: str, rh: str, surface: str) -> Iterator[Act]:
    """A reading; that of day 2, 12:20, was typed with the surface of the morning and corrected the same evening."""
    right = FRAME.climate(day, clock, air, rh, surface, "in the store, at the work", device="H", by="inspector")
    if (day, clock) != (2, "12:20"):
        yield right
        return
    assert isinstance(right.body, dict)
    yield replace(right, body={**right.body, "surface": "21.3 degC"})
    reason = f"surface typed 21.3 degC, that of the morning; the slate says {surface} degC"
    yield corrected(right.label, right.body, reason, FRAME.at(2, "18:05"), device="H", by="inspector")


def _made() -> Iterator[Act]:
    """A made holiday in each ground zone, with the voltage at which the spark came every time."""
    for n, (number, zone, bay, (x, y), volts) in enumerate(MADE):
        body = {
            "number": number, "place": {"item": "AS", "on": "floor", "x": x, "y": y, "panel": bay}, "zone": zone,
            "consent": Ref("answer Q-02 qa"), "found_voltage": volts, "instrument": "HV-02", "electrode": HV_02.electrode,
            "lead": HV_02.lead, "ground": zone, "sparked_every_time": True,
        }  # fmt: skip
        yield FRAME.act(MADE_DAY, f"1{n}:00", "made_holiday.made", body, f"made {number}")
