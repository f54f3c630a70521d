"""Figures of the demo job acid-store: who, with what, when. All invented."""

from __future__ import annotations

from dataclasses import replace

from ..cast import Cast, Tester
from ..frame import Clause, Frame

BAYS = tuple(f"{column}{row}" for column in "ABCDEF" for row in (1, 2, 3, 4))
A_TO_C = tuple(b for b in BAYS if b[0] in "ABC")
PLINTHS = ("PL1", "PL2", "PL3", "PL4")
FAR = ("E3", "E4", "F3", "F4")
"""Bays of the dead tab T3."""
CAST = Cast(
    name="acid-store",
    tag="6163",
    offset="+02:00",
    zone="Europe/Berlin",
    roles={
        "inspector": ("QC inspector", "operator"),
        "recorder": ("recorder",),
        "qa": ("QA for the owner",),
        "engineer": ("engineer",),
        "adviser": ("coating maker's adviser",),
        "foreman": ("applicator's foreman",),
        "gas_tester": ("gas tester",),
    },
    cards={
        "inspector": ("Xenia Example", "demo certificate 23, invented"),
        "recorder": ("Yann Example", "none needed"),
        "qa": ("Zoe Example", "demo certificate 25, invented"),
        "engineer": ("Arne Example", "demo licence 26, invented"),
        "adviser": ("Bela Example", "none needed"),
        "foreman": ("Cora Example", "demo certificate 28, invented"),
        "gas_tester": ("Dirk Example", "demo certificate 29, invented"),
    },
    holders={"G": "inspector", "H": "inspector", "J": "recorder", "K": "qa", "L": "inspector"},
)
DAYS = {1: "2025-08-04", 2: "2025-08-05", 3: "2025-08-06", 4: "2025-08-07", 8: "2025-08-11", 10: "2025-08-13"}
AREAS = ("floor", "kerb", "SU", "plinths")
FRAME = Frame(CAST, DAYS, "AS-19", "rev 1", "final", AREAS)

HV_02 = Tester(
    "HV-02", "brush 0.30 m", "L-5", "12.0 kV", "final", "reference voltmeter VM-03 at the brush", "5 %",
    "demo figure, invented; contract AS-19 8.1",
)  # fmt: skip
NEW_LEAD = replace(HV_02, lead="L-6")
"""The same tester with the lead that took the place of the open one."""
KNOWN_HOLE = "pass over made holiday G1, the known hole"
MADE_DAY = "2025-08-01"
CHECKS = (
    (MADE_DAY, "08:30", "12.0 kV", "before", ""), (MADE_DAY, "14:00", "11.9 kV", "after", ""),
    (1, "07:30", "12.1 kV", "before", ""), (1, "16:30", "11.9 kV", "after", ""),
    (2, "07:30", "12.0 kV", "before", ""), (2, "16:30", "no alarm", "after", KNOWN_HOLE), (2, "17:30", "12.0 kV", "change", ""),
    (3, "07:30", "12.1 kV", "before", ""), (3, "16:50", "11.9 kV", "after", ""),
    (8, "07:30", "12.0 kV", "before", ""), (8, "13:40", "12.1 kV", "after", ""),
)  # fmt: skip
"""Day, time, reading, occasion, other means than the voltmeter. ``change`` is as left."""
SWEPT = (
    (1, ("D1", "D2", "D3", "D4", "E1", "E2", "F1", "F2"), "08:00", 30), (1, PLINTHS, "13:00", 20),
    (2, A_TO_C, "08:00", 35), (3, A_TO_C, "08:00", 24), (3, FAR, "13:10", 25), (3, ("kerb",), "15:00", 40), (3, ("SU",), "15:50", 30),
)  # fmt: skip
"""Day, panels, start of the first, minutes from one to the next."""
MINUTES = 20
TABS = (
    ("T1", "bare rebar in the SW pit", ("A1", "A2", "B1", "B2", "C1", "C2", "D1", "D2", "PL1", "PL2", "kerb")),
    ("T2", "bare rebar in the NW pit", ("A3", "A4", "B3", "B4", "C3", "C4", "D3", "D4")),
    ("T4", "bare rebar in the SE pit", ("E1", "E2", "F1", "F2", "PL3", "PL4", "SU")),
)
"""Good tabs, to what each was proved, what hangs on it. T3 serves `FAR`."""
MADE = (
    ("G1", "T1", "A1", ("1.20 m", "1.10 m"), "9.5 kV"), ("G2", "T2", "A4", ("1.20 m", "9.90 m"), "10.0 kV"),
    ("G3", "T4", "F2", ("17.20 m", "4.40 m"), "11.5 kV"),
)  # fmt: skip
"""Made holidays: number, ground zone, bay, place, voltage at which each spark came every time."""

