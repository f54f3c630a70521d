"""Tube along an axis: a pipe, a can, the neck of a nozzle. u is the arc clockwise from the crown, v the way along the axis."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import msgspec

from ..base.errors import BadInput
from . import fields
from .cylinder import Cylinder
from .parts import OFF_SURFACE_M, Box, Point, angle_text

Vector = tuple[float, float, float]
_CLOCK_RADIUS_M = 1.3  # beyond, a minute of the clock is over 11 mm of arc: degrees are printed
_ROUNDED_MM_M = 0.00075


class Frame(msgspec.Struct, frozen=True):
    """Where a tube lies: a point of its axis, and directions to the right, up, and along, as seen by one who looks along it. [m]"""

    origin: Vector = (0.0, 0.0, 0.0)
    right: Vector = (1.0, 0.0, 0.0)
    up: Vector = (0.0, 0.0, 1.0)
    along: Vector = (0.0, 1.0, 0.0)


UPRIGHT = Frame()


@dataclass(frozen=True)
class Tube(Cylinder):
    """Tube from `start` to `start + height` along its axis; 0 deg and 12:00 are up, clockwise looking along.

    Attributes
    ----------
    start : float
        [m]
    clocked : bool
        Whether places are printed with a clock position; else with an angle.
    inside : bool
        Which face is coated.
    frame : Frame
        Without one of its own x is to the right of one who looks downstream, y downstream, z up.
    """

    start: float = 0.0
    clocked: bool = False
    inside: bool = False
    frame: Frame = UPRIGHT

    @property
    def whole(self) -> Box:
        """The whole tube."""
        return Box(0.0, 360.0, self.start, self.start + self.height)

    @property
    def seen(self) -> str:
        """How its map is seen."""
        return "developed; from inside it is seen reversed" if self.inside else "developed, seen from outside"

    @property
    def span_key(self) -> str:
        """Field that bounds a panel along the tube."""
        return "along"

    def range_keys(self, outline: Mapping[str, Any]) -> tuple[str, str]:
        """Fields of an outline by two ranges."""
        return next((key for key in ("clock", "at") if key in outline), "arc"), "along"

    def to_xyz(self, u: float, v: float) -> Vector:
        """Point in space of arc and way along. [m]"""
        theta, f = u / self.radius, self.frame
        a, b = self.radius * math.sin(theta), self.radius * math.cos(theta)
        x, y, z = (o + a * r + b * up + v * d for o, r, up, d in zip(f.origin, f.right, f.up, f.along, strict=True))
        return x, y, z

    def from_xyz(self, x: float, y: float, z: float) -> Point:
        """Arc and way along of a point in space. [m]"""
        f = self.frame
        apart = [p - o for p, o in zip((x, y, z), f.origin, strict=True)]
        a, b, v = (math.fsum(p * q for p, q in zip(apart, axis, strict=True)) for axis in (f.right, f.up, f.along))
        low, high = self.whole.q, self.whole.q_end
        if abs(math.hypot(a, b) - self.radius) > OFF_SURFACE_M or not low - OFF_SURFACE_M <= v <= high + OFF_SURFACE_M:
            raise BadInput("xyz", (x, y, z), f"a point within 1 mm of {self.name}")
        return self.radius * (math.atan2(a, b) % (2 * math.pi)), min(max(v, low), high)

    def read(self, place: Mapping[str, Any], field: str) -> Point:
        """Map point of `clock`, `at` or `arc`, and `along`. [m]"""
        given = [key for key in ("clock", "at", "arc") if key in place]
        if len(given) != 1:
            raise BadInput(f"{field}.clock", dict(place), "one of 'clock' (such as 06:00), 'at' (0 to 360 deg) and 'arc', with 'along'")
        if given[0] == "arc":
            u = self.read_arc(place, field)
        else:
            u = self.radius * math.radians(fields.clock(place, given[0], field))
        v, low, high = fields.length(place, "along", field), self.whole.q, self.whole.q_end
        if not low - _ROUNDED_MM_M <= v <= high + _ROUNDED_MM_M:
            raise BadInput(f"{field}.along", place["along"], f"{low * 1000:.0f} mm to {high * 1000:.0f} mm on {self.name}")
        return u, min(max(v, low), high)

    def say(self, u: float, v: float) -> str:
        """``J-004, -40 mm, 06:00`` or ``P-05, 1260 mm, 45 deg``."""
        degrees = self.grid(u, v)[0]
        around = fields.clock_text(degrees) if self.clocked and self.radius <= _CLOCK_RADIUS_M else angle_text(degrees, self.radius)
        return f"{self.name}, {round(v * 1000) + 0:d} mm, {around}"
