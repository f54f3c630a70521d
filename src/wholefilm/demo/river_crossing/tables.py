"""Figures of the demo job river-crossing: who, with what, when, where the testers spoke. All invented."""

from __future__ import annotations

from dataclasses import dataclass

from ..cast import Cast, Tester, Typed
from ..frame import Clause, Frame

JOINTS = tuple(f"J-{n:03d}" for n in range(1, 49))
SLEEVES, BORED = JOINTS[:40], JOINTS[40:]
CAST = Cast(
    name="river-crossing",
    tag="7263",
    offset="+02:00",
    zone="Europe/Berlin",
    roles={
        "manager": ("QC manager",),
        "inspector": ("QC inspector", "operator"),
        "recorder": ("recorder",),
        "qa": ("QA for the owner",),
        "engineer": ("engineer",),
        "adviser": ("sleeve maker's adviser", "coating maker's adviser"),
        "foreman": ("applicator's foreman",),
        "gas_tester": ("gas tester",),
    },
    cards={
        "manager": ("Oda Example", "demo certificate 15, invented"),
        "inspector": ("Paul Example", "demo certificate 16, invented"),
        "recorder": ("Rosa Example", "none needed"),
        "qa": ("Sven Example", "demo certificate 18, invented"),
        "engineer": ("Tara Example", "demo licence 19, invented"),
        "adviser": ("Udo Example", "none needed"),
        "foreman": ("Vera Example", "demo certificate 21, invented"),
        "gas_tester": ("Wim Example", "demo certificate 22, invented"),
    },
    holders={"A": "manager", "B": "inspector", "D": "recorder", "E": "qa", "H": "inspector"},
)
DAYS = {1: "2025-07-07", 2: "2025-07-08", 3: "2025-07-09", 4: "2025-07-10", 5: "2025-07-11", 6: "2025-07-12"}
AREAS = ("SL", "BJ")
FRAME = Frame(CAST, DAYS, "RC-31", "rev C", "final", AREAS)

_SOURCE = "demo figure, invented; contract RC-31 8.1"
P_1 = Tester("P-1", "full ring", "L-7", "20.0 kV", "final", "crest voltmeter CV-1 at the ring", "5 %", _SOURCE, {"verified_with": "CV-1"})
P_2 = Tester("P-2", "brush 0.20 m", "L-8", "4.0 kV", "final", "reference voltmeter VM-2 at the brush", "5 %", _SOURCE,
             {"verified_with": "VM-2"})  # fmt: skip
CHECKS = (
    (P_1, 1, "07:30", "20.1 kV", "before"), (P_1, 1, "12:10", "20.0 kV", "mid"), (P_1, 1, "16:10", "19.9 kV", "after"),
    (P_1, 2, "07:30", "20.1 kV", "before"), (P_1, 2, "12:10", "20.0 kV", "mid"), (P_1, 2, "16:30", "17.9 kV", "after"),
    (P_1, 2, "17:00", "20.0 kV", "change"),
    (P_1, 3, "07:30", "20.0 kV", "before"), (P_1, 3, "13:30", "19.9 kV", "after"),
    (P_2, 3, "13:40", "4.02 kV", "before"), (P_2, 3, "16:30", "3.98 kV", "after"),
    (P_1, 5, "07:30", "20.0 kV", "before"), (P_1, 5, "11:40", "20.1 kV", "after"),
    (P_2, 5, "07:35", "4.01 kV", "before"), (P_2, 5, "11:45", "3.99 kV", "after"),
    (P_1, 6, "07:30", "20.1 kV", "before"), (P_1, 6, "10:00", "20.0 kV", "after"),
)  # fmt: skip
"""Tester, day, time, reading, occasion. ``change`` is as left."""
SWEPT = (
    (1, JOINTS[:6], "08:00", 20), (1, JOINTS[6:12], "13:00", 25), (2, JOINTS[12:18], "08:00", 25), (2, JOINTS[18:30], "12:40", 18),
    (3, JOINTS[18:30], "08:00", 12), (3, JOINTS[30:40], "10:40", 15), (3, BORED, "13:50", 18),
)  # fmt: skip
"""Day, joints, start of the first, minutes from one to the next; each takes ten."""
MINUTES = 10


@dataclass(frozen=True)
class Find:
    """An indication: wall number, day, joint, clock, mm from the weld's centre (+ downstream), pattern, false or not."""

    number: str
    day: int
    joint: str
    clock: str
    along: int
    pattern: str
    false: bool = False

    @property
    def place(self) -> Typed:
        """As the book takes it."""
        return spot(self.joint, self.along, self.clock)


