"""What goes with each day on site: exchange, permit, climate, checks of the tester, ground, surface, close of the day."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from wholefilm.base.times import clock

from ..acts import Act, Ref, happened, later, stamp
from ..scribe import Book
from .tables import (
    CAST,
    CHECKS,
    CLIMATE,
    COURSES,
    DAYS,
    FLOOR,
    HV_01,
    MARKS,
    ROOF,
    TESTER,
    TITLES,
    TYPED_WRONG,
)
from .words import NARRATIVES

_SYNCS = (
    ("B", "2025-05-16", "13:00"), ("B", "2025-05-21", "17:30"), ("H", "2025-05-28", "07:30"), ("H", "2025-05-28", "16:30"),
    *((letter, DAYS[day], at) for day in (1, 2, 3, 4, 9, 15) for letter, at in (("B", "07:00"), ("D", "07:02"), ("E", "07:04"))),
    ("D", DAYS[3], "07:10"), ("B", DAYS[3], "07:11"), ("B", DAYS[1], "17:24"), ("E", DAYS[1], "17:27"), ("B", DAYS[9], "12:30"),
    ("D", DAYS[9], "11:40"), ("B", DAYS[15], "10:30"), ("D", DAYS[15], "08:35"), ("E", DAYS[15], "11:00"),
    *((letter, DAYS[day], at) for day in (1, 2, 3, 4, 9, 15) for letter, at in (("B", "18:10"), ("D", "18:12"), ("E", "18:14"))),
)  # fmt: skip
"""Device, day, time at which it exchanged with the office."""
_OFFSETS = {"B": 120, "D": -340, "E": 85, "H": -1500}
"""Office clock minus own. [ms]"""
_TEST_DAYS = (1, 2, 3, 9, 15)
_SURFACES = (
    (1, "07:37", FLOOR), (1, "12:35", (*COURSES[1], "C")), (2, "07:37", (*ROOF, *COURSES[2])), (2, "12:35", (*COURSES[3], *COURSES[4])),
    (3, "07:36", (*COURSES[3], *COURSES[4])), (9, "07:38", ("F-2", "S1-3", "S1-4", "S2-3", "S2-4", "S3-3", "S3-4", "S4-2", "S4-6")),
    (15, "07:38", ("S2-3", "S2-4")),
)  # fmt: skip


def _write(at: str, kind: str, body: dict[str, Any], label: str = "", device: str = "B", by: str = "inspector", heads: bool = False) -> Act:
    return Act(at, device, by, kind, body, label, heads)


def site(_: Book) -> Iterator[Act]:
    """Acts that every day on site repeats."""
    yield from _exchanges()
    yield from _climate()
    yield from _checks()
    for day in _TEST_DAYS:
        permit = {
            "what": "ignition source in the tank", "by": TITLES["gas_tester"], "until": stamp(DAYS[day], "18:00"), "told": "paper",
            "stops_when": "the gas alarm sounds, the ventilation stops or work with solvent begins; the site's own permission comes first",
        }  # fmt: skip
        yield _write(stamp(DAYS[day], "07:12"), "permit.noted", permit)
        ground = {"point": "clip on bare lug at M1", "to": "N4 flange face", "instrument": "RM-01", "value": "0.8 ohm"}
        yield _write(stamp(DAYS[day], "07:34"), "ground.checked", ground)
    for day, at, panels in _SURFACES:
        yield _write(
            stamp(DAYS[day], at),
            "surface.inspected",
            {"panels": list(panels), "dry": True, "clean": True, "overspray": False, "old_water": False},
        )
    for day, marks in MARKS.items():
        yield _write(
            stamp(DAYS[day], "19:00"),
            "day.closed",
            {"date": DAYS[day], "narrative": NARRATIVES[day], "marks_counted": marks},
            device="A",
            heads=True,
        )
    yield _write(
        stamp(DAYS[2], "09:50"),
        "delay.noted",
        {
            "reason": "Waited ten minutes for a second lamp on course 2.",
            "happened": happened(stamp(DAYS[2], "09:40"), stamp(DAYS[2], "09:50")),
        },
    )


def _exchanges() -> Iterator[Act]:
    for letter, day, at in _SYNCS:
        yield CAST.compared(letter, day, at, _OFFSETS[letter])


def climate_label(day: int, at: str) -> str:
    """Label of a climate reading."""
    return f"climate d{day} {at}"


def _climate() -> Iterator[Act]:
    for day, at, air, rh, surface in CLIMATE:
        right = {
            "place": "inside the tank, at the work",
            "air": f"{air} degC",
            "surface": f"{surface} degC",
            "rh": f"{rh} %",
            "instrument": "CL-01",
        }
        typed = TYPED_WRONG.get((day, at))
        label = climate_label(day, at)
        yield _write(stamp(DAYS[day], at), "climate.read", {**right, "surface": f"{typed} degC"} if typed else right, label)
        if typed:
            reason = f"surface typed {typed} degC, the slate says {surface} degC: figures exchanged"
            yield _write(
                stamp(DAYS[day], "18:05"), "entry.corrected", {"of": Ref(label), "over": Ref(label), "body": right, "reason": reason}
            )


def _checks() -> Iterator[Act]:
    for day, at, read, occasion in CHECKS:
        when = stamp(DAYS[day], at)
        label = f"check {clock(when)}"
        yield HV_01.check(when, read, occasion, device="B", by="inspector", label=label, as_found=occasion != "change")
    changed = stamp(DAYS[2], "17:00")
    yield _write(
        later(changed, 1), "instrument.changed", {"instrument": TESTER, "what": "battery", "happened": happened(changed)}, "battery"
    )
