"""What contract NB-07 rev B asks for, in own words. Invented."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .tables import AREAS


@dataclass(frozen=True)
class Clause:
    """A clause: label, number, topic, own words, rule, test areas."""

    label: str
    number: str
    topic: str
    says: str
    rule: dict[str, Any]
    areas: tuple[str, ...] = AREAS


def _spots(share: str, area: str, follows: str) -> dict[str, Any]:
    limits = [{"form": "share", "below": share}, {"form": "per_area", "at_most": 1, "per": area}]
    return {"form": "limits", "limits": limits, "follows": follows}


CLAUSES = (
    Clause(
        "6.2", "6.2", "thickness", "Every spot on flats and welds is 600 to 1000 um; edges may be thinner by written answer.",
        {"form": "thickness_range", "min": "600 um", "max": "1000 um", "classes": ["flat", "weld"], "statistic": "each_spot"},
    ),
    Clause("7.1", "7.1", "coverage", "All of the lined surface is holiday tested at the final stage.",
           {"form": "coverage", "share": "100 %"}),
    Clause(
        "7.2", "7.2", "closure", "Every holiday is repaired and retested; none is left open.",
        {"form": "limits", "limits": [{"form": "none_open"}], "follows": "repair and retest"},
    ),
    Clause(
        "7.3 floor", "7.3", "spots",
        "Floor: repaired spots under 1 % of the area and not over 1 spot in 200 m2, or the whole floor is done again.",
        _spots("1 %", "200 m2", "whole floor coating removed and redone"), ("F",),
    ),
    Clause(
        "7.3 roof", "7.3", "spots",
        "Roof: repaired spots under 5 % of the area and not over 1 spot in 100 m2, or the whole roof is done again.",
        _spots("5 %", "100 m2", "whole roof coating removed and redone"), ("R",),
    ),
    Clause(
        "8.1", "8.1", "checks", "The tester is checked as found at the start, at most 5 h apart and at the end, within 5 % of the setting.",
        {"form": "check_interval", "longest": "5 h", "tolerance": "5 %"},
    ),
    Clause(
        "8.2", "8.2", "cure", "Film and repairs cure by the coating maker's table before they are tested.",
        {"form": "cure", "by": "coating maker's table"},
    ),
    Clause(
        "9.1", "9.1", "holds", "Work holds before test, before repair and after retest until the owner's QA releases it.",
        {"form": "holds", "points": ["before test", "before repair", "after retest"]},
    ),
)  # fmt: skip
STAGE = "final"
