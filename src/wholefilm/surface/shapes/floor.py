"""Floor, mostly of concrete: rectangle, polygon or round; with kerb, sumps, plinths, bays and saw-cut joints.

The floor is the whole plan: the bottom of a sump and the top of a plinth belong to it. Their upright sides, and the inner face of the
kerb, are parts of their own. What stands on the floor is not taken off it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import accumulate, pairwise
from typing import Any

from ...base.errors import BadInput
from .. import fields
from ..cylinder import Cylinder
from ..disc import Disc
from ..fields import items, mapping, only
from ..flat import area, signed_area
from ..layout import Cut, Layout
from ..model import Seam
from ..parts import TOUCH_M, Box, Part, Point
from ..slab import Slab, Step
from ..wall import rectangle, wall
from .sphere import quadrants

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_RULE = "bays"


def read_floor(dimensions: Mapping[str, Any]) -> Layout:
    """Parts, joints and the panel rule of a floor.

    Parameters
    ----------
    dimensions : dict
        `length` (along x, east) and `width` (along y, north) from the south-west corner; or `corners`, a list of [x, y], with
        optional `cut_outs`, lists of the same; or `diameter`. Then optional: `kerb` with `height`; `sumps` and `plinths`, each
        `name`, `at` (its south-west corner), `length`, `width`, `depth` or `height`; `bays` with `columns` and `rows`, numbers or
        lists of sizes; `joints`, each `name`, `x` or `y`, optional `reach` (how far beside it a place may name the panel across it).

    Returns
    -------
    Layout
        Parts ``floor``, ``kerb``, and the sides of sumps and plinths by their names; groups ``sumps`` and ``plinths``.

    Raises
    ------
    BadInput
        If a dimension is missing, not positive or not known, or a sump or plinth does not lie on the floor.
    """
    where = "dimensions"
    if "diameter" in dimensions:
        return _round(dimensions, where)
    only(dimensions, ("length", "width", "corners", "cut_outs", "kerb", "sumps", "plinths", "bays", "joints"), where)
    corners = _corners(dimensions, where)
    cuts = items(dimensions.get("cut_outs", []), f"{where}.cut_outs", 200)
    cut_outs = tuple(_ring(raw, f"{where}.cut_outs[{n}]") for n, raw in enumerate(cuts, start=1))
    parts: dict[str, Part] = {"floor": Slab("floor", corners, cut_outs)}
    if "kerb" in dimensions:
        parts["kerb"] = wall("kerb", corners, 0.0, _kerb(dimensions, where))
    steps: list[Step] = []
    groups: dict[str, list[str]] = {}
    for kind, key in (("sumps", "depth"), ("plinths", "height")):
        groups[kind] = []
        for n, raw in enumerate(items(dimensions.get(kind, []), f"{where}.{kind}", 200), start=1):
            at = f"{where}.{kind}[{n}]"
            body = mapping(raw, at)
            only(body, ("name", "at", "length", "width", key), at)
            name, step = fields.name(body, "name", at), _step(body, key, at)
            if name in parts:
                raise BadInput(f"{at}.name", name, "a name that no other part bears")
            _on_floor(parts["floor"], steps, step, body, at)
            steps.append(step)
            line = rectangle(step.x, step.y, step.x_end - step.x, step.y_end - step.y)
            parts[name] = wall(name, line, min(step.z, 0.0), abs(step.z), kind == "sumps")
            groups[kind].append(name)
    slab = Slab("floor", corners, cut_outs, tuple(steps))
    parts["floor"] = slab
    columns, rows = _bays(dimensions, slab, where)
    return Layout(parts, _joints(dimensions, slab, where), _RULE, _cut(columns, rows), groups={k: v for k, v in groups.items() if v})


def _round(dimensions: Mapping[str, Any], where: str) -> Layout:
    """A round floor, cut into quadrants."""
    only(dimensions, ("diameter", "kerb"), where)
    radius = fields.size(dimensions, "diameter", where) / 2
    parts: dict[str, Part] = {"floor": Disc("floor", radius)}
    if "kerb" in dimensions:
        parts["kerb"] = Cylinder("kerb", radius, _kerb(dimensions, where))

    def cut(part: Part, boxes: tuple[Box, ...], label: str) -> list[tuple[str, Box]]:
        return [(label, box) for box in boxes] if part.name == "kerb" else quadrants(part, boxes, label)

    return Layout(parts, [], "quadrants", cut)


def _kerb(dimensions: Mapping[str, Any], where: str) -> float:
    body = mapping(dimensions["kerb"], f"{where}.kerb")
    only(body, ("height",), f"{where}.kerb")
    return fields.size(body, "height", f"{where}.kerb")


def _corners(dimensions: Mapping[str, Any], where: str) -> tuple[Point, ...]:
    if "corners" in dimensions:
        for key in ("length", "width"):
            if key in dimensions:
                raise BadInput(f"{where}.{key}", dimensions[key], "not beside 'corners'")
        return _ring(dimensions["corners"], f"{where}.corners")
    return rectangle(0.0, 0.0, fields.size(dimensions, "length", where), fields.size(dimensions, "width", where))


def _point(raw: object, where: str) -> Point:
    pair = items(raw, where, 2)
    if len(pair) != 2:
        raise BadInput(where, pair, "x and y, such as ['1.5 m', '4.6 m']")
    x, y = (fields.measure(value, "length", where) for value in pair)
    return x, y


def _ring(raw: object, where: str) -> tuple[Point, ...]:
    """Corners in plan, turned to run clockwise seen from above."""
    points = [_point(value, f"{where}[{n}]") for n, value in enumerate(items(raw, where, 500), start=1)]
    if len(points) < 3 or area(points) < TOUCH_M or any(math.dist(a, b) < TOUCH_M for a, b in pairwise((*points, points[0]))):
        raise BadInput(where, raw, "at least three corners that differ, in order along the edge, round an area")
    if _crossed(points):
        raise BadInput(where, raw, "corners in order along the edge, which does not cross itself")
    return tuple(points if signed_area(points) < 0 else [points[0], *points[:0:-1]])


def _crossed(points: list[Point]) -> bool:
    """Whether two edges cross."""

    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    edges = list(pairwise((*points, points[0])))
    return any(
        side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0 for k, (a, b) in enumerate(edges) for c, d in edges[k + 1 :]
    )


def _step(body: Mapping[str, Any], key: str, where: str) -> Step:
    x, y = _point(body.get("at"), f"{where}.at")
    rise = fields.size(body, key, where) * (1 if key == "height" else -1)
    return Step(x, y, x + fields.size(body, "length", where), y + fields.size(body, "width", where), rise)


def _on_floor(floor: Part, others: list[Step], step: Step, body: Mapping[str, Any], where: str) -> None:
    across, deep = step.x_end - step.x, step.y_end - step.y
    if abs(floor.box_area(Box(step.x, across, step.y, step.y_end)) - across * deep) > 1e-9:
        raise BadInput(f"{where}.at", body["at"], "a rectangle that lies on the floor")
    if any(min(step.x_end, o.x_end) > max(step.x, o.x) and min(step.y_end, o.y_end) > max(step.y, o.y) for o in others):
        raise BadInput(f"{where}.at", body["at"], "a rectangle that overlaps no other sump or plinth")


def _bays(dimensions: Mapping[str, Any], slab: Slab, where: str) -> tuple[list[float], list[float]]:
    """Lines between columns (x) and between rows (y), the edges included. [m]"""
    box = slab.whole
    ends = (box.p, box.p + box.span), (box.q, box.q_end)
    if "bays" not in dimensions:
        return list(ends[0]), list(ends[1])
    at = f"{where}.bays"
    body = mapping(dimensions["bays"], at)
    only(body, ("columns", "rows"), at)
    columns, rows = (_lines(body, key, most, end, at) for key, most, end in (("columns", 26, ends[0]), ("rows", 99, ends[1])))
    return columns, rows


def _lines(body: Mapping[str, Any], key: str, most: int, ends: tuple[float, float], where: str) -> list[float]:
    value, whole = body.get(key), ends[1] - ends[0]
    if isinstance(value, list | tuple):
        sizes = [fields.measure(v, "length", f"{where}.{key}") for v in items(value, f"{where}.{key}", most)]
        if not sizes or min(sizes) <= TOUCH_M or abs(math.fsum(sizes) - whole) > 1e-3:
            raise BadInput(f"{where}.{key}", value, f"sizes above 0 that add up to {whole:.3f} m")
        return [*accumulate(sizes[:-1], initial=ends[0]), ends[1]]
    count = fields.count(body, key, where, most)
    if count < 1:
        raise BadInput(f"{where}.{key}", count, f"1 to {most}, or a list of sizes")
    return [*(ends[0] + whole * k / count for k in range(count)), ends[1]]


def _cut(columns: list[float], rows: list[float]) -> Cut:
    def cut(part: Part, boxes: tuple[Box, ...], label: str) -> list[tuple[str, Box]]:
        """By the rule a floor is cut into bays, ``A1`` in the south-west; all else is one panel."""
        if not isinstance(part, Slab) or len(columns) * len(rows) == 4:
            return [(label, box) for box in boxes]
        bays = [
            (f"{_LETTERS[c]}{r}", Box(x0, x1 - x0, y0, y1))
            for c, (x0, x1) in enumerate(pairwise(columns))
            for r, (y0, y1) in enumerate(pairwise(rows), start=1)
        ]
        return [(name, box) for name, box in bays if part.box_area(box) > TOUCH_M]

    return cut


MOST_REACH_M = 0.5
"""Furthest from a joint that a place may be counted to the panel across it. [m]"""


def _joints(dimensions: Mapping[str, Any], slab: Slab, where: str) -> list[Seam]:
    """Joints right across the rectangle round the floor."""
    box, seams = slab.whole, []
    for n, raw in enumerate(items(dimensions.get("joints", []), f"{where}.joints", 200), start=1):
        at = f"{where}.joints[{n}]"
        body = mapping(raw, at)
        only(body, ("name", "x", "y", "reach"), at)
        if ("x" in body) == ("y" in body):
            raise BadInput(f"{at}.x", dict(body), "one of 'x' (a joint that runs north) and 'y' (one that runs east)")
        key = "x" if "x" in body else "y"
        line = fields.length(body, key, at)
        low, high = (box.p, box.p + box.span) if key == "x" else (box.q, box.q_end)
        if not low < line < high:
            raise BadInput(f"{at}.{key}", body[key], f"{low:.2f} m to {high:.2f} m")
        if key == "x":
            ends, long = ((line, box.q), (line, box.q_end)), box.q_end - box.q
        else:
            ends, long = ((box.p, line), (box.p + box.span, line)), box.span
        reach = fields.length(body, "reach", at) if "reach" in body else 0.0
        if not 0 <= reach <= MOST_REACH_M:
            raise BadInput(f"{at}.reach", body["reach"], f"0 m to {MOST_REACH_M:g} m")
        seams.append(Seam(fields.name(body, "name", at), "vertical" if key == "x" else "girth", "floor", ends, long, reach))
    return seams
