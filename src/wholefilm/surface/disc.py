"""Round floor and cone roof, on one map: the plan, x to 90 deg and y to 0 deg.

A cone in plan has the same ratio of true to plan area everywhere, so areas are plan areas times that ratio; shapes and
distances are made on the unrolled cone and carried into the plan. Both are exact: a cone is developable.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..base.errors import BadInput
from . import fields
from .parts import OFF_SURFACE_M, ROUNDED_M, Box, Part, Point, Ring, angle_text, metres, wrap
from .sectors import sector


@dataclass(frozen=True)
class Disc(Part):
    """Disc, or cone that rises to its middle.

    Attributes
    ----------
    radius : float
        Plan radius. [m]
    slope : float
        Rise over run; 0 for a floor. [-]
    edge_z : float
        Height of the edge above the floor. [m]
    """

    radius: float
    slope: float = 0.0
    edge_z: float = 0.0

    @property
    def factor(self) -> float:
        """True over plan area, also slant over plan radius. [-]"""
        return math.hypot(1.0, self.slope)

    @property
    def straight(self) -> bool:
        """Whether straight lines stay straight: on a floor."""
        return self.factor == 1.0

    @property
    def whole(self) -> Box:
        """The whole disc."""
        return Box(0.0, 360.0, 0.0, self.radius)

    def to_xyz(self, u: float, v: float) -> tuple[float, float, float]:
        """Point in space of plan x and y. [m]"""
        return u, v, self._height(u, v)

    def _height(self, x: float, y: float) -> float:
        return self.edge_z + self.slope * (self.radius - math.hypot(x, y))

    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """Plan x and y of a point in space. [m]"""
        if math.hypot(x, y) > self.radius + OFF_SURFACE_M or abs(z - self._height(x, y)) > OFF_SURFACE_M:
            raise BadInput("xyz", (x, y, z), f"a point within 1 mm of the {self.name}")
        return x, y

    def grid(self, u: float, v: float) -> Point:
        """Angle and plan radius. [deg, m]"""
        return math.degrees(math.atan2(u, v)) % 360, math.hypot(u, v)

    def from_grid(self, p: float, q: float) -> Point:
        """Plan x and y of angle and plan radius. [m]"""
        return q * math.sin(math.radians(p)), q * math.cos(math.radians(p))

    def _unrolled(self, about: float, point: Point) -> Point:
        """Point on the cone unrolled so that the ray at `about` (radians) keeps its plan direction."""
        apart = wrap(math.atan2(*point) - about, 2 * math.pi) / self.factor
        slant = math.hypot(*point) * self.factor
        return slant * math.sin(about + apart), slant * math.cos(about + apart)

    def offset(self, a: Point, b: Point) -> Point:
        """Steps along x and y from `a` to `b` on the cone unrolled about `a`. [m]"""
        about = math.atan2(*a)
        start, end = self._unrolled(about, a), self._unrolled(about, b)
        return end[0] - start[0], end[1] - start[1]

    def carry(self, centre: Point, steps: Sequence[Point]) -> Ring:
        """Plan points reached by steps along x and y on the cone unrolled about `centre`. [m]"""
        about = math.atan2(*centre)
        x, y = self._unrolled(about, centre)
        half = math.pi / self.factor
        ring = []
        for right, up in steps:
            apart = wrap(math.atan2(x + right, y + up) - about, 2 * math.pi)
            angle = about + min(max(apart, -half), half) * self.factor
            plan = math.hypot(x + right, y + up) / self.factor
            ring.append((plan * math.sin(angle), plan * math.cos(angle)))
        return ring

    def box_area(self, box: Box) -> float:
        """True area of a sector of a ring. [m2]"""
        return math.radians(box.span) / 2 * (box.q_end**2 - box.q**2) * self.factor

    def box_rings(self, box: Box) -> list[Ring]:
        """A sector, drawn so that the area is right. [m]"""
        return sector(box.p, box.span, box.q, box.q_end)

    def radius_at(self, q: float) -> float:
        """The plan radius itself. [m]"""
        return q

    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of `x` and `y`, or of `at` and `from_apex` (along the slope) or `from_centre` (in plan). [m]"""
        if "at" in place:
            key = "from_apex" if "from_apex" in place else "from_centre"
            far = fields.length(place, key, field)
            plan = far / self.factor if key == "from_apex" else far
            most = self.radius * (self.factor if key == "from_apex" else 1)
            if not 0 <= plan <= self.radius + ROUNDED_M:
                raise BadInput(f"{field}.{key}", place[key], f"0 to {most:.2f} m on the {self.name}")
            return self.from_grid(fields.angle(place, "at", field), min(plan, self.radius))
        x, y = fields.length(place, "x", field), fields.length(place, "y", field)
        if math.hypot(x, y) > self.radius + ROUNDED_M:
            raise BadInput(f"{field}.x", f"{place['x']}, {place['y']}", f"within {self.radius:.2f} m of the centre of the {self.name}")
        pull = min(1.0, self.radius / math.hypot(x, y)) if x or y else 1.0
        return x * pull, y * pull

    def say(self, u: float, v: float) -> str:
        """``floor, x 2.10 m, y -1.35 m`` or ``roof, 71 deg, 3.00 m from apex``."""
        if self.slope == 0:
            return f"{self.name}, x {metres(u)} m, y {metres(v)} m"
        p, q = self.grid(u, v)
        return f"{self.name}, {angle_text(p, q)}, {metres(q * self.factor)} m from apex"