def spot(joint: str, along: int, clock: str) -> Typed:
    """A place on a joint."""
    return {"item": "RX", "on": joint, "along": f"{along} mm", "clock": clock}


FINDS = (
    Find("B1", 1, "J-004", "06:00", -40, "bottom"), Find("B2", 1, "J-009", "05:50", 120, "bottom"),
    Find("B3", 1, "J-009", "07:30", -60, "wet sand", false=True), Find("B4", 1, "J-012", "06:10", 5, "bottom"),
    Find("B5", 1, "J-012", "01:00", -180, "closure"), Find("B6", 2, "J-015", "06:00", 10, "bottom"),
    Find("B7", 2, "J-019", "06:00", -150, "bottom"), Find("B8", 2, "J-019", "05:40", -60, "bottom"),
    Find("B9", 2, "J-019", "06:20", 30, "bottom"), Find("B10", 2, "J-019", "01:00", 170, "closure"),
    Find("B11", 2, "J-022", "11:30", 0, "seam"), Find("D1", 3, "J-027", "06:00", 60, "bottom"),
    Find("D2", 3, "J-031", "06:20", -20, "bottom"), Find("D3", 3, "J-031", "01:10", 175, "closure"),
    Find("D4", 3, "J-033", "03:00", 0, "cable", false=True), Find("D5", 3, "J-036", "09:00", 0, "sling"),
    Find("D6", 3, "J-040", "11:40", 0, "seam"), Find("D7", 3, "J-040", "01:00", 160, "closure"),
    Find("D8", 3, "J-044", "11:30", 0, "seam"),
)  # fmt: skip
"""The load table of the story in the order in which the joints were swept."""
CLASS = {"bottom": "flat", "closure": "edge", "seam": "weld", "sling": "flat"}
TABLE = ((SLEEVES, 10, 3020, 160, 2600, 3400, 80), (BORED, 1, 905, 88, 710, 1090, 16))
"""Joints, step of the readings [um], mean, standard deviation, least, largest [um], spots."""

CLAUSES = (
    Clause("6.1", "6.1", "thickness", "Sleeves: every spot is 2.6 to 3.4 mm.",
           {"form": "thickness_range", "min": "2.6 mm", "max": "3.4 mm", "classes": ["flat"], "statistic": "each_spot"}, ("SL",)),
    Clause("6.2", "6.2", "thickness", "Bored joints: every spot is 700 to 1100 um.",
           {"form": "thickness_range", "min": "700 um", "max": "1100 um", "classes": ["flat"], "statistic": "each_spot"}, ("BJ",)),
    Clause("7.1", "7.1", "coverage", "Every joint is tested all round.", {"form": "coverage", "share": "100 %"}),
    Clause("7.2", "7.2", "closure", "Every holiday is repaired and retested; none is left open.",
           {"form": "limits", "limits": [{"form": "none_open"}], "follows": "repair and retest"}),
    Clause("7.3", "7.3", "joints", "A joint with more than two holidays is stripped and made anew; the new one is tested like any other.",
           {"form": "limits", "follows": "sleeve stripped and replaced", "limits": [
               {"form": "per_piece", "at_most": 2, "piece": "joint", "redone_by": "new sleeve", "counts": "as_it_stands"},
           ]}),
    Clause("7.4", "7.4", "joints", "A patch that fails its retest twice means the same.",
           {"form": "limits", "follows": "sleeve stripped and replaced", "limits": [
               {"form": "failed_retests", "at_most": 1, "redone_by": "new sleeve"},
           ]}),
    Clause("8.1", "8.1", "checks", "Each tester is checked as found at the start and at the end of each shift, within 5 %.",
           {"form": "check_interval", "tolerance": "5 %"}),
    Clause("8.2", "8.2", "cure", "Sleeves, joints and patches wait by the maker's table before they are tested.",
           {"form": "cure", "by": "maker's table"}),
    Clause("9.1", "9.1", "holds", "Work holds before test, before repair and after retest until the owner's QA releases it.",
           {"form": "holds", "points": ["before test", "before repair", "after retest"]}),
    Clause("2.2", "2.2", "roles", "The engineer decides and concedes; the owner's QA releases.",
           {"form": "roles", "decides": ["engineer"], "releases": ["QA for the owner"], "concedes": ["engineer"]}),
)  # fmt: skip
