"""Upright faces round a closed line in plan: a kerb, the walls of a sump, the sides of a plinth, unrolled to one strip."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ..base.errors import BadInput
from . import fields
from .cylinder import Cylinder
from .parts import OFF_SURFACE_M, ROUNDED_M, Box, Point, metres

_BESIDE_M = 0.05  # a place typed by x and y may lie this far beside its wall


@dataclass(frozen=True)
class Wall(Cylinder):
    """Faces from `start` to `start + height`; u runs along `corners` from the first, clockwise seen from above, and closes.

    Attributes
    ----------
    radius : float
        Length of the line over 2 pi, so that the grid runs over 360 deg. [m]
    corners : tuple of (float, float)
        In plan. [m]
    start : float
        Lower edge. [m]
    inside : bool
        Whether the faces look inward (a kerb, a sump) or outward (a plinth).
    """

    corners: tuple[Point, ...] = ()
    start: float = 0.0
    inside: bool = True

    @property
    def whole(self) -> Box:
        """All faces."""
        return Box(0.0, 360.0, self.start, self.start + self.height)

    @property
    def turn_key(self) -> str:
        """Field that bounds a panel along the line."""
        return "arc"

    @property
    def turn_unit(self) -> float:
        """Length of one degree of the grid. [m]"""
        return math.radians(self.radius)

    @property
    def map_kind(self) -> str:
        """Drawn with lengths along, not angles."""
        return "wall"

    @property
    def seen(self) -> str:
        """How its map is seen."""
        return f"unrolled from its first corner, {'seen from inside' if self.inside else 'from outside it is seen reversed'}"

    def hole(self, u: float, v: float, radius: float) -> float:
        """Area of a round hole in a flat face. [m2]"""
        return math.pi * radius * radius

    def to_xyz(self, u: float, v: float) -> tuple[float, float, float]:
        """Point in space of way along and height. [m]"""
        left = u % self.period_m if u > self.period_m else u
        for a, b in pairwise((*self.corners, self.corners[0])):
            side = math.dist(a, b)
            if left <= side:
                return a[0] + (b[0] - a[0]) * left / side, a[1] + (b[1] - a[1]) * left / side, v
            left -= side
        return *self.corners[0], v

    def _along(self, x: float, y: float) -> tuple[float, float]:
        """Way along of the nearest point of the line, and how far that is. [m]"""
        best, run = (0.0, math.inf), 0.0
        for a, b in pairwise((*self.corners, self.corners[0])):
            side = math.dist(a, b)
            on = min(max(((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / side, 0.0), side)
            far = math.hypot(a[0] + (b[0] - a[0]) * on / side - x, a[1] + (b[1] - a[1]) * on / side - y)
            if far < best[1] - 1e-12:
                best = run + on, far
            run += side
        return best[0] % self.period_m, best[1]

    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """Way along and height of a point in space. [m]"""
        u, far = self._along(x, y)
        low, high = self.whole.q, self.whole.q_end
        if far > OFF_SURFACE_M or not low - OFF_SURFACE_M <= z <= high + OFF_SURFACE_M:
            raise BadInput("xyz", (x, y, z), f"a point within 1 mm of the {self.name}")
        return u, min(max(z, low), high)

    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of `arc`, or of `x` and `y` in plan, and `z`. [m]"""
        if "arc" in place:
            u = self.read_arc(place, field)
        else:
            x, y = fields.length(place, "x", field), fields.length(place, "y", field)
            u, far = self._along(x, y)
            if far > _BESIDE_M:
                raise BadInput(f"{field}.x", f"{place['x']}, {place['y']}", f"within {_BESIDE_M * 1000:.0f} mm of the {self.name} in plan")
        z, low, high = fields.length(place, "z", field), self.whole.q, self.whole.q_end
        if not low - ROUNDED_M <= z <= high + ROUNDED_M:
            raise BadInput(f"{field}.z", place["z"], f"{low:.2f} m to {high:.2f} m on the {self.name}")
        return u, min(max(z, low), high)

    def say(self, u: float, v: float) -> str:
        """``sump, arc 1.20 m, -0.50 m``."""
        return f"{self.name}, arc {metres(u)} m, {metres(v)} m"


def wall(name: str, corners: tuple[Point, ...], start: float, height: float, inside: bool = True) -> Wall:
    """Faces along a closed line of corners. [m]"""
    length = math.fsum(math.dist(a, b) for a, b in pairwise((*corners, corners[0])))
    return Wall(name, length / (2 * math.pi), height, corners=corners, start=start, inside=inside)


def rectangle(x: float, y: float, width: float, depth: float) -> tuple[Point, ...]:
    """Corners of a rectangle in plan, from its south-west corner clockwise seen from above. [m]"""
    return (x, y), (x, y + depth), (x + width, y + depth), (x + width, y)
