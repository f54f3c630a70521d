"""Convex rings on a flat map, without a geometry library: what most outlines are, and quick to start with."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import combinations, pairwise

import msgspec

from .parts import Point, Ring


class Flat(msgspec.Struct, frozen=True):
    """A ring with what is asked of it often.

    Attributes
    ----------
    ring : list of (float, float)
        Without the first point repeated. [m]
    box : (float, float, float, float)
        Least u and v, greatest u and v. [m]
    convex : bool
    """

    ring: Ring
    box: tuple[float, float, float, float]
    convex: bool

    def apart(self, other: Flat, gap: float = 0.0) -> bool:
        """Whether the boxes have nothing in common."""
        a, b = self.box, other.box
        return a[0] >= b[2] + gap or b[0] >= a[2] + gap or a[1] >= b[3] + gap or b[1] >= a[3] + gap


def flat(ring: Ring) -> Flat:
    """A ring, looked at once."""
    us, vs = [p[0] for p in ring], [p[1] for p in ring]
    return Flat(ring, (min(us), min(vs), max(us), max(vs)), _convex(ring))


def _crosses(ring: Ring) -> list[float]:
    """Cross product of each two edges that follow one another."""
    n = len(ring)
    found = []
    for k in range(n):
        a, b, c = ring[k - 2], ring[k - 1], ring[k]
        found.append((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]))
    return found


def _convex(ring: Ring) -> bool:
    turns = _crosses(ring)
    return len(ring) > 2 and (min(turns) >= -1e-12 or max(turns) <= 1e-12)


def signed_area(ring: Ring) -> float:
    """Area by the shoelace formula, positive anticlockwise. [m2]"""
    n = len(ring)
    return math.fsum(ring[k - 1][0] * ring[k][1] - ring[k][0] * ring[k - 1][1] for k in range(n)) / 2


def area(ring: Ring) -> float:
    """Area of a ring. [m2]"""
    return abs(signed_area(ring))


def common(one: Ring, other: Ring) -> Ring:
    """What two convex rings have in common; an empty ring if nothing.

    Notes
    -----
    Each edge of the second cuts off what lies outside it (Sutherland and Hodgman, 1974).
    """
    side = 1.0 if signed_area(other) >= 0 else -1.0
    left = list(one)
    for k in range(len(other)):
        left = _cut(left, other[k - 1], other[k], side)
    return left


def common_m2(one: Ring, other: Ring) -> float:
    """Area that two convex rings have in common. [m2]

    Notes
    -----
    Cut into slabs at the height of every corner: there the sides of both are straight, and so is what they share between the
    heights at which two sides cross.
    """
    sides = [*_sides(one), *_sides(other)]
    low, high = max(s[0][0][1] for s in sides), min(s[0][-1][1] for s in sides)
    heights = sorted({p[1] for p in (*one, *other) if low < p[1] < high} | {low, high}) if low < high else []
    total = 0.0
    for v0, v1 in pairwise(heights):
        middle = (v0 + v1) / 2
        right_1, left_1, right_2, left_2 = (_line(side, middle) for side in sides)
        cuts = {v0, v1}
        for a, b in combinations((right_1, left_1, right_2, left_2), 2):
            if a[1] != b[1]:
                cuts.add(min(max((a[0] - b[0]) / (b[1] - a[1]), v0), v1))
        for w0, w1 in pairwise(sorted(cuts)):
            w = (w0 + w1) / 2
            width = min(_at(right_1, w), _at(right_2, w)) - max(_at(left_1, w), _at(left_2, w))
            total += max(width, 0.0) * (w1 - w0)
    return total


def union_m2(rings: Sequence[Flat]) -> float | None:
    """Area of the union of convex rings, or None where three of them meet. [m2]"""
    pairs = [(a, b) for a, b in combinations(range(len(rings)), 2) if not rings[a].apart(rings[b])]
    met = set(pairs)
    if any((b, c) in met for (a, b), (x, c) in combinations(pairs, 2) if a == x):
        return None
    return math.fsum(area(f.ring) for f in rings) - math.fsum(common_m2(rings[a].ring, rings[b].ring) for a, b in pairs)


_Side = tuple[Ring, list[float]]
_Line = tuple[float, float]


def _sides(ring: Ring) -> tuple[_Side, _Side]:
    """Right and left side of a convex ring, each from its lowest corner up, with the heights of its corners."""
    turned = ring if signed_area(ring) >= 0 else ring[::-1]
    n = len(turned)
    right = _climb(turned, min(range(n), key=lambda k: (turned[k][1], -turned[k][0])), 1)
    left = _climb(turned, min(range(n), key=lambda k: (turned[k][1], turned[k][0])), -1)
    return (right, [p[1] for p in right]), (left, [p[1] for p in left])


def _climb(ring: Ring, start: int, step: int) -> Ring:
    found = [ring[start]]
    for k in range(1, len(ring)):
        point = ring[(start + step * k) % len(ring)]
        if point[1] <= found[-1][1]:
            break
        found.append(point)
    return found


def _line(side: _Side, v: float) -> _Line:
    """Straight piece of a side at a height, as u = a + b v."""
    ring, heights = side
    k = min(max(bisect_right(heights, v) - 1, 0), len(ring) - 2)
    (u0, v0), (u1, v1) = ring[k], ring[k + 1]
    slope = (u1 - u0) / (v1 - v0)
    return u0 - slope * v0, slope


def _at(line: _Line, v: float) -> float:
    return line[0] + line[1] * v


def _cut(ring: Ring, a: Point, b: Point, side: float) -> Ring:
    du, dv = b[0] - a[0], b[1] - a[1]
    heights = [side * (du * (v - a[1]) - dv * (u - a[0])) for u, v in ring]
    kept: Ring = []
    for k, (point, height) in enumerate(zip(ring, heights, strict=True)):
        before, was = ring[k - 1], heights[k - 1]
        if (height >= 0) != (was >= 0):
            t = was / (was - height)
            kept.append((before[0] + t * (point[0] - before[0]), before[1] + t * (point[1] - before[1])))
        if height >= 0:
            kept.append(point)
    return kept
