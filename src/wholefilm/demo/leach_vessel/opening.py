"""How the job leach-vessel opens: contract, vessel, lining, instruments, readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..acts import Act
from ..cast import cured
from ..scribe import Book
from ..spread import mixed, sample
from .tables import AC_9, AREAS, CAST, CLAUSES, FRAME, NECKS, TABLE

_DAY = "2025-08-11"
_HEAD = {"kind": "torispherical", "crown": "2.4 m", "knuckle": "0.24 m"}
_SIZES = {
    "N1": (50, 150), "N2": (50, 150), "N3": (50, 150), "N4": (200, 200), "N5": (100, 180), "N6": (100, 180), "N7": (200, 200),
    "N8": (300, 220), "MW": (600, 250),
}  # fmt: skip
_WHERE = {"N4": {"on": "shell", "at": "40 deg", "z": "2.40 m"}}


def _necks() -> list[dict[str, Any]]:
    return [{"name": n, "bore": f"{bore} mm", "length": f"{long} mm", **_WHERE.get(n, {})} for n, (bore, long) in _SIZES.items()]


ITEM: dict[str, Any] = {
    "item": "V-12",
    "shape": "vessel",
    "datum": "0 deg at the name plate, clockwise seen from above; z from the lower tangent line",
    "dimensions": {
        "diameter": "2.4 m", "shell": "4.8 m", "lifts": ["1.6 m"] * 3, "laps": ["270 deg", "90 deg"], "top_head": _HEAD,
        "bottom_head": _HEAD, "necks": _necks(),
    },
    "features": [],
    "test_areas": [
        {"name": "TH", "on": "top head"}, {"name": "BH", "on": "bottom head"}, {"name": "SH", "on": "shell"}, {"on": "necks", "each": True},
    ],
    "panels": {"rule": "lifts and laps"},
    "openings_deducted": False,
    "note": "Rubber lining, two sheets of 3 mm, lap seams at 270 and 90 deg, skived at 45 deg.",
}  # fmt: skip
SYSTEM: dict[str, Any] = {
    "test_areas": list(AREAS),
    "layers": [{"name": name, "conductive": "no", "nominal": "3 mm"} for name in ("sheet 1", "sheet 2")],
    "cure_table": [
        {"row": "AU", "what": "spark test after the autoclave, cooled", "steel": "20 degC", "wait": "24 h"},
        {"row": "CB", "what": "retest of a cold-bonded patch", "steel": "20 degC", "wait": "24 h"},
    ],
    "immersed": "never",
    "maker_limits": "carbon-rich compound: 1.0 mm of spark per mm before the cure, 1.5 mm per mm after it, by letter of 2025-08-20",
    "note": "Rubber rich in carbon black by the compound maker's word; sound sheet gives no alarm. Invented for the demo.",
}
_INSTRUMENTS: tuple[dict[str, Any], ...] = (
    {"instrument": "AC-01", "what": "high-frequency AC spark tester, set by spark length", "range": "2 mm to 30 mm",
     "electrodes": [AC_9.electrode], "leads": [AC_9.lead], "step": "1 mm"},
    {"instrument": "GR-01", "what": "gauge rods for the spark length", "range": "1 mm to 30 mm"},
    {"instrument": "TG-04", "what": "lining thickness gauge, magnetic", "range": "0 mm to 15 mm"},
    {"instrument": "CL-01", "what": "climate meter: air, humidity, surface", "range": "-20 degC to 60 degC"},
    {"instrument": "RM-01", "what": "resistance meter", "range": "0 ohm to 20 Mohm"},
)  # fmt: skip
COLUMNS = {"test_area": "area", "class": "class", "on": "on", "first": "first_m", "second": "second_m", "value": "film_um"}
UNITS = {"first": "m", "second": "m", "value": "um"}


def opening(book: Book) -> Iterator[Act]:
    """Acts up to the readings of the lining, and its release after the autoclave."""
    yield from CAST.opened(book, _DAY, {
        "title": "Leach vessel V-12, rubber lining", "contract": "LV-12 rev 3",
        "units": {"area": "m2", "length": "m", "temperature": "degC", "thickness": "mm", "voltage": "kV"}, "language": "en",
        "holiday_means": "a bright spark into the lining at the same place twice",
    })  # fmt: skip
    yield from FRAME.clauses(_DAY, "08:30", CLAUSES)
    yield FRAME.act(_DAY, "08:45", "item.added", ITEM, "item")
    yield FRAME.act(_DAY, "08:50", "system.set", SYSTEM, "system")
    yield from FRAME.instruments(_DAY, "09:00", "2026-05-31", _INSTRUMENTS)
    yield FRAME.coated("sheet 1", ("2025-08-25", "08:00"), ("2025-08-26", "16:00"), AREAS)
    yield FRAME.coated("sheet 2", ("2025-08-27", "08:00"), ("2025-08-28", "16:00"), AREAS)
    about = "thickness of both sheets over the steel, gauge TG-04"
    yield FRAME.loaded(book, "2025-08-29", "16:00", readings_csv(), COLUMNS, UNITS, about, device="H", by="inspector")
    yield FRAME.coated("autoclave cure", ("2025-09-04", "08:00"), ("2025-09-05", "18:00"), AREAS)
    yield cured(
        AREAS,
        "AU",
        FRAME.at("2025-09-05", "18:00"),
        "20 degC",
        FRAME.at(8, "07:20"),
        person=CAST.people["manager"],
        device="A",
        by="manager",
    )


def readings_csv() -> bytes:
    """The file of readings: sheet of heads and shell, flares of the necks, places in map coordinates where they are kept. [m, um]"""
    rows = ["spot,area,class,on,first_m,second_m,film_um"]
    for class_, mean, sd, low, high, count in TABLE:
        values = mixed([10 * x for x in sample(mean / 10, sd / 10, low // 10, high // 10, count)], f"leach-vessel/{class_}")
        for n, value in enumerate(values):
            if class_ == "edge":
                neck = NECKS[n % len(NECKS)]
                bore, long = _SIZES[neck]
                area, on, first, second = neck, neck, 3.14159 * bore / 1000 * (0.25 + 0.5 * (n // len(NECKS))), (long - 8) / 1000
            elif n < 20:
                area, on, first, second = "SH", "shell", 7.5398 * ((0.618 * n) % 1), 0.2 + 0.23 * n
            else:
                area, on = ("TH", "top head") if n % 2 else ("BH", "bottom head")
                first, second = 0.18 * (n - 24), 0.16 * (n - 25)
            rows.append(f"{len(rows)},{area},{class_},{on},{first:.3f},{second:.3f},{value}")
    return ("\n".join(rows) + "\n").encode()
