"""Footprints of repairs and pieces of panels: overlaps count once, round the shell too.

An outline is one of

- ``{"shape": "rect", "on": "shell", "arc": [from, to], "z": [from, to]}`` (or `at` for `arc`; on a floor or roof `x`, `y` in plan)
- ``{"shape": "rect", "at": place, "width": ..., "height": ..., "turn": ...}``: width to the right (on discs along x), height up
  (along y), turned clockwise as seen on the map
- ``{"shape": "disc", "at": place, "radius": ...}``
- ``{"shape": "strip", "from": place, "to": place, "width": ..., "beyond": ...}``: along the line, `beyond` both ends
- ``{"shape": "panel", "panel": name}``

What would lie beyond the edge of a part is left off: round an edge onto the next part needs an outline there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..base.errors import BadInput
from . import fields
from .model import Panel, Surface
from .parts import Part, Point, Ring

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_ROUND = 720
_EDGE_STEPS = 48
_TOUCH_M2 = 1e-6
_SHAPES = ("rect", "disc", "strip", "panel")


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
    from shapely import union_all

    by_part: dict[str, list[BaseGeometry]] = {}
    for index, outline in enumerate(fields.items(outlines, "outlines"), start=1):
        part, shape = _shape(surface, fields.mapping(outline, f"outlines[{index}]"), f"outlines[{index}]")
        by_part.setdefault(part, []).append(shape)
    return math.fsum(float(union_all(shapes).area) * surface.parts[part].factor for part, shapes in by_part.items())


def outline_polygons(surface: Surface, outline: Mapping[str, Any]) -> tuple[str, list[Ring]]:
    """Part and rings in map coordinates of an outline, for drawing; more than one where it runs through the edge of the map. [m]"""
    part, shape = _shape(surface, fields.mapping(outline, "outline"), "outline")
    rings = [geometry.exterior.coords for geometry in getattr(shape, "geoms", [shape]) if geometry.geom_type == "Polygon"]
    return part, [[(float(u), float(v)) for u, v in ring[:-1]] for ring in rings]


def panels_touched(surface: Surface, outline: Mapping[str, Any]) -> list[str]:
    """Names of the panels that hold some of the outline's area (over 1e-6 m2), sorted; an edge in common is no touch."""
    part, shape = _shape(surface, fields.mapping(outline, "outline"), "outline")
    return [p.name for p in surface.on_part(part) if float(shape.intersection(_panel_shape(surface, p)).area) > _TOUCH_M2]


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
        part, shape = _shape(surface, body, where)
        inside = shape.intersection(_polygons(whole.outline)) if part == whole.on else None
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
        surface.made[panel.name] = _polygons(panel.outline)
    shape: BaseGeometry = surface.made[panel.name]
    return shape


def _polygons(rings: Sequence[Ring]) -> BaseGeometry:
    from shapely import Polygon, make_valid, union_all

    return union_all([make_valid(Polygon(ring)) for ring in rings])


def _shape(surface: Surface, outline: Mapping[str, Any], where: str) -> tuple[str, BaseGeometry]:
    """Part and clipped polygon of an outline, in map coordinates."""
    kind = outline.get("shape")
    if kind == "panel":
        fields.only(outline, ("shape", "panel"), where)
        panel = surface.panel(fields.text(outline, "panel", where))
        return panel.on, _polygons(panel.outline)
    if kind == "disc":
        fields.only(outline, ("shape", "at", "radius"), where)
        part, centre = _centre(surface, outline, "at", where)
        return part.name, _clipped(part, part.carry(centre, _circle(fields.size(outline, "radius", where))))
    if kind == "strip":
        fields.only(outline, ("shape", "from", "to", "width", "beyond"), where)
        return _strip(surface, outline, where)
    if kind == "rect" and isinstance(outline.get("at"), Mapping):
        fields.only(outline, ("shape", "at", "width", "height", "turn"), where)
        part, centre = _centre(surface, outline, "at", where)
        turn = fields.measure(outline.get("turn", "0 deg"), "angle", f"{where}.turn")
        corners = _corners(fields.size(outline, "width", where), fields.size(outline, "height", where), turn)
        return part.name, _clipped(part, part.carry(centre, _fine(part, corners)))
    if kind == "rect":
        return _ranges(surface, outline, where)
    raise BadInput(f"{where}.shape", "nothing" if kind is None else kind, f"one of {', '.join(_SHAPES)}")


