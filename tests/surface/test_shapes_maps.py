"""Maps of pipes, cans, floors, vessels, balls: inverses, places, words, ways along the surface."""

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq
from surface_shapes import cans, floor, item, joints, vessel

from wholefilm.base.errors import BadInput
from wholefilm.surface import Surface, footprint, outline_polygons, panels_touched, read_item
from wholefilm.surface.heads import read_head
from wholefilm.surface.revolved import Revolved

BALL = item("sphere", {"diameter": "10 m"}, [{"name": "T", "on": "top half"}, {"name": "B", "on": "bottom half"}], "quadrants")
PLACED = [
    ("top head", {"at": "10 deg", "along": "0.4 m"}),
    ("bottom head", {"at": "0 deg", "from_centre": "0 m"}),
    ("shell", {"at": "5 deg", "z": "1 m"}),
    ("shell", {"at": "5 deg", "z": "2 m"}),
]
KETTLE = vessel(
    necks=[{"name": f"N{k}", "bore": "80 mm", "length": "0.2 m", "on": on, **at} for k, (on, at) in enumerate(PLACED)],
    top_head={"kind": "ellipsoidal", "straight_flange": "30 mm"},
    bottom_head={"kind": "cone", "slope": "1:2"},
)
ITEMS: dict[str, Surface] = {
    name: read_item(body)
    for name, body in {"joints": joints(), "cans": cans(), "floor": floor(), "vessel": vessel(), "ball": BALL, "kettle": KETTLE}.items()
}
PARTS = [(name, part) for name, s in ITEMS.items() for part in list(s.parts)[:12]]
SLOW = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
shares = st.floats(0, 1) | st.sampled_from([0.0, 1.0, 1e-12, 1 - 1e-12])


def point(name: str, part: str, turn: float, share: float) -> tuple[float, float]:
    """A map point by shares of the grid."""
    shape = ITEMS[name].parts[part]
    box = shape.whole
    return shape.from_grid(box.p + turn * box.span, box.q + share * (box.q_end - box.q))


@pytest.mark.parametrize(("name", "part"), PARTS)
@SLOW
@given(shares, shares)
def test_map_and_inverse(name: str, part: str, turn: float, share: float) -> None:
    """Compared as points in space, so that the seam and the pole are no exception: 1e-9 of the size."""
    shape = ITEMS[name].parts[part]
    u, v = point(name, part, turn, share)
    xyz = shape.to_xyz(u, v)
    size = max(1.0, *map(abs, xyz))
    if part == "floor" and name == "floor" and any(abs(u - x) < 1e-3 for s in shape.steps for x in (s.x, s.x_end)):  # type: ignore[attr-defined]
        return  # on the edge of a step two heights belong to one x, y
    assert math.dist(shape.to_xyz(*shape.from_xyz(*xyz)), xyz) < 1e-9 * size
    assert math.dist(shape.to_xyz(*shape.from_grid(*shape.grid(u, v))), xyz) < 1e-9 * size


@pytest.mark.parametrize(("name", "part"), PARTS)
@SLOW
@given(shares, shares)
def test_every_place_lies_in_a_panel_and_can_be_typed_again(name: str, part: str, turn: float, share: float) -> None:
    """What is printed leads back to within its last digit: 5 mm along, and half of the step round, at most 5.7 mm."""
    surface = ITEMS[name]
    u, v = point(name, part, turn, share)
    assert surface.panels_holding(part, u, v)
    spot = surface.read_text(surface.say(part, u, v))
    assert spot.part == part
    shape = surface.parts[part]
    assert math.dist(shape.to_xyz(u, v)[:2], shape.to_xyz(spot.u, spot.v)[:2]) < 0.009


