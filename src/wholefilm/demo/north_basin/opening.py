"""How the job north-basin opens: people, devices, contract, item, system, instruments, coats, readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..acts import Act, Ref, happened, stamp
from ..scribe import Book
from . import item, spots
from .contract import CLAUSES, STAGE
from .tables import AREAS, BRUSH, CAST, CONTRACT, LAST_COAT, LEAD, PEOPLE, REVISION, TESTER, TITLES

_OPEN = "2025-05-12"
_INSTRUMENTS: tuple[dict[str, Any], ...] = (
    {
        "instrument": TESTER,
        "what": "spark tester, continuous DC",
        "range": "0.5 kV to 15 kV",
        "electrodes": [BRUSH],
        "leads": [LEAD],
        "step": "0.01 kV",
    },
    {"instrument": "VM-01", "what": "reference voltmeter for the field check", "range": "0 kV to 20 kV"},
    {"instrument": "TG-01", "what": "dry film thickness gauge, magnetic", "range": "0 um to 2000 um"},
    {"instrument": "CL-01", "what": "climate meter: air, humidity, surface", "range": "-20 degC to 60 degC"},
    {"instrument": "RM-01", "what": "resistance meter", "range": "0 ohm to 20 Mohm"},
)

_COATS = (
    ("stripe coat", "2025-05-19", "07:30", "10:00"),
    ("coat 1", "2025-05-19", "10:30", "16:30"),
    ("coat 2", "2025-05-21", "08:00", "16:00"),
)
"""Coat, day, begin, end."""


def _act(clock: str, kind: str, body: dict[str, Any], label: str = "", day: str = _OPEN) -> Act:
    return Act(stamp(day, clock), "A", "inspector", kind, body, label)


def opening(book: Book) -> Iterator[Act]:
    """Acts of the first day: job, people, devices, contract, item, system, instruments."""
    yield from CAST.opened(book, _OPEN, {
        "title": "North basin raw-water tank, interior lining", "contract": f"{CONTRACT} {REVISION}",
        "units": {"area": "m2", "length": "m", "temperature": "degC", "thickness": "um", "voltage": "kV"}, "language": "en",
        "holiday_means": "an indication that comes again at its place on a dry, clean film at the set voltage",
    })  # fmt: skip
    for n, clause in enumerate(CLAUSES):
        yield _act(f"08:{30 + n}", "requirement.noted", {
            "topic": clause.topic, "document": CONTRACT, "edition": REVISION, "grade": "entered", "clause": clause.number,
            "says": clause.says, "rule": clause.rule, "applies_to": list(clause.areas), "stage": STAGE,
        }, f"requirement {clause.label}")  # fmt: skip
    yield _act("08:45", "item.added", item.BODY, "item")
    yield _act("08:50", "system.set", item.SYSTEM, "system")
    for n, body in enumerate(_INSTRUMENTS):
        due = {"certificate": f"demo-{body['instrument']}, invented", "due": stamp("2026-01-31", "00:00", "+01:00")}
        yield _act(f"09:{n:02d}", "instrument.added", {**body, **due})


def coating(_: Book) -> Iterator[Act]:
    """Acts of the coating: a defect before it, stripe coat, coat 1, coat 2, the release of the cure."""
    yield Act(stamp("2025-05-16", "13:30"), "B", "inspector", "defect.noted", {
        "place": {"item": "T1", "near": "V2-4", "right": "0.05 m", "near_level": "G1", "above": "1.20 m"}, "class": "weld spatter",
        "text": "Weld spatter both sides of V2-4 from 0.8 m to 2.1 m above G1; ground off in part, marked for the foreman.",
    }, "spatter")  # fmt: skip
    for coat, day, begin, end in (
        ("stripe coat", "2025-05-19", "07:30", "10:00"),
        ("coat 1", "2025-05-19", "10:30", "16:30"),
        ("coat 2", "2025-05-21", "08:00", "16:00"),
    ):
        yield Act(stamp(day, "17:00" if coat != "stripe coat" else "10:10"), "B", "inspector", "coat.applied", {
            "test_areas": list(AREAS), "coat": coat, "batch": f"demo batch {day[-2:]}", "applicator": TITLES["foreman"],
            "happened": happened(stamp(day, begin), stamp(day, end)),
            "note": "Climate of the coating days stands in the applicator's own log.",
        })  # fmt: skip
    about = {"about": list(AREAS), "table_row": "10", "last_coat_at": LAST_COAT, "steel": "10 degC", "by": PEOPLE["inspector"]}
    yield Act(stamp("2025-05-31", "16:15"), "A", "inspector", "cure.released", about, "cure")


def readings(book: Book) -> Iterator[Act]:
    """The act that loads the thickness readings, taken before the test."""
    day, blob = "2025-05-28", spots.readings_csv()
    yield Act(stamp(day, "16:00"), "H", "inspector", "readings.loaded", {
        "blob": book.keep(blob), "columns": spots.COLUMNS, "units": spots.UNITS, "rows": len(blob.splitlines()) - 1,
        "about": "dry film thickness, gauge TG-01, each spot the mean of three readings",
        "happened": happened(stamp(day, "08:00"), stamp(day, "15:30")),
    }, "readings")  # fmt: skip


def agreed() -> tuple[Ref, Ref]:
    """The two answers by which the voltage was agreed."""
    return Ref("answer Q-01 adviser"), Ref("answer Q-01 engineer")
