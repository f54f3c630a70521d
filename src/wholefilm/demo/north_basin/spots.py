"""Thickness readings of the demo job north-basin: 290 spots in one file, made to the table below. Invented."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..spread import mixed, sample
from .tables import NAME

TABLE = (
    ("F", "flat", 862, 88, 655, 1080, 45), ("S1", "flat", 812, 92, 610, 1045, 30), ("S2", "flat", 805, 98, 585, 1030, 30),
    ("S3", "flat", 838, 105, 600, 1110, 30), ("S4", "flat", 776, 101, 560, 1005, 30), ("R", "flat", 758, 109, 520, 1015, 45),
    ("", "weld", 718, 121, 455, 985, 40), ("", "edge", 561, 108, 330, 780, 30), ("C", "flat", 790, 70, 640, 930, 10),
)  # fmt: skip
"""Test area (empty: several), class, mean, standard deviation, least, largest [um], spots; each the mean of three readings."""
HEADER = "spot,test_area,class,on,first,second,dft_um"
COLUMNS = {"test_area": "test_area", "class": "class", "on": "on", "first": "first", "second": "second", "value": "dft_um"}
UNITS = {"first": "m", "second": "m", "value": "um"}

_RADIUS, _COURSE = 6.0, 2.25
_GOLDEN = (math.sqrt(5) - 1) / 2
_ROUND = 2 * math.pi * _RADIUS
_FIRST_SEAM = {1: 15, 2: 345, 3: 10, 4: 340}
_OPENINGS = ((0, 0.60), (184, 0.60), (30, 0.60), (240, 1.20), (120, 8.40), (300, 0.25))
_RIMS = (("S1", 0, 0.60, 0.30, 8), ("S1", 184, 0.60, 0.30, 12), ("S1", 240, 1.20, 0.21, 6))
"""Test area, angle [deg], height, radius [m], spots: rims of M1 and M2, pad of N2; four more at the column's foot."""

Where = tuple[str, str, float, float]


def _arc(degrees: float) -> float:
    return math.radians(degrees) * _RADIUS


def _apart(a: float, b: float) -> float:
    return abs((a - b + _ROUND / 2) % _ROUND - _ROUND / 2)


def _shell(course: int, count: int) -> Iterator[Where]:
    """Places spread over a course, clear of openings and vertical seams."""
    seams = [_arc(_FIRST_SEAM[course] + 60 * k) for k in range(6)]
    given, n = 0, 0
    while given < count:
        n += 1
        arc, z = (n * _GOLDEN + 0.1 * course) % 1 * _ROUND, _COURSE * (course - 1) + 0.15 + (n * 0.7549 % 1) * (_COURSE - 0.30)
        near = any(math.hypot(_apart(arc, _arc(at)), z - height) < 0.5 for at, height in _OPENINGS)
        if not near and all(_apart(arc, seam) > 0.15 for seam in seams):
            given += 1
            yield f"S{course}", "shell", arc, z


def _disc(area: str, part: str, count: int) -> Iterator[Where]:
    """Places spread over a disc in plan, clear of the column and the corner."""
    for n in range(count):
        r, turn = 0.5 + 5.3 * math.sqrt((n + 0.5) / count), 2 * math.pi * _GOLDEN * n
        yield area, part, r * math.sin(turn), r * math.cos(turn)


def _column(count: int) -> Iterator[Where]:
    for n in range(count):
        yield "C", "column C", (n * _GOLDEN % 1) * math.pi * 0.3, 0.4 + 0.9 * n


def _welds(count: int) -> Iterator[Where]:
    for n in range(count):
        course, k = n % 4 + 1, n // 4
        yield f"S{course}", "shell", _arc(_FIRST_SEAM[course] + 60 * k) % _ROUND, _COURSE * (course - 1) + 0.2 + (k * _GOLDEN % 1) * 1.85


def _edges(count: int) -> Iterator[Where]:
    foot = count - sum(rim[-1] for rim in _RIMS)
    for area, at, height, radius, spots in _RIMS:
        for n in range(spots):
            clock = 2 * math.pi * n / spots
            yield area, "shell", (_arc(at) + radius * math.sin(clock)) % _ROUND, height + radius * math.cos(clock)
    for n in range(foot):
        clock = 2 * math.pi * (n + 0.5) / foot
        yield "F", "floor", 0.16 * math.sin(clock), 0.16 * math.cos(clock)


def _places(area: str, surface: str, count: int) -> Iterator[Where]:
    if surface == "weld":
        return _welds(count)
    if surface == "edge":
        return _edges(count)
    if area == "C":
        return _column(count)
    return _shell(int(area[1]), count) if area[0] == "S" else _disc(area, "floor" if area == "F" else "roof", count)


def readings_csv() -> bytes:
    """The file of readings: one row a spot, places in map coordinates of the part [m], film [um]."""
    rows = [HEADER]
    for area, surface, mean, sd, low, high, count in TABLE:
        values = mixed(sample(mean, sd, low, high, count), f"{NAME}/{area}/{surface}")
        for (test_area, part, first, second), value in zip(_places(area, surface, count), values, strict=True):
            rows.append(f"{len(rows)},{test_area},{surface},{part},{first:.3f},{second:.3f},{value}")
    return ("\n".join(rows) + "\n").encode()
