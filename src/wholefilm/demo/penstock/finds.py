"""What the tester spoke on in the demo job penstock: 58 indications, 56 holidays, 2 false. Places by fixed rules. Invented."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..cast import Typed
from .tables import CANS, COUNTS

WELD_AT = 45.0
P_05_WELD = (310, 640, 980, 1260, 1700, 2120)
"""Along the seam of P-05; the one at 1260 mm comes again at the first retest. [mm]"""
LATER = {("P-10", "end", 1), ("P-10", "end", 3), ("P-10", "weld", 0), ("P-10", "weld", 2)}
"""Found only by the second sweep."""
CLASS = {"end": "edge", "weld": "weld", "scattered": "flat", "peak": "flat"}


@dataclass(frozen=True)
class Find:
    """An indication: wall number, day, can, pattern, place along [mm] and from the crown [deg], false or not."""

    number: str
    day: int
    can: str
    pattern: str
    nth: int
    along: int
    angle: float
    false: bool = False

    @property
    def place(self) -> Typed:
        """As the book takes it."""
        return spot(self.can, self.along, self.angle)


def spot(can: str, along: float, angle: float) -> Typed:
    """A place on a can. [mm from the upstream end, deg from the crown]"""
    return {"item": "PEN", "on": can, "along": f"{along:g} mm", "at": f"{angle:g} deg"}


def first_angle(can: str) -> int:
    """Where the holidays at the end of a can begin. [deg]"""
    return 60 + 37 * int(can[2:]) % 200


def _of_can(can: str) -> Iterator[tuple[str, int, int, float]]:
    """Pattern, number in it, place along and angle of each holiday of a can."""
    end, weld, scattered, peak = COUNTS[can]
    n = int(can[2:])
    for k in range(end):
        yield "end", k, 18 + 4 * k, first_angle(can) + 9.0 * k
    for k in range(weld):
        yield "weld", k, P_05_WELD[k] if can == "P-05" else 300 + 20 * n + 330 * k, WELD_AT
    for k in range(scattered):
        yield "scattered", k, 500 + (610 * n + 870 * k) % 1500, 120 + (n * 61.8 + 97 * k) % 200
    for k in range(peak):
        yield "peak", k, 900 + (230 * n) % 900, 20.0


def _finds() -> tuple[Find, ...]:
    order = [(can, *one) for can in CANS for one in sorted(_of_can(can), key=lambda x: x[2])]
    day = {can: 1 + n // 4 for n, can in enumerate(CANS)}
    found: list[Find] = []
    counts = {"B": 0, "D": 0}

    def add(day_: int, can: str, pattern: str, nth: int, along: int, angle: float, false: bool = False) -> None:
        letter = "B" if day_ < 3 else "D"
        counts[letter] += 1
        found.append(Find(f"{letter}{counts[letter]}", day_, can, pattern, nth, along, round(angle, 1), false))

    for can, pattern, nth, along, angle in order:
        if (can, pattern, nth) not in LATER:
            add(day[can], can, pattern, nth, along, angle)
        if can == "P-08" and (pattern, nth) == ("end", 3):
            for k in range(2):
                add(2, can, "bevel", k, 5, 300 + 8.0 * k, false=True)
    for can, pattern, nth, along, angle in order:
        if (can, pattern, nth) in LATER:
            add(4, can, pattern, nth, along, angle)
    return tuple(found)


FINDS = _finds()
REASON = "film wetted across the end to the bare bevel: the current went over the water"
TRIED = "end dried and wiped, swept again with a sponge that was wrung out, silent"
