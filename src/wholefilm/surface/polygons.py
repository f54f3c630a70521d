"""Polygons on the map of a part, by the geometry library; it is imported only when one is made."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .parts import Part, Ring

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def polygons(rings: Sequence[Ring]) -> BaseGeometry:
    """The union of some rings."""
    from shapely import Polygon, make_valid, union_all

    return union_all([make_valid(Polygon(ring)) for ring in rings])


def clipped(part: Part, ring: Ring) -> BaseGeometry:
    """The ring inside its part, folded into the map where the part closes round."""
    from shapely import Polygon, make_valid, union_all
    from shapely.affinity import translate

    shape = make_valid(Polygon(ring))
    edge = polygons(part.box_rings(part.whole))
    if part.period_m is None:
        return shape.intersection(edge)
    copies = [translate(shape, xoff=k * part.period_m) for k in (-1, 0, 1)]
    return union_all([copy.intersection(edge) for copy in copies])
