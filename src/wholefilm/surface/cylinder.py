"""Upright cylinder: a tank's shell, a column. Developable, so its map is exact: u is the arc clockwise, v the height."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from ..base.errors import BadInput
from . import fields
from .parts import OFF_SURFACE_M, ROUNDED_M, Box, Part, Point, Ring, angle_text, metres, wrap


class Course(msgspec.Struct, frozen=True):
    """A ring of plates of a shell, from `bottom` to `top`. [m]"""

    name: str
    bottom: float
    top: float


@dataclass(frozen=True)
class Cylinder(Part):
    """Upright cylinder.

    Attributes
    ----------
    radius, height : float
        [m]
    centre : tuple of float
        Plan position of the axis, x and y. [m]
    courses : tuple of Course
        Bottom to top; empty for a column.
    by_course : bool
        Whether a place is told by its course; else by the name of the part.

    Notes
    -----
    Seen from inside, growing u is to the right; seen from outside, to the left.
    """

    radius: float
    height: float
    centre: Point = (0.0, 0.0)
    courses: tuple[Course, ...] = ()
    by_course: bool = True

    @property
    def period_m(self) -> float:
        """Circumference. [m]"""
        return 2 * math.pi * self.radius

    @property
    def seen(self) -> str:
        """How its map is seen."""
        return "developed, seen from inside" if self.courses else "developed"

    @property
    def span_key(self) -> str:
        """Field that bounds a panel in height."""
        return "z"

    def range_keys(self, outline: Mapping[str, Any]) -> tuple[str, str]:
        """Fields of an outline by two ranges."""
        return "at" if "at" in outline else "arc", "z"

    def hole(self, u: float, v: float, radius: float) -> float:
        """Area that a round bore at a right angle cuts out. [m2]"""
        return hole_area(self.radius, radius)

    @property
    def whole(self) -> Box:
        """The whole cylinder."""
        return Box(0.0, 360.0, 0.0, self.height)

    def to_xyz(self, u: float, v: float) -> tuple[float, float, float]:
        """Point in space of arc and height. [m]"""
        theta = u / self.radius
        return self.centre[0] + self.radius * math.sin(theta), self.centre[1] + self.radius * math.cos(theta), v

    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """Arc and height of a point in space. [m]"""
        east, north = x - self.centre[0], y - self.centre[1]
        if abs(math.hypot(east, north) - self.radius) > OFF_SURFACE_M or not -OFF_SURFACE_M <= z <= self.height + OFF_SURFACE_M:
            raise BadInput("xyz", (x, y, z), f"a point within 1 mm of the {self.name}")
        return self.radius * (math.atan2(east, north) % (2 * math.pi)), min(max(z, 0.0), self.height)

    def grid(self, u: float, v: float) -> Point:
        """Angle and height. [deg, m]"""
        return math.degrees(u / self.radius) % 360, v

    def from_grid(self, p: float, q: float) -> Point:
        """Arc and height of angle and height. [m]"""
        return self.radius * math.radians(p % 360), q

    def offset(self, a: Point, b: Point) -> Point:
        """Steps round and up from `a` to `b`, the shorter way round. [m]"""
        return wrap(b[0] - a[0], self.period_m), b[1] - a[1]

    def carry(self, centre: Point, steps: Sequence[Point]) -> Ring:
        """Map points reached from `centre`; u may leave 0 to the circumference. [m]"""
        return [(centre[0] + right, centre[1] + up) for right, up in steps]

    def box_area(self, box: Box) -> float:
        """Area of a box. [m2]"""
        return self.radius * math.radians(box.span) * (box.q_end - box.q)

    def box_rings(self, box: Box) -> list[Ring]:
        """One rectangle, or two where the box runs through 0 deg. [m]"""
        start, width, whole = self.radius * math.radians(box.p % 360), self.radius * math.radians(box.span), self.period_m
        if box.span >= 360:
            start, width = 0.0, whole
        pieces = [(start, min(start + width, whole))]
        if start + width > whole + 1e-9:
            pieces.append((0.0, start + width - whole))
        return [[(a, box.q), (b, box.q), (b, box.q_end), (a, box.q_end)] for a, b in pieces]

    def radius_at(self, q: float) -> float:
        """The radius at every height. [m]"""
        return self.radius

    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of `arc` or `at`, and `z`. [m]"""
        if ("arc" in place) == ("at" in place):
            raise BadInput(f"{field}.at", dict(place), f"one of 'arc' (0 to {self.period_m:.2f} m) and 'at' (0 to 360 deg), with 'z'")
        if "arc" in place:
            u = self.read_arc(place, field)
        else:
            u = self.radius * math.radians(fields.angle(place, "at", field))
        z = fields.length(place, "z", field)
        if not 0 <= z <= self.height + ROUNDED_M:
            raise BadInput(f"{field}.z", place["z"], f"0 to {self.height:.2f} m on the {self.name}")
        return u, min(z, self.height)

    def read_arc(self, place: Mapping[str, Any], field: str) -> float:
        """Way round of the field `arc`. [m]"""
        u = fields.length(place, "arc", field)
        if not 0 <= u <= self.period_m + ROUNDED_M:
            raise BadInput(f"{field}.arc", place["arc"], f"0 to {self.period_m:.2f} m, clockwise from 0 deg")
        return min(u, self.period_m) % self.period_m

    def course_at(self, z: float, wanted: str | None = None) -> Course | None:
        """Course at a height, the lower one on a seam; None without courses."""
        for number, course in enumerate(self.courses, start=1):
            if wanted is not None and wanted not in (course.name, str(number)):
                continue
            if course.bottom - 1e-6 <= z <= course.top + 1e-6:
                return course
        return None

    def say(self, u: float, v: float) -> str:
        """``course 2, 165 deg, 3.40 m``; without courses the name of the part stands first."""
        course = self.course_at(v)
        where = self.name if course is None or not self.by_course else f"course {self.courses.index(course) + 1}"
        return f"{where}, {angle_text(self.grid(u, v)[0], self.radius)}, {metres(v)} m"


def hole_area(shell_radius: float, bore_radius: float) -> float:
    """Area that a round bore cuts out of a cylinder, axes crossing at a right angle.

    Parameters
    ----------
    shell_radius, bore_radius : float
        The bore is not larger than the shell. [m]

    Returns
    -------
    float
        [m2]

    Notes
    -----
    Integral over the angle round the shell of the bore's chord, 2 a sqrt(b^2 - a^2 sin^2 theta); with a sin theta = b sin t it
    is smooth and the midpoint rule converges quickly. Equal bores give 4 a^2.
    """
    a, b, count = shell_radius, bore_radius, 2000
    step = math.pi / count
    angles = (-math.pi / 2 + (k + 0.5) * step for k in range(count))
    return math.fsum(2 * b * b * math.cos(t) ** 2 / math.sqrt(1 - (b / a * math.sin(t)) ** 2) * step for t in angles)
