"""Parts of an item: a piece of surface with a flat map.

A part turns map coordinates (u, v) into points in space and back, and knows its area. Between the map and the panels lies
the *grid* (p, q) of the part, in which panels are boxes: for round parts p is the angle clockwise from 0 deg and q the
height or the plan radius. In space x points to 90 deg, y to 0 deg, z up; angles run clockwise seen from above.
"""

from __future__ import annotations

import abc
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from ..base.errors import BadInput

Point = tuple[float, float]
Ring = list[Point]
TOUCH_M = 1e-6
OFF_SURFACE_M = 1e-3
_INSIDE = 0.999  # of the radius: there no side of the polygon that stands for a round edge can cut
ROUNDED_M = 0.0075  # what two decimals may add: a printed place on an edge can be typed again


class Box(msgspec.Struct, frozen=True):
    """A piece of a part in its grid: from `p` clockwise by `span`, from `q` to `q_end`. [deg or m]"""

    p: float
    span: float
    q: float
    q_end: float


@dataclass(frozen=True)
class Part(abc.ABC):
    """A piece of surface with one map.

    Attributes
    ----------
    name : str
        As typed in `on`, such as ``shell``.
    """

    name: str

    @property
    def period_m(self) -> float | None:
        """Length of u after which the map begins again, or None. [m]"""
        return None

    @property
    def factor(self) -> float:
        """True area over map area. [-]"""
        return 1.0

    @property
    def straight(self) -> bool:
        """Whether straight lines on the surface are straight on the map."""
        return True

    @property
    def round_sides(self) -> int:
        """Sides of the polygon that stands for a disc."""
        return 720

    @property
    def map_kind(self) -> str:
        """How the map is drawn: ``strip`` (angles round, up), ``wall`` (lengths round, up), ``disc`` or ``plan`` (x, y)."""
        return "strip" if self.period_m else "disc"

    @property
    def seen(self) -> str:
        """How the map is seen, in words."""
        return "developed" if self.period_m else "in plan, seen from above"

    @property
    def turn_key(self) -> str:
        """Field that bounds a panel in p."""
        return "at"

    @property
    def turn_unit(self) -> float:
        """What one step of p is, where `turn_key` bounds a panel by lengths. [m]"""
        return 1.0

    @property
    def span_key(self) -> str:
        """Field that bounds a panel in q."""
        return "from_centre"

    def range_keys(self, outline: Mapping[str, Any]) -> tuple[str, str]:
        """Fields of an outline by two ranges, along u and v."""
        return "x", "y"

    def hole(self, u: float, v: float, radius: float) -> float:
        """Area that a round bore takes off at a map point. [m2]"""
        return math.pi * radius * radius * self.factor

    def overlap(self, one: Box, other: Box) -> bool:
        """Whether two boxes have an area in common."""
        if min(one.q_end, other.q_end) - max(one.q, other.q) <= TOUCH_M:
            return False
        slack = 1e-9
        return (other.p - one.p) % 360 < one.span - slack or (one.p - other.p) % 360 < other.span - slack

    def surely_holds(self, ring: Ring) -> bool:
        """Whether a ring on the map lies on the part for certain; no if it would have to be looked at closely."""
        low, high = self.whole.q, self.whole.q_end
        return low == 0 and all(self.grid(u, v)[1] <= high * _INSIDE for u, v in ring)

    @property
    @abc.abstractmethod
    def whole(self) -> Box:
        """The whole part in its grid."""

    @property
    def area_m2(self) -> float:
        """True area. [m2]"""
        return self.box_area(self.whole)

    @abc.abstractmethod
    def to_xyz(self, u: float, v: float) -> tuple[float, float, float]:
        """Point in space of a map point. [m]"""

    @abc.abstractmethod
    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """Map point of a point in space; BadInput if that lies over 1 mm off the part. [m]"""

    @abc.abstractmethod
    def grid(self, u: float, v: float) -> Point:
        """Grid point (p, q) of a map point."""

    @abc.abstractmethod
    def from_grid(self, p: float, q: float) -> Point:
        """Map point of a grid point. [m]"""

    @abc.abstractmethod
    def offset(self, a: Point, b: Point) -> Point:
        """Steps to the right and up that lead from `a` to `b` along the surface, unrolled about `a`. [m]"""

    @abc.abstractmethod
    def carry(self, centre: Point, steps: Sequence[Point]) -> Ring:
        """Map points reached from `centre` by steps right and up along the surface; not yet clipped. [m]"""

    @abc.abstractmethod
    def box_area(self, box: Box) -> float:
        """True area of a box. [m2]"""

    @abc.abstractmethod
    def box_rings(self, box: Box) -> list[Ring]:
        """Outline of a box in map coordinates, one ring for each piece. [m]"""

    @abc.abstractmethod
    def radius_at(self, q: float) -> float:
        """Metres for one radian of p at q. [m]"""

    @abc.abstractmethod
    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of typed coordinates; BadInput if it lies outside the part. [m]"""

    @abc.abstractmethod
    def say(self, u: float, v: float) -> str:
        """The place in words of the trade, which `parse_place_text` reads back."""

    def settle(self, u: float, v: float, field: str, typed: object) -> Point:
        """Bring a reached point onto the map, or BadInput if it lies outside the part."""
        p, q = self.grid(u, v)
        low, high = self.whole.q, self.whole.q_end
        if not low - TOUCH_M <= q <= high + TOUCH_M:
            raise BadInput(field, typed, f"a place on the {self.name}, which ends at {low:.2f} m and {high:.2f} m")
        return self.from_grid(p, min(max(q, low), high))

    def distance(self, a: Point, b: Point) -> float:
        """Shortest way along the surface, round the part where it closes. [m]"""
        return math.hypot(*self.offset(a, b))

    def box_has(self, box: Box, u: float, v: float) -> bool:
        """Whether a map point lies in a box, its edges included."""
        p, q = self.grid(u, v)
        if not box.q - TOUCH_M <= q <= box.q_end + TOUCH_M:
            return False
        reach = self.radius_at(q) * math.pi / 180
        if box.span >= 360 or reach * 360 <= TOUCH_M:
            return True
        slack = TOUCH_M / reach
        beyond = (p - box.p) % 360
        return beyond <= box.span + slack or beyond >= 360 - slack


def wrap(number: float, period: float) -> float:
    """A difference brought into half a period on either side of 0."""
    return (number + period / 2) % period - period / 2


def angle_text(degrees: float, radius: float) -> str:
    """An angle in words, fine enough for about 1 cm of arc."""
    decimals = 0
    while radius * math.radians(10.0**-decimals) > 0.011:
        decimals += 1
    shown = f"{degrees % 360:.{decimals}f}"
    shown = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return f"{'0' if shown == '360' else shown} deg"


def metres(number: float) -> str:
    """A length in metres with two decimals, without a negative zero."""
    return f"{round(number, 2) + 0.0:.2f}"
