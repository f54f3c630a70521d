r"""Meridians of surfaces of revolution: pieces from the pole outward, each with its length, area and curvature in closed form.

Areas are those of Pappus and Guldin, :math:`2 \pi \int r\,ds`; of a sphere's zone :math:`2 \pi R h` (Archimedes); of an ellipsoid the
closed form with an inverse hyperbolic sine. Grade: derived; they agree with the printed head areas named in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property, lru_cache
from typing import NamedTuple, Protocol

_NEAR_POLE = 0.3


class At(NamedTuple):
    """A point of a meridian: radius, depth below the pole [m], their rates along it [-], curvature toward the axis [1/m]."""

    r: float
    d: float
    dr: float
    dd: float
    bend: float


class Piece(Protocol):
    """A piece of a meridian; `t` is the way along it. [m]"""

    @property
    def length(self) -> float:
        """Its length. [m]"""

    def at(self, t: float) -> At:
        """Point at a way along."""

    def area(self, t: float) -> float:
        """Area from its start. [m2]"""

    def find(self, area: float) -> float:
        """Way along at which the area is reached. [m]"""

    def nearest(self, r: float, d: float) -> float:
        """Way along of the nearest point, within the piece. [m]"""

    def foot(self, r: float, d: float) -> At:
        """The nearest point itself."""


class Line:
    """Straight piece: a cone, a cylinder, a flat face."""

    def __init__(self, r0: float, d0: float, r1: float, d1: float) -> None:
        self.length = math.hypot(r1 - r0, d1 - d0)
        self._start = r0, d0
        self._rates = (r1 - r0) / self.length, (d1 - d0) / self.length

    def at(self, t: float) -> At:
        """Point at a way along."""
        (r, d), (dr, dd) = self._start, self._rates
        return At(r + dr * t, d + dd * t, dr, dd, 0.0)

    def area(self, t: float) -> float:
        """Area from its start. [m2]"""
        return math.pi * t * (2 * self._start[0] + self._rates[0] * t)

    def find(self, area: float) -> float:
        """Way along at which the area is reached. [m]"""
        share, r = area / math.pi, self._start[0]
        root = r + math.sqrt(max(r * r + self._rates[0] * share, 0.0))
        return share / root if root > 0 else 0.0

    def nearest(self, r: float, d: float) -> float:
        """Way along of the nearest point. [m]"""
        along = (r - self._start[0]) * self._rates[0] + (d - self._start[1]) * self._rates[1]
        return min(max(along, 0.0), self.length)

    def foot(self, r: float, d: float) -> At:
        """The nearest point itself."""
        return self.at(self.nearest(r, d))


class Arc:
    """Arc of a circle about (`r0`, `d0`), from angle `start` to `end` off the axis: crown, knuckle, sphere. [m, rad]"""

    def __init__(self, r0: float, d0: float, radius: float, start: float, end: float) -> None:
        self.r0, self.d0, self.radius, self.start, self.end = r0, d0, radius, start, end
        self.length = radius * (end - start)

    def at(self, t: float) -> At:
        """Point at a way along."""
        angle = self.start + t / self.radius
        sin, cos = math.sin(angle), math.cos(angle)
        return At(self.r0 + self.radius * sin, self.d0 - self.radius * cos, cos, sin, 1 / self.radius)

    def area(self, t: float) -> float:
        """Area from its start. [m2]"""
        turn = t / self.radius
        drop = 2 * math.sin(self.start + turn / 2) * math.sin(turn / 2)  # cos(start) - cos(start + turn)
        return 2 * math.pi * self.radius * (self.r0 * turn + self.radius * drop)

    def find(self, area: float) -> float:
        """Way along at which the area is reached. [m]"""
        if self.r0 == 0 and self.start == 0:
            return 2 * self.radius * math.asin(min(math.sqrt(max(area, 0.0) / (4 * math.pi)) / self.radius, 1.0))
        return _solve(self.area, lambda t: 2 * math.pi * self.at(t).r, area, self.length)

    def nearest(self, r: float, d: float) -> float:
        """Way along of the nearest point. [m]"""
        angle = math.atan2(r - self.r0, self.d0 - d)
        return min(max((angle - self.start) * self.radius, 0.0), self.length)

    def foot(self, r: float, d: float) -> At:
        """The nearest point itself."""
        return self.at(self.nearest(r, d))


class Ellipse:
    """Quarter of an ellipse from the pole: half axes `a` across and `b` along the axis, a > b. [m]"""

    def __init__(self, a: float, b: float) -> None:
        self.a, self.b = a, b
        self._c = math.sqrt(a * a - b * b)

    @cached_property
    def length(self) -> float:
        """Length of the quarter. [m]"""
        return self._way(math.pi / 2)

    def _speed(self, tau: float) -> float:
        return math.hypot(self.a * math.cos(tau), self.b * math.sin(tau))

    def _way(self, tau: float) -> float:
        """Length from the pole to an eccentric angle, by 24 points of Gauss. [m]"""
        return tau / 2 * math.fsum(w * self._speed(tau / 2 * (1 + x)) for x, w in _gauss(24))

    def _tau(self, t: float) -> float:
        return _solve(self._way, self._speed, t, math.pi / 2)

    def _point(self, tau: float) -> At:
        speed, sin, cos = self._speed(tau), math.sin(tau), math.cos(tau)
        return At(self.a * sin, self.b * (1 - cos), self.a * cos / speed, self.b * sin / speed, self.a * self.b / speed**3)

    def at(self, t: float) -> At:
        """Point at a way along."""
        return self._point(self._tau(t))

    def _zone(self, tau: float) -> float:
        """Area from the pole to an eccentric angle; near the pole, where the closed form is a small difference, by Gauss. [m2]"""
        if tau < _NEAR_POLE:
            nodes = ((tau / 2 * (1 + x), w) for x, w in _gauss(24))
            return math.pi * self.a * tau * math.fsum(w * math.sin(t) * self._speed(t) for t, w in nodes)
        return math.pi * self.a * (self._half(1.0) - self._half(math.cos(tau)))

    def _half(self, x: float) -> float:
        b, c = self.b, self._c
        return x * math.hypot(b, c * x) + b * b / c * math.asinh(c * x / b)

    def area(self, t: float) -> float:
        """Area from the pole. [m2]"""
        return self._zone(self._tau(t))

    def find(self, area: float) -> float:
        """Way along at which the area is reached. [m]"""
        return self._way(_solve(self._zone, lambda tau: 2 * math.pi * self.a * math.sin(tau) * self._speed(tau), area, math.pi / 2))

    def nearest(self, r: float, d: float) -> float:
        """Way along of the nearest point. [m]"""
        return self._way(self._under(r, d))

    def foot(self, r: float, d: float) -> At:
        """The nearest point itself."""
        return self._point(self._under(r, d))

    def _under(self, r: float, d: float) -> float:
        """Eccentric angle of the nearest point."""
        tau = math.atan2(r / self.a, 1 - d / self.b)
        for _ in range(8):
            sin, cos = math.sin(tau), math.cos(tau)
            x, y = self.a * sin - r, self.b * (1 - cos) - d
            slope = x * self.a * cos + y * self.b * sin
            tau -= slope / (self._speed(tau) ** 2 - x * self.a * sin + y * self.b * cos)
        return min(max(tau, 0.0), math.pi / 2)


def _solve(f: Callable[[float], float], rate: Callable[[float], float], wanted: float, end: float) -> float:
    """Where from 0 to `end` a growing function reaches a value: Newton's steps, halving where one would leave the bounds."""
    low, high, x = 0.0, end, end / 2
    for _ in range(80):
        miss = f(x) - wanted
        if miss > 0:
            high = x
        else:
            low = x
        slope = rate(x)
        step = x - miss / slope if slope > 0 else low
        step = step if low < step < high else (low + high) / 2
        if abs(step - x) <= 1e-15 * end:
            return step
        x = step
    return x


@lru_cache
def _gauss(count: int) -> tuple[tuple[float, float], ...]:
    """Nodes and weights of Gauss and Legendre on -1 to 1."""
    found = []
    for k in range(1, count + 1):
        x = math.cos(math.pi * (k - 0.25) / (count + 0.5))
        for _ in range(50):
            before, now = 1.0, x
            for n in range(2, count + 1):
                before, now = now, ((2 * n - 1) * x * now - (n - 1) * before) / n
            slope = count * (x * now - before) / (x * x - 1)
            step = now / slope
            x -= step
            if abs(step) < 1e-16:
                break
        found.append((x, 2 / ((1 - x * x) * slope * slope)))
    return tuple(found)
