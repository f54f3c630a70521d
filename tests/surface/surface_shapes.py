"""Invented items of the other shapes: field joints, penstock cans, a containment floor, a vessel."""

from typing import Any


def item(shape: str, dimensions: dict[str, Any], areas: list[dict[str, Any]], rule: str = "each part", **more: Any) -> dict[str, Any]:
    """Body of `item.added`."""
    return {
        "item": "X1",
        "shape": shape,
        "datum": "as the drawing says",
        "dimensions": dimensions,
        "features": [],
        "test_areas": areas,
        "panels": {"rule": rule},
        "openings_deducted": False,
        **more,
    }


def joints(last: str = "J-048", **more: Any) -> dict[str, Any]:
    """48 field joints of OD 610 mm, a band of 0.5 m, 12.2 m apart; 40 in the open cut, 8 bored."""
    groups = [{"name": "open cut", "first": "J-001", "last": "J-040"}, {"name": "bored", "first": "J-041", "last": last}]
    dimensions = {"diameter": "610 mm", "band": "0.5 m", "groups": groups, "spacing": "12.2 m", "first_kp": "KP 3.100", **more}
    return item("pipe_string", dimensions, [{"name": "SL", "on": "open cut"}, {"name": "BJ", "on": "bored"}])


def cans() -> dict[str, Any]:
    """Twelve cans of 2.0 m by 2.5 m, lined inside, one long seam at 45 deg."""
    dimensions = {"diameter": "2.0 m", "length": "2.5 m", "first": "P-01", "last": "P-12", "long_seams": ["45 deg"]}
    return item("can", dimensions, [{"on": "cans", "each": True}])


def floor(**more: Any) -> dict[str, Any]:
    """A floor of 18 m by 11 m in bays of 3.0 m by 2.75 m, with kerb, sump, four plinths and a saw-cut joint."""
    at = (("1.5 m", "4.6 m"), ("4.2 m", "4.6 m"), ("13.5 m", "4.6 m"), ("15.6 m", "3.2 m"))
    dimensions = {
        "length": "18 m",
        "width": "11 m",
        "kerb": {"height": "0.45 m"},
        "sumps": [{"name": "SU", "at": ["16.2 m", "0.6 m"], "length": "1.2 m", "width": "1.2 m", "depth": "0.9 m"}],
        "plinths": [
            {"name": f"PL{n}", "at": list(xy), "length": "1.5 m", "width": "0.9 m", "height": "0.3 m"} for n, xy in enumerate(at, start=1)
        ],
        "bays": {"columns": 6, "rows": 4},
        "joints": [{"name": "SJ", "x": "12.0 m"}],
        **more,
    }
    areas = [
        {"name": "floor", "on": "floor"},
        {"name": "kerb", "on": "kerb"},
        {"name": "SU", "on": "SU"},
        {"name": "plinths", "on": "plinths"},
    ]
    return item("floor", dimensions, areas, "bays")


def vessel(**more: Any) -> dict[str, Any]:
    """A vessel of 2.4 m by 4.8 m between tangent lines, torispherical heads, nine necks, three lifts, laps at 90 and 270 deg."""
    head = {"kind": "torispherical", "crown": "2.4 m", "knuckle": "0.24 m"}
    sizes = {"N1": (50, 150), "N2": (50, 150), "N3": (50, 150), "N4": (200, 200), "N5": (100, 180), "N6": (100, 180)}
    sizes |= {"N7": (200, 200), "N8": (300, 220), "MW": (600, 250)}
    dimensions = {
        "diameter": "2.4 m",
        "shell": "4.8 m",
        "lifts": ["1.6 m"] * 3,
        "laps": ["270 deg", "90 deg"],
        "top_head": head,
        "bottom_head": head,
        "necks": [{"name": name, "bore": f"{bore} mm", "length": f"{long} mm"} for name, (bore, long) in sizes.items()],
        **more,
    }
    if "necks" not in more:
        dimensions["necks"][3] |= {"on": "shell", "at": "40 deg", "z": "2.40 m"}
    areas = [
        {"name": "TH", "on": "top head"},
        {"name": "BH", "on": "bottom head"},
        {"name": "SH", "on": "shell"},
        {"on": "necks", "each": True},
    ]
    return item("vessel", dimensions, areas, "lifts and laps")
