"""Figures of the demo job penstock: who, with what, when. All invented."""

from __future__ import annotations

from ..cast import Cast, Tester
from ..frame import Clause, Frame

CANS = tuple(f"P-{n:02d}" for n in range(1, 13))
CAST = Cast(
    name="penstock",
    tag="7073",
    offset="+02:00",
    zone="Europe/Berlin",
    roles={
        "inspector": ("QC inspector", "operator"),
        "recorder": ("recorder",),
        "qa": ("QA for the owner",),
        "engineer": ("engineer",),
        "adviser": ("coating maker's adviser",),
        "foreman": ("applicator's foreman",),
        "supervisor": ("entry supervisor",),
    },
    cards={
        "inspector": ("Hana Example", "demo certificate 8, invented"),
        "recorder": ("Ivo Example", "none needed"),
        "qa": ("Jana Example", "demo certificate 10, invented"),
        "engineer": ("Karl Example", "demo licence 11, invented"),
        "adviser": ("Lena Example", "none needed"),
        "foreman": ("Milo Example", "demo certificate 13, invented"),
        "supervisor": ("Nora Example", "demo certificate 14, invented"),
    },
    holders={"A": "inspector", "B": "inspector", "D": "recorder", "E": "qa", "H": "inspector"},
)
DAYS = {
    1: "2025-10-06", 2: "2025-10-07", 3: "2025-10-08", 4: "2025-10-09", 5: "2025-10-10", 10: "2025-10-15", 16: "2025-10-21",
    17: "2025-10-22",
}  # fmt: skip
FRAME = Frame(CAST, DAYS, "PS-12", "rev 2", "final", CANS)

LV_01 = Tester(
    "LV-01", "sponge 0.30 m", "L-3", "80 kohm", "final", "resistor box RB-01 between sponge and bare bevel", "10 %",
    "demo figure, invented; contract PS-12 8.1", {"verified_with": "RB-01"},
)  # fmt: skip
LIQUID, DOSE = "water with wetting agent", "5 ml/l"
CHECKS = (
    (1, "07:30", "81 kohm", "before"), (1, "16:30", "80 kohm", "after"),
    (2, "07:30", "79 kohm", "before"), (2, "16:30", "82 kohm", "after"),
    (3, "07:30", "80 kohm", "before"), (3, "16:30", "41 kohm", "after"), (3, "17:40", "80 kohm", "change"),
    (4, "07:30", "80 kohm", "before"), (4, "16:30", "81 kohm", "after"),
    (10, "07:30", "80 kohm", "before"), (10, "15:30", "79 kohm", "after"),
    (16, "07:30", "81 kohm", "before"), (16, "10:00", "80 kohm", "after"),
)  # fmt: skip
"""Day, time, resistance at which it still alarmed, occasion. ``change`` is as left."""
SWEPT = {1: CANS[:4], 2: CANS[4:8], 3: CANS[8:], 4: CANS[8:]}
"""Cans by day; those of day 3 again on day 4."""
FIRST, STEP_MIN, MINUTES = "08:00", 110, 90

COUNTS = {
    "P-01": (1, 0, 1, 0), "P-02": (2, 1, 1, 0), "P-03": (1, 1, 1, 0), "P-04": (0, 0, 0, 0), "P-05": (3, 6, 1, 1), "P-06": (2, 1, 1, 1),
    "P-07": (0, 0, 1, 0), "P-08": (4, 1, 1, 1), "P-09": (1, 1, 1, 0), "P-10": (5, 5, 2, 1), "P-11": (1, 0, 1, 0), "P-12": (2, 1, 1, 1),
}  # fmt: skip
"""Holidays of each can: at the end, at the weld, scattered, on peaks of the profile."""
TABLE = (("flat", 285, 38, 205, 392, 96), ("weld", 240, 40, 150, 330, 48), ("edge", 205, 35, 110, 280, 48))
"""Class, mean, standard deviation, least, largest [um], spots."""

CLAUSES = (
    Clause(
        "6.1", "6.1", "thickness", "Every spot of body, weld and ends is 200 to 375 um.",
        {"form": "thickness_range", "min": "200 um", "max": "375 um", "classes": ["flat", "weld", "edge"], "statistic": "each_spot"},
    ),
    Clause("7.1", "7.1", "coverage", "All of the inside is holiday tested at the final stage.", {"form": "coverage", "share": "100 %"}),
    Clause(
        "7.2", "7.2", "closure", "Every holiday is repaired and retested; none is left open.",
        {"form": "limits", "limits": [{"form": "none_open"}], "follows": "repair and retest"},
    ),
    Clause(
        "7.4", "7.4", "repairs", "A patch that fails its retest twice is taken off to the steel with its strip.",
        {"form": "limits", "limits": [{"form": "failed_retests", "at_most": 1}], "follows": "the strip is taken off to the steel"},
    ),
    Clause(
        "8.1", "8.1", "checks", "The tester is checked as found at the start and at the end of each shift, within 10 %.",
        {"form": "check_interval", "tolerance": "10 %"},
    ),
    Clause("8.2", "8.2", "cure", "Film and repairs cure by the coating maker's table before they are tested.",
           {"form": "cure", "by": "coating maker's table"}),
    Clause("9.1", "9.1", "holds", "Work holds before test, before repair and after retest until the owner's QA releases it.",
           {"form": "holds", "points": ["before test", "before repair", "after retest"]}),
    Clause("2.3", "2.3", "roles", "The engineer decides and concedes; the owner's QA releases.",
           {"form": "roles", "decides": ["engineer"], "releases": ["QA for the owner"], "concedes": ["engineer"]}),
)  # fmt: skip
