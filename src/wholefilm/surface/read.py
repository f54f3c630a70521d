"""Read the body of `item.added` into a `Surface`."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from ..base.errors import BadInput
from . import fields
from .cylinder import Cylinder
from .fields import items, mapping, natural_key, only
from .layout import Layout
from .model import Feature, Panel, Surface, TestArea
from .openings import deduct
from .parts import TOUCH_M, Box, Part
from .tank import read_tank

SHAPES: dict[str, Callable[[Mapping[str, Any]], Layout]] = {"tank": read_tank}
"""Shapes by name: each reads `dimensions` into a `Layout`."""

_BODY = ("item", "shape", "datum", "dimensions", "features", "test_areas", "panels", "openings_deducted", "as_built", "note")
_COMMON = ("happened", "told", "operator", "recorder", "witness", "files", "although")
_COORDINATES = ("at", "arc", "z", "x", "y", "from_centre", "from_apex")
_MOST_PANELS = 5000


def read_item(body: Mapping[str, Any]) -> Surface:
    """Read an item.

    Parameters
    ----------
    body : dict
        Body of `item.added`; its fields are described in `docs/reference/item.md`.

    Returns
    -------
    Surface

    Raises
    ------
    BadInput
        If a field is missing, unknown or wrong, two things bear one name, panels overlap or do not fill their test area.
    """
    body = mapping(body, "item")
    only(body, (*_BODY, *_COMMON), "")
    shape = fields.text(body, "shape", "")
    if shape not in SHAPES:
        raise BadInput("shape", shape, f"one of {', '.join(SHAPES)}")
    layout = SHAPES[shape](mapping(body.get("dimensions"), "dimensions"))
    listed = [mapping(raw, f"features[{n}]") for n, raw in enumerate(items(body.get("features", []), "features"), 1)]
    features = [_feature(layout, raw, f"features[{n}]") for n, raw in enumerate(listed, 1)]
    listed = [mapping(raw, f"test_areas[{n}]") for n, raw in enumerate(items(body.get("test_areas"), "test_areas"), 1)]
    areas = [_test_area(layout, raw, f"test_areas[{n}]") for n, raw in enumerate(listed, 1)]
    if not areas:
        raise BadInput("test_areas", "[]", "at least one test area")
    panels = _panels(layout, areas, body.get("panels"))
    _once("seams and features", [s.name for s in layout.seams] + [f.name for f in features])
    _once("test_areas", [a.name for a in areas])
    _once("panels", [p.name for p in panels])
    _tile(layout, areas, panels)
    deducted = body.get("openings_deducted")
    if not isinstance(deducted, bool):
        raise BadInput("openings_deducted", "nothing" if deducted is None else deducted, "true or false: are openings taken off the areas")
    if deducted:
        areas, panels = deduct(layout.parts, areas, panels, features)
    return Surface(
        fields.name(body, "item", ""), shape, fields.text(body, "datum", ""), layout.parts, areas, panels, layout.seams, features
    )


def _feature(layout: Layout, body: Mapping[str, Any], where: str) -> Feature:
    only(body, ("name", "what", "on", *_COORDINATES, "rim_radius", "bore", "pad_radius", "note"), where)
    part = _part(layout, body, where)
    full_height = isinstance(part, Cylinder) and "z" not in body
    u, v = part.read({**body, "z": "0 m"} if full_height else body, where)
    if full_height and ("bore" in body or "rim_radius" in body or "pad_radius" in body):
        raise BadInput(f"{where}.z", "nothing", "the height of the centre of an opening")
    if "rim_radius" in body and "bore" in body:
        raise BadInput(f"{where}.bore", body["bore"], "either 'rim_radius' or 'bore'")
    radius = fields.size(body, "rim_radius", where) if "rim_radius" in body else None
    if "bore" in body:
        radius = fields.size(body, "bore", where) / 2
    pad = fields.size(body, "pad_radius", where) if "pad_radius" in body else None
    if pad is not None and radius is not None and pad <= radius:
        raise BadInput(f"{where}.pad_radius", body["pad_radius"], f"more than the opening's radius of {radius:.3f} m")
    return Feature(
        fields.name(body, "name", where), fields.text(body, "what", where), part.name, u, None if full_height else v, radius, pad
    )


def _part(layout: Layout, body: Mapping[str, Any], where: str) -> Part:
    on = fields.text(body, "on", where)
    if on == "column" and "column" in body:
        on = f"column {body['column']}"
    if on not in layout.parts:
        raise BadInput(f"{where}.on", on, f"one of {', '.join(layout.parts)}")
    return layout.parts[on]


def _test_area(layout: Layout, body: Mapping[str, Any], where: str) -> TestArea:
    only(body, ("name", "on", "course", "column"), where)
    part, box = _part(layout, body, where), None
    if "course" in body:
        courses = part.courses if isinstance(part, Cylinder) else ()
        box = next((Box(0.0, 360.0, c.bottom, c.top) for c in courses if c.name == body["course"]), None)
        if box is None:
            known = ", ".join(c.name for c in courses) or "no course: only a shell has them"
            raise BadInput(f"{where}.course", body["course"], f"one of {known}")
    box = box or part.whole
    return TestArea(fields.name(body, "name", where), part.name, part.box_area(box), (box,))


def _panels(layout: Layout, areas: list[TestArea], raw: object) -> list[Panel]:
    if isinstance(raw, Mapping):
        only(raw, ("rule",), "panels")
        if raw.get("rule") != layout.rule:
            raise BadInput("panels.rule", raw.get("rule", "nothing"), f"'{layout.rule}', or a list of panels")
        return [_panel(layout, area, name, box) for area in areas for name, box in layout.cut(layout.parts[area.on], area.boxes, area.name)]
    by_name = {area.name: area for area in areas}
    panels = []
    for number, item in enumerate(items(raw, "panels", _MOST_PANELS), start=1):
        where = f"panels[{number}]"
        body = mapping(item, where)
        only(body, ("name", "test_area", "at", "z", "from_centre"), where)
        area = by_name.get(fields.text(body, "test_area", where))
        if area is None:
            raise BadInput(f"{where}.test_area", body["test_area"], f"one of {', '.join(by_name)}")
        panels.append(_panel(layout, area, fields.name(body, "name", where), _box(layout.parts[area.on], area, body, where)))
    return panels


def _box(part: Part, area: TestArea, body: Mapping[str, Any], where: str) -> Box:
    """Box of a listed panel: `at` from, to clockwise; `z` or `from_centre` from, to; what is left out is that of the test area."""
    box, key = area.boxes[0], "z" if isinstance(part, Cylinder) else "from_centre"
    p, span, q, q_end = box.p, box.span, box.q, box.q_end
    if "at" in body:
        p, end = (fields.turn(value, f"{where}.at") for value in _pair(body, "at", where))
        span = (end - p) % 360 or 360.0
    if ("z" if key == "from_centre" else "from_centre") in body:
        raise BadInput(f"{where}.{key}", "nothing", f"'{key}' for a panel on the {part.name}")
    if key in body:
        q, q_end = (fields.measure(value, "length", f"{where}.{key}") for value in _pair(body, key, where))
        if not box.q - TOUCH_M <= q < q_end <= box.q_end + TOUCH_M:
            raise BadInput(f"{where}.{key}", body[key], f"lower, then higher, within {box.q:.2f} m to {box.q_end:.2f} m of {area.name}")
    return Box(p, span, q, q_end)


def _pair(body: Mapping[str, Any], key: str, where: str) -> list[Any]:
    pair = items(body[key], f"{where}.{key}", 2)
    if len(pair) != 2:
        raise BadInput(f"{where}.{key}", pair, "two values, from and to")
    return pair


def _panel(layout: Layout, area: TestArea, name: str, box: Box) -> Panel:
    part = layout.parts[area.on]
    outline = part.box_rings(box)
    return Panel(name, area.name, area.on, part.box_area(box), outline, len(outline) > 1, (box,))


def _once(field: str, names: list[str]) -> None:
    seen: set[str] = set()
    for label in names:
        if label in seen:
            raise BadInput(field, label, "names that are used once")
        seen.add(label)


def _tile(layout: Layout, areas: list[TestArea], panels: list[Panel]) -> None:
    """Panels lie in one test area each, fill it and do not overlap."""
    if len(panels) > _MOST_PANELS:
        raise BadInput("panels", len(panels), f"at most {_MOST_PANELS}")
    for area in areas:
        filled = math.fsum(p.area_m2 for p in panels if p.test_area == area.name)
        if abs(filled - area.area_m2) > 1e-6 * max(1.0, area.area_m2):
            raise BadInput("panels", f"{filled:.3f} m2 in {area.name}", f"panels that fill the test area, {area.area_m2:.3f} m2")
        same = next((p for p in panels if p.name == area.name), None)
        if same is not None and (same.test_area != area.name or abs(same.area_m2 - area.area_m2) > 1e-6 * area.area_m2):
            raise BadInput("panels", area.name, "a panel with the name of a test area only if it is the whole of it")
    for part in {p.on for p in panels}:
        here = sorted((p for p in panels if p.on == part), key=lambda p: (p.boxes[0].q, natural_key(p.name)))
        for index, one in enumerate(here):
            for other in here[index + 1 :]:
                if other.boxes[0].q >= one.boxes[0].q_end - TOUCH_M:
                    break
                if _overlap(one.boxes[0], other.boxes[0]):
                    raise BadInput("panels", f"{one.name}, {other.name}", "panels that do not overlap")


def _overlap(one: Box, other: Box) -> bool:
    if min(one.q_end, other.q_end) - max(one.q, other.q) <= TOUCH_M:
        return False
    slack = 1e-9
    return (other.p - one.p) % 360 < one.span - slack or (one.p - other.p) % 360 < other.span - slack
