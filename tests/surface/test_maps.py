"""Maps and their inverses, distances, the tiling by panels."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from surface_tank import tank

from wholefilm.base.errors import BadInput
from wholefilm.surface import Surface, read_item
from wholefilm.surface.disc import Disc

TANK = read_item(tank())
angles = st.floats(0, 359.999)
shares = st.floats(0, 1)
parts = st.sampled_from(sorted(TANK.parts))


def point(part: str, angle: float, share: float) -> tuple[float, float]:
    """A map point at an angle and a share of the height or radius."""
    return TANK.parts[part].from_grid(angle, share * TANK.parts[part].whole.q_end)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts, angles, shares)
def test_map_and_inverse(part: str, angle: float, share: float) -> None:
    u, v = point(part, angle, share)
    assert TANK.from_xyz(part, TANK.to_xyz(part, u, v)) == pytest.approx((u, v), abs=1e-9) or angle > 359.99
    shape = TANK.parts[part]
    assert shape.from_grid(*shape.grid(u, v)) == pytest.approx((u, v), abs=1e-9)


def test_points_in_space(surface: Surface) -> None:
    """X to 90 deg, y to 0 deg, z up; the apex of a 1:6 cone of 6 m radius is 1 m above the shell."""
    assert surface.to_xyz("shell", 3 * math.pi, 3.4) == pytest.approx((6, 0, 3.4))
    assert surface.to_xyz("shell", 0, 0) == (0, 6, 0)
    assert surface.to_xyz("roof", 0, 0) == pytest.approx((0, 0, 10))
    assert surface.to_xyz("roof", 0, -6) == pytest.approx((0, -6, 9))
    assert surface.to_xyz("floor", 2.1, -1.35) == (2.1, -1.35, 0)


@pytest.mark.parametrize(("part", "xyz"), [("shell", (5.9, 0, 1)), ("shell", (6, 0, 9.1)), ("floor", (1, 1, 0.1)), ("roof", (0, 0, 9))])
def test_point_off_the_part(surface: Surface, part: str, xyz: tuple[float, float, float]) -> None:
    with pytest.raises(BadInput, match="within 1 mm"):
        surface.from_xyz(part, xyz)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts, angles, shares)
def test_every_place_lies_in_one_panel(part: str, angle: float, share: float) -> None:
    u, v = point(part, angle, share)
    names = TANK.panels_holding(part, u, v)
    assert names
    if len(names) > 1:  # only on a boundary: a step of 1 mm along the grid leaves one of them
        shape = TANK.parts[part]
        p, q = shape.grid(u, v)
        reach = shape.radius_at(q)
        edges = [
            min(abs(q - b.q), abs(q - b.q_end), *(reach * abs(math.sin(math.radians(p - e) / 2)) for e in (b.p, b.p + b.span)))
            for n in names
            for b in TANK.panel(n).boxes
        ]
        assert max(edges) < 2e-6


def test_random_places_fall_by_area(surface: Surface) -> None:
    """10,000 uniform places on the floor's plan: a quarter in each quadrant, within 4 standard errors (0.0043 each)."""
    rng = np.random.default_rng(7)
    xy = rng.uniform(-6, 6, (16_000, 2))
    xy = xy[np.hypot(*xy.T) < 6][:10_000]
    names = [surface.panels_holding("floor", *row) for row in xy]
    assert all(len(n) == 1 for n in names)
    for quadrant in ("F-1", "F-2", "F-3", "F-4"):
        assert sum(n == [quadrant] for n in names) / len(names) == pytest.approx(0.25, abs=0.0175)


