"""How the job penstock opens: contract, cans, system, instruments, coats, readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..acts import Act
from ..cast import cured
from ..scribe import Book
from . import spots
from .tables import CANS, CAST, CLAUSES, FRAME, LV_01

_DAY = "2025-09-15"
ITEM: dict[str, Any] = {
    "item": "PEN",
    "shape": "can",
    "datum": "along from the upstream end, angle from the crown, clockwise looking downstream",
    "dimensions": {"diameter": "2.0 m", "length": "2.5 m", "first": "P-01", "last": "P-12", "long_seams": ["45 deg"]},
    "features": [],
    "test_areas": [{"on": "cans", "each": True}],
    "panels": {"rule": "each part"},
    "openings_deducted": False,
    "note": "Twelve cans, lined inside before they are welded; ends machined to bare bevels.",
}
SYSTEM: dict[str, Any] = {
    "test_areas": list(CANS),
    "layers": [{"name": name, "conductive": "no", "nominal": "125 um"} for name in ("coat 1", "coat 2")],
    "cure_table": [
        {"row": "10", "what": "holiday test", "steel": "10 degC", "wait": "10 d"},
        {"row": "R10", "what": "retest of a repair", "steel": "10 degC", "wait": "96 h"},
    ],
    "immersed": "never",
    "note": "Two-coat epoxy, nominal 250 um in all. Invented for the demo.",
}
_INSTRUMENTS: tuple[dict[str, Any], ...] = (
    {
        "instrument": LV_01.instrument, "what": "wet-sponge tester, 67.5 V, alarm at or under 80 kohm", "range": "67.5 V",
        "electrodes": [LV_01.electrode], "leads": [LV_01.lead],
    },
    {"instrument": "RB-01", "what": "resistor box for the field check", "range": "1 kohm to 1 Mohm"},
    {"instrument": "TG-02", "what": "dry film thickness gauge, magnetic", "range": "0 um to 1000 um"},
    {"instrument": "CL-01", "what": "climate meter: air, humidity, surface", "range": "-20 degC to 60 degC"},
    {"instrument": "RM-01", "what": "resistance meter", "range": "0 ohm to 20 Mohm"},
)  # fmt: skip


def opening(book: Book) -> Iterator[Act]:
    """Acts up to the readings of the film."""
    yield from CAST.opened(book, _DAY, {
        "title": "Penstock cans P-01 to P-12, interior", "contract": "PS-12 rev 2",
        "units": {"area": "m2", "length": "mm", "temperature": "degC", "thickness": "um", "voltage": "V"}, "language": "en",
        "holiday_means": "the sponge finds a way to the steel on a dry, clean film, twice at the same place",
    })  # fmt: skip
    yield from FRAME.clauses(_DAY, "08:30", CLAUSES)
    yield FRAME.act(_DAY, "08:50", "item.added", ITEM, "item")
    yield FRAME.act(_DAY, "08:55", "system.set", SYSTEM, "system")
    yield from FRAME.instruments(_DAY, "09:00", "2026-03-31", _INSTRUMENTS)
    for coat, day in (("coat 1", "2025-09-22"), ("coat 2", "2025-09-24")):
        yield FRAME.coated(coat, (day, "08:00"), (day, "16:00"), CANS, note="Cans 5 and 10: late shift, one applicator, one batch.")
    yield cured(
        CANS, "10", FRAME.at("2025-09-24", "16:00"), "10 degC", FRAME.at("2025-10-04", "16:15"), person=CAST.people["inspector"],
        device="A", by="inspector",
    )  # fmt: skip
    about = "dry film thickness, gauge TG-02, each spot the mean of three readings"
    yield FRAME.loaded(book, "2025-10-02", "16:00", spots.readings_csv(), spots.COLUMNS, spots.UNITS, about, device="H", by="inspector")
