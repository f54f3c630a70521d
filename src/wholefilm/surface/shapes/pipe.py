"""Pipe, a string of field joints, and cans: tubes along their axis.

Each field joint, and each can, is a part of its own with the name that stands on it. Places count from the centre of the weld, or from
the upstream end, and go round clockwise from the crown as one looks downstream.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from ...base.errors import BadInput
from .. import fields
from ..fields import items, mapping, only
from ..layout import Find, Layout
from ..model import Seam
from ..parts import Box, Part
from ..tube import Frame, Tube

_MOST = 5000
_NUMBERED = re.compile(r"(.*?)(\d+)")
_KP = re.compile(r"KP\s*(\d{1,4}(?:[.,]\d{1,6})?)", re.I)
_KP_NEAR_M = 1.0


def read_pipe(dimensions: Mapping[str, Any]) -> Layout:
    """The outside of one pipe: `name`, `diameter`, `length`, `long_seams` (angles from the crown).

    Raises
    ------
    BadInput
        If a dimension is missing, not positive or not known.
    """
    where = "dimensions"
    only(dimensions, ("name", "diameter", "length", "long_seams"), where)
    name = fields.name(dimensions, "name", where) if "name" in dimensions else "pipe"
    tube = Tube(name, fields.size(dimensions, "diameter", where) / 2, fields.size(dimensions, "length", where), clocked=True)
    return Layout({name: tube}, _seams(tube, _angles(dimensions, where), "LS"), "each part", _whole)


def read_can(dimensions: Mapping[str, Any]) -> Layout:
    """The inside of one or more cans of one size: `diameter`, `length`, `first` and `last` (names that end in a number), `long_seams`.

    Returns
    -------
    Layout
        A part for each can, the group ``cans``; seams ``P-05 LS1`` (long seam) and ``P-05 US``, ``P-05 DS`` (upstream, downstream end).

    Raises
    ------
    BadInput
        If a dimension is missing, not positive or not known.
    """
    where = "dimensions"
    only(dimensions, ("diameter", "length", "first", "last", "long_seams"), where)
    radius, length = fields.size(dimensions, "diameter", where) / 2, fields.size(dimensions, "length", where)
    angles = _angles(dimensions, where)
    parts: dict[str, Part] = {}
    seams: list[Seam] = []
    for number, name in enumerate(_names(dimensions, where)):
        tube = Tube(name, radius, length, inside=True, frame=Frame(origin=(0.0, number * length, 0.0)))
        parts[name] = tube
        seams += _seams(tube, angles, f"{name} LS")
        seams += [
            Seam(f"{name} {end}", "girth", name, ((0.0, v), (tube.period_m, v)), tube.period_m) for end, v in (("US", 0.0), ("DS", length))
        ]
    return Layout(parts, seams, "each part", _whole, groups={"cans": list(parts)})


def read_pipe_string(dimensions: Mapping[str, Any]) -> Layout:
    """Bands over the field joints of a pipeline, outside.

    Parameters
    ----------
    dimensions : dict
        `diameter` (outside), `band` (its width along the pipe, the weld at its middle), `groups`, each `name`, `first`, `last`
        (names of joints that end in a number); optional `spacing` of the joints and `first_kp` of the first joint of all.

    Returns
    -------
    Layout
        A part for each joint, the groups, and ``joints`` for all.

    Raises
    ------
    BadInput
        If a dimension is missing, not positive or not known, or a joint is named twice.
    """
    where = "dimensions"
    only(dimensions, ("diameter", "band", "groups", "spacing", "first_kp"), where)
    radius, band = fields.size(dimensions, "diameter", where) / 2, fields.size(dimensions, "band", where)
    spacing = fields.size(dimensions, "spacing", where) if "spacing" in dimensions else None
    if spacing is not None and spacing < band:
        raise BadInput(f"{where}.spacing", dimensions["spacing"], f"at least the band, {band:.3f} m")
    groups: dict[str, list[str]] = {}
    parts: dict[str, Part] = {}
    for n, raw in enumerate(items(dimensions.get("groups"), f"{where}.groups", 200), start=1):
        at = f"{where}.groups[{n}]"
        body = mapping(raw, at)
        only(body, ("name", "first", "last"), at)
        label, names = fields.name(body, "name", at), _names(body, at)
        if label in groups or label == "joints":
            raise BadInput(f"{at}.name", label, "a name that no other group bears, and not 'joints', which is all of them")
        groups[label] = names
        for name in names:
            if name in parts:
                raise BadInput(f"{at}.first", body["first"], f"joints that are named once; {name} is there already")
            parts[name] = Tube(
                name, radius, band, start=-band / 2, clocked=True, frame=Frame(origin=(0.0, len(parts) * (spacing or 2 * band), 0.0))
            )
    if not parts or len(parts) > _MOST:
        raise BadInput(f"{where}.groups", f"{len(parts)} joints", f"1 to {_MOST} joints")
    clash = next((label for label in groups if label in parts), None)
    if clash is not None:
        raise BadInput(f"{where}.groups", clash, "a group that is not named like a joint")
    find = _kilometres(dimensions, list(parts), spacing, where) if "first_kp" in dimensions else None
    return Layout(parts, [], "each part", _whole, groups={**groups, "joints": list(parts)}, find=find)


def _kilometres(dimensions: Mapping[str, Any], names: list[str], spacing: float | None, where: str) -> Find:
    """Finds the joint at a kilometre point, within 1 m and less than half the spacing."""
    if spacing is None:
        raise BadInput(f"{where}.spacing", "nothing", "the distance of one joint to the next, since 'first_kp' is given")
    typed = fields.text(dimensions, "first_kp", where)
    match = _KP.fullmatch(typed)
    if match is None:
        raise BadInput(f"{where}.first_kp", typed, "a kilometre point such as 'KP 12.345'")
    first, step = float(match[1].replace(",", ".")) * 1000, spacing

    def find(label: str) -> str | None:
        found = _KP.fullmatch(label.strip())
        if found is None:
            return None
        run = float(found[1].replace(",", ".")) * 1000 - first
        number = round(run / step)
        near = abs(run - number * step) <= min(_KP_NEAR_M, 0.45 * step)
        return names[number] if near and 0 <= number < len(names) else None

    return find


def _names(body: Mapping[str, Any], where: str) -> list[str]:
    """Names from `first` to `last`, which differ in the number that they end in."""
    first = fields.name(body, "first", where)
    last = fields.name(body, "last", where) if "last" in body else first
    if first == last:
        return [first]
    a, b = _NUMBERED.fullmatch(first), _NUMBERED.fullmatch(last)
    if a is None or b is None or a[1] != b[1]:
        raise BadInput(f"{where}.last", last, f"a name as 'first' ({first}) with another number at its end")
    low, high = int(a[2]), int(b[2])
    if not 0 < high - low < _MOST:
        raise BadInput(f"{where}.last", last, f"a number after that of {first}, at most {_MOST} names")
    return [f"{a[1]}{k:0{len(a[2])}d}" for k in range(low, high + 1)]


def _angles(body: Mapping[str, Any], where: str) -> list[float]:
    listed = items(body.get("long_seams", []), f"{where}.long_seams", 50)
    return [fields.turn(value, f"{where}.long_seams[{n}]") for n, value in enumerate(listed, start=1)]


def _seams(tube: Tube, angles: list[float], label: str) -> list[Seam]:
    low, high = tube.whole.q, tube.whole.q_end
    lines = ((tube.from_grid(angle, low), tube.from_grid(angle, high)) for angle in angles)
    return [Seam(f"{label}{k}", "vertical", tube.name, line, high - low) for k, line in enumerate(lines, start=1)]


def _whole(part: Part, boxes: tuple[Box, ...], label: str) -> list[tuple[str, Box]]:
    """By the rule each part is one panel."""
    return [(label, box) for box in boxes]
