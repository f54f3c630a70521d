"""What the tester spoke on in the demo job acid-store: 37 indications, 31 holidays, 6 false. Invented."""

from __future__ import annotations

from dataclasses import dataclass

from ..cast import Typed
from .tables import EDGES, JOINT, OUTGASSED, SUMP, WET


@dataclass(frozen=True)
class Find:
    """An indication: wall number, day, panel, pattern, place, class, false or not."""

    number: str
    day: int
    panel: str
    pattern: str
    place: Typed
    surface: str
    false: bool = False


def floor(x: str, y: str, panel: str = "") -> Typed:
    """A place on the floor; `panel` where it lies beside the saw cut. [m]"""
    place: Typed = {"item": "AS", "on": "floor", "x": f"{x} m", "y": f"{y} m"}
    return {**place, "panel": panel} if panel else place


def wall(on: str, x: str, y: str, z: str) -> Typed:
    """A place on the wall of a plinth or of the sump. [m]"""
    return {"item": "AS", "on": on, "x": f"{x} m", "y": f"{y} m", "z": f"{z} m"}


def bay(x: str, y: str) -> str:
    """The bay that holds a place."""
    return "ABCDEF"[int(float(x) // 3)] + str(int(float(y) // 2.75) + 1)


def _finds() -> tuple[Find, ...]:
    found: list[Find] = []
    counts = {"H": 0, "J": 0}

    def add(letter: str, day: int, panel: str, pattern: str, place: Typed, surface: str, false: bool = False) -> None:
        counts[letter] += 1
        found.append(Find(f"{letter}{counts[letter]}", day, panel, pattern, place, surface, false))

    for row in "1234":
        for x, y in sorted(JOINT, key=lambda at: float(at[1])):
            panel = f"D{int(float(y) // 2.75) + 1}"
            if panel == f"D{row}":
                add("H", 1, panel, "joint", floor(x, y, panel), "edge")
        for x, y in OUTGASSED:
            if bay(x, y) == f"D{row}":
                add("H", 1, f"D{row}", "outgassing", floor(x, y), "flat")
    for panel, x, y in EDGES:
        add("H", 1, panel, "plinth edge", wall(panel, x, y, "0.30"), "edge")
    for x, y in sorted(OUTGASSED, key=lambda at: bay(*at)):
        if bay(x, y)[0] == "C":
            add("H", 2, bay(x, y), "outgassing", floor(x, y), "flat")
    for z in SUMP:
        add("J", 3, "SU", "sump corner", wall("SU", "17.40", "1.80", z), "corner")
    for x, y in WET:
        add("J", 3, "SU", "wet wall", wall("SU", x, y, "-0.80"), "flat", false=True)
    return tuple(found)


FINDS = _finds()
REASON = "walls of the sump wet: the current went over the water"
TRIED = "sump wiped and blown dry, swept again, silent"