@pytest.mark.parametrize(
    ("arc", "z", "panel"),
    [
        (17.2787595947, 3.0, "S2-3"),
        (17.28, 3.0, "S2-4"),
        (17.27, 3.0, "S2-3"),
        (17.0, 2.25, "S1-3"),
        (0.0, 1.0, "S1-6"),
        (0.0, 3.0, "S2-1"),
        (0, 9, "S4-1"),
    ],
)
def test_boundary_belongs_to_the_first_name(surface: Surface, arc: float, z: float, panel: str) -> None:
    """V2-4 stands at 165 deg = 17.27876 m: on it S2-3, 1.2 mm to the right S2-4; on girth G1 the lower course."""
    assert surface.panel_at("shell", arc, z) == panel


def test_boundary_of_quadrants(surface: Surface) -> None:
    assert surface.panel_at("floor", 0, 0) == "F-1"
    assert surface.panel_at("floor", 0, 3) == "F-1"
    assert surface.panel_at("floor", 3, 0) == "F-1"
    assert surface.panel_at("floor", -3, 0) == "F-3"


def test_distance_round_the_shell(surface: Surface) -> None:
    """0.1 m left and right of 0 deg are 0.2 m apart; 3-4-5; half round is 6 pi."""
    c = 12 * math.pi
    assert surface.distance("shell", (0.1, 1), (c - 0.1, 1)) == pytest.approx(0.2)
    assert surface.distance("shell", (c - 1, 1), (2, 5)) == pytest.approx(5)
    assert surface.distance("shell", (0, 1), (c / 2, 1)) == pytest.approx(18.8496, abs=1e-4)
    assert surface.distance("floor", (1, 1), (4, 5)) == pytest.approx(5)


def test_distance_on_a_cone_against_a_search() -> None:
    """The shortest path over a steep cone, found by scipy as a chain of 3-D steps, is what the unrolled cone gives."""
    cone, turn = Disc("roof", 1.0, 1.0), np.linspace(0, 2.5, 81)

    def chain(inner: np.ndarray) -> float:
        r = np.concatenate([[1.0], inner, [0.8]])
        xyz = np.stack([r * np.sin(turn), r * np.cos(turn), 1 - r])
        return float(np.sqrt((np.diff(xyz) ** 2).sum(axis=0)).sum())

    found = minimize(chain, np.full(79, 0.7), method="L-BFGS-B", options={"maxfun": 200_000, "maxiter": 5000}).fun
    end = 0.8 * math.sin(2.5), 0.8 * math.cos(2.5)
    assert cone.distance((0.0, 1.0), end) == pytest.approx(found, rel=1e-4)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts, angles, shares, angles, shares, angles, shares)
def test_distance_is_a_metric(part: str, a: float, s: float, b: float, t: float, c: float, w: float) -> None:
    p, q, r = point(part, a, s), point(part, b, t), point(part, c, w)
    assert TANK.distance(part, p, q) == pytest.approx(TANK.distance(part, q, p), abs=1e-9)
    assert TANK.distance(part, p, r) <= TANK.distance(part, p, q) + TANK.distance(part, q, r) + 1e-9
    straight = math.dist(TANK.to_xyz(part, *p), TANK.to_xyz(part, *q))
    assert straight <= TANK.distance(part, p, q) + 1e-9


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts, angles, st.floats(0.2, 0.8), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_carry_and_offset(part: str, angle: float, share: float, right: float, up: float) -> None:
    shape = TANK.parts[part]
    if part == "column C":
        right, up = right / 2, up / 2
    start = point(part, angle, share)
    assert shape.offset(start, shape.carry(start, [(right, up)])[0]) == pytest.approx((right, up), abs=1e-9)


def test_nearest_seam(surface: Surface) -> None:
    found = surface.nearest_seam("shell", 17.40, 3.05)
    assert found is not None
    assert found[0].name == "V2-4"
    assert found[1] == pytest.approx(0.12124, abs=1e-5)
    found = surface.nearest_seam("shell", 20.0, 2.40)
    assert found is not None
    assert found[0].name == "G1"
    assert found[1] == pytest.approx(0.15)
    assert surface.nearest_seam("floor", 0, 0) is None