OUTGASSED = (
    ("9.78", "3.59"), ("7.77", "7.00"), ("6.99", "7.28"), ("8.68", "2.65"), ("9.26", "2.59"), ("7.39", "8.91"), ("10.38", "3.59"),
    ("9.67", "4.73"), ("7.79", "8.19"), ("9.29", "10.56"), ("7.43", "10.45"), ("8.31", "2.72"), ("10.51", "3.78"), ("10.72", "10.32"),
)  # fmt: skip
JOINT = (
    ("12.01", "2.03"), ("11.99", "2.72"), ("12.02", "3.36"), ("12.00", "3.68"), ("11.98", "4.39"), ("12.03", "4.94"), ("12.00", "5.68"),
    ("11.99", "6.11"), ("12.01", "6.79"),
)  # fmt: skip
EDGES = (("PL1", "1.90", "4.60"), ("PL1", "3.00", "5.10"), ("PL2", "4.90", "4.60"), ("PL3", "14.20", "4.60"), ("PL4", "16.30", "3.20"))
"""Top edges of plinths: plinth, x, y; z is 0.30 m."""
SUMP = ("-0.25", "-0.33", "-0.62")
"""North-east corner of the sump: z. [m]"""
WET = (("16.60", "0.60"), ("16.90", "0.60"), ("17.40", "0.90"), ("17.40", "1.30"), ("16.20", "1.10"), ("16.80", "1.80"))
"""False indications along the wet walls of the sump: x, y; z is -0.80 m."""
TABLE = (
    ("floor", "flat", 3050, 340, 2350, 3920, 60), ("kerb", "flat", 2880, 410, 2100, 3700, 20),
    ("plinths", "edge", 1920, 370, 1200, 2600, 16),
)  # fmt: skip
"""Test area, class, mean, standard deviation, least, largest [um, read to 10 um], spots."""

_RANGE = {"form": "thickness_range", "min": "2.5 mm", "max": "3.8 mm", "classes": ["flat", "edge"], "statistic": "each_spot"}
CLAUSES = (
    Clause("5.1", "5.1", "thickness", "Every spot of bays, kerb and plinth edges is 2.5 to 3.8 mm.", _RANGE, ("floor", "kerb", "plinths")),
    Clause("6.1", "6.1", "coverage", "All of the lining is tested.", {"form": "coverage", "share": "100 %"}),
    Clause("6.2", "6.2", "closure", "Every holiday is repaired and retested; none is left open.",
           {"form": "limits", "limits": [{"form": "none_open"}], "follows": "repair and retest"}),
    Clause("8.1", "8.1", "checks", "The tester is checked as found at the start and at the end of each shift, within 5 %.",
           {"form": "check_interval", "tolerance": "5 %"}),
    Clause("8.2", "8.2", "cure", "Lining and repairs cure by the coating maker's table before they are tested.",
           {"form": "cure", "by": "coating maker's table"}),
    Clause("9.1", "9.1", "holds", "Work holds before test and before repair until the owner's QA releases it.",
           {"form": "holds", "points": ["before test", "before repair"]}),
    Clause("2.1", "2.1", "roles", "The engineer decides and concedes; the owner's QA releases.",
           {"form": "roles", "decides": ["engineer"], "releases": ["QA for the owner"], "concedes": ["engineer"]}),
)  # fmt: skip
