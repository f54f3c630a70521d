"""Footprints of repairs and pieces of panels: overlaps count once, round the shell too. Outlines are those of `outlines`."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..base.errors import BadInput
from . import fields
from .flat import Flat, common_m2, flat, union_m2
from .model import Panel, Surface
from .outlines import Drawn, read_outline
from .parts import Ring
from .polygons import polygons

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_TOUCH_M2 = 1e-6
_CORNERS_MOST = 20_000  # beyond, the geometry library is quicker than loops


def footprint(surface: Surface, outlines: Sequence[Mapping[str, Any]]) -> float:
    """True area of the union of outlines. [m2]

    Raises
    ------
    BadInput
        If an outline cannot be read.

    Notes
    -----
    Round edges are polygons of 720 sides with the area of the circle: a lone disc is exact to 1e-6, a union of discs to
    about 1e-5 of its area.
    """
    by_part: dict[str, list[Drawn]] = {}
    for index, outline in enumerate(fields.items(outlines, "outlines"), start=1):
        drawn = read_outline(surface, fields.mapping(outline, f"outlines[{index}]"), f"outlines[{index}]")
        by_part.setdefault(drawn.part.name, []).append(drawn)
    return math.fsum(_union_m2(drawn) * surface.parts[part].factor for part, drawn in by_part.items())


def _union_m2(drawn: list[Drawn]) -> float:
    """Map area of a union, by the rings themselves where they lie apart. [m2]"""
    plain = [d.plain for d in drawn]
    known = [flat for rings in plain if rings is not None for flat in rings]
    found = None if None in plain or sum(len(f.ring) for f in known) > _CORNERS_MOST else union_m2(known)
    if found is not None:
        return found
    from shapely import union_all

    return float(union_all([d.shape() for d in drawn]).area)


def outline_polygons(surface: Surface, outline: Mapping[str, Any]) -> tuple[str, list[Ring]]:
    """Part and rings in map coordinates of an outline, for drawing; more than one where it runs through the edge of the map. [m]"""
    drawn = read_outline(surface, fields.mapping(outline, "outline"), "outline")
    shape = drawn.shape()
    rings = [geometry.exterior.coords for geometry in getattr(shape, "geoms", [shape]) if geometry.geom_type == "Polygon"]
    return drawn.part.name, [[(float(u), float(v)) for u, v in ring[:-1]] for ring in rings]


def panels_touched(surface: Surface, outline: Mapping[str, Any]) -> list[str]:
    """Names of the panels that hold some of the outline's area (over 1e-6 m2), sorted; an edge in common is no touch."""
    drawn = read_outline(surface, fields.mapping(outline, "outline"), "outline")
    plain = drawn.plain
    return [p.name for p in surface.on_part(drawn.part.name) if _common(surface, drawn, plain, p) > _TOUCH_M2]


def _common(surface: Surface, drawn: Drawn, mine: list[Flat] | None, panel: Panel) -> float:
    """Map area that an outline and a panel have in common; none of pieces whose boxes lie apart. [m2]"""
    if panel.name not in surface.flats:
        surface.flats[panel.name] = [flat(ring) for ring in panel.outline]
    rings = surface.flats[panel.name]
    if mine is not None:
        pairs = [(a, b) for a in mine for b in rings if not a.apart(b)]
        if all(b.convex for _, b in pairs):
            return math.fsum(common_m2(a.ring, b.ring) for a, b in pairs)
    return float(drawn.shape().intersection(_panel_shape(surface, panel)).area)


def pieces_m2(surface: Surface, panel: str, pieces: Sequence[Mapping[str, Any]]) -> float:
    """Area of pieces of a panel. [m2]

    Parameters
    ----------
    surface : Surface
    panel : str
    pieces : list of dict
        Each ``{"area": "2.5 m2"}`` or an outline. Outlines count once where they overlap and only inside the panel; areas are added.

    Raises
    ------
    BadInput
        If a piece cannot be read, lies outside the panel, or all together are more than the panel.
    """
    from shapely import union_all

    whole, typed, shapes = surface.panel(panel), 0.0, []
    for index, piece in enumerate(fields.items(pieces, "pieces"), start=1):
        where = f"pieces[{index}]"
        body = fields.mapping(piece, where)
        if "area" in body:
            fields.only(body, ("area",), where)
            area = fields.measure(body["area"], "area", f"{where}.area")
            if not 0 < area <= whole.area_m2 + 0.005:
                raise BadInput(f"{where}.area", body["area"], f"above 0 and at most {whole.area_m2:.2f} m2, the panel {panel}")
            typed += area
            continue
        drawn = read_outline(surface, body, where)
        inside = drawn.shape().intersection(polygons(whole.outline)) if drawn.part.name == whole.on else None
        if inside is None or float(inside.area) <= _TOUCH_M2:
            raise BadInput(where, dict(body), f"an outline that lies at least partly in panel {panel}")
        shapes.append(inside)
    total = typed + (float(union_all(shapes).area) * surface.parts[whole.on].factor if shapes else 0.0)
    if total > whole.area_m2 + 0.005:
        raise BadInput("pieces", f"{total:.2f} m2", f"at most {whole.area_m2:.2f} m2, the panel {panel}")
    return min(total, whole.area_m2)


def _panel_shape(surface: Surface, panel: Panel) -> BaseGeometry:
    """Polygon of a panel, made once for a surface."""
    if panel.name not in surface.made:
        surface.made[panel.name] = polygons(panel.outline)
    shape: BaseGeometry = surface.made[panel.name]
    return shape
