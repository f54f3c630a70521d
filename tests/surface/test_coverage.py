"""Footprints and pieces. Areas by hand; the area common to two equal discs by the circle-circle formula (from memory)."""

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.surface import Surface, footprint, outline_polygons, panels_touched, pieces_m2

WELD = {"on": "shell", "shape": "rect", "arc": ["17.08 m", "17.48 m"], "z": ["2.88 m", "4.50 m"]}


def disc(arc: str, z: str, radius: str = "0.175 m") -> dict[str, Any]:
    """A disc on the shell."""
    return {"shape": "disc", "at": {"on": "shell", "arc": arc, "z": z}, "radius": radius}


@pytest.mark.parametrize(
    ("outline", "m2"),
    [
        (WELD, 0.648),
        ({**WELD, "arc": ["37.60 m", "0.10 m"], "z": ["1 m", "2 m"]}, 0.19911),  # 12 pi - 37.60 + 0.10
        ({**WELD, "arc": ["0 m", "37.70 m"], "z": ["1 m", "2 m"]}, 37.69911),
        ({**WELD, "arc": ["37 m", "37.70 m"], "z": ["1 m", "2 m"]}, 0.69911),
        ({"on": "shell", "shape": "rect", "at": ["355 deg", "5 deg"], "z": ["1 m", "2 m"]}, 1.04720),
        (disc("20 m", "5 m"), 0.0962113),
        (disc("0 m", "5 m"), 0.0962113),
        (disc("20 m", "9.00 m"), 0.0481056),
        ({"shape": "disc", "at": {"on": "roof", "at": "0 deg", "from_apex": "3 m"}, "radius": "0.175 m"}, 0.0962113),
        ({"shape": "disc", "at": {"on": "floor", "x": "0 m", "y": "0 m"}, "radius": "6 m"}, 113.0973),
        (
            {
                "shape": "rect",
                "at": {"on": "floor", "x": "2.35 m", "y": "-1.16 m"},
                "width": "0.92 m",
                "height": "0.24 m",
                "turn": "-36.5 deg",
            },
            0.2208,
        ),
        ({"shape": "rect", "at": {"near": "M2", "clock": "180 deg"}, "width": "0.45 m", "height": "0.20 m"}, 0.09),
        (
            {"shape": "rect", "at": {"on": "roof", "at": "200 deg", "from_apex": "4 m"}, "width": "2 m", "height": "1 m", "turn": "30 deg"},
            2.0,
        ),
        ({"shape": "panel", "panel": "S2-1"}, 14.13717),
        (
            {
                "shape": "strip",
                "from": {"on": "floor", "x": "0 m", "y": "0 m"},
                "to": {"on": "floor", "x": "3 m", "y": "4 m"},
                "width": "0.2 m",
                "beyond": "0.5 m",
            },
            1.2,
        ),
        ({"on": "floor", "shape": "rect", "x": ["-1 m", "1 m"], "y": ["0 m", "0.5 m"]}, 1.0),
    ],
)
def test_one_outline(surface: Surface, outline: dict[str, Any], m2: float) -> None:
    assert footprint(surface, [outline]) == pytest.approx(m2, rel=2e-5)


def test_lone_disc_is_exact(surface: Surface) -> None:
    assert footprint(surface, [disc("20 m", "5 m")]) == pytest.approx(math.pi * 0.175**2, rel=1e-6)


def test_two_discs_count_the_overlap_once(surface: Surface) -> None:
    """R 0.175, centres sqrt(0.10^2 + 0.05^2) = 0.11180 apart: 2 pi r^2 - (2 r^2 acos(d/2r) - d/2 sqrt(4 r^2 - d^2)) = 0.13466."""
    assert footprint(surface, [disc("18.74 m", "4.77 m"), disc("18.84 m", "4.82 m")]) == pytest.approx(0.13466, abs=1e-5)
    assert footprint(surface, [disc("20 m", "5 m")] * 3) == pytest.approx(0.0962113, rel=1e-6)


def test_overlap_through_the_edge_of_the_map(surface: Surface) -> None:
    """Two discs whose centres lie 0.10 m apart across 0 deg (37.649112 = 12 pi - 0.05)."""
    across = footprint(surface, [disc("37.649112 m", "5 m"), disc("0.05 m", "5 m")])
    assert across == pytest.approx(footprint(surface, [disc("20 m", "5 m"), disc("20.10 m", "5 m")]), rel=1e-5)
    part, rings = outline_polygons(surface, disc("0.05 m", "5 m"))
    assert part == "shell"
    assert len(rings) == 2


def test_parts_add_up(surface: Surface) -> None:
    floor = {"shape": "disc", "at": {"on": "floor", "x": "1 m", "y": "1 m"}, "radius": "0.175 m"}
    assert footprint(surface, [WELD, floor]) == pytest.approx(0.648 + 0.0962113, rel=1e-6)
    assert footprint(surface, []) == 0


def test_panels_touched(surface: Surface) -> None:
    """The weld strip straddles V2-4; its top edge lies on girth G2 and touches no panel of course 3."""
    assert panels_touched(surface, WELD) == ["S2-3", "S2-4"]
    assert panels_touched(surface, {**WELD, "z": ["2.00 m", "4.60 m"]}) == ["S1-3", "S2-3", "S2-4", "S3-3"]
    assert panels_touched(surface, {"shape": "disc", "at": {"on": "floor", "x": "0 m", "y": "0 m"}, "radius": "1 m"}) == [
        "F-1",
        "F-2",
        "F-3",
        "F-4",
    ]
    assert panels_touched(surface, disc("0 m", "1 m")) == ["S1-6"]


