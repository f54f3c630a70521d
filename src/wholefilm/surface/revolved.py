"""Dished head, sphere, any surface of revolution, on a map of equal areas: from the pole outward, x to 90 deg, y to 0 deg.

No flat map of a dome keeps lengths (Gauss). This one keeps areas; at the rim of a dished head lengths round it are drawn 9 to 18 %
long, lengths outward 8 to 15 % short. Nothing is measured on it: distances are worked out on the surface (`geodesic`).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Any

from ..base.errors import BadInput
from . import fields
from .geodesic import Dome, Vector, log, shoot
from .meridian import Arc, At, Line, Piece
from .parts import OFF_SURFACE_M, ROUNDED_M, Box, Part, Point, Ring, angle_text, metres
from .sectors import sector

_BEYOND_M = 20.0


@dataclass(frozen=True)
class Revolved(Part):
    """Surface of revolution about an upright axis.

    Attributes
    ----------
    pieces : tuple of Piece
        Meridian, from the pole outward.
    pole_z : float
        Height of the pole. [m]
    upward : bool
        Whether it domes upward: then the rim lies below the pole.
    """

    pieces: tuple[Piece, ...]
    pole_z: float = 0.0
    upward: bool = True

    @property
    def straight(self) -> bool:
        """Straight lines are curved on the map."""
        return False

    @property
    def round_sides(self) -> int:
        """Fewer than elsewhere, since each corner is a way to be stepped."""
        return 180

    @property
    def seen(self) -> str:
        """How its map is seen."""
        return "map of equal areas, seen from above"

    @property
    def span_key(self) -> str:
        """Field that bounds a panel outward from the pole."""
        return "along"

    @property
    def whole(self) -> Box:
        """The whole surface; q is the way along the meridian."""
        return Box(0.0, 360.0, 0.0, self._ways[-1])

    @cached_property
    def _ways(self) -> list[float]:
        return list(accumulate((piece.length for piece in self.pieces), initial=0.0))

    @cached_property
    def _areas(self) -> list[float]:
        return list(accumulate((piece.area(piece.length) for piece in self.pieces), initial=0.0))

    @cached_property
    def _beyond(self) -> Line:
        """What an outline over the rim runs out on, to be cut off."""
        end = self.pieces[-1].at(self.pieces[-1].length)
        rate = max(end.dr, 0.0)
        return Line(end.r, end.d, end.r + rate * _BEYOND_M, end.d + max(end.dd, 0.1) * _BEYOND_M)

    @cached_property
    def rim(self) -> At:
        """The end of the meridian."""
        return self.pieces[-1].at(self.pieces[-1].length)

    def _piece(self, s: float) -> tuple[Piece, float, float]:
        """Piece at a way along, the way along it, and the area before it."""
        if s > self._ways[-1]:
            return self._beyond, s - self._ways[-1], self._areas[-1]
        k = min(max(bisect_right(self._ways, s) - 1, 0), len(self.pieces) - 1)
        return self.pieces[k], max(s - self._ways[k], 0.0), self._areas[k]

    def meridian(self, s: float) -> At:
        """Point of the meridian at a way from the pole. [m]"""
        piece, t, _ = self._piece(s)
        return piece.at(t)

    def area_to(self, s: float) -> float:
        """Area within a way from the pole. [m2]"""
        piece, t, before = self._piece(s)
        return before + piece.area(t)

    def way_to(self, area: float) -> float:
        """Way from the pole within which an area lies. [m]"""
        if area > self._areas[-1]:
            return self._ways[-1] + self._beyond.find(area - self._areas[-1])
        k = min(max(bisect_right(self._areas, area) - 1, 0), len(self.pieces) - 1)
        return self._ways[k] + self.pieces[k].find(area - self._areas[k])

    def nearest(self, r: float, d: float) -> tuple[float, float]:
        """Way from the pole of the meridian's nearest point, and how far that is. [m]"""
        found = []
        for piece, before in zip((*self.pieces, self._beyond), self._ways, strict=True):
            t = piece.nearest(r, d)
            at = piece.at(t)
            found.append((math.hypot(at.r - r, at.d - d), before + t))
        far, s = min(found)
        return s, far

    def foot(self, r: float, d: float) -> At:
        """The meridian's nearest point."""
        found = [piece.foot(r, d) for piece in (*self.pieces, self._beyond)]
        return min(found, key=lambda at: (at.r - r) ** 2 + (at.d - d) ** 2)

    @cached_property
    def dome(self) -> Dome:
        """What geodesics need."""
        crown = self.pieces[0]
        ball = crown.radius if isinstance(crown, Arc) and crown.r0 == 0 and crown.start == 0 else None
        bend = max(max(piece.at(0.0).bend, piece.at(piece.length).bend) for piece in self.pieces)
        return Dome(self.meridian, self.foot, lambda r, d: self.nearest(r, d)[0], bend, ball, self._ways[1])

    def to_xyz(self, u: float, v: float) -> Vector:
        """Point in space of a map point. [m]"""
        return self._in_space(*self.grid(u, v))

    def _in_space(self, p: float, s: float) -> Vector:
        at, angle = self.meridian(s), math.radians(p)
        return at.r * math.sin(angle), at.r * math.cos(angle), self.pole_z - (at.d if self.upward else -at.d)

    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """Map point of a point in space. [m]"""
        s, far = self.nearest(math.hypot(x, y), (self.pole_z - z) * (1 if self.upward else -1))
        if far > OFF_SURFACE_M or s > self._ways[-1] + OFF_SURFACE_M:
            raise BadInput("xyz", (x, y, z), f"a point within 1 mm of the {self.name}")
        return self.from_grid(math.degrees(math.atan2(x, y)), min(s, self._ways[-1]))

    def grid(self, u: float, v: float) -> Point:
        """Angle, and way from the pole along the surface. [deg, m]"""
        return math.degrees(math.atan2(u, v)) % 360, self.way_to(math.pi * (u * u + v * v))

    def _flat(self, s: float) -> float:
        """Radius on the map. [m]"""
        return math.sqrt(self.area_to(s) / math.pi)

    def from_grid(self, p: float, q: float) -> Point:
        """Map point of an angle and a way from the pole. [m]"""
        rho, angle = self._flat(q), math.radians(p)
        return rho * math.sin(angle), rho * math.cos(angle)

    def offset(self, a: Point, b: Point) -> Point:
        """Steps along x and y from `a` to `b` along the shortest way, as it leaves `a`. [m]"""
        (pa, sa), (pb, sb) = self.grid(*a), self.grid(*b)
        return log(self.dome, (math.radians(pa), sa), (math.radians(pb), sb))

    def distance(self, a: Point, b: Point) -> float:
        """Shortest way along the surface. [m]"""
        return math.hypot(*self.offset(*sorted((a, b))))

    def carry(self, centre: Point, steps: Sequence[Point]) -> Ring:
        """Map points reached by going straight along the surface. [m]"""
        p, s = self.grid(*centre)
        return [self.from_grid(math.degrees(angle), way) for angle, way in (shoot(self.dome, (math.radians(p), s), step) for step in steps)]

    def box_area(self, box: Box) -> float:
        """Area of a sector of a zone. [m2]"""
        return box.span / 360 * (self.area_to(box.q_end) - self.area_to(box.q))

    def box_rings(self, box: Box) -> list[Ring]:
        """A sector, drawn so that the area is right. [m]"""
        return sector(box.p, box.span, self._flat(box.q), self._flat(box.q_end))

    def radius_at(self, q: float) -> float:
        """Distance from the axis. [m]"""
        return self.meridian(q).r

    def range_keys(self, outline: Mapping[str, Any]) -> tuple[str, str]:
        """Outlines by two ranges are not made here."""
        raise BadInput(
            "shape", outline.get("shape"), f"on the {self.name} a disc, a strip, a panel, or a rect with 'at' (a place), 'width', 'height'"
        )

    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of `at`, and `along` (from the pole along the surface) or `from_centre` (in plan). [m]"""
        if ("along" in place) == ("from_centre" in place):
            allowed = f"one of 'along' (0 to {self._ways[-1]:.2f} m from the pole along the surface) and 'from_centre' (in plan), with 'at'"
            raise BadInput(f"{field}.along", dict(place), allowed)
        angle = fields.angle(place, "at", field)
        key = "along" if "along" in place else "from_centre"
        far, most = fields.length(place, key, field), self._ways[-1] if key == "along" else self._widest[1]
        if not 0 <= far <= most + ROUNDED_M:
            raise BadInput(f"{field}.{key}", place[key], f"0 to {most:.2f} m on the {self.name}")
        return self.from_grid(angle, min(far, most) if key == "along" else self._from_plan(min(far, most)))

    @cached_property
    def _widest(self) -> tuple[float, float]:
        """Way from the pole at which the surface is widest, and how wide. [m]"""
        ends = [(self.meridian(way).r, -way) for way in self._ways]
        r, way = max(ends)
        return -way, r

    def _from_plan(self, r: float) -> float:
        """Way from the pole to a distance from the axis, the first. [m]"""
        low, high = 0.0, self._widest[0]
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.meridian(middle).r < r else (low, middle)
        return high

    def say(self, u: float, v: float) -> str:
        """``top head, 38 deg, 1.11 m from pole``: the way along the surface."""
        p, s = self.grid(u, v)
        return f"{self.name}, {angle_text(p, self.meridian(s).r)}, {metres(s)} m from pole"

    def hole(self, u: float, v: float, radius: float) -> float:
        """Area that a round bore takes off: of a cap where the surface is a sphere, elsewhere as if flat. [m2]"""
        s, ball = self.grid(u, v)[1], self.dome.ball
        if ball is None or s + radius > self._ways[1] or radius >= ball:
            return math.pi * radius * radius
        return 2 * math.pi * ball * ball * (1 - math.sqrt(1 - (radius / ball) ** 2))
