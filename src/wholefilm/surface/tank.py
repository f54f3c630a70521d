"""Upright cylindrical tank: shell of courses, floor, cone roof, columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..base.errors import BadInput
from . import fields
from .cylinder import Course, Cylinder
from .disc import Disc
from .fields import items, mapping, only
from .layout import Layout
from .model import Seam
from .parts import Box, Part

RULE = "seams, courses and quadrants"
_DIMENSIONS = ("diameter", "courses", "roof", "floor", "columns")


def read_tank(dimensions: Mapping[str, Any]) -> Layout:
    """Parts, seams and the panel rule of a tank.

    Parameters
    ----------
    dimensions : dict
        `diameter`; `courses`, bottom to top, each `name`, `height`, `seams` (number of vertical seams, evenly spaced) and
        `first_seam` (angle of seam 1); `floor` and `roof` with `name`, the roof with `slope`; `columns`, each `name`,
        `diameter`, `height`, `at` (plan x and y).

    Returns
    -------
    Layout
        Parts ``shell``, ``floor``, ``roof``, ``column NAME``; seams ``V2-4`` (course 2, number 4) and ``G1`` (top of course 1).

    Raises
    ------
    BadInput
        If a dimension is missing, not positive or not known.
    """
    where = "dimensions"
    only(dimensions, _DIMENSIONS, where)
    radius = fields.size(dimensions, "diameter", where) / 2
    courses, angles, z = [], {}, 0.0
    for number, raw in enumerate(items(dimensions.get("courses"), f"{where}.courses", 100), start=1):
        at = f"{where}.courses[{number}]"
        body = mapping(raw, at)
        only(body, ("name", "height", "first_seam", "seams"), at)
        top = z + fields.size(body, "height", at)
        course = Course(fields.name(body, "name", at), z, top)
        seams = fields.count(body, "seams", at, 400)
        first = fields.angle(body, "first_seam", at) if seams else 0.0
        courses.append(course)
        angles[course.name] = [(first + k * 360 / seams) % 360 for k in range(seams)]
        z = top
    if not courses or len(angles) != len(courses):
        raise BadInput(f"{where}.courses", [c.name for c in courses], "at least one course, each with a name of its own")
    shell = Cylinder("shell", radius, z, courses=tuple(courses))
    parts: dict[str, Part] = {"shell": shell}
    for key in ("floor", "roof"):
        if key in dimensions:
            body = mapping(dimensions[key], f"{where}.{key}")
            only(body, ("name", "slope") if key == "roof" else ("name",), f"{where}.{key}")
            parts[key] = Disc(
                key, radius, fields.slope(body, "slope", f"{where}.roof") if key == "roof" else 0.0, z if key == "roof" else 0.0
            )
    for number, raw in enumerate(items(dimensions.get("columns", []), f"{where}.columns"), start=1):
        column = _column(mapping(raw, f"{where}.columns[{number}]"), f"{where}.columns[{number}]", radius)
        if column.name in parts:
            raise BadInput(f"{where}.columns[{number}].name", column.name, "a name that no other column bears")
        parts[column.name] = column
    return Layout(parts, _seams(shell, angles), RULE, lambda part, boxes, label: _cut(shell, angles, part, boxes, label))


def _column(body: Mapping[str, Any], where: str, radius: float) -> Cylinder:
    only(body, ("name", "diameter", "height", "at"), where)
    at = items(body.get("at", ["0 m", "0 m"]), f"{where}.at", 2)
    if len(at) != 2:
        raise BadInput(f"{where}.at", at, "plan x and y of the axis, such as ['0 m', '0 m']")
    x, y = (fields.measure(value, "length", f"{where}.at") for value in at)
    own = fields.size(body, "diameter", where) / 2
    if (x * x + y * y) ** 0.5 + own > radius:
        raise BadInput(f"{where}.at", at, f"a column inside the shell, within {radius - own:.2f} m of the centre")
    return Cylinder(f"column {fields.name(body, 'name', where)}", own, fields.size(body, "height", where), (x, y))


def _seams(shell: Cylinder, angles: Mapping[str, list[float]]) -> list[Seam]:
    seams = []
    for number, course in enumerate(shell.courses, start=1):
        for k, angle in enumerate(angles[course.name], start=1):
            line = (shell.from_grid(angle, course.bottom), shell.from_grid(angle, course.top))
            seams.append(Seam(f"V{number}-{k}", "vertical", "shell", line, course.top - course.bottom))
    for number, course in enumerate(shell.courses[:-1], start=1):
        seams.append(Seam(f"G{number}", "girth", "shell", ((0.0, course.top), (shell.period_m, course.top)), shell.period_m))
    return seams


def _cut(shell: Cylinder, angles: Mapping[str, list[float]], part: Part, boxes: tuple[Box, ...], label: str) -> list[tuple[str, Box]]:
    """Panels of a test area by the rule: on the shell by courses and vertical seams, on discs by quadrants, a column whole."""
    if isinstance(part, Disc):
        return [(f"{label}-{k + 1}", Box(90.0 * k, 90.0, box.q, box.q_end)) for box in boxes for k in range(4)]
    if part is not shell:
        return [(label, box) for box in boxes]
    panels = []
    for course in shell.courses:
        if any(box.q <= course.bottom and course.top <= box.q_end for box in boxes):
            starts = angles[course.name] or [0.0]
            span = 360.0 / len(starts)
            panels += [(f"{course.name}-{k}", Box(start, span, course.bottom, course.top)) for k, start in enumerate(starts, start=1)]
    return panels
