"""Typed places: forms, words, round trips, messages. The places are those of an invented tank."""

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from surface_tank import tank

from wholefilm.base.errors import BadInput
from wholefilm.surface import Surface, parse_place_text, read_item

TANK = read_item(tank())


@pytest.mark.parametrize(
    ("place", "part", "u", "v", "panel"),
    [
        ({"item": "T1", "on": "shell", "arc": "17.27 m", "z": "3.06 m"}, "shell", 17.27, 3.06, "S2-3"),
        ({"on": "shell", "arc": "17,33 m", "z": "347 cm"}, "shell", 17.33, 3.47, "S2-4"),
        ({"on": "shell", "at": "165 deg", "z": "3.40 m"}, "shell", 17.27876, 3.40, "S2-3"),
        ({"on": "shell", "at": "165 deg", "z": "3.40 m", "panel": "S2-4"}, "shell", 17.27876, 3.40, "S2-4"),
        ({"on": "shell", "at": "301 deg", "z": "0.02 m"}, "shell", 31.52065, 0.02, "S1-5"),
        ({"on": "shell", "at": "20 deg", "z": "7.40 m"}, "shell", 2.09440, 7.40, "S4-1"),
        ({"on": "shell", "at": "71 deg", "z": "8.98 m"}, "shell", 7.43510, 8.98, "S4-2"),
        ({"on": "shell", "at": "288 deg", "z": "8.98 m"}, "shell", 30.15929, 8.98, "S4-6"),
        ({"on": "floor", "x": "2.10 m", "y": "-1.35 m"}, "floor", 2.10, -1.35, "F-2"),
        ({"on": "floor", "at": "270 deg", "from_centre": "2 m"}, "floor", -2, 0, "F-3"),
        # 3 m along a slope of 1:6 is 3 * 6/sqrt(37) = 2.95918 m in plan
        ({"on": "roof", "at": "71 deg", "from_apex": "3.0 m"}, "roof", 2.79796, 0.96342, "R-1"),
        ({"on": "column C", "at": "10 deg", "z": "1 m"}, "column C", 0.02618, 1, "C"),
        ({"near": "V2-4", "right": "0.12 m", "above": "0.80 m"}, "shell", 17.39876, 3.05, "S2-4"),
        ({"near": "V2-4", "left": "120 mm", "near_level": "G2", "below": "0.50 m"}, "shell", 17.15876, 4.0, "S2-3"),
        ({"near": "V2-1", "right": "2 m", "near_level": "floor", "above": "3 m"}, "shell", 0.42920, 3.0, "S2-1"),
        ({"near": "G1", "above": "0.10 m", "at": "165 deg"}, "shell", 17.27876, 2.35, "S2-3"),
        ({"near": "M2", "right": "0.5 m", "above": "0.2 m"}, "shell", 19.76843, 0.80, "S1-3"),
        ({"near": "ladder", "right": "0.1 m", "near_level": "G3", "above": "0.65 m"}, "shell", 2.19440, 7.40, "S4-1"),
        # rim: u = 19.26843 + 0.3 sin 153, v = 0.60 + 0.3 cos 153
        ({"near": "M2", "clock": "153 deg"}, "shell", 19.40463, 0.33270, "S1-3"),
        ({"near": "N2", "clock": "40 deg", "on_pad": True}, "shell", 25.26773, 1.36087, "S1-4"),
        ({"near": "N2", "clock": "270 deg"}, "shell", 25.03274, 1.20, "S1-4"),
    ],
)
def test_forms(surface: Surface, place: dict[str, Any], part: str, u: float, v: float, panel: str) -> None:
    """Coordinates by hand from arc = radius times angle; clock 0 is up, clockwise seen from inside."""
    spot = surface.read_place(place)
    assert (spot.part, spot.panel) == (part, panel)
    assert (spot.u, spot.v) == pytest.approx((u, v), abs=6e-6)
    assert spot.test_area == panel.split("-")[0]


@pytest.mark.parametrize(
    ("arcs", "panel"),
    [
        ("14.61,6.46 15.77,4.85 18.74,4.77 19.37,5.24 16.78,5.07 18.84,4.82 14.84,4.79", "S3-3"),
        ("22.15,5.49 23.06,5.41 23.42,5.32 20.45,6.33 21.40,4.56 22.71,5.94", "S3-4"),
        ("17.27,3.06 17.25,3.81 17.26,3.97", "S2-3"),
        ("17.29,3.14 17.30,3.31 17.33,3.47 17.30,3.60 17.31,3.69 17.32,4.16 17.30,4.24 17.31,4.44", "S2-4"),
    ],
)
def test_clusters_fall_in_their_panels(surface: Surface, arcs: str, panel: str) -> None:
    for pair in arcs.split():
        arc, z = pair.split(",")
        assert surface.read_place({"on": "shell", "arc": f"{arc} m", "z": f"{z} m"}).panel == panel


