"""Thickness readings of the demo against the table of its story, typed by hand here; computed with the standard library."""

from __future__ import annotations

import csv
import io
import statistics
from pathlib import Path

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.demo.spread import mixed, sample
from wholefilm.surface import read_item

TABLE = [
    ("F", "flat", 862, 88, 655, 1080, 45), ("S1", "flat", 812, 92, 610, 1045, 30), ("S2", "flat", 805, 98, 585, 1030, 30),
    ("S3", "flat", 838, 105, 600, 1110, 30), ("S4", "flat", 776, 101, 560, 1005, 30), ("R", "flat", 758, 109, 520, 1015, 45),
    ("", "weld", 718, 121, 455, 985, 40), ("", "edge", 561, 108, 330, 780, 30), ("C", "flat", 790, 70, 640, 930, 10),
]  # fmt: skip


@pytest.fixture(scope="module")
def rows(story) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(story.blobs[story.bodies("readings.loaded")[0]["blob"]].decode())))


def test_number_of_spots(story, rows) -> None:
    assert len(rows) == 290  # 45 + 4 x 30 + 45 + 40 + 30 + 10
    assert story.bodies("readings.loaded")[0]["rows"] == 290
    assert [r["spot"] for r in rows] == [str(n) for n in range(1, 291)]
    assert list(rows[0]) == ["spot", "test_area", "class", "on", "first", "second", "dft_um"]


@pytest.mark.parametrize(("area", "surface", "mean", "sd", "low", "high", "count"), TABLE)
def test_each_class_has_the_figures_of_the_table(
    rows, area: str, surface: str, mean: int, sd: int, low: int, high: int, count: int
) -> None:
    values = [int(r["dft_um"]) for r in rows if r["class"] == surface and area in ("", r["test_area"])]
    assert len(values) == count
    assert (min(values), max(values)) == (low, high)
    assert statistics.mean(values) == pytest.approx(mean, abs=0.5)
    assert statistics.stdev(values) == pytest.approx(sd, abs=0.5)


def test_six_largest_values_cross_one_millimetre(rows) -> None:
    """One maximum in each of F, S1, S2, S3, S4 and R lies at 1005 to 1110 um."""
    top = sorted(
        max(int(r["dft_um"]) for r in rows if r["test_area"] == area and r["class"] == "flat")
        for area in ("F", "S1", "S2", "S3", "S4", "R")
    )
    assert top == [1005, 1015, 1030, 1045, 1080, 1110]


def test_values_do_not_rise_along_the_places(rows) -> None:
    values = [int(r["dft_um"]) for r in rows if r["test_area"] == "F" and r["class"] == "flat"]
    assert abs(statistics.correlation(range(len(values)), values)) < 0.3


def test_every_spot_lies_in_its_test_area(story, rows) -> None:
    surface = read_item(story.bodies("item.added")[0])
    for row in rows:
        panel = surface.panel_at(row["on"], float(row["first"]), float(row["second"]))
        assert surface.panel(panel).test_area == row["test_area"], row


def test_weld_spots_lie_on_seams(story, rows) -> None:
    surface = read_item(story.bodies("item.added")[0])
    for row in rows:
        if row["class"] == "weld":
            assert surface.nearest_seam(row["on"], float(row["first"]), float(row["second"]))[1] < 0.001


def test_column_needs_no_instruction(rows) -> None:
    values = [int(r["dft_um"]) for r in rows if r["test_area"] == "C"]
    assert all(600 <= v <= 1000 for v in values)


def test_sample_that_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="sd"):
        sample(800, 5, 500, 1100, 30)
    with pytest.raises(BadInput, match="sd"):
        sample(800, 400, 780, 820, 30)
    with pytest.raises(BadInput, match="count"):
        sample(800, 50, 700, 900, 3)


def test_mixed_keeps_the_values() -> None:
    assert sorted(mixed(list(range(50)), "x")) == list(range(50))
    assert mixed(list(range(50)), "x") != list(range(50))
    assert mixed(list(range(50)), "x") == mixed(list(range(50)), "x")


def test_the_readings_are_no_file_of_the_package() -> None:
    """Made when the demo is written, so that the table and the file cannot part."""
    import wholefilm.demo

    assert not list(Path(wholefilm.demo.__file__).parent.rglob("*.csv"))
