"""Straight ways along a surface of revolution: where one leads, and which one leads to a place.

On a spherical crown they are great circles, exact. Elsewhere the equation of the geodesic, whose acceleration has no part along the
surface, is stepped in space (Runge and Kutta, fourth order), which has no trouble at the pole; ways over the seam
of crown and knuckle agree with Clairaut's relation to 2e-5. Grade: derived.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import msgspec

from .meridian import At

Vector = tuple[float, float, float]
Polar = tuple[float, float]
_STEP = 0.12  # of the least radius of curvature
_ROUNDS = 40


class Dome(msgspec.Struct, frozen=True):
    """A surface of revolution as a geodesic sees it.

    Attributes
    ----------
    meridian : callable
        Way from the pole -> point of the meridian. [m]
    foot : callable
        Distance from the axis, depth -> the nearest point of the meridian. [m]
    way : callable
        The same -> its way from the pole. [m]
    bend : float
        Greatest curvature of the meridian. [1/m]
    ball : float or None
        Radius of the spherical crown, if there is one. [m]
    crown : float
        Way from the pole at which it ends. [m]
    """

    meridian: Callable[[float], At]
    foot: Callable[[float, float], At]
    way: Callable[[float, float], float]
    bend: float
    ball: float | None
    crown: float


def _place(dome: Dome, start: Polar) -> tuple[Vector, Vector, Vector]:
    """Point (x, y, depth), direction outward, direction clockwise."""
    angle, at = start[0], dome.meridian(start[1])
    sin, cos = math.sin(angle), math.cos(angle)
    return (at.r * sin, at.r * cos, at.d), (at.dr * sin, at.dr * cos, at.dd), (cos, -sin, 0.0)


def shoot(dome: Dome, start: Polar, step: tuple[float, float]) -> Polar:
    """Where a straight way leads.

    Parameters
    ----------
    dome : Dome
    start : (float, float)
        Angle clockwise from 0 deg, and way from the pole. [rad, m]
    step : (float, float)
        To x and to y on the map, as the way leaves. [m]

    Returns
    -------
    (float, float)
        Angle and way from the pole. [rad, m]
    """
    length = math.hypot(*step)
    if length == 0:
        return start
    x, _ = _go(dome, start, step, length)
    return math.atan2(x[0], x[1]), dome.way(math.hypot(x[0], x[1]), x[2])


def _go(dome: Dome, start: Polar, step: tuple[float, float], length: float) -> tuple[Vector, Vector]:
    """End point and end direction."""
    x, out, turn = _place(dome, start)
    sin, cos = math.sin(start[0]), math.cos(start[0])
    a, b = (step[0] * sin + step[1] * cos) / length, (step[0] * cos - step[1] * sin) / length
    v = (a * out[0] + b * turn[0], a * out[1] + b * turn[1], a * out[2] + b * turn[2])
    if dome.ball is not None and start[1] <= dome.crown:
        end, way = _circle(dome.ball, x, v, length)
        limit = dome.crown / dome.ball
        if length + start[1] <= dome.crown or math.acos(max(-1.0, min(1.0, 1 - end[2] / dome.ball))) <= limit:
            return end, way
    count = max(4, math.ceil(length * dome.bend / _STEP))
    return _march(dome, x, v, length / count, count)


def _circle(ball: float, x: Vector, v: Vector, length: float) -> tuple[Vector, Vector]:
    """Along a great circle of a ball whose pole lies at depth 0."""
    turn = length / ball
    sin, cos = math.sin(turn), math.cos(turn)
    arm = (x[0], x[1], x[2] - ball)
    end = tuple(cos * p + ball * sin * q for p, q in zip(arm, v, strict=True))
    way = tuple(cos * q - sin * p / ball for p, q in zip(arm, v, strict=True))
    return (end[0], end[1], end[2] + ball), (way[0], way[1], way[2])


def _pull(dome: Dome, x: Vector, v: Vector) -> Vector:
    """Acceleration of a geodesic: along the normal, by the curvature in its direction."""
    r = math.hypot(x[0], x[1])
    at = dome.foot(r, x[2])
    sin, cos = (x[0] / r, x[1] / r) if r > 1e-12 else (0.0, 1.0)
    out = v[0] * at.dr * sin + v[1] * at.dr * cos + v[2] * at.dd
    turn = v[0] * cos - v[1] * sin
    round_ = at.dd / at.r if at.r > 1e-9 else at.bend
    k = at.bend * out * out + round_ * turn * turn
    return -at.dd * sin * k, -at.dd * cos * k, at.dr * k


def _add(a: Vector, b: Vector, h: float) -> Vector:
    return a[0] + h * b[0], a[1] + h * b[1], a[2] + h * b[2]


def _march(dome: Dome, x: Vector, v: Vector, h: float, count: int) -> tuple[Vector, Vector]:
    for _ in range(count):
        k1 = _pull(dome, x, v)
        v2 = _add(v, k1, h / 2)
        k2 = _pull(dome, _add(x, v, h / 2), v2)
        v3 = _add(v, k2, h / 2)
        k3 = _pull(dome, _add(x, v2, h / 2), v3)
        v4 = _add(v, k3, h)
        k4 = _pull(dome, _add(x, v3, h), v4)
        x = _add(x, tuple((p + 2 * q + 2 * r + s) / 6 for p, q, r, s in zip(v, v2, v3, v4, strict=True)), h)  # type: ignore[arg-type]
        v = _add(v, tuple((p + 2 * q + 2 * r + s) / 6 for p, q, r, s in zip(k1, k2, k3, k4, strict=True)), h)  # type: ignore[arg-type]
        x, v = _onto(dome, x, v)
    return x, v


def _onto(dome: Dome, x: Vector, v: Vector) -> tuple[Vector, Vector]:
    """Put a point back onto the surface and a direction along it, of length 1."""
    r = math.hypot(x[0], x[1])
    at = dome.foot(r, x[2])
    sin, cos = (x[0] / r, x[1] / r) if r > 1e-12 else (0.0, 1.0)
    normal = (-at.dd * sin, -at.dd * cos, at.dr)
    v = _add(v, normal, -sum(p * q for p, q in zip(v, normal, strict=True)))
    size = math.hypot(*v)
    return (at.r * sin, at.r * cos, at.d), (v[0] / size, v[1] / size, v[2] / size)


def log(dome: Dome, start: Polar, end: Polar) -> tuple[float, float]:
    """Steps to x and y with which the straight way from one place to another leaves. [m]

    Notes
    -----
    Begun along the chord, then corrected by where the way leads, to 1e-10 m or as near as 40 rounds bring it.
    """
    x, out, turn = _place(dome, start)
    goal = _place(dome, end)[0]
    chord = math.dist(x, goal)
    if chord < 1e-12:
        return 0.0, 0.0
    toward = tuple(q - p for p, q in zip(x, goal, strict=True))
    a = sum(p * q for p, q in zip(toward, out, strict=True))
    b = sum(p * q for p, q in zip(toward, turn, strict=True))
    size = math.hypot(a, b) or 1.0
    length, heading = chord, math.atan2(b / size, a / size)
    sin, cos = math.sin(start[0]), math.cos(start[0])

    def steps(length: float, heading: float) -> tuple[float, float]:
        a, b = length * math.cos(heading), length * math.sin(heading)
        return a * sin + b * cos, a * cos - b * sin

    for _ in range(_ROUNDS):
        at, way = _go(dome, start, steps(length, heading), length)
        miss = tuple(q - p for p, q in zip(at, goal, strict=True))
        ahead = sum(p * q for p, q in zip(miss, way, strict=True))
        normal = _normal(dome, at)
        side = (way[1] * normal[2] - way[2] * normal[1], way[2] * normal[0] - way[0] * normal[2], way[0] * normal[1] - way[1] * normal[0])
        aside = sum(p * q for p, q in zip(miss, side, strict=True))
        if math.hypot(ahead, aside) < 1e-10:
            break
        length += ahead
        heading += aside / length
    return steps(length, heading)


def _normal(dome: Dome, x: Vector) -> Vector:
    r = math.hypot(x[0], x[1])
    at = dome.foot(r, x[2])
    sin, cos = (x[0] / r, x[1] / r) if r > 1e-12 else (0.0, 1.0)
    return -at.dd * sin, -at.dd * cos, at.dr