@pytest.mark.parametrize(
    ("line", "words", "panel"),
    [
        ("course 2, 165 deg, 3.40 m", "course 2, 165 deg, 3.40 m", "S2-3"),
        ("course 2, 165 deg, z 3.40 m", "course 2, 165 deg, 3.40 m", "S2-3"),
        ("course S2; 165°; 3,40 m", "course 2, 165 deg, 3.40 m", "S2-3"),
        ("course 2, 100 deg, 2.25 m", "course 1, 100 deg, 2.25 m", "S2-2"),
        ("course 1, 100 deg, 2.25 m", "course 1, 100 deg, 2.25 m", "S1-2"),
        ("shell, arc 17.27 m, 3.06 m", "course 2, 164.9 deg, 3.06 m", "S2-3"),
        ("0.12 right of V2-4, 0.80 above G1", "course 2, 166.1 deg, 3.05 m", "S2-4"),
        ("12 cm right of V2-4, 0.80 m above G1", "course 2, 166.1 deg, 3.05 m", "S2-4"),
        ("on V2-4, at G2", "course 2, 165 deg, 4.50 m", "S2-3"),
        ("0.02 left of V4-2, 0.02 below top", "course 4, 39.8 deg, 8.98 m", "S4-1"),
        ("0.02 below top, 71 deg", "course 4, 71 deg, 8.98 m", "S4-2"),
        ("0.10 above G1, arc 17.27 m", "course 2, 164.9 deg, 2.35 m", "S2-3"),
        ("at floor, 301 deg", "course 1, 301 deg, 0.00 m", "S1-5"),
        ("shell, arc 37.70 m, 1 m", "course 1, 0 deg, 1.00 m", "S1-6"),
        ("M2 rim at 153 deg", "course 1, 185.3 deg, 0.33 m", "S1-3"),
        ("N2 pad toe at 231 deg", "course 1, 238.4 deg, 1.07 m", "S1-4"),
        ("floor, x 2.10 m, y -1.35 m", "floor, x 2.10 m, y -1.35 m", "F-2"),
        ("floor, 270 deg, 2 m from centre", "floor, x -2.00 m, y 0.00 m", "F-3"),
        ("roof, 71 deg, 3.00 m from apex", "roof, 71 deg, 3.00 m from apex", "R-1"),
        ("column C, 10 deg, 1 m", "column C, 10 deg, 1.00 m", "C"),
    ],
)
def test_typed_lines(surface: Surface, line: str, words: str, panel: str) -> None:
    spot = surface.read_text(line)
    assert (spot.text, spot.panel) == (words, panel)


def test_say_near(surface: Surface) -> None:
    assert surface.say_near("shell", 17.39876, 3.05) == "0.12 right of V2-4, 0.80 above G1"
    assert surface.say_near("shell", 17.15876, 4.30) == "0.12 left of V2-4, 0.20 below G2"
    assert surface.say_near("shell", 0.42920, 0.5) == "1.14 left of V1-1, 0.50 above floor"
    assert surface.say_near("shell", 17.2788, 4.5) == "on V2-4, at G2"
    assert surface.say_near("shell", 19.40463, 0.33270) == "M2 rim at 153 deg"
    assert surface.say_near("shell", 25.26773, 1.36087) == "N2 pad at 40 deg"
    assert surface.say_near("floor", 1, 1) is None


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(sorted(TANK.parts)), st.floats(0, 360), st.floats(0, 1))
def test_words_can_be_typed_again(part: str, angle: float, share: float) -> None:
    """What is printed leads back to within the last digit printed: 5 mm, and half of the angle's step, at most 5.5 mm each."""
    shape = TANK.parts[part]
    u, v = shape.from_grid(angle, share * shape.whole.q_end)
    spot = TANK.read_text(TANK.say(part, u, v))
    assert spot.part == part
    assert TANK.distance(part, (u, v), (spot.u, spot.v)) < 0.0085
    near = TANK.say_near(part, u, v)
    if near is not None:
        again = TANK.read_text(near)
        assert TANK.distance(part, (u, v), (again.u, again.v)) < (0.012 if " at " in near and "deg" in near else 0.0085)


