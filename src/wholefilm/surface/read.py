"""Read the body of `item.added` into a `Surface`."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from ..base.errors import BadInput
from . import fields
from .cylinder import Cylinder
from .fields import items, mapping, natural_key, only
from .layout import Layout
from .model import Feature, Panel, Surface, TestArea
from .openings import deduct
from .parts import TOUCH_M, Box, Part
from .shapes.floor import read_floor
from .shapes.pipe import read_can, read_pipe, read_pipe_string
from .shapes.sphere import read_sphere
from .shapes.vessel import read_vessel
from .tank import read_tank

SHAPES: dict[str, Callable[[Mapping[str, Any]], Layout]] = {
    "tank": read_tank,
    "pipe": read_pipe,
    "pipe_string": read_pipe_string,
    "can": read_can,
    "floor": read_floor,
    "vessel": read_vessel,
    "sphere": read_sphere,
}
"""Shapes by name: each reads `dimensions` into a `Layout`."""

_BODY = ("item", "shape", "datum", "dimensions", "features", "test_areas", "panels", "openings_deducted", "as_built", "note")
_COMMON = ("happened", "told", "operator", "recorder", "witness", "files", "although")
_COORDINATES = ("at", "arc", "z", "x", "y", "from_centre", "from_apex", "along", "clock")
_BOUNDS = ("at", "arc", "x", "z", "from_centre", "along", "y")
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
    features = [*layout.features, *(_feature(layout, raw, f"features[{n}]") for n, raw in enumerate(listed, 1))]
    listed = [mapping(raw, f"test_areas[{n}]") for n, raw in enumerate(items(body.get("test_areas"), "test_areas", _MOST_PANELS), 1)]
    areas = [area for n, raw in enumerate(listed, 1) for area in _test_areas(layout, raw, f"test_areas[{n}]")]
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
        fields.name(body, "item", ""),
        shape,
        fields.text(body, "datum", ""),
        layout.parts,
        areas,
        panels,
        layout.seams,
        features,
        layout.find,
    )


def _feature(layout: Layout, body: Mapping[str, Any], where: str) -> Feature:
    only(body, ("name", "what", "on", *_COORDINATES, "rim_radius", "bore", "pad_radius", "note"), where)
    part = _part(layout, body, where)
    key = part.span_key
    full_height = part.period_m is not None and key not in body
    u, v = part.read({**body, key: f"{part.whole.q} m"} if full_height else body, where)
    if full_height and ("bore" in body or "rim_radius" in body or "pad_radius" in body):
        raise BadInput(f"{where}.{key}", "nothing", "the height of the centre of an opening")
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
        raise BadInput(f"{where}.on", on, f"one of {fields.some([*layout.parts, *layout.groups])}")
    return layout.parts[on]


def _test_areas(layout: Layout, body: Mapping[str, Any], where: str) -> Iterator[TestArea]:
    """The test area of a body; of a group one for all its parts, or with `each` one for each part."""
    only(body, ("name", "on", "course", "column", "each"), where)
    group = layout.groups.get(fields.text(body, "on", where))
    if group is None or body["on"] in layout.parts:
        if "each" in body:
            raise BadInput(
                f"{where}.each", body["each"], f"only for a group of parts: {fields.some(layout.groups) or 'this shape has none'}"
            )
        yield _test_area(layout, body, where)
        return
    only(body, ("name", "on", "each"), where)
    parts = [layout.parts[name] for name in group]
    if body.get("each", False) is True:
        only(body, ("on", "each"), where)
        for part in parts:
            yield TestArea(part.name, part.name, part.area_m2, (part.whole,))
    elif "each" in body and body["each"] is not False:
        raise BadInput(f"{where}.each", body["each"], "true or false: is each part a test area of its own")
    else:
        yield TestArea(fields.name(body, "name", where), body["on"], math.fsum(part.area_m2 for part in parts), ())


def _test_area(layout: Layout, body: Mapping[str, Any], where: str) -> TestArea:
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
        return [
            _panel(part, area, name, box)
            for area in areas
            for part, boxes, label in _pieces(layout, area)
            for name, box in layout.cut(part, boxes, label)
        ]
    by_name = {area.name: area for area in areas}
    panels = []
    for number, item in enumerate(items(raw, "panels", _MOST_PANELS), start=1):
        where = f"panels[{number}]"
        body = mapping(item, where)
        only(body, ("name", "test_area", "on", *_BOUNDS), where)
        area = by_name.get(fields.text(body, "test_area", where))
        if area is None:
            raise BadInput(f"{where}.test_area", body["test_area"], f"one of {fields.some(by_name)}")
        known = {part.name: (part, boxes) for part, boxes, _ in _pieces(layout, area)}
        on = fields.text(body, "on", where) if "on" in body or len(known) > 1 else next(iter(known))
        if on not in known:
            raise BadInput(f"{where}.on", on, f"one of {fields.some(known)}")
        part, boxes = known[on]
        panels.append(_panel(part, area, fields.name(body, "name", where), _box(part, area.name, boxes[0], body, where)))
    return panels


def _pieces(layout: Layout, area: TestArea) -> list[tuple[Part, tuple[Box, ...], str]]:
    """Parts of a test area, each with its boxes and the name that its panels begin with."""
    if area.boxes:
        return [(layout.parts[area.on], area.boxes, area.name)]
    return [(layout.parts[name], (layout.parts[name].whole,), name) for name in layout.groups[area.on]]


def _box(part: Part, area: str, box: Box, body: Mapping[str, Any], where: str) -> Box:
    """Box of a listed panel; what is left out is that of the test area.

    `at` from, to clockwise, or `arc`, `x` from, to; and `z`, `from_centre`, `along` or `y` from, to, as the part asks.
    """
    turn, key = part.turn_key, part.span_key
    p, span, q, q_end = box.p, box.span, box.q, box.q_end
    for other in _BOUNDS:
        if other in body and other not in (turn, key):
            raise BadInput(f"{where}.{other}", body[other], f"'{turn}', '{key}' for a panel on the {part.name}")
    if turn in body:
        if turn == "at":
            p, end = (fields.turn(value, f"{where}.at") for value in _pair(body, "at", where))
            span = (end - p) % 360 or 360.0
        else:
            p, end = _range(body, turn, where, part.turn_unit)
            span = end - p
            if not box.p - TOUCH_M <= p < end <= box.p + box.span + TOUCH_M:
                raise BadInput(f"{where}.{turn}", body[turn], f"lower, then higher, within {area}")
    if key in body:
        q, q_end = _range(body, key, where)
        if not box.q - TOUCH_M <= q < q_end <= box.q_end + TOUCH_M:
            raise BadInput(f"{where}.{key}", body[key], f"lower, then higher, within {box.q:.2f} m to {box.q_end:.2f} m of {area}")
    return Box(p, span, q, q_end)


def _range(body: Mapping[str, Any], key: str, where: str, unit: float = 1.0) -> tuple[float, float]:
    start, end = (fields.measure(value, "length", f"{where}.{key}") / unit for value in _pair(body, key, where))
    return start, end


def _pair(body: Mapping[str, Any], key: str, where: str) -> list[Any]:
    pair = items(body[key], f"{where}.{key}", 2)
    if len(pair) != 2:
        raise BadInput(f"{where}.{key}", pair, "two values, from and to")
    return pair


def _panel(part: Part, area: TestArea, name: str, box: Box) -> Panel:
    outline = part.box_rings(box)
    return Panel(name, area.name, part.name, part.box_area(box), outline, part.period_m is not None and len(outline) > 1, (box,))


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
    by_area: dict[str, list[float]] = {}
    by_part: dict[str, list[Panel]] = {}
    by_name = {p.name: p for p in panels}
    for panel in panels:
        by_area.setdefault(panel.test_area, []).append(panel.area_m2)
        by_part.setdefault(panel.on, []).append(panel)
    for area in areas:
        filled = math.fsum(by_area.get(area.name, []))
        if abs(filled - area.area_m2) > 1e-6 * max(1.0, area.area_m2):
            raise BadInput("panels", f"{filled:.3f} m2 in {area.name}", f"panels that fill the test area, {area.area_m2:.3f} m2")
        same = by_name.get(area.name)
        if same is not None and (same.test_area != area.name or abs(same.area_m2 - area.area_m2) > 1e-6 * area.area_m2):
            raise BadInput("panels", area.name, "a panel with the name of a test area only if it is the whole of it")
    for part, there in by_part.items():
        here = sorted(there, key=lambda p: (p.boxes[0].q, natural_key(p.name)))
        for index, one in enumerate(here):
            for other in here[index + 1 :]:
                if other.boxes[0].q >= one.boxes[0].q_end - TOUCH_M:
                    break
                if layout.parts[part].overlap(one.boxes[0], other.boxes[0]):
                    raise BadInput("panels", f"{one.name}, {other.name}", "panels that do not overlap")
