"""Outlines as they are typed, read into rings on the map of their part.

An outline is one of

- ``{"shape": "rect", "on": "shell", "arc": [from, to], "z": [from, to]}`` (or `at` for `arc`; on a floor or roof `x`, `y` in plan; on a
  pipe or can `clock`, `at` or `arc` with `along`)
- ``{"shape": "rect", "at": place, "width": ..., "height": ..., "turn": ...}``: width to the right (on discs along x), height up
  (along y), turned clockwise as seen on the map
- ``{"shape": "disc", "at": place, "radius": ...}``
- ``{"shape": "strip", "from": place, "to": place, "width": ..., "beyond": ...}``: along the line, `beyond` both ends
- ``{"shape": "panel", "panel": name}``

What would lie beyond the edge of a part is left off: round an edge onto the next part needs an outline there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import msgspec

from ..base.errors import BadInput
from . import fields
from .flat import Flat, area, common, flat
from .model import Surface
from .parts import Part, Point, Ring
from .polygons import clipped, polygons

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_EDGE_STEPS = 48
_SHAPES = ("rect", "disc", "strip", "panel")


class Drawn(msgspec.Struct, frozen=True):
    """An outline as read: its part, its rings in map coordinates, and whether they lie on the part for certain."""

    part: Part
    rings: list[Ring]
    whole: bool = False

    @property
    def plain(self) -> list[Flat] | None:
        """What of the rings lies on the map, if they are convex and it can be told without the geometry library."""
        found = [flat(ring) for ring in self.rings]
        if not all(f.convex for f in found):
            return None
        return found if self.whole else _on_map(self.part, found[0])

    def shape(self) -> BaseGeometry:
        """The polygon, clipped to its part."""
        return polygons(self.rings) if self.whole else clipped(self.part, self.rings[0])


def _on_map(part: Part, found: Flat) -> list[Flat] | None:
    """Pieces of a convex ring on the map: cut at its edges where it closes round, whole where it stays well off a round edge."""
    low, high = part.whole.q, part.whole.q_end
    if part.period_m is None:
        return [found] if part.surely_holds(found.ring) else None
    u0, v0, u1, v1 = found.box
    if u0 >= 0 and u1 <= part.period_m and v0 >= low and v1 <= high:
        return [found]
    if u1 - u0 > part.period_m:
        return None
    edge = [(0.0, low), (part.period_m, low), (part.period_m, high), (0.0, high)]
    shifted = ([(u + k * part.period_m, v) for u, v in found.ring] for k in (-1, 0, 1))
    pieces = [common(ring, edge) for ring in shifted]
    return [flat(piece) for piece in pieces if len(piece) > 2 and area(piece) > 0]


def read_outline(surface: Surface, outline: Mapping[str, Any], where: str) -> Drawn:
    """An outline as read, not yet clipped."""
    kind = outline.get("shape")
    if kind == "panel":
        fields.only(outline, ("shape", "panel"), where)
        panel = surface.panel(fields.text(outline, "panel", where))
        return Drawn(surface.parts[panel.on], panel.outline, True)
    if kind == "disc":
        fields.only(outline, ("shape", "at", "radius"), where)
        part, centre = _centre(surface, outline, "at", where)
        return Drawn(part, [part.carry(centre, _circle(fields.size(outline, "radius", where), part.round_sides))])
    if kind == "strip":
        fields.only(outline, ("shape", "from", "to", "width", "beyond"), where)
        return _strip(surface, outline, where)
    if kind == "rect" and isinstance(outline.get("at"), Mapping):
        fields.only(outline, ("shape", "at", "width", "height", "turn"), where)
        part, centre = _centre(surface, outline, "at", where)
        turn = fields.measure(outline.get("turn", "0 deg"), "angle", f"{where}.turn")
        corners = _corners(fields.size(outline, "width", where), fields.size(outline, "height", where), turn)
        return Drawn(part, [part.carry(centre, _fine(part, corners))])
    if kind == "rect":
        return _ranges(surface, outline, where)
    raise BadInput(f"{where}.shape", "nothing" if kind is None else kind, f"one of {', '.join(_SHAPES)}")


def _centre(surface: Surface, outline: Mapping[str, Any], key: str, where: str) -> tuple[Part, Point]:
    spot = surface.read_place(fields.mapping(outline.get(key), f"{where}.{key}"))
    return surface.parts[spot.part], (spot.u, spot.v)


def _circle(radius: float, sides: int) -> Ring:
    step = 2 * math.pi / sides
    fair = radius * math.sqrt(step / math.sin(step))
    return [(fair * math.sin(k * step), fair * math.cos(k * step)) for k in range(sides)]


def _corners(width: float, height: float, turn: float) -> Ring:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    half = [(-width / 2, -height / 2), (width / 2, -height / 2), (width / 2, height / 2), (-width / 2, height / 2)]
    return [(x * c + y * s, y * c - x * s) for x, y in half]


def _fine(part: Part, corners: Ring) -> Ring:
    """Edges cut into short steps where straight lines on the surface are curved on the map."""
    if part.straight:
        return corners
    steps = [k / _EDGE_STEPS for k in range(_EDGE_STEPS)]
    return [
        (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
        for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
        for t in steps
    ]


def _strip(surface: Surface, outline: Mapping[str, Any], where: str) -> Drawn:
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
    return Drawn(part, [part.carry(start, _fine(part, corners))])


def _ranges(surface: Surface, outline: Mapping[str, Any], where: str) -> Drawn:
    part = surface.part(fields.text(outline, "on", where))
    keys = part.range_keys(outline)
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
    drawn = Drawn(part, [[(u0, v0), (u1, v0), (u1, v1), (u0, v1)]])
    plain = drawn.plain
    if not plain and (plain is not None or drawn.shape().is_empty):
        raise BadInput(where, dict(outline), f"an outline that lies at least partly on the {part.name}")
    return drawn