@pytest.mark.parametrize(
    ("name", "line", "xyz"),
    [
        # joint 4 lies 3 x 12.2 m down the line; 06:00 is below; 03:00 to the right of one who looks downstream
        ("joints", "J-004, -40 mm, 06:00", (0, 36.56, -0.305)),
        ("joints", "J-001, 250 mm, 03:00", (0.305, 0.25, 0)),
        ("cans", "P-02, 0 mm, 90 deg", (1, 2.5, 0)),
        ("floor", "floor, x 2.00 m, y 5.00 m", (2, 5, 0.3)),
        ("floor", "floor, x 17.00 m, y 1.00 m", (17, 1, -0.9)),
        ("floor", "kerb, arc 12.00 m, 0.20 m", (1, 11, 0.2)),
        ("floor", "SU, x 17.40 m, y 1.80 m, -0.30 m", (17.4, 1.8, -0.3)),
        ("vessel", "top head, 0 deg, 0.00 m from pole", (0, 0, 4.8 + 0.46506)),
        ("vessel", "bottom head, 0 deg, 1.20 m from centre", (0, 1.2, 0)),
        ("vessel", "shell, 90 deg, 4.80 m", (1.2, 0, 4.8)),
        # N4 stands at 40 deg, z 2.40: its 12:00 is 0.1 m above its axis, 150 mm out from the shell
        ("vessel", "N4, 150 mm, 12:00", (1.35 * 0.642788, 1.35 * 0.766044, 2.5)),
        # 03:00 is to the right of one who looks out: clockwise, seen from above, from 40 deg
        ("vessel", "N4, 150 mm, 03:00", (1.35 * 0.642788 + 0.1 * 0.766044, 1.35 * 0.766044 - 0.1 * 0.642788, 2.4)),
    ],
)
def test_points_in_space(name: str, line: str, xyz: tuple[float, float, float]) -> None:
    """By hand; the depth of the head, 0.193774 D, is that of the formula in the handbooks (0.1935 D, DIN 28011, from memory)."""
    spot = ITEMS[name].read_text(line)
    assert ITEMS[name].to_xyz(spot.part, spot.u, spot.v) == pytest.approx(xyz, abs=2e-5)


@pytest.mark.parametrize(
    ("name", "place", "panel"),
    [
        ("floor", {"on": "floor", "x": "9.78 m", "y": "3.59 m"}, "D2"),
        ("floor", {"on": "floor", "x": "12.00 m", "y": "3.68 m"}, "D2"),  # the saw cut belongs to column D
        ("floor", {"on": "floor", "x": "17.9 m", "y": "0.1 m"}, "F1"),
        ("floor", {"near": "SJ", "right": "0.02 m", "above": "2.03 m"}, "E1"),
        ("vessel", {"on": "shell", "at": "270 deg", "z": "1.20 m"}, "SH-1"),
        ("vessel", {"on": "shell", "at": "271 deg", "z": "3.95 m"}, "SH-6"),
        ("vessel", {"on": "top head", "at": "38 deg", "from_centre": "1.08 m"}, "TH"),
        ("vessel", {"near": "N4", "clock": "04:30"}, "SH-4"),
        ("vessel", {"near": "L2", "left": "20 mm", "near_level": "bottom", "above": "1 m"}, "SH-1"),
        ("cans", {"near": "P-05 LS1", "right": "0 m", "above": "1260 mm"}, "P-05"),
        ("joints", {"on": "KP 3.137", "along": "-150 mm", "clock": "6:00"}, "J-004"),
    ],
)
def test_places(name: str, place: dict[str, Any], panel: str) -> None:
    assert ITEMS[name].read_place(place).panel == panel


@SLOW
@given(st.floats(0, 360), st.floats(0, 7.8), st.floats(0, 360), st.floats(0, 7.8))
def test_distance_on_a_ball_is_a_great_circle(p: float, s: float, q: float, t: float) -> None:
    """Haversine formula on a ball of radius 5."""
    half = ITEMS["ball"].parts["top half"]
    lat, other = math.pi / 2 - s / 5, math.pi / 2 - t / 5
    h = math.sin((lat - other) / 2) ** 2 + math.cos(lat) * math.cos(other) * math.sin(math.radians(p - q) / 2) ** 2
    found = half.distance(half.from_grid(p, s), half.from_grid(q, t))
    assert found == pytest.approx(10 * math.asin(min(1.0, math.sqrt(h))), abs=1e-7)


@pytest.mark.parametrize(
    ("kind", "start", "end", "turn"),
    [("din28011", 0.1, 0.52, 70), ("asme_fd", 0.50, 0.54, 15), ("ellipsoidal", 0.3, 0.55, 40), ("din28013", 0.2, 0.6, 30)],
)
def test_distance_on_heads_by_clairaut(kind: str, start: float, end: float, turn: float) -> None:
    """Clairaut's relation, r sin(angle to the meridian) = c, integrated by scipy over the printed shape of the head.

    The way turns by the integral of c / (r sqrt(r^2 - c^2)) and is as long as that of r / sqrt(r^2 - c^2), both along the meridian.
    """
    part = Revolved("head", read_head({"kind": kind}, 1.0, ""))
    bend = [part.pieces[0].length]

    def r(s: float) -> float:
        return part.meridian(s).r

    def turned(c: float) -> float:
        return float(quad(lambda s: c / (r(s) * math.sqrt(r(s) ** 2 - c * c)), start, end, points=bend, limit=200)[0])

    c = brentq(lambda c: turned(c) - math.radians(turn), 1e-9, r(start) * (1 - 1e-9), xtol=1e-12)
    length = quad(lambda s: r(s) / math.sqrt(r(s) ** 2 - c * c), start, end, points=bend, limit=200)[0]
    assert part.distance(part.from_grid(20, start), part.from_grid(20 + turn, end)) == pytest.approx(length, rel=2e-5)


