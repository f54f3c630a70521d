"""Places counted from what is near: seams, girths, openings. Lengths in metres along the surface."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from ..base.errors import BadInput, NotFound
from . import fields
from .model import Feature
from .parts import Part, Point, angle_text, metres, wrap

if TYPE_CHECKING:
    from .model import Surface

_ON_M = 0.005
_RIM_M = 0.01


def levels(surface: Surface) -> dict[str, float]:
    """Heights on the shell from which one may count: ``floor`` (on a vessel ``bottom``), the girths, ``top``. [m]"""
    if "shell" not in surface.parts:
        return {}
    girths = {s.name: s.line[0][1] for s in surface.seams if s.kind == "girth" and s.on == "shell"}
    return {"floor" if surface.shape == "tank" else "bottom": 0.0, **girths, "top": surface.parts["shell"].whole.q_end}


def near_point(surface: Surface, place: Mapping[str, Any]) -> tuple[str, Point]:
    """Part and map point of a place that is counted from a seam, a girth or a feature. [m]

    Raises
    ------
    BadInput
        If the thing is unknown, a step is missing or the place lies outside the part.
    """
    label = fields.text(place, "near", "place")
    feature = next((f for f in surface.features if f.name == label), None)
    seam = next((s for s in surface.seams if s.name == label), None)
    right, up = _step(place, "right", "left"), _step(place, "above", "below")
    if feature is not None and "clock" in place:
        return _rim(surface, feature, place)
    for key in ("clock", "on_pad"):
        if key in place:
            raise BadInput(f"place.{key}", place[key], "only beside an opening: 'near' names a manway or a nozzle")
    if feature is not None:
        part = surface.parts[feature.on]
        base = feature.v
        if "near_level" in place or base is None:
            base, up = 0.0, _level(surface, place, next(iter(levels(surface)), None)) + _need(up, "above")
        return part.name, _go(part, (feature.u, base), right or 0.0, up or 0.0, place)
    heights = levels(surface)
    if label in heights:
        shell = surface.parts["shell"]
        u, _ = shell.read({**{k: place[k] for k in ("at", "arc") if k in place}, "z": "0 m"}, "place")
        return shell.name, _go(shell, (u, heights[label]), right or 0.0, _need(up, "above"), place)
    if seam is None:
        known = [s.name for s in surface.seams] + [f.name for f in surface.features]
        raise NotFound("place.near", label, f"a seam or a feature: {fields.some(known)}")
    part = surface.parts[seam.on]
    base = _level(surface, place, None) if "near_level" in place else seam.line[0][1]
    return part.name, _go(part, (seam.line[0][0], base), _need(right, "right"), _need(up, "above"), place)


def _step(place: Mapping[str, Any], forward: str, backward: str) -> float | None:
    if forward in place and backward in place:
        raise BadInput(f"place.{backward}", place[backward], f"either '{forward}' or '{backward}'")
    if forward in place:
        return fields.length(place, forward, "place")
    return -fields.length(place, backward, "place") if backward in place else None


def _need(step: float | None, key: str) -> float:
    if step is None:
        raise BadInput(f"place.{key}", "nothing", f"a length with its unit, or its opposite; '0 m' if it lies on it ({key})")
    return step


def _level(surface: Surface, place: Mapping[str, Any], default: str | None) -> float:
    known = levels(surface)
    label = place.get("near_level", default)
    if not isinstance(label, str) or label not in known:
        raise BadInput("place.near_level", label, f"one of {', '.join(known)}")
    return known[label]


def _go(part: Part, start: Point, right: float, up: float, place: Mapping[str, Any]) -> Point:
    u, v = part.carry(start, [(right, up)])[0]
    return part.settle(u, v, "place", ", ".join(f"{key} {value}" for key, value in place.items()))


def _rim(surface: Surface, feature: Feature, place: Mapping[str, Any]) -> tuple[str, Point]:
    on_pad = place.get("on_pad", False)
    if not isinstance(on_pad, bool):
        raise BadInput("place.on_pad", on_pad, "true or false")
    for key in ("right", "left", "above", "below", "near_level", "at", "arc"):
        if key in place:
            raise BadInput(f"place.{key}", place[key], "not beside 'clock'")
    radius = feature.pad_radius_m if on_pad else feature.radius_m
    if radius is None or feature.v is None:
        key, needs = ("on_pad", "pad_radius") if on_pad else ("clock", "rim_radius or bore")
        raise BadInput(f"place.{key}", feature.name, f"a feature with a {needs}")
    clock = math.radians(fields.clock(place, "clock", "place"))
    return feature.on, _go(surface.parts[feature.on], (feature.u, feature.v), radius * math.sin(clock), radius * math.cos(clock), place)


def say_near(surface: Surface, part: str, u: float, v: float) -> str | None:
    """A place by what is near it, in a form that `parse_place_text` reads back.

    Returns
    -------
    str or None
        ``M2 rim at 153 deg`` within 10 mm of a rim or pad toe; on the shell ``0.12 right of V2-4, 0.80 above G1`` with the
        nearest vertical seam of the course and the nearest level, in metres; elsewhere None.
    """
    shape = surface.part(part)
    for feature in surface.features:
        if feature.on != part or feature.v is None:
            continue
        right, up = shape.offset((feature.u, feature.v), (u, v))
        for word, radius in (("rim", feature.radius_m), ("pad", feature.pad_radius_m)):
            if radius is not None and abs(math.hypot(right, up) - radius) <= _RIM_M:
                return f"{feature.name} {word} at {angle_text(math.degrees(math.atan2(right, up)), radius)}"
    if part != "shell":
        return None
    seams = [s for s in surface.seams if s.kind == "vertical" and s.on == part and s.line[0][1] - 1e-6 <= v <= s.line[1][1] + 1e-6]
    if not seams:
        return None
    period = shape.period_m or math.inf
    seam = min(seams, key=lambda s: abs(wrap(u - s.line[0][0], period)))
    side = wrap(u - seam.line[0][0], period)
    first = f"on {seam.name}" if abs(side) < _ON_M else f"{metres(abs(side))} {'right' if side > 0 else 'left'} of {seam.name}"
    label, z = min(levels(surface).items(), key=lambda pair: abs(v - pair[1]))
    second = f"at {label}" if abs(v - z) < _ON_M else f"{metres(abs(v - z))} {'above' if v > z else 'below'} {label}"
    return f"{first}, {second}"
