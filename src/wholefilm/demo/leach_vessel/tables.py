"""Figures of the demo job leach-vessel: who, with what, when, where the tester spoke. All invented."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..cast import Cast, Tester, Typed
from ..frame import Clause, Frame

NECKS = ("N1", "N2", "N3", "N4", "N5", "N6", "N7", "N8", "MW")
SHELL = tuple(f"SH-{n}" for n in range(1, 7))
PANELS = ("BH", *SHELL, "TH", *NECKS)
AREAS = ("TH", "BH", "SH", *NECKS)
CAST = Cast(
    name="leach-vessel",
    tag="6c76",
    offset="+02:00",
    zone="Europe/Berlin",
    roles={
        "manager": ("QC manager",),
        "inspector": ("QC inspector", "operator"),
        "recorder": ("recorder",),
        "qa": ("QA for the owner",),
        "engineer": ("engineer",),
        "adviser": ("compound maker's adviser", "coating maker's adviser"),
        "foreman": ("applicator's foreman",),
        "gas_tester": ("gas tester",),
    },
    cards={
        "manager": ("Emma Example", "demo certificate 30, invented"),
        "inspector": ("Fred Example", "demo certificate 31, invented"),
        "recorder": ("Gina Example", "none needed"),
        "qa": ("Hugo Example", "demo certificate 33, invented"),
        "engineer": ("Ines Example", "demo licence 34, invented"),
        "adviser": ("Jack Example", "none needed"),
        "foreman": ("Kira Example", "demo certificate 36, invented"),
        "gas_tester": ("Leon Example", "demo certificate 37, invented"),
    },
    holders={"A": "manager", "D": "inspector", "E": "recorder", "K": "qa", "H": "inspector"},
)
DAYS = {
    1: "2025-09-01", 2: "2025-09-02", 8: "2025-09-08", 9: "2025-09-09", 10: "2025-09-10", 12: "2025-09-12", 15: "2025-09-15",
    17: "2025-09-17",
}  # fmt: skip
FRAME = Frame(CAST, DAYS, "LV-12", "rev 3", "after_cure", AREAS)

AC_9 = Tester(
    "AC-01", "fine probe 0.1 m", "L-9", "9 mm", "after_cure", "longest spark to a grounded point, by gauge rod GR-01", "10 %",
    "demo figure, invented; contract LV-12 8.1", {"verified_with": "GR-01"},
)  # fmt: skip
AC_6 = replace(AC_9, setting="6 mm", stage="before_cure")
CHECKS = (
    (AC_6, 1, "07:30", "6 mm", "before"), (AC_6, 1, "16:30", "6 mm", "after"),
    (AC_9, 8, "07:30", "9 mm", "before"), (AC_9, 8, "12:15", "9 mm", "mid"), (AC_9, 8, "17:10", "10 mm", "after"),
    (AC_9, 8, "17:40", "9 mm", "change"),
    (AC_9, 12, "07:30", "9 mm", "before"), (AC_9, 12, "12:00", "9 mm", "after"),
    (AC_9, 15, "07:30", "9 mm", "before"), (AC_9, 15, "10:00", "9 mm", "after"),
)  # fmt: skip
"""Tester as set, day, time, length of its longest spark, occasion. ``change`` is as left."""
SWEPT = (
    (1, PANELS[:8], "08:00", 30), (1, NECKS, "12:40", 20),
    (8, ("BH", *SHELL[:4]), "08:00", 48), (8, (*SHELL[4:], "TH"), "12:40", 40), (8, NECKS, "14:45", 14),
)  # fmt: skip
"""Day, panels, start of the first, minutes from one to the next."""
MINUTES = 28
AFTER_MID = (*SHELL[4:], "TH", *NECKS)
"""Tested after the mid check of day 8, and looked over for burns on day 9."""


@dataclass(frozen=True)
class Find:
    """An indication: wall number, day, panel, pattern, place, class."""

    number: str
    day: int
    panel: str
    pattern: str
    place: Typed
    surface: str


def on_shell(angle: str, z: str) -> Typed:
    """A place on the shell. [deg, m]"""
    return {"item": "V-12", "on": "shell", "at": f"{angle} deg", "z": f"{z} m"}


def on_head(head: str, angle: str, radius: str) -> Typed:
    """A place on a head, by its distance from the axis in plan. [deg, m]"""
    return {"item": "V-12", "on": head, "at": f"{angle} deg", "from_centre": f"{radius} m"}


def on_flare(neck: str, clock: str, along: str) -> Typed:
    """A place at the flare of a neck. [mm from the shell]"""
    return {"item": "V-12", "on": neck, "along": f"{along} mm", "clock": clock}


def _lap(z: str) -> str:
    """Panel left of the lap at 270 deg, by height."""
    return ("SH-1", "SH-3", "SH-5")[int(float(z) // 1.6)]


_BEFORE = (
    *((_lap(z), "lap", on_shell("270", z), "edge") for z in ("0.40", "0.90", "1.70", "2.10", "2.90", "3.50", "4.20", "4.60")),
    ("TH", "head", on_head("top head", "122", "0.65"), "flat"), ("BH", "head", on_head("bottom head", "75", "0.90"), "flat"),
    ("N4", "flare", on_flare("N4", "02:00", "190"), "edge"), ("N4", "flare", on_flare("N4", "08:30", "190"), "edge"),
    ("N7", "flare", on_flare("N7", "06:00", "190"), "edge"), ("MW", "flare", on_flare("MW", "11:00", "240"), "edge"),
)  # fmt: skip
_AFTER = (
    *((_lap(z), "lap", on_shell("270", z), "edge") for z in ("1.20", "1.85", "2.40", "3.10", "3.95")),
    ("N4", "flare", on_flare("N4", "04:30", "190"), "edge"), ("N4", "flare", on_flare("N4", "05:10", "190"), "edge"),
    ("TH", "knuckle", on_head("top head", "38", "1.08"), "flat"), ("BH", "void", on_head("bottom head", "200", "0.42"), "flat"),
)  # fmt: skip


def _finds() -> tuple[Find, ...]:
    found = []
    for letter, day, rows in (("D", 1, _BEFORE), ("E", 8, _AFTER)):
        order = {p: n for n, p in enumerate(p for d, panels, _, _ in SWEPT if d == day for p in panels)}
        for n, row in enumerate(sorted(rows, key=lambda r: order[r[0]]), start=1):
            found.append(Find(f"{letter}{n}", day, *row))
    return tuple(found)


FINDS = _finds()
BURN = ("E10", on_shell("140", "3.60"))
"""The burn found on day 9: wall number and place."""
AGAIN = ("E11", on_flare("N4", "05:10", "190"))
"""What the first retest of the N4 flare raised."""

_FLAT = {"form": "thickness_range", "min": "5.0 mm", "max": "7.5 mm", "classes": ["flat"], "statistic": "each_spot"}
_EDGE = {"form": "thickness_range", "min": "3.5 mm", "classes": ["edge"], "statistic": "each_spot"}
CLAUSES = (
    Clause("5.1", "5.1", "thickness", "Sheet: every spot is 5.0 to 7.5 mm.", _FLAT, ("TH", "BH", "SH")),
    Clause("5.2", "5.2", "thickness", "Flares: every spot is 3.5 mm or more.", _EDGE, NECKS),
    Clause("6.1", "6.1", "coverage", "All of the lining is tested after the cure.", {"form": "coverage", "share": "100 %"}),
    Clause("6.2", "6.2", "closure", "Every holiday found after the cure is repaired and retested; none is left open.",
           {"form": "limits", "limits": [{"form": "none_open"}], "follows": "repair and retest"}),
    Clause("8.1", "8.1", "checks", "The tester is checked as found by spark length at start, midday and end, within 10 %.",
           {"form": "check_interval", "longest": "5 h", "tolerance": "10 %"}),
    Clause("8.2", "8.2", "cure", "Lining and cold-bonded patches wait by the compound maker's table before they are tested.",
           {"form": "cure", "by": "compound maker's table"}),
    Clause("9.1", "9.1", "holds", "Work holds before test, before repair and after retest until the owner's QA releases it.",
           {"form": "holds", "points": ["before test", "before repair", "after retest"]}),
    Clause("2.4", "2.4", "roles", "The engineer decides and concedes; the owner's QA releases.",
           {"form": "roles", "decides": ["engineer"], "releases": ["QA for the owner"], "concedes": ["engineer"]}),
)  # fmt: skip
TABLE = (("flat", 6100, 350, 5200, 7000, 30), ("edge", 4600, 500, 3700, 5500, 18))
"""Class, mean, standard deviation, least, largest [um, read to 10 um], spots; of the flares the story gives mean and deviation only."""