def test_pieces(surface: Surface) -> None:
    """0.20124 m of the 0.40 m wide strip lies right of V2-4 (17.48 - 17.27876), 1.62 m high: 0.32601 m2."""
    assert pieces_m2(surface, "S2-4", [WELD]) == pytest.approx(0.32601, abs=1e-5)
    assert pieces_m2(surface, "S2-4", [WELD, WELD, {"area": "2.5 m2"}]) == pytest.approx(2.82601, abs=1e-5)
    assert pieces_m2(surface, "S2-4", [{"shape": "panel", "panel": "S2-4"}]) == pytest.approx(14.13717, abs=1e-5)
    assert pieces_m2(surface, "S2-4", [{"area": "14.14 m2"}]) == pytest.approx(14.13717, abs=1e-5)


@pytest.mark.parametrize(
    ("pieces", "field", "allowed"),
    [
        ([{"area": "15 m2"}], "pieces[1].area", "at most 14.14 m2"),
        ([{"area": "0 m2"}], "pieces[1].area", "above 0"),
        ([{"area": "2.5"}], "pieces[1].area", "with its unit"),
        ([{"area": "9 m2"}, {"area": "9 m2"}], "pieces", "at most 14.14 m2"),
        ([{"shape": "panel", "panel": "F-1"}], "pieces[1]", "in panel S2-4"),
        ([{"shape": "star"}], "pieces[1].shape", "rect, disc, strip, panel"),
        ([disc("20 m", "5 m", "-1 m")], "pieces[1].radius", "above 0"),
        ([{**WELD, "z": ["3 m", "2 m"]}], "pieces[1].z", "a smaller value, then a larger one"),
        ([{**WELD, "arc": ["3 m", "3 m"]}], "pieces[1].arc", "two values that differ"),
        ([{**WELD, "z": ["3 m"]}], "pieces[1].z", "two values"),
        ([{**WELD, "z": ["3 m", "9.5 m"]}], "pieces[1].z", "0 to 9.00 m"),
        ([{"on": "floor", "shape": "rect", "x": ["7 m", "8 m"], "y": ["0 m", "1 m"]}], "pieces[1]", "partly on the floor"),
    ],
)
def test_bad_pieces(surface: Surface, pieces: list[dict[str, Any]], field: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        pieces_m2(surface, "S2-4", pieces)
    assert caught.value.field == field
    assert allowed in caught.value.allowed


ANY = st.recursive(
    st.none() | st.integers() | st.sampled_from(["1 m", "5 deg", "shell", "floor", "roof", "S2-3", "rect", "2 m2"]),
    lambda s: st.lists(s, max_size=2) | st.dictionaries(st.sampled_from(["on", "at", "z", "x", "y", "near", "from_apex"]), s, max_size=3),
)
KEYS = ["on", "at", "arc", "z", "x", "y", "radius", "width", "height", "turn", "from", "to", "beyond", "panel"]


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(["rect", "disc", "strip", "panel"]), st.dictionaries(st.sampled_from(KEYS), ANY, max_size=5))
def test_any_outline_has_an_area_or_is_bad_input(surface: Surface, shape: str, fields: dict[str, Any]) -> None:
    try:
        area = footprint(surface, [{"shape": shape, **fields}])
    except BadInput:
        return
    assert 0 < area < 400


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.floats(0, 37.6), st.floats(0.5, 8.5), st.floats(0.01, 0.4))
def test_a_disc_is_shared_out_among_panels(surface: Surface, arc: float, z: float, radius: float) -> None:
    """What the panels hold of a disc adds up to pi r^2, wherever it lies."""
    outline = disc(f"{arc:.3f} m", f"{z:.3f} m", f"{radius:.3f} m")
    held = sum(pieces_m2(surface, name, [outline]) for name in panels_touched(surface, outline))
    assert held == pytest.approx(math.pi * round(radius, 3) ** 2, rel=1e-5, abs=4e-6)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.floats(0, 359), st.floats(0.5, 5.5), st.floats(0.01, 0.4))
def test_a_disc_on_a_cone_keeps_its_area(surface: Surface, at: float, far: float, radius: float) -> None:
    outline = {"shape": "disc", "at": {"on": "roof", "at": f"{at:.2f} deg", "from_apex": f"{far:.3f} m"}, "radius": f"{radius:.3f} m"}
    assert footprint(surface, [outline]) == pytest.approx(math.pi * round(radius, 3) ** 2, rel=1e-5)


def test_thirteen_discs_of_which_two_overlap(surface: Surface) -> None:
    """11 x 0.0962113 + 0.13466 = 1.19298 m2 by hand."""
    places = "14.61,6.46 15.77,4.85 22.15,5.49 18.74,4.77 23.06,5.41 23.42,5.32 20.45,6.33 19.37,5.24 16.78,5.07 18.84,4.82 14.84,4.79"
    discs = [disc(f"{arc} m", f"{z} m") for arc, z in (pair.split(",") for pair in f"{places} 21.40,4.56 22.71,5.94".split())]
    assert footprint(surface, discs) == pytest.approx(1.19298, abs=2e-5)
    assert sorted({name for outline in discs for name in panels_touched(surface, outline)}) == ["S2-4", "S3-3", "S3-4"]