@pytest.mark.parametrize(
    ("place", "field", "value", "allowed"),
    [
        ({"on": "wall", "at": "1 deg", "z": "1 m"}, "on", "wall", "shell, floor, roof, column C"),
        ({"on": "shell", "at": "1 deg", "z": "9.10 m"}, "place.z", "9.10 m", "0 to 9.00 m"),
        ({"on": "shell", "at": "1 deg", "z": "-0.1 m"}, "place.z", "-0.1 m", "0 to 9.00 m"),
        ({"on": "shell", "at": "361 deg", "z": "1 m"}, "place.at", "361 deg", "0 to 360 deg"),
        ({"on": "shell", "arc": "37.71 m", "z": "1 m"}, "place.arc", "37.71 m", "0 to 37.70 m"),
        ({"on": "shell", "arc": "3", "z": "1 m"}, "place.arc", "3", "with its unit"),
        ({"on": "shell", "arc": "3 m", "at": "1 deg", "z": "1 m"}, "place.at", "arc", "one of 'arc'"),
        ({"on": "shell", "z": "1 m"}, "place.at", "z", "'at' (0 to 360 deg)"),
        ({"on": "shell", "at": "1 deg"}, "place.z", "nothing", "unit of length"),
        ({"on": "shell", "at": "1 deg", "z": "1 V"}, "place.z", "1 V", "a length with its unit"),
        ({"on": "floor", "x": "5 m", "y": "5 m"}, "place.x", "5 m, 5 m", "within 6.00 m"),
        ({"on": "roof", "at": "1 deg", "from_apex": "6.10 m"}, "place.from_apex", "6.10 m", "0 to 6.08 m"),
        ({"on": "floor", "x": "1 m", "y": "1 m", "zz": "1"}, "place.zz", "1", "one of the fields"),
        ({"on": "shell", "course": "2", "at": "1 deg", "z": "1 m"}, "place.z", "1 m", "2.25 m to 4.50 m"),
        ({"on": "shell", "course": "9", "at": "1 deg", "z": "1 m"}, "place.course", "9", "1 to 4"),
        ({"on": "floor", "x": "1 m", "y": "1 m", "panel": "F-2"}, "place.panel", "F-2", "F-1"),
        ({"item": "T2", "on": "floor", "x": "1 m", "y": "1 m"}, "place.item", "T2", "the item T1"),
        ({"near": "V9-1", "right": "0 m", "above": "0 m"}, "place.near", "V9-1", "V2-4"),
        ({"near": "V2-4", "above": "0 m"}, "place.right", "nothing", "a length"),
        ({"near": "V2-4", "right": "0 m"}, "place.above", "nothing", "a length"),
        ({"near": "V2-4", "right": "0 m", "left": "0 m", "above": "1 m"}, "place.left", "0 m", "either 'right' or 'left'"),
        ({"near": "V2-4", "right": "0 m", "near_level": "G7", "above": "1 m"}, "place.near_level", "G7", "floor, G1, G2, G3, top"),
        ({"near": "V4-4", "right": "0 m", "above": "5 m"}, "place", "above 5 m", "ends at 0.00 m and 9.00 m"),
        ({"near": "V2-4", "clock": "5 deg"}, "place.clock", "5 deg", "an opening"),
        ({"near": "M2", "clock": "5 deg", "on_pad": True}, "place.on_pad", "M2", "pad_radius"),
        ({"near": "ladder", "clock": "5 deg"}, "place.clock", "ladder", "rim_radius or bore"),
    ],
)
def test_bad_places(surface: Surface, place: dict[str, Any], field: str, value: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        surface.read_place(place)
    assert caught.value.field == field
    assert value in str(caught.value.value)
    assert allowed in caught.value.allowed


@pytest.mark.parametrize("line", ["", "here", "course 2", "course 2, 165 deg", "0.12 right of V2-4, near G1", "a, b, c, d", ", , ,"])
def test_bad_lines(line: str) -> None:
    with pytest.raises(BadInput, match=r"course 2, 165 deg, 3\.40 m"):
        parse_place_text(line)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.dictionaries(
        st.sampled_from(["on", "near", "at", "arc", "z", "x", "y", "right", "above", "clock", "on_pad", "course", "panel", "near_level"]),
        st.one_of(
            st.text(max_size=8),
            st.integers(),
            st.none(),
            st.booleans(),
            st.just([]),
            st.just({}),
            st.sampled_from(["shell", "V2-4", "M2", "G1", "1 m", "9" * 5000 + " m", "5 deg"]),
        ),
    )
)
def test_any_map_is_a_place_or_bad_input(place: dict[str, Any]) -> None:
    try:
        spot = TANK.read_place(place)
    except BadInput:
        return
    assert math.isfinite(spot.u)
    assert spot.panel


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=40))
def test_any_line_is_a_place_or_bad_input(line: str) -> None:
    try:
        parse_place_text(line)
    except BadInput:
        return
