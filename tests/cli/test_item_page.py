"""The whole example of docs/reference/item.md loads, is recorded and drawn. Areas: circle pi d²/4, cylinder pi d h, by hand."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from cli.desk import Desk
from wholefilm.surface import read_item

PAGE = Path(__file__).resolve().parent.parent.parent / "docs" / "reference" / "item.md"
# d 6.0 m: floor 28.274 m2; course of 1.5 m 28.274 m2; course of 2.0 m 37.699 m2; each cut in half.
HALVES = {"F-1": 14.137, "F-2": 14.137, "S1-1": 14.137, "S1-2": 14.137, "S2-1": 18.850, "S2-2": 18.850}


def example() -> dict[str, Any]:
    blocks = re.findall(r"```json\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    found: dict[str, Any] = next(b for b in map(json.loads, blocks) if b["item"] == "T4")
    return found


def test_the_example_loads_with_the_areas_of_geometry() -> None:
    surface = read_item(example())
    assert {p.name: pytest.approx(p.area_m2, abs=0.01) for p in surface.panels} == HALVES
    assert [f.name for f in surface.features] == ["M1", "N1", "ladder", "sump"]


def test_the_panels_by_rule_are_those_that_the_page_names() -> None:
    surface = read_item(example() | {"panels": {"rule": "seams, courses and quadrants"}})
    assert [p.name for p in surface.panels] == ["F-1", "F-2", "F-3", "F-4", "S1-1", "S1-2", "S1-3", "S2-1", "S2-2", "S2-3"]


def test_the_example_is_recorded_listed_and_drawn(desk: Desk) -> None:
    desk.good("job", "new", "t4", "--title", "T4", "--contract", "C-1", "--person", "Ada Rooke", "--role", "inspector")
    assert desk.good("map", "t4").out.startswith("No item is entered yet")
    file = desk.folder / "item.json"
    file.write_text(json.dumps(example()), encoding="utf-8")
    desk.good("record", "t4", "item.added", "--body", str(file), "--by", "Ada Rooke")
    assert desk.good("map", "t4").out.splitlines()[0] == "T4: shell, floor"
    desk.good("map", "t4", "T4", "-o", str(desk.folder / "t4.svg"))
    assert {p.name for p in desk.folder.glob("*.svg")} == {"t4.svg", "t4-floor.svg"}
    refused = desk.refused("map", "t4", "T4")
    assert "-o" in refused.err
    assert ".svg" in refused.err
