"""Maps of pipes, cans, floors, vessels and balls: each is drawn, with scale bar, 0 mark and its panels inside the sheet."""

import re
from types import SimpleNamespace
from typing import Any, cast
from xml.etree import ElementTree

import pytest

from wholefilm.drawing.maps import draw_part
from wholefilm.proof.states import PanelWord, Standing
from wholefilm.sheets.maps import PartMap, maps_sheet
from wholefilm.surface import read_item

HEAD = {"kind": "din28011"}
BODIES: dict[str, tuple[dict[str, Any], list[dict[str, Any]], str]] = {
    "pipe": ({"diameter": "610 mm", "length": "3 m"}, [{"name": "P", "on": "pipe"}], "each part"),
    "pipe_string": (
        {"diameter": "610 mm", "band": "0.5 m", "groups": [{"name": "g", "first": "J-1", "last": "J-3"}]},
        [{"name": "A", "on": "joints"}],
        "each part",
    ),
    "can": ({"diameter": "2 m", "length": "2.5 m", "first": "P-1", "long_seams": ["45 deg"]}, [{"name": "A", "on": "cans"}], "each part"),
    "floor": (
        {
            "length": "18 m",
            "width": "11 m",
            "kerb": {"height": "0.45 m"},
            "bays": {"columns": 6, "rows": 4},
            "joints": [{"name": "SJ", "x": "12 m"}],
            "sumps": [{"name": "SU", "at": ["16 m", "1 m"], "length": "1 m", "width": "1 m", "depth": "0.9 m"}],
        },
        [{"name": "F", "on": "floor"}, {"name": "kerb", "on": "kerb"}, {"name": "SU", "on": "SU"}],
        "bays",
    ),
    "vessel": (
        {
            "diameter": "2.4 m",
            "shell": "4.8 m",
            "laps": ["90 deg", "270 deg"],
            "top_head": HEAD,
            "bottom_head": HEAD,
            "necks": [{"name": "N1", "bore": "0.2 m", "length": "0.2 m"}],
        },
        [{"name": "T", "on": "top head"}, {"name": "B", "on": "bottom head"}, {"name": "SH", "on": "shell"}, {"on": "necks", "each": True}],
        "lifts and laps",
    ),
    "sphere": ({"diameter": "10 m"}, [{"name": "T", "on": "top half"}, {"name": "B", "on": "bottom half"}], "quadrants"),
}


def maps(shape: str) -> list[PartMap]:
    """Maps of an item on which nothing is tested yet."""
    dimensions, areas, rule = BODIES[shape]
    surface = read_item(
        {
            "item": "X1",
            "shape": shape,
            "datum": "as drawn",
            "dimensions": dimensions,
            "features": [],
            "test_areas": areas,
            "panels": {"rule": rule},
            "openings_deducted": False,
        }
    )
    panels = [SimpleNamespace(name=p.name, item="X1", word=PanelWord.NOT_YET, reason="") for p in surface.panels]
    bare = SimpleNamespace(surfaces={"X1": surface}, panels=panels, holidays=[], indications=[], repairs=[])
    return maps_sheet(cast(Standing, bare)).maps


PARTS = [part for shape in BODIES for part in maps(shape)]


@pytest.mark.parametrize("part", PARTS, ids=lambda p: p.part)
@pytest.mark.parametrize("width", [640.0, 1000.0])
def test_every_part_is_drawn(part: PartMap, width: float) -> None:
    drawn = draw_part(part, width=width)
    root = ElementTree.fromstring(drawn)
    wide, high = (float(root.attrib[key]) for key in ("width", "height"))
    assert wide <= width + 1
    zeros = [e for e in root.iter() if "wf-zero" in e.attrib.get("class", "")]
    assert zeros
    words = [e.text or "" for e in root.iter() if e.tag.endswith("}text")]
    assert any(re.fullmatch(r"[\d.]+ m", w) for w in words)
    assert sum("wf-panel" in e.attrib.get("class", "") for e in root.iter()) == len(part.panels) > 0
    for e in root.iter():
        if "wf-panel" in e.attrib.get("class", ""):
            for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", e.attrib["d"]):
                assert -0.5 <= float(x) <= wide + 0.5
                assert -0.5 <= float(y) <= high + 0.5


def test_how_each_is_seen() -> None:
    titles = {p.part: (p.kind, p.title) for p in PARTS}
    assert titles["floor"] == ("plan", "Floor, in plan, seen from above")
    assert titles["kerb"] == ("wall", "Kerb, unrolled from its first corner, seen from inside")
    assert titles["J-1"] == ("strip", "J-1, developed, seen from outside")
    assert titles["P-1"] == ("strip", "P-1, developed; from inside it is seen reversed")
    assert titles["top head"] == ("disc", "Top head, map of equal areas, seen from above")
    assert titles["shell"] == ("strip", "Shell, developed, seen from inside")
