"""How the job acid-store opens: contract, floor, system, instruments, coats, readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..acts import Act
from ..cast import cured
from ..scribe import Book
from ..spread import mixed, sample
from .tables import AREAS, BAYS, CAST, CLAUSES, FRAME, HV_02, TABLE

_DAY = "2025-07-14"
_PLINTHS = (("PL1", "1.5 m", "4.6 m"), ("PL2", "4.2 m", "4.6 m"), ("PL3", "13.5 m", "4.6 m"), ("PL4", "15.6 m", "3.2 m"))
ITEM: dict[str, Any] = {
    "item": "AS",
    "shape": "floor",
    "datum": "x to the east, y to the north, from the inner south-west corner",
    "dimensions": {
        "length": "18 m",
        "width": "11 m",
        "kerb": {"height": "0.45 m"},
        "sumps": [{"name": "SU", "at": ["16.2 m", "0.6 m"], "length": "1.2 m", "width": "1.2 m", "depth": "0.9 m"}],
        "plinths": [{"name": n, "at": [x, y], "length": "1.5 m", "width": "0.9 m", "height": "0.3 m"} for n, x, y in _PLINTHS],
        "bays": {"columns": 6, "rows": 4},
        "joints": [{"name": "SJ", "x": "12.0 m", "reach": "50 mm"}],
    },
    "features": [],
    "test_areas": [
        {"name": "floor", "on": "floor"}, {"name": "kerb", "on": "kerb"}, {"name": "SU", "on": "SU"}, {"name": "plinths", "on": "plinths"},
    ],
    "panels": {"rule": "bays"},
    "openings_deducted": False,
    "note": "The saw cut at x = 12.0 m belongs to column D. Concrete; conductive primer under the lining.",
}  # fmt: skip
SYSTEM: dict[str, Any] = {
    "test_areas": list(AREAS),
    "layers": [
        {"name": "conductive primer", "conductive": "yes", "nominal": "0.12 mm"},
        {"name": "flake coat 1", "conductive": "no", "nominal": "1.5 mm"},
        {"name": "flake coat 2", "conductive": "no", "nominal": "1.5 mm"},
    ],
    "cure_table": [
        {"row": "20", "what": "holiday test", "steel": "20 degC", "wait": "72 h"},
        {"row": "R20", "what": "retest of a repair", "steel": "20 degC", "wait": "48 h"},
    ],
    "immersed": "never",
    "note": "Vinyl-ester flake lining, nominal 3 mm, on concrete. Invented for the demo.",
}
_INSTRUMENTS: tuple[dict[str, Any], ...] = (
    {"instrument": "HV-02", "what": "spark tester, continuous DC", "range": "0.5 kV to 30 kV", "electrodes": [HV_02.electrode],
     "leads": [HV_02.lead, "L-6"], "step": "0.1 kV"},
    {"instrument": "VM-03", "what": "reference voltmeter for the field check", "range": "0 kV to 30 kV"},
    {"instrument": "UT-01", "what": "film thickness gauge, ultrasonic", "range": "0.5 mm to 10 mm"},
    {"instrument": "CL-01", "what": "climate meter: air, humidity, surface", "range": "-20 degC to 60 degC"},
    {"instrument": "RM-01", "what": "resistance meter", "range": "0 ohm to 20 Mohm"},
)  # fmt: skip
COLUMNS = {"test_area": "area", "class": "class", "on": "on", "first": "first_m", "second": "second_m", "value": "film_um"}
UNITS = {"first": "m", "second": "m", "value": "um"}


def opening(book: Book) -> Iterator[Act]:
    """Acts up to the readings of the film."""
    yield from CAST.opened(book, _DAY, {
        "title": "Acid store, containment floor", "contract": "AS-19 rev 1",
        "units": {"area": "m2", "length": "m", "temperature": "degC", "thickness": "mm", "voltage": "kV"}, "language": "en",
        "holiday_means": "a spark at the same place twice on dry, clean lining at the set voltage",
    })  # fmt: skip
    yield from FRAME.clauses(_DAY, "08:30", CLAUSES)
    yield FRAME.act(_DAY, "08:45", "item.added", ITEM, "item")
    yield FRAME.act(_DAY, "08:50", "system.set", SYSTEM, "system")
    yield from FRAME.instruments(_DAY, "09:00", "2026-04-30", _INSTRUMENTS)
    for coat, day in (("conductive primer", "2025-07-21"), ("flake coat 1", "2025-07-23"), ("flake coat 2", "2025-07-25")):
        flake = "Columns C and D coated from 09:00 to 13:00, air and slab warming."
        note = flake if "flake" in coat else "Primer cut at the saw cut x = 12.0 m."
        yield FRAME.coated(coat, (day, "08:00"), (day, "16:00"), AREAS, note=note)
    yield cured(
        AREAS, "20", FRAME.at("2025-07-25", "16:00"), "20 degC", FRAME.at("2025-07-28", "16:10"), person=CAST.people["inspector"],
        device="G", by="inspector",
    )  # fmt: skip
    about = "film thickness over the primer, ultrasonic gauge UT-01 by the engineer's agreement"
    yield FRAME.loaded(book, "2025-07-29", "16:00", readings_csv(), COLUMNS, UNITS, about, device="L", by="inspector")


def readings_csv() -> bytes:
    """The file of readings: bays, kerb, plinth edges, places in map coordinates. [m, um]"""
    rows = ["spot,area,class,on,first_m,second_m,film_um"]
    for area, class_, mean, sd, low, high, count in TABLE:
        values = [10 * x for x in sample(mean / 10, sd / 10, low // 10, high // 10, count)]
        for n, value in enumerate(mixed(values, f"acid-store/{area}")):
            if area == "floor":
                bay, k = n % len(BAYS), n // len(BAYS)
                on, first, second = "floor", 3 * (bay // 4) + 0.6 + 0.7 * k, 2.75 * (bay % 4) + 0.5 + 0.8 * k
            elif area == "kerb":
                on, first, second = "kerb", 58 * (n + 0.5) / count, 0.22
            else:
                on, first, second = f"PL{n // 4 + 1}", 4.8 * (n % 4 + 0.5) / 4, 0.29
            rows.append(f"{len(rows)},{area},{class_},{on},{first:.3f},{second:.3f},{value}")
    return ("\n".join(rows) + "\n").encode()
