"""How the job river-crossing opens: contract, joints, two systems, two testers, coats, readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..acts import Act
from ..cast import cured
from ..scribe import Book
from ..spread import mixed, sample
from .tables import BORED, CAST, CLAUSES, FRAME, P_1, P_2, SLEEVES, TABLE

_DAY = "2025-06-16"
ITEM: dict[str, Any] = {
    "item": "RX",
    "shape": "pipe_string",
    "datum": "looking downstream, 12:00 on top; along from the weld's centre, + downstream",
    "dimensions": {
        "diameter": "610 mm", "band": "0.5 m", "spacing": "12.2 m", "first_kp": "KP 3.100",
        "groups": [
            {"name": "open cut", "first": SLEEVES[0], "last": SLEEVES[-1]},
            {"name": "bored", "first": BORED[0], "last": BORED[-1]},
        ],
    },
    "features": [],
    "test_areas": [{"name": "SL", "on": "open cut"}, {"name": "BJ", "on": "bored"}],
    "panels": {"rule": "each part"},
    "openings_deducted": False,
    "note": "The tested band of each joint is 0.5 m; what lies between was tested at the mill.",
}  # fmt: skip
SYSTEMS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("system SL", {
        "test_areas": ["SL"],
        "layers": [
            {"name": "epoxy primer", "conductive": "no", "nominal": "0.2 mm"},
            {"name": "three-layer sleeve", "conductive": "no", "nominal": "2.8 mm"},
        ],
        "cure_table": [
            {"row": "S15", "what": "holiday test of a sleeve", "steel": "15 degC", "wait": "12 h"},
            {"row": "P15", "what": "retest of a patch or a new sleeve", "steel": "15 degC", "wait": "12 h"},
        ],
        "immersed": "never",
        "note": "Shrink sleeve over epoxy primer on 3LPE mainline. Invented for the demo.",
    }),
    ("system BJ", {
        "test_areas": ["BJ"],
        "layers": [{"name": "liquid epoxy", "conductive": "no", "nominal": "900 um"}],
        "cure_table": [
            {"row": "B15", "what": "holiday test of a bored joint", "steel": "15 degC", "wait": "48 h"},
            {"row": "P15", "what": "retest of a patch", "steel": "15 degC", "wait": "12 h"},
        ],
        "immersed": "never",
        "note": "Liquid epoxy on dual FBE mainline. Invented for the demo.",
    }),
)  # fmt: skip
_INSTRUMENTS: tuple[dict[str, Any], ...] = (
    {"instrument": "P-1", "what": "spark tester, pulsed, full ring", "range": "5 kV to 35 kV", "electrodes": [P_1.electrode],
     "leads": [P_1.lead], "step": "0.1 kV"},
    {"instrument": "P-2", "what": "spark tester, continuous DC", "range": "0.5 kV to 15 kV", "electrodes": [P_2.electrode],
     "leads": [P_2.lead], "step": "0.01 kV"},
    {"instrument": "CV-1", "what": "crest voltmeter for pulsed testers", "range": "1 kV to 40 kV"},
    {"instrument": "VM-2", "what": "reference voltmeter for the field check", "range": "0 kV to 20 kV"},
    {"instrument": "TG-03", "what": "film thickness gauge, magnetic", "range": "0 mm to 8 mm"},
    {"instrument": "CL-01", "what": "climate meter: air, humidity, surface", "range": "-20 degC to 60 degC"},
    {"instrument": "RM-01", "what": "resistance meter", "range": "0 ohm to 20 Mohm"},
)  # fmt: skip
COLUMNS = {"test_area": "area", "class": "class", "on": "joint", "first": "arc_m", "second": "along_m", "value": "dft_um"}
UNITS = {"first": "m", "second": "m", "value": "um"}
_ROUND = 3.14159265 * 0.610


def opening(book: Book) -> Iterator[Act]:
    """Acts up to the readings of the film."""
    yield from CAST.opened(book, _DAY, {
        "title": "River crossing main, 48 field joints", "contract": "RC-31 rev C",
        "units": {"area": "m2", "length": "mm", "temperature": "degC", "thickness": "um", "voltage": "kV"}, "language": "en",
        "holiday_means": "a spark at the same place twice on a dry, clean joint at the set voltage",
    })  # fmt: skip
    yield from FRAME.clauses(_DAY, "08:30", CLAUSES)
    yield FRAME.act(_DAY, "08:45", "item.added", ITEM, "item")
    for n, (label, body) in enumerate(SYSTEMS):
        yield FRAME.act(_DAY, f"08:5{n}", "system.set", body, label)
    yield from FRAME.instruments(_DAY, "09:00", "2026-02-28", _INSTRUMENTS)
    yield FRAME.coated("liquid epoxy", ("2025-06-30", "08:00"), ("2025-06-30", "17:00"), ["BJ"])
    yield FRAME.coated("epoxy primer and sleeve", ("2025-07-02", "07:00"), ("2025-07-03", "18:00"), ["SL"])
    for area, row, last, at in (
        ("BJ", "B15", ("2025-06-30", "17:00"), ("2025-07-04", "16:00")), ("SL", "S15", ("2025-07-03", "18:00"), ("2025-07-04", "16:05")),
    ):  # fmt: skip
        yield cured([area], row, FRAME.at(*last), "15 degC", FRAME.at(*at), person=CAST.people["manager"], device="A", by="manager")
    about = "film thickness over the steel, gauge TG-03, two spots a joint"
    yield FRAME.loaded(book, "2025-07-04", "15:00", readings_csv(), COLUMNS, UNITS, about, device="H", by="inspector")


def readings_csv() -> bytes:
    """The file of readings: two spots a joint, places in map coordinates. [m, um]"""
    rows = ["spot,area,class,joint,arc_m,along_m,dft_um"]
    for joints, step, mean, sd, low, high, count in TABLE:
        values = mixed([x * step for x in sample(mean / step, sd / step, low // step, high // step, count)], f"river-crossing/{joints[0]}")
        for n, value in enumerate(values):
            joint, k = joints[n // 2], n % 2
            area = "SL" if joint in SLEEVES else "BJ"
            rows.append(f"{len(rows)},{area},flat,{joint},{_ROUND * (0.2 + 0.45 * k):.3f},{-0.12 + 0.24 * k:.3f},{value}")
    return ("\n".join(rows) + "\n").encode()