def _centre(surface: Surface, outline: Mapping[str, Any], key: str, where: str) -> tuple[Part, Point]:
    spot = surface.read_place(fields.mapping(outline.get(key), f"{where}.{key}"))
    return surface.parts[spot.part], (spot.u, spot.v)


def _circle(radius: float) -> Ring:
    step = 2 * math.pi / _ROUND
    fair = radius * math.sqrt(step / math.sin(step))
    return [(fair * math.sin(k * step), fair * math.cos(k * step)) for k in range(_ROUND)]


def _corners(width: float, height: float, turn: float) -> Ring:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    half = [(-width / 2, -height / 2), (width / 2, -height / 2), (width / 2, height / 2), (-width / 2, height / 2)]
    return [(x * c + y * s, y * c - x * s) for x, y in half]


def _fine(part: Part, corners: Ring) -> Ring:
    """Edges cut into short steps where straight lines on the surface are curved on the map."""
    if part.factor == 1.0:
        return corners
    steps = [k / _EDGE_STEPS for k in range(_EDGE_STEPS)]
    return [
        (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
        for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
        for t in steps
    ]


def _strip(surface: Surface, outline: Mapping[str, Any], where: str) -> tuple[str, BaseGeometry]:
    part, start = _centre(surface, outline, "from", where)
    other, end = _centre(surface, outline, "to", where)
    if other.name != part.name:
        raise BadInput(f"{where}.to", other.name, f"a place on the {part.name}, as 'from'")
    along = part.offset(start, end)
    length, width = math.hypot(*along), fields.size(outline, "width", where)
    if length < 1e-6:
        raise BadInput(f"{where}.to", dict(outline["to"]), "a place other than 'from'")
    beyond = fields.length(outline, "beyond", where) if "beyond" in outline else 0.0
    if beyond < 0:
        raise BadInput(f"{where}.beyond", outline["beyond"], "0 or more")
    e = along[0] / length, along[1] / length
    ends = [(-beyond, -width / 2), (length + beyond, -width / 2), (length + beyond, width / 2), (-beyond, width / 2)]
    corners = [(a * e[0] - b * e[1], a * e[1] + b * e[0]) for a, b in ends]
    return part.name, _clipped(part, part.carry(start, _fine(part, corners)))


def _ranges(surface: Surface, outline: Mapping[str, Any], where: str) -> tuple[str, BaseGeometry]:
    part = surface.part(fields.text(outline, "on", where))
    keys = ("x", "y") if part.period_m is None else ("at", "z") if "at" in outline else ("arc", "z")
    fields.only(outline, ("shape", "on", *keys), where)
    pairs = {}
    for key in keys:
        pairs[key] = fields.items(outline.get(key), f"{where}.{key}", 2)
        if len(pairs[key]) != 2:
            raise BadInput(f"{where}.{key}", outline[key], "two values, from and to")
        if pairs[key][0] == pairs[key][1]:
            raise BadInput(f"{where}.{key}", outline[key], "two values that differ")
    if part.period_m is None:
        (u0, u1), (v0, v1) = ([fields.measure(value, "length", f"{where}.{key}") for value in pairs[key]] for key in keys)
    else:
        (u0, v0), (u1, v1) = (part.read({key: pairs[key][k] for key in keys}, where) for k in (0, 1))
        u1 = u1 if u1 > u0 else u1 + part.period_m
    if u1 <= u0 or v1 <= v0:
        key = keys[0] if u1 <= u0 else keys[1]
        raise BadInput(f"{where}.{key}", outline[key], "a smaller value, then a larger one")
    shape = _clipped(part, [(u0, v0), (u1, v0), (u1, v1), (u0, v1)])
    if shape.is_empty:
        raise BadInput(where, dict(outline), f"an outline that lies at least partly on the {part.name}")
    return part.name, shape


def _clipped(part: Part, ring: Ring) -> BaseGeometry:
    """The ring inside its part, folded into the map where the part closes round."""
    from shapely import Polygon, make_valid, union_all
    from shapely.affinity import translate

    shape = make_valid(Polygon(ring))
    edge = _polygons(part.box_rings(part.whole))
    if part.period_m is None:
        return shape.intersection(edge)
    copies = [translate(shape, xoff=k * part.period_m) for k in (-1, 0, 1)]
    return union_all([copy.intersection(edge) for copy in copies])
