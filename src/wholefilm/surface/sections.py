"""Rolled sections, bends and flange faces: areas by formula; a section unrolls to a strip of its girth."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import msgspec

from ..base.errors import BadInput
from . import fields

_CORNER = 8 - 2 * math.pi  # what a square has in girth over a circle of radius 1


class Sized(msgspec.Struct, frozen=True):
    """A part with its true area [m2] and the size of its map [m]; no size where there is no map."""

    name: str
    area_m2: float
    width_m: float | None
    height_m: float | None


def elbow(body: Mapping[str, Any]) -> list[Sized]:
    """Bend: `diameter`, `bend_radius` to the axis, `angle`."""
    diameter, bend = fields.size(body, "diameter", ""), fields.size(body, "bend_radius", "")
    degrees = fields.measure(body.get("angle"), "angle", "angle")
    if bend < diameter / 2:
        raise BadInput("bend_radius", body["bend_radius"], f"to the axis, at least half the diameter, {diameter / 2:.4f} m")
    if not 0 < degrees <= 360:
        raise BadInput("angle", body["angle"], "above 0 deg, at most 360 deg")
    return [Sized("elbow", math.pi * diameter * bend * math.radians(degrees), None, None)]


def flange_face(body: Mapping[str, Any]) -> list[Sized]:
    """One face: `outside`, `bore`, and `bolts` with `bolt_hole`."""
    outside, bore = fields.size(body, "outside", ""), fields.size(body, "bore", "")
    if bore >= outside:
        raise BadInput("bore", body["bore"], f"less than the outside diameter, {outside:.4f} m")
    if ("bolts" in body) != ("bolt_hole" in body):
        raise BadInput("bolt_hole", body.get("bolt_hole", "nothing"), "both or neither of 'bolts' (how many) and 'bolt_hole' (diameter)")
    count, hole = 0, 0.0
    if "bolts" in body:
        value = str(body["bolts"])
        if not (value.isascii() and value.isdigit() and 1 <= int(value[:9]) <= 200):
            raise BadInput("bolts", value, "a whole number from 1 to 200")
        count, hole = int(value), fields.size(body, "bolt_hole", "")
        room = (outside - bore) / 2
        if hole > room or count * hole >= math.pi * (bore + room):
            raise BadInput("bolt_hole", body["bolt_hole"], f"{count} holes that have room on a face {room:.4f} m wide")
    return [Sized("face", math.pi / 4 * (outside**2 - bore**2 - count * hole**2), outside, outside)]


def i_section(body: Mapping[str, Any]) -> list[Sized]:
    """I or H section: `height`, `width`, `web`, `root` (radius), `length`."""
    height, width, web, root, length = (fields.size(body, key, "") for key in ("height", "width", "web", "root", "length"))
    if web + 2 * root > width:
        raise BadInput("web", body["web"], f"with two root radii at most the width, {width:.4f} m")
    if 2 * root >= height:
        raise BadInput("root", body["root"], f"less than half the height, {height / 2:.4f} m")
    girth = 2 * height + 4 * width - 2 * web - _CORNER * root
    return [Sized("section", girth * length, girth, length)]


def hollow_section(body: Mapping[str, Any]) -> list[Sized]:
    """Rectangular hollow section: `height`, `width`, `corner` (outside radius), `length`."""
    height, width, corner, length = (fields.size(body, key, "") for key in ("height", "width", "corner", "length"))
    if 2 * corner > min(height, width):
        raise BadInput("corner", body["corner"], f"at most half the smaller side, {min(height, width) / 2:.4f} m")
    girth = 2 * (height + width) - _CORNER * corner
    return [Sized("section", girth * length, girth, length)]
