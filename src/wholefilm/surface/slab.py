"""Floor with straight edges and cut-outs: its map is the plan, x east and y north. Grid and map are one."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import msgspec

from ..base.errors import BadInput
from . import fields
from .flat import area, common, flat
from .parts import OFF_SURFACE_M, ROUNDED_M, TOUCH_M, Box, Part, Point, Ring, metres


class Step(msgspec.Struct, frozen=True):
    """A rectangle in plan that lies higher or lower: the top of a plinth, the bottom of a sump. [m]"""

    x: float
    y: float
    x_end: float
    y_end: float
    z: float


@dataclass(frozen=True)
class Slab(Part):
    """Level floor inside a line of corners, less its cut-outs.

    Attributes
    ----------
    corners : tuple of (float, float)
        In plan. [m]
    cut_outs : tuple of tuple of (float, float)
        Lines of corners of what does not belong to the floor. [m]
    steps : tuple of Step
        Their upright sides are parts of their own.
    """

    corners: tuple[Point, ...]
    cut_outs: tuple[tuple[Point, ...], ...] = ()
    steps: tuple[Step, ...] = ()

    @property
    def map_kind(self) -> str:
        """Drawn in plan, with x and y."""
        return "plan"

    @property
    def span_key(self) -> str:
        """Field that bounds a panel in its second direction."""
        return "y"

    @property
    def turn_key(self) -> str:
        """Field that bounds a panel in its first direction."""
        return "x"

    @property
    def whole(self) -> Box:
        """The rectangle round the floor."""
        u0, v0, u1, v1 = flat(list(self.corners)).box
        return Box(u0, u1 - u0, v0, v1)

    def to_xyz(self, u: float, v: float) -> tuple[float, float, float]:
        """Point in space of x and y. [m]"""
        return u, v, next((s.z for s in self.steps if s.x <= u <= s.x_end and s.y <= v <= s.y_end), 0.0)

    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """X and y of a point in space. [m]"""
        if abs(z - self.to_xyz(x, y)[2]) > OFF_SURFACE_M or not self._holds(x, y, OFF_SURFACE_M):
            raise BadInput("xyz", (x, y, z), f"a point within 1 mm of the {self.name}")
        return x, y

    def _holds(self, x: float, y: float, slack: float) -> bool:
        if _edge_far(self.corners, x, y) <= slack:
            return True
        if not _in_ring(self.corners, x, y):
            return False
        return not any(_in_ring(ring, x, y) and _edge_far(ring, x, y) > slack for ring in self.cut_outs)

    def grid(self, u: float, v: float) -> Point:
        """The same. [m]"""
        return u, v

    def from_grid(self, p: float, q: float) -> Point:
        """The same. [m]"""
        return p, q

    def offset(self, a: Point, b: Point) -> Point:
        """Steps along x and y in plan. [m]"""
        return b[0] - a[0], b[1] - a[1]

    def carry(self, centre: Point, steps: Sequence[Point]) -> Ring:
        """Points reached by steps along x and y. [m]"""
        return [(centre[0] + right, centre[1] + up) for right, up in steps]

    def box_area(self, box: Box) -> float:
        """Area of the floor inside a rectangle. [m2]"""
        edge = _rectangle(box)
        return area(common(list(self.corners), edge)) - math.fsum(area(common(list(ring), edge)) for ring in self.cut_outs)

    def box_rings(self, box: Box) -> list[Ring]:
        """The floor inside a rectangle: one ring if it is convex and whole, else trapezia. [m]"""
        edge = _rectangle(box)
        inner = common(list(self.corners), edge)
        holes = [hole for hole in (common(list(ring), edge) for ring in self.cut_outs) if len(hole) > 2 and area(hole) > 0]
        if len(inner) < 3 or area(inner) <= 0:
            return []
        if not holes and flat(list(self.corners)).convex:
            return [inner]
        return _trapezia([inner, *holes])

    def radius_at(self, q: float) -> float:
        """Metres for one step of the grid. [m]"""
        return 1.0

    def box_has(self, box: Box, u: float, v: float) -> bool:
        """Whether a point lies in a rectangle, its edges included."""
        return box.p - TOUCH_M <= u <= box.p + box.span + TOUCH_M and box.q - TOUCH_M <= v <= box.q_end + TOUCH_M

    def overlap(self, one: Box, other: Box) -> bool:
        """Whether two rectangles have an area in common."""
        across = min(one.p + one.span, other.p + other.span) - max(one.p, other.p)
        return across > TOUCH_M and min(one.q_end, other.q_end) - max(one.q, other.q) > TOUCH_M

    def settle(self, u: float, v: float, field: str, typed: object) -> Point:
        """Bring a reached point onto the floor, or BadInput."""
        if not self._holds(u, v, TOUCH_M):
            raise BadInput(field, typed, f"a place on the {self.name}")
        return u, v

    def surely_holds(self, ring: Ring) -> bool:
        """Whether a ring lies on the floor for certain; told for a rectangle only."""
        b = self.whole
        whole = not self.cut_outs and abs(area(list(self.corners)) - b.span * (b.q_end - b.q)) < 1e-9
        return whole and all(b.p <= u <= b.p + b.span and b.q <= v <= b.q_end for u, v in ring)

    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of `x` and `y`. [m]"""
        x, y = fields.length(place, "x", field), fields.length(place, "y", field)
        if not self._holds(x, y, ROUNDED_M):
            b = self.whole
            allowed = f"on the {self.name}, x {b.p:.2f} m to {b.p + b.span:.2f} m, y {b.q:.2f} m to {b.q_end:.2f} m"
            raise BadInput(f"{field}.x", f"{place['x']}, {place['y']}", allowed + (", not in a cut-out" if self.cut_outs else ""))
        b = self.whole
        return min(max(x, b.p), b.p + b.span), min(max(y, b.q), b.q_end)

    def say(self, u: float, v: float) -> str:
        """``floor, x 2.10 m, y 1.35 m``."""
        return f"{self.name}, x {metres(u)} m, y {metres(v)} m"


