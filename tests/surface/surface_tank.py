"""An invented tank for the tests: 12 m across, four courses, cone roof 1:6, one column."""

from typing import Any


def tank(**changes: Any) -> dict[str, Any]:
    """Body of `item.added` for the tank; keyword arguments replace whole fields."""
    first = {"S1": "15 deg", "S2": "345 deg", "S3": "10 deg", "S4": "340 deg"}
    body: dict[str, Any] = {
        "item": "T1",
        "shape": "tank",
        "datum": "0 deg at manway M1, site north; clockwise seen from above; z from the floor",
        "dimensions": {
            "diameter": "12.0 m",
            "courses": [{"name": n, "height": "2.25 m", "first_seam": a, "seams": 6} for n, a in first.items()],
            "roof": {"name": "R", "slope": "1:6"},
            "floor": {"name": "F"},
            "columns": [{"name": "C", "diameter": "0.3 m", "height": "9.00 m", "at": ["0 m", "0 m"]}],
        },
        "features": [
            {"name": "M1", "what": "manway", "on": "shell", "at": "0 deg", "z": "0.60 m", "rim_radius": "0.30 m"},
            {"name": "M2", "what": "manway", "on": "shell", "at": "184 deg", "z": "0.60 m", "rim_radius": "0.30 m"},
            {"name": "N2", "what": "nozzle", "on": "shell", "at": "240 deg", "z": "1.20 m", "bore": "200 mm", "pad_radius": "0.21 m"},
            {"name": "ladder", "what": "ladder", "on": "shell", "at": "20 deg"},
        ],
        "test_areas": [
            {"name": "F", "on": "floor"},
            *({"name": n, "on": "shell", "course": n} for n in first),
            {"name": "R", "on": "roof"},
            {"name": "C", "on": "column", "column": "C"},
        ],
        "panels": {"rule": "seams, courses and quadrants"},
        "openings_deducted": False,
    }
    return {**body, **changes}
