"""Film thickness at its places, on the demo job (a scenario of our own): clause 6.2 asks for 600 to 1000 um on flats and welds."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable

import pytest

from wholefilm.drawing.thickness import SpotRange, draw_thickness, spot_ranges, spot_sign, thickness_legend, thickness_swatch
from wholefilm.proof.states import Standing
from wholefilm.sheets.maps import maps_sheet
from wholefilm.sheets.readings import SpotDot, readings_sheet

RANGE = SpotRange("6.2", ["F"], ["flat", "weld"], 600.0, 1000.0)


@pytest.mark.parametrize(
    ("um", "class_", "area", "sign"),
    [
        (599.9, "flat", "F", "under"),
        (600.0, "flat", "F", "spot"),
        (1000.0, "weld", "F", "spot"),
        (1000.1, "weld", "F", "over"),
        (330.0, "edge", "F", "no_rule"),
        (330.0, "flat", "R", "no_rule"),
    ],
)
def test_sign(um: float, class_: str, area: str, sign: str) -> None:
    assert spot_sign(SpotDot("floor", 0.0, 0.0, um, class_, area), [RANGE]) == sign


def test_the_shell_of_the_demo(standing_at: Callable[[str], Standing]) -> None:
    """By the findings of clause 6.2: S1 2 under 1 over, S2 2 and 1, S3 4 and 1, S4 1 and 1; all of them with their value."""
    standing = standing_at("")
    ranges, spots = spot_ranges(standing.requirements), readings_sheet(standing).spots
    assert [(r.clause, r.low_um, r.high_um) for r in ranges] == [("6.2", 600.0, 1000.0)]
    shell = maps_sheet(standing).maps[0]
    svg = draw_thickness(shell, spots, ranges)
    assert svg == draw_thickness(shell, spots, ranges)
    ET.fromstring(svg)
    assert len(re.findall('class="wf-under"', svg)) == 9
    assert len(re.findall('class="wf-over"', svg)) == 4
    for value in ("1110", "500", "530", "455", "569", "1045"):
        assert f">{value}</text>" in svg
    assert "9 under, 4 over" in svg


def test_legend_names_the_range(standing_at: Callable[[str], Standing]) -> None:
    words = thickness_legend([SpotDot("floor", 0.0, 0.0, 500.0, "flat", "F")], [RANGE])
    assert [key for key, _ in words] == ["under", "range"]
    assert words[-1][1] == "clause 6.2: each spot 600 to 1000 um on flat, weld, F"
    assert thickness_swatch("range") == ""
    ET.fromstring(thickness_swatch("under"))
