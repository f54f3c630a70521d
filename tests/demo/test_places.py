"""Places and footprints of the demo on its surface, against the areas and distances that its story tells (typed by hand)."""

from __future__ import annotations

import math

import pytest

from wholefilm.surface import footprint, panels_touched, read_item


@pytest.fixture(scope="module")
def surface(story):
    return read_item(story.bodies("item.added")[0])


def test_areas(surface) -> None:
    assert surface.total_m2 == pytest.approx(575.53, abs=0.006)
    assert {a.name: round(a.area_m2, 1) for a in surface.test_areas} == {
        "F": 113.1, "S1": 84.8, "S2": 84.8, "S3": 84.8, "S4": 84.8, "R": 114.7, "C": 8.5,
    }  # fmt: skip
    assert len(surface.panels) == 33


def test_every_indication_lies_in_its_panel(story, surface) -> None:
    for body in story.bodies("indication.raised"):
        assert surface.read_place(body["place"]).panel == body["panel"], body["number"]
    for body in story.bodies("holiday.confirmed"):
        assert body["place"] == story.by_id[body["indication"]].body["place"]


def test_the_defect_before_coating_lies_beside_its_seam(story, surface) -> None:
    spot = surface.read_place(story.bodies("defect.noted")[0]["place"])
    assert (round(spot.u, 2), round(spot.v, 2)) == (17.33, 3.45)


FOOTPRINTS = {
    "R-01": 0.648, "R-02": 0.221, "R-03": 0.090, "R-04": 0.050, "R-05": 0.040, "R-10": 0.135, "R-18": 0.080, "R-19": 0.080,
    **{f"R-{n:02d}": 0.096 for n in (6, 7, 8, 9, 11, 12, 13, 14, 15, 16, 17)},
}  # fmt: skip


def test_footprints_of_repairs(story, surface) -> None:
    plans = story.bodies("repair.planned")
    assert {b["number"]: round(footprint(surface, b["outline"]), 3) for b in plans} == FOOTPRINTS
    every = [outline for b in plans for outline in b["outline"]]
    together = footprint(surface, every)
    assert together == pytest.approx(2.402, abs=0.002)
    assert together == pytest.approx(sum(footprint(surface, b["outline"]) for b in plans), abs=1e-6), "outlines overlap"
    assert together / surface.total_m2 == pytest.approx(0.0042, abs=0.00005)


def test_every_holiday_lies_inside_its_repair(story, surface) -> None:
    """The footprint does not grow by a disc of 1 mm about the holiday."""
    for body in story.bodies("repair.planned"):
        own = footprint(surface, body["outline"])
        for holiday in body["holidays"]:
            dot = {"shape": "disc", "at": story.by_id[holiday].body["place"], "radius": "0.001 m"}
            assert footprint(surface, [*body["outline"], dot]) == pytest.approx(own, abs=1e-9), body["number"]


def test_the_strip_of_v2_4_belongs_to_both_panels(story, surface) -> None:
    outline = story.bodies("repair.planned")[0]["outline"][0]
    assert panels_touched(surface, outline) == ["S2-3", "S2-4"]


def test_bare_spots_are_smaller_than_the_outline_by_the_feather(story) -> None:
    bare = {story.by_id[b["repair"]].body["number"]: (b["bare"], b["feather"]) for b in story.bodies("repair.done") if b["nth"] == 1}
    assert bare["R-02"][0] == {"length": "0.66 m", "width": "0.04 m"}
    assert bare["R-03"] == ({"length": "0.35 m", "width": "0.10 m"}, "50 mm")
    assert bare["R-06"] == ({"area": "0.0314 m2"}, "75 mm")
    assert math.pi * 0.1**2 == pytest.approx(0.0314, abs=0.00005)


def test_scratch_is_straight(story, surface) -> None:
    """0.62 m long, 3 mm rms off its line, as the story tells."""
    spots = [surface.read_place(b["place"]) for b in story.bodies("indication.raised")[:7]]
    points = [(s.u, s.v) for s in spots]
    assert math.dist(points[0], points[-1]) == pytest.approx(0.62, abs=0.005)
    assert _rms(points) == pytest.approx(0.003, abs=0.0015)


def test_weld_cluster_follows_its_seam(story, surface) -> None:
    """24 mm rms off its line, as the story tells: eleven along V2-4."""
    spots = [
        surface.read_place(b["place"]) for b in story.bodies("indication.raised") if b["panel"] in ("S2-3", "S2-4") and "retest" not in b
    ]
    assert len(spots) == 11
    assert _rms([(s.u, s.v) for s in spots]) == pytest.approx(0.024, abs=0.001)
    assert all(surface.nearest_seam("shell", s.u, s.v)[0].name == "V2-4" for s in spots if s.v < 4.3)


def _rms(points: list[tuple[float, float]]) -> float:
    """Root mean square distance from the best line through the centre."""
    n = len(points)
    cu, cv = sum(u for u, _ in points) / n, sum(v for _, v in points) / n
    uu, vv = sum((u - cu) ** 2 for u, _ in points) / n, sum((v - cv) ** 2 for _, v in points) / n
    uv = sum((u - cu) * (v - cv) for u, v in points) / n
    return math.sqrt(max(0.0, (uu + vv) / 2 - math.hypot((uu - vv) / 2, uv)))
