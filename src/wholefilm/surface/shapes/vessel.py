"""Upright vessel: shell between tangent lines, two heads, necks of nozzles and manways."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from ...base.errors import BadInput
from .. import fields
from ..cylinder import Course, Cylinder
from ..fields import items, mapping, only
from ..heads import FIELDS, read_end
from ..layout import Layout
from ..model import Feature, Seam
from ..parts import Box, Part
from ..tube import Frame, Tube, Vector

_RULE = "lifts and laps"


def read_vessel(dimensions: Mapping[str, Any]) -> Layout:
    """Parts, laps and the panel rule of a vessel.

    Parameters
    ----------
    dimensions : dict
        `diameter` (of the lined face), `shell` (height between tangent lines); `lifts`, heights that add up to it, and `laps`, angles of
        upright laps, optional; `top_head` and `bottom_head` (`wholefilm.surface.heads.read_end`); `necks`, each `name`, `bore`, `length`,
        and where it stands if that is known: `on` and coordinates.

    Returns
    -------
    Layout
        Parts ``shell`` (z from the lower tangent line), ``top head``, ``bottom head``, each neck by its name (`along` from the shell
        outward); group ``necks``; seams ``L1`` ... (laps by angle), ``G1`` ... (tops of lifts).

    Raises
    ------
    BadInput
        If a dimension is missing, not positive or not known.
    """
    where = "dimensions"
    only(dimensions, ("diameter", "shell", "lifts", "laps", "top_head", "bottom_head", "necks"), where)
    diameter, height = fields.size(dimensions, "diameter", where), fields.size(dimensions, "shell", where)
    tops = _lifts(dimensions, height, where)
    courses = tuple(Course(f"lift {n}", low, high) for n, (low, high) in enumerate(pairwise(tops), start=1))
    shell = Cylinder("shell", diameter / 2, height, courses=courses, by_course=False)
    parts: dict[str, Part] = {"shell": shell}
    for key, upward in (("top_head", True), ("bottom_head", False)):
        if key in dimensions:
            body = mapping(dimensions[key], f"{where}.{key}")
            only(body, FIELDS, f"{where}.{key}")
            name = key.replace("_", " ")
            parts[name] = read_end(name, body, diameter, height if upward else 0.0, upward, f"{where}.{key}")
    features: list[Feature] = []
    necks: list[str] = []
    for n, raw in enumerate(items(dimensions.get("necks", []), f"{where}.necks", 400), start=1):
        tube, feature = _neck(parts, mapping(raw, f"{where}.necks[{n}]"), f"{where}.necks[{n}]")
        if tube.name in parts:
            raise BadInput(f"{where}.necks[{n}].name", tube.name, "a name that no other part bears")
        parts[tube.name] = tube
        necks.append(tube.name)
        features += [feature] if feature else []
    listed = items(dimensions.get("laps", []), f"{where}.laps", 100)
    laps = sorted(fields.turn(value, f"{where}.laps[{n}]") for n, value in enumerate(listed, start=1))
    if any(b - a < 0.01 for a, b in pairwise(laps)):
        raise BadInput(f"{where}.laps", listed, "angles that differ")

    def cut(part: Part, boxes: tuple[Box, ...], label: str) -> list[tuple[str, Box]]:
        """By the rule the shell is cut at its laps, lift by lift from below, and numbered through; all else is one panel."""
        if part is not shell:
            return [(label, box) for box in boxes]
        starts = laps or [0.0]
        spans = [(b - a) % 360 or 360.0 for a, b in pairwise((*starts, starts[0]))]
        here = [c for c in courses if any(box.q <= c.bottom and c.top <= box.q_end for box in boxes)]
        pieces = [Box(a, span, c.bottom, c.top) for c in here for a, span in zip(starts, spans, strict=True)]
        return [(label, pieces[0])] if len(pieces) == 1 else [(f"{label}-{k}", box) for k, box in enumerate(pieces, start=1)]

    return Layout(parts, _seams(shell, laps), _RULE, cut, features, {"necks": necks} if necks else {})


def _lifts(dimensions: Mapping[str, Any], height: float, where: str) -> list[float]:
    """Heights at which the lifts meet, the tangent lines included. [m]"""
    listed = items(dimensions.get("lifts", []), f"{where}.lifts", 100)
    if not listed:
        return [0.0, height]
    sizes = [fields.measure(value, "length", f"{where}.lifts[{n}]") for n, value in enumerate(listed, start=1)]
    if min(sizes) <= 1e-6 or abs(math.fsum(sizes) - height) > 1e-3:
        raise BadInput(f"{where}.lifts", listed, f"heights above 0 that add up to the shell, {height:.3f} m")
    return [*(math.fsum(sizes[:k]) for k in range(len(sizes))), height]


def _neck(parts: Mapping[str, Part], body: Mapping[str, Any], where: str) -> tuple[Tube, Feature | None]:
    """A neck, and the opening that it makes where its place is known."""
    only(body, ("name", "what", "bore", "length", "on", "at", "arc", "z", "along", "from_centre"), where)
    name = fields.name(body, "name", where)
    radius, length = fields.size(body, "bore", where) / 2, fields.size(body, "length", where)
    if "on" not in body:
        return Tube(name, radius, length, clocked=True, inside=True), None
    on = fields.text(body, "on", where)
    if on not in parts or isinstance(parts[on], Tube):
        raise BadInput(f"{where}.on", on, f"one of {', '.join(n for n, p in parts.items() if not isinstance(p, Tube))}")
    part = parts[on]
    if isinstance(part, Cylinder) and radius > part.radius:
        raise BadInput(f"{where}.bore", body["bore"], f"at most the diameter of the shell, {2 * part.radius:.3f} m")
    u, v = part.read(body, where)
    what = fields.text(body, "what", where) if "what" in body else "nozzle"
    return Tube(name, radius, length, clocked=True, inside=True, frame=_frame(part, u, v)), Feature(name, what, on, u, v, radius)


def _frame(part: Part, u: float, v: float) -> Frame:
    """A neck stands square to the shell, upright on a head; 12:00 is up, on a head toward 0 deg, for one who looks out through it."""
    x, y, z = part.to_xyz(u, v)
    along: Vector = (0.0, 0.0, 1.0 if part.name == "top head" else -1.0)
    up: Vector = (0.0, 1.0, 0.0)
    if isinstance(part, Cylinder):
        size = math.hypot(x, y)
        along, up = (x / size, y / size, 0.0), (0.0, 0.0, 1.0)
    right = (along[1] * up[2] - along[2] * up[1], along[2] * up[0] - along[0] * up[2], along[0] * up[1] - along[1] * up[0])
    return Frame((x, y, z), right, up, along)


def _seams(shell: Cylinder, laps: list[float]) -> list[Seam]:
    lines = ((shell.from_grid(angle, 0.0), shell.from_grid(angle, shell.height)) for angle in laps)
    seams = [Seam(f"L{k}", "vertical", "shell", line, shell.height) for k, line in enumerate(lines, start=1)]
    for k, course in enumerate(shell.courses[:-1], start=1):
        seams.append(Seam(f"G{k}", "girth", "shell", ((0.0, course.top), (shell.period_m, course.top)), shell.period_m))
    return seams
