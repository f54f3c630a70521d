"""Convex rings against shapely (GEOS), which works out the same areas another way."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon, union_all

from wholefilm.surface.flat import area, common, common_m2, flat, union_m2

number = st.floats(-3, 3).map(lambda x: round(x, 3))
points = st.lists(st.tuples(number, number), min_size=3, max_size=12)


def hull(found: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Convex ring round some points."""
    shape = MultiPoint(found).convex_hull
    assume(shape.geom_type == "Polygon")
    return [(float(u), float(v)) for u, v in shape.exterior.coords[:-1]]


@given(points, points)
def test_common_area(one: list[tuple[float, float]], other: list[tuple[float, float]]) -> None:
    a, b = hull(one), hull(other)
    wanted = float(Polygon(a).intersection(Polygon(b)).area)
    assert common_m2(a, b) == pytest.approx(wanted, abs=1e-6)
    assert area(common(a, b)) == pytest.approx(wanted, abs=1e-6) if common(a, b) else wanted < 1e-6
    assert flat(a).convex
    assert not flat(a).apart(flat(b)) or wanted == 0


@given(st.lists(points, min_size=2, max_size=4))
def test_union(rings: list[list[tuple[float, float]]]) -> None:
    """Where three meet nothing is said; otherwise the area is that of the union."""
    hulls = [hull(r) for r in rings]
    found = union_m2([flat(h) for h in hulls])
    if found is not None:
        assert found == pytest.approx(float(union_all([Polygon(h) for h in hulls]).area), abs=1e-6)


def test_two_discs() -> None:
    """Two discs of radius 1 a distance of 1 apart share 2 pi / 3 - sqrt(3) / 2 (circle-circle formula, from memory)."""
    ring = [(math.cos(2 * math.pi * k / 720), math.sin(2 * math.pi * k / 720)) for k in range(720)]
    other = [(u + 1, v) for u, v in ring]
    assert common_m2(ring, other) == pytest.approx(2 * math.pi / 3 - math.sqrt(3) / 2, rel=1e-4)


def test_a_ring_that_turns_both_ways_is_not_convex() -> None:
    assert not flat([(0.0, 0.0), (2.0, 0.0), (1.0, 0.2), (2.0, 2.0), (0.0, 2.0)]).convex
