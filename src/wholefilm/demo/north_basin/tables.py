"""Figures of the demo job north-basin: who, what was read, what was found. All invented."""

from __future__ import annotations

from ..acts import stamp
from ..cast import Cast, Tester

NAME = "north-basin"
ITEM = "T1"
CONTRACT, REVISION = "NB-07", "rev B"
DAYS = {1: "2025-06-02", 2: "2025-06-03", 3: "2025-06-04", 4: "2025-06-05", 9: "2025-06-10", 15: "2025-06-16", 16: "2025-06-17"}
"""Site days by number; the first test is made on day 1."""

CAST = Cast(
    name=NAME,
    tag="6e62",
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
        "inspector": ("Ada Example", "demo certificate 1, invented"),
        "recorder": ("Ben Example", "none needed"),
        "qa": ("Cleo Example", "demo certificate 3, invented"),
        "engineer": ("Dov Example", "demo licence 4, invented"),
        "adviser": ("Eve Example", "none needed"),
        "foreman": ("Finn Example", "demo certificate 6, invented"),
        "gas_tester": ("Gil Example", "demo certificate 7, invented"),
    },
    holders={"A": "inspector", "B": "inspector", "D": "recorder", "E": "qa", "H": "inspector"},
)
"""A office, B and D tablets, E the owner's tablet, H the laptop of the thickness gauge."""
PEOPLE, ROLES, DEVICES = CAST.people, CAST.roles, CAST.devices
TITLES = {role: words[0] for role, words in ROLES.items()}
"""How a person is named where the book takes a text."""

AREAS = ("F", "S1", "S2", "S3", "S4", "R", "C")
FLOOR, ROOF = tuple(f"F-{k}" for k in range(1, 5)), tuple(f"R-{k}" for k in range(1, 5))
COURSES = {c: tuple(f"S{c}-{k}" for k in range(1, 7)) for c in range(1, 5)}
ON_INSTRUCTION = (*FLOOR, *COURSES[1], *COURSES[2], *COURSES[3], *COURSES[4], *ROOF)
"""All panels but the column's."""
SECOND_EXPOSURE = (*COURSES[3], *COURSES[4])

TESTER, BRUSH, LEAD, SETTING, TOLERANCE = "HV-01", "brush 0.30 m", "L-1", "3.00 kV", "5 %"
HV_01 = Tester(
    TESTER,
    BRUSH,
    LEAD,
    SETTING,
    "final",
    "reference voltmeter VM-01 at the electrode",
    TOLERANCE,
    "demo figure, invented; contract NB-07 8.1",
)
CHECKS = (
    (1, "07:30", "3.02 kV", "before"), (1, "12:10", "2.98 kV", "mid"), (1, "16:50", "2.99 kV", "after"),
    (2, "07:30", "3.01 kV", "before"), (2, "12:05", "2.97 kV", "mid"), (2, "16:55", "2.46 kV", "after"), (2, "17:10", "3.01 kV", "change"),
    (3, "07:25", "3.00 kV", "before"), (3, "11:55", "3.00 kV", "after"),
    (9, "07:30", "3.01 kV", "before"), (9, "11:50", "2.99 kV", "after"),
    (15, "07:30", "3.00 kV", "before"), (15, "10:00", "2.98 kV", "after"),
)  # fmt: skip
"""Day, time, reading, occasion. The one of occasion ``change`` is as left, all others are as found."""

CLIMATE = (
    (1, "07:20", "15.0", "68", "14.6"), (1, "12:20", "18.0", "60", "15.4"),
    (2, "07:20", "14.5", "72", "14.4"), (2, "12:15", "19.0", "58", "15.9"),
    (3, "07:15", "15.5", "66", "14.9"), (4, "08:00", "15.0", "64", "14.8"),
    (9, "07:20", "16.0", "62", "15.0"), (9, "12:40", "18.5", "57", "15.6"), (15, "07:20", "16.5", "65", "15.3"),
)  # fmt: skip
"""Day, time, air [degC], relative humidity [%], surface [degC]."""
TYPED_WRONG = {(2, "12:15"): "19.5"}
"""Surface as first typed; corrected the same evening."""

SWEEPS = (
    (1, FLOOR, "07:45", 55, 60), (1, COURSES[1], "12:50", 25, 30), (1, ("C",), "15:55", 25, 30),
    (2, ROOF, "07:45", 25, 30), (2, COURSES[2], "09:50", 15, 20), (2, COURSES[3], "12:50", 15, 20), (2, COURSES[4], "14:50", 15, 20),
    (3, COURSES[3], "07:40", 15, 20), (3, COURSES[4], "09:40", 15, 20),
)  # fmt: skip
"""Day, panels in order, start of the first, minutes of each test, minutes from start to start."""
ON_SLATE = {"F-4": 20}
"""Panels written on a slate in the tank, and the minutes after which the recorder entered them."""

MARKS = {1: 18, 2: 43, 3: 45, 4: 3, 9: 3, 15: 3}
"""Marks counted on the wall at the end of each site day."""

LAST_COAT = stamp("2025-05-21", "16:00")
CURE_TABLE = (
    ("10", "spark test", "10 degC", "10 d"),
    ("15", "spark test", "15 degC", "7 d"),
    ("R10", "retest of a repair", "10 degC", "96 h"),
    ("R15", "retest of a repair", "15 degC", "72 h"),
)
