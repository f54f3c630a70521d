"""The surface of an item: shapes, maps, places, panels, coverage.

`read_item` takes the body of `item.added` (`docs/reference/item.md` describes its fields) and gives a `Surface`: parts with
exact maps, test areas, panels, seams and features. Places are typed in words of the trade and found by `Surface.read_place`.

Map coordinates, in metres: on a shell or a column u is the arc from 0 deg clockwise seen from above (to the right when seen
from inside) and v the height above the floor; on a floor or a cone roof u and v are x (to 90 deg) and y (to 0 deg) in plan.
Lengths and areas on a cone are true ones, along the slope. On a pipe, can or neck u is the arc clockwise from the crown, v the
way along; on a kerb or the sides of a sump the way round and the height; on a dished head or ball the map keeps areas. In space
x, y are those of the plan and z counts from the floor; a pipe has its own axes (`tube.Frame`).
"""

from __future__ import annotations

from .coverage import footprint, outline_polygons, panels_touched, pieces_m2
from .model import Feature, Panel, Seam, Spot, Surface, TestArea
from .parts import Box, Part
from .places import parse_place_text
from .read import SHAPES, read_item

__all__ = [
    "SHAPES",
    "Box",
    "Feature",
    "Panel",
    "Part",
    "Seam",
    "Spot",
    "Surface",
    "TestArea",
    "footprint",
    "outline_polygons",
    "panels_touched",
    "parse_place_text",
    "pieces_m2",
    "read_item",
]
