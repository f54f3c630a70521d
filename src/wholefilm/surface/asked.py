"""How a shape that is asked for on its own is made from the keys that were typed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from ..base.errors import BadInput
from . import fields
from .heads import read_end
from .parts import Part
from .sections import Sized
from .shapes.floor import read_floor
from .shapes.pipe import read_can, read_pipe_string
from .shapes.vessel import read_vessel
from .tank import read_tank

Body = Mapping[str, Any]


class Asked(msgspec.Struct, frozen=True):
    """A shape that can be asked for.

    Attributes
    ----------
    says : str
        What it is, and which face.
    needs, may : tuple of str
        Keys that must and may be given.
    formula, document, grade : str
        How the area is worked out, where that stands, and how sure that is.
    make : callable
        Keys and values -> parts with their sizes.
    example : dict of str to str
    note : str
        What to ask before the figure is used.
    """

    says: str
    needs: tuple[str, ...]
    may: tuple[str, ...]
    formula: str
    document: str
    grade: str
    make: Callable[[Body], list[Sized]]
    example: dict[str, str]
    note: str = ""


def sized(part: Part) -> Sized:
    """Area of a part and the size of its map."""
    box = part.whole
    if part.period_m is not None:
        return Sized(part.name, part.area_m2, part.period_m, box.q_end - box.q)
    us, vs = zip(*(point for ring in part.box_rings(box) for point in ring), strict=True)
    if part.map_kind == "disc":
        across = 2 * math.hypot(*part.from_grid(0.0, box.q_end))
        return Sized(part.name, part.area_m2, across, across)
    return Sized(part.name, part.area_m2, max(us) - min(us), max(vs) - min(vs))


def all_of(parts: Mapping[str, Part]) -> list[Sized]:
    """Every part of an item."""
    return [sized(part) for part in parts.values()]


def whole_number(body: Body, key: str, most: int) -> int:
    """A count typed as digits, from 1."""
    value = body[key]
    if not isinstance(value, str) or not value.isascii() or not value.isdigit() or not 1 <= int(value[:9]) <= most:
        raise BadInput(key, value, f"a whole number from 1 to {most}")
    return int(value)


def cans(body: Body) -> list[Sized]:
    """Keys of `read_can`, with `cans`, how many."""
    last = whole_number(body, "cans", 5000) if "cans" in body else 1
    return all_of(read_can({"first": "1", "last": str(last), **{k: v for k, v in body.items() if k != "cans"}}).parts)


def string(body: Body) -> list[Sized]:
    """Keys of `read_pipe_string`, with `joints`, how many."""
    last = whole_number(body, "joints", 5000)
    groups = [{"name": "all", "first": "1", "last": str(last)}]
    return all_of(read_pipe_string({"groups": groups, **{k: v for k, v in body.items() if k != "joints"}}).parts)


def tank(body: Body) -> list[Sized]:
    """`diameter`, `height`, and the slope of a `roof`."""
    dimensions: dict[str, Any] = {"diameter": body["diameter"], "floor": {"name": "F"}}
    dimensions["courses"] = [{"name": "S", "height": f"{fields.size(body, 'height', '')} m", "seams": 0}]
    if "roof" in body:
        fields.slope(body, "roof", "")
        dimensions["roof"] = {"name": "R", "slope": body["roof"]}
    return all_of(read_tank(dimensions).parts)


def floor(body: Body) -> list[Sized]:
    """`length` and `width` or `diameter`, and the height of a `kerb`."""
    dimensions = dict(body)
    if "kerb" in body:
        dimensions["kerb"] = {"height": f"{fields.size(body, 'kerb', '')} m"}
    return all_of(read_floor(dimensions).parts)


def polygon(body: Body) -> list[Sized]:
    """Corners typed as ``0 m, 0 m; 4 m, 0 m; 4 m, 3 m``."""
    pairs = [[half.strip() for half in pair.split(", ")] for pair in str(body["corners"]).split(";") if pair.strip()]
    if any(len(pair) != 2 for pair in pairs):
        raise BadInput("corners", body["corners"], "corners in order, such as '0 m, 0 m; 4 m, 0 m; 4 m, 3 m'")
    return all_of(read_floor({"corners": pairs}).parts)


def vessel(body: Body) -> list[Sized]:
    """`diameter`, `shell`, and the kind of `head` with its keys."""
    ends_of = {key: value for key, value in body.items() if key not in ("diameter", "shell", "head")}
    ends = {"top_head": {"kind": body["head"], **ends_of}, "bottom_head": {"kind": body["head"], **ends_of}}
    return all_of(read_vessel({"diameter": body["diameter"], "shell": body["shell"], **ends}).parts)


def head(kind: str) -> Callable[[Body], list[Sized]]:
    """Maker of a head of a kind."""

    def make(body: Body) -> list[Sized]:
        rest = {key: value for key, value in body.items() if key != "diameter"}
        return [sized(read_end("head", {"kind": kind, **rest}, fields.size(body, "diameter", ""), 0.0, True, ""))]

    return make