@SLOW
@given(st.sampled_from(["top head", "bottom head"]), shares, st.floats(0, 1), shares, st.floats(0, 1))
def test_distance_is_a_metric(part: str, a: float, s: float, b: float, t: float) -> None:
    one, other = point("vessel", part, a, s), point("vessel", part, b, t)
    head = ITEMS["vessel"].parts[part]
    there = head.distance(one, other)
    assert there == pytest.approx(head.distance(other, one), abs=1e-9)
    assert there >= math.dist(head.to_xyz(*one), head.to_xyz(*other)) - 1e-9
    assert there <= 1.3691 + 1.3691 + 1e-6  # over the pole: 0.5716 x 2.4 (length of the meridian, DIN 28011) twice


@pytest.mark.parametrize(
    ("name", "outline", "m2"),
    [
        # a cap of radius 0.2 m on a crown of 2.4 m: 2 pi R^2 (1 - cos(r/R)) = 0.125591
        ("vessel", {"shape": "disc", "at": {"on": "top head", "at": "30 deg", "along": "0.5 m"}, "radius": "0.2 m"}, 0.125591),
        ("vessel", {"shape": "disc", "at": {"on": "N4", "clock": "06:00", "along": "100 mm"}, "radius": "0.05 m"}, 0.00785398),
        ("joints", {"shape": "rect", "on": "J-004", "clock": ["11:30", "00:30"], "along": ["-100 mm", "100 mm"]}, 0.0319395),
        ("cans", {"shape": "strip", "from": {"on": "P-05", "at": "45 deg", "along": "1 m"},
                  "to": {"on": "P-05", "at": "45 deg", "along": "2 m"}, "width": "0.1 m"}, 0.1),
        ("floor", {"shape": "rect", "on": "floor", "x": ["11.9 m", "12.1 m"], "y": ["2 m", "7 m"]}, 1.0),
        ("floor", {"shape": "rect", "on": "kerb", "arc": ["57 m", "1 m"], "z": ["0 m", "0.1 m"]}, 0.2),
        # a disc on the rim of the head: about half of it is left
        ("vessel", {"shape": "disc", "at": {"on": "top head", "at": "30 deg", "from_centre": "1.2 m"}, "radius": "0.01 m"}, 0.000157),
    ],
)  # fmt: skip
def test_footprints(name: str, outline: dict[str, Any], m2: float) -> None:
    """By hand; a clock hour is 30 deg, on radius 0.305 m two half hours are 0.159698 m."""
    surface = ITEMS[name]
    assert footprint(surface, [outline]) == pytest.approx(m2, rel=1e-2 if m2 < 0.001 else 2e-5)
    assert panels_touched(surface, outline)
    assert outline_polygons(surface, outline)[1]


def test_openings_on_a_head_and_a_floor() -> None:
    """Bore 0.4 m on a crown of 2.4 m: cap of chord 0.2 m, 2 pi 2.4^2 (1 - sqrt(1 - 0.2^2/2.4^2)) = 0.125883 m2; flat pi r^2 else."""
    feature = {"name": "M1", "what": "manway", "on": "top head", "at": "0 deg", "along": "0.5 m", "bore": "0.4 m"}
    body = {**vessel(), "features": [feature]}
    whole, less = read_item(body), read_item({**body, "openings_deducted": True})
    assert whole.panel("TH").area_m2 - less.panel("TH").area_m2 == pytest.approx(0.125883, abs=2e-6)


@pytest.mark.parametrize(
    ("x", "panel", "ok"), [("12.03 m", "D2", True), ("11.97 m", "E2", True), ("12.06 m", "D2", False), ("12.03 m", "C2", False)]
)
def test_a_place_beside_a_joint_may_name_the_panel_across_it(x: str, panel: str, ok: bool) -> None:
    """A saw cut that belongs to column D: 50 mm to either side. Without a name the place belongs where it lies."""
    surface = read_item(floor(joints=[{"name": "SJ", "x": "12.0 m", "reach": "50 mm"}]))
    place = {"on": "floor", "x": x, "y": "4.00 m"}
    assert surface.read_place(place).panel in ("D2", "E2")
    if ok:
        assert surface.read_place({**place, "panel": panel}).panel == panel
    else:
        with pytest.raises(BadInput, match=r"place\.panel"):
            surface.read_place({**place, "panel": panel})