def _rectangle(box: Box) -> Ring:
    end = box.p + box.span
    return [(box.p, box.q), (end, box.q), (end, box.q_end), (box.p, box.q_end)]


def _in_ring(ring: Sequence[Point], x: float, y: float) -> bool:
    """Whether a point lies inside, by the number of edges that a ray to the east crosses."""
    inside = False
    for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside


def _edge_far(ring: Sequence[Point], x: float, y: float) -> float:
    """Distance to the nearest edge. [m]"""
    best = math.inf
    for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
        side = (bx - ax) ** 2 + (by - ay) ** 2
        t = min(max(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / side, 0.0), 1.0) if side else 0.0
        best = min(best, math.hypot(ax + t * (bx - ax) - x, ay + t * (by - ay) - y))
    return best


def _trapezia(rings: Sequence[Ring]) -> list[Ring]:
    """What lies inside an odd number of rings, cut at the height of each corner. [m]"""
    found: list[Ring] = []
    edges = [edge for ring in rings for edge in pairwise((*ring, ring[0])) if edge[0][1] != edge[1][1]]
    for v0, v1 in pairwise(sorted({v for ring in rings for _, v in ring})):
        if v1 - v0 <= 1e-12:
            continue
        here = [e for e in edges if min(e[0][1], e[1][1]) <= v0 and max(e[0][1], e[1][1]) >= v1]
        sides = sorted(((_across(e, v0), _across(e, v1)) for e in here), key=lambda s: s[0] + s[1])
        for left, right in zip(sides[::2], sides[1::2], strict=False):
            if right[0] + right[1] - left[0] - left[1] > 1e-12:
                found.append([(left[0], v0), (right[0], v0), (right[1], v1), (left[1], v1)])
    return found


def _across(edge: tuple[Point, Point], v: float) -> float:
    (ax, ay), (bx, by) = edge
    return ax + (v - ay) * (bx - ax) / (by - ay)
