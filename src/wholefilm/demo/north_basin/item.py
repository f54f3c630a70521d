"""The tank, as the body of `item.added`, and its coating system."""

from __future__ import annotations

from typing import Any

from .tables import AREAS, CURE_TABLE, ITEM

BODY: dict[str, Any] = {
    "item": ITEM,
    "shape": "tank",
    "datum": "0 deg at manway M1, site north; clockwise seen from above; z from the floor; floor +x to 90 deg, +y to 0 deg",
    "dimensions": {
        "diameter": "12.0 m",
        "courses": [
            {"name": "S1", "height": "2.25 m", "first_seam": "15 deg", "seams": 6},
            {"name": "S2", "height": "2.25 m", "first_seam": "345 deg", "seams": 6},
            {"name": "S3", "height": "2.25 m", "first_seam": "10 deg", "seams": 6},
            {"name": "S4", "height": "2.25 m", "first_seam": "340 deg", "seams": 6},
        ],
        "roof": {"name": "R", "slope": "1:6"},
        "floor": {"name": "F"},
        "columns": [{"name": "C", "diameter": "0.3 m", "height": "9.00 m", "at": ["0 m", "0 m"]}],
    },
    "features": [
        {"name": "M1", "what": "manway", "on": "shell", "at": "0 deg", "z": "0.60 m", "rim_radius": "0.30 m"},
        {"name": "M2", "what": "manway", "on": "shell", "at": "184 deg", "z": "0.60 m", "rim_radius": "0.30 m"},
        {"name": "N1", "what": "nozzle", "on": "shell", "at": "30 deg", "z": "0.60 m", "bore": "150 mm"},
        {"name": "N2", "what": "nozzle", "on": "shell", "at": "240 deg", "z": "1.20 m", "bore": "200 mm", "pad_radius": "0.21 m"},
        {"name": "N3", "what": "nozzle", "on": "shell", "at": "120 deg", "z": "8.40 m", "bore": "200 mm"},
        {"name": "N4", "what": "nozzle", "on": "shell", "at": "300 deg", "z": "0.25 m", "bore": "100 mm"},
        {"name": "ladder", "what": "ladder", "on": "shell", "at": "20 deg"},
    ],
    "test_areas": [
        {"name": "F", "on": "floor"},
        *({"name": course, "on": "shell", "course": course} for course in ("S1", "S2", "S3", "S4")),
        {"name": "R", "on": "roof"},
        {"name": "C", "on": "column", "column": "C"},
    ],
    "panels": {"rule": "seams, courses and quadrants"},
    "openings_deducted": False,
    "note": "Column lined up to z 9.00 m; its head above is not lined.",
}

SYSTEM: dict[str, Any] = {
    "test_areas": list(AREAS),
    "layers": [{"name": name, "conductive": "no", "nominal": "400 um"} for name in ("coat 1", "coat 2")],
    "cure_table": [dict(zip(("row", "what", "steel", "wait"), row, strict=True)) for row in CURE_TABLE],
    "maker_limits": "3.0 kV for 600 to 1000 um of dry film, by letter of 2025-05-28",
    "recoat": "two coats of a repair at least 5 h apart",
    "note": "Solvent-free epoxy, two coats, nominal 800 um in all. Invented for the demo.",
}
