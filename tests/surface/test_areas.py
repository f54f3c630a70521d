"""Areas of parts, panels and holes against handbook formulas and tables."""

import math

import pytest
from shapely import Polygon

from wholefilm.surface import Surface
from wholefilm.surface.cylinder import Cylinder, hole_area
from wholefilm.surface.disc import Disc


@pytest.mark.parametrize(
    ("outside_mm", "m2_per_m"),
    [(60.3, 0.1894), (114.3, 0.3591), (168.3, 0.5287), (219.1, 0.6883), (323.8, 1.0172), (406.4, 1.2767), (610, 1.9164), (914, 2.8714)],
)
def test_pipe_surface_per_metre(outside_mm: float, m2_per_m: float) -> None:
    """Outside diameters of ASME B36.10M (NPS 2 4 6 8 12 16 24 36), m2/m to four decimals, typed from a run of the library fluids."""
    assert Cylinder("pipe", outside_mm / 2000, 1.0).area_m2 == pytest.approx(m2_per_m, abs=6e-5)


@pytest.mark.parametrize(("outside_in", "ft2_per_ft"), [(0.540, 0.141), (0.840, 0.219), (1.050, 0.276), (1.315, 0.344)])
def test_pipe_surface_per_foot(outside_in: float, ft2_per_ft: float) -> None:
    """A printed pipe table in ft2/ft, three decimals. It cuts some figures and rounds others: it agrees within 0.0012 only."""
    assert Cylinder("pipe", outside_in / 24, 1.0).area_m2 == pytest.approx(ft2_per_ft, abs=1.2e-3)


def test_cone() -> None:
    """Lateral area of a cone of diameter 2, height 1: 4.44288, worked example in the documentation of the library fluids."""
    assert Disc("roof", 1.0, 1.0).area_m2 == pytest.approx(4.44288, abs=5e-6)


def test_hole_of_equal_bores() -> None:
    """Equal bores of radius a: a hole of 4 a^2 (closed form; confirmed by others' Monte Carlo to 0.2 %)."""
    assert hole_area(0.5, 0.5) == pytest.approx(1.0, rel=1e-6)


def test_small_hole_is_nearly_flat() -> None:
    """A bore of 0.6 m in a 12 m shell: pi r^2 = 0.28274, larger by about (b/a)^2/8 = 0.03 % (series, derived)."""
    assert hole_area(6.0, 0.3) == pytest.approx(0.28274 * 1.0003125, rel=2e-5)


def test_goldens_of_the_tank(surface: Surface) -> None:
    """Closed forms by hand: floor 36 pi, course 27 pi, roof 36 pi sqrt(37)/6, column 2.7 pi."""
    areas = {a.name: round(a.area_m2, 2) for a in surface.test_areas}
    assert areas == {"F": 113.10, "S1": 84.82, "S2": 84.82, "S3": 84.82, "S4": 84.82, "R": 114.66, "C": 8.48}
    assert round(surface.total_m2, 2) == 575.53
    assert len(surface.panels) == 33
    assert [round(surface.panel(n).area_m2, 2) for n in ("F-1", "S3-4", "R-4", "C")] == [28.27, 14.14, 28.66, 8.48]


def test_seams(surface: Surface) -> None:
    """24 vertical seams of 2.25 m, 3 girths of 12 pi m; V2-4 at 165 deg is 5.5 pi = 17.28 m of arc."""
    vertical = [s for s in surface.seams if s.kind == "vertical"]
    assert (len(vertical), sum(s.length_m for s in vertical)) == (24, 54.0)
    girths = {s.name: s.line[0][1] for s in surface.seams if s.kind == "girth"}
    assert girths == {"G1": 2.25, "G2": 4.5, "G3": 6.75}
    assert sum(s.length_m for s in surface.seams if s.kind == "girth") == pytest.approx(113.10, abs=0.005)
    starts = {s.name: math.degrees(s.line[0][0] / 6) for s in vertical}
    wanted = {"V1-1": 15, "V2-1": 345, "V3-1": 10, "V4-1": 340, "V2-2": 45, "V2-4": 165, "V4-2": 40, "V1-6": 315}
    assert {n: round(starts[n], 9) for n in wanted} == wanted
    line = next(s.line for s in vertical if s.name == "V2-4")
    assert line[0] == pytest.approx((17.279, 2.25), abs=5e-4)
    assert line[1][1] == 4.5


def test_outlines_have_the_area_of_their_panel(surface: Surface) -> None:
    """Shapely measures the drawn rings."""
    for panel in surface.panels:
        drawn = sum(Polygon(ring).area for ring in panel.outline) * surface.parts[panel.on].factor
        assert drawn == pytest.approx(panel.area_m2, rel=1e-9)
    assert [p.name for p in surface.panels if p.wraps] == ["S1-6", "S2-1", "S3-6", "S4-1"]
