"""Labels of marks, features, repairs and panels: each at a place where it meets no mark and no other label."""

from __future__ import annotations

from typing import Any

import msgspec
import shapely

from wholefilm.sheets.maps import MapPanel, PartMap

from .boxes import Box, Taken, around, groups, text_box, text_width
from .numbers import number_key, range_label
from .plate import SIZE, Plate

MARK = 6.5
NEAR = 19.0


class Label(msgspec.Struct, frozen=True):
    """A label at its place; `leader` is the line to its mark, if it needs one. [px]"""

    words: str
    kind: str
    box: Box
    leader: tuple[float, float, float, float] | None = None


def mark_boxes(part: PartMap, plate: Plate) -> list[Box]:
    """Boxes of the marks, in order. [px]"""
    at = [plate.at(m.u, m.v) for m in part.marks]
    return [Box(x - MARK - 1, y - MARK - 1, x + MARK + 1, y + MARK + 1) for x, y in at]


def place_labels(part: PartMap, plate: Plate, taken: Taken, marks: bool = True) -> list[Label]:
    """Labels of a map, most important first; a feature that is crowded gets its name last, with a leader.

    A panel or a repair without room keeps its name in its title only.
    """
    for box in mark_boxes(part, plate):
        taken.add(box)
    sheet = Box(1.0, 1.0, plate.width - 1, plate.height - 1)
    found: list[Label] = []
    if marks:
        _marks(part, plate, taken, sheet, found)
    crowded: list[tuple[str, Box]] = []
    for f in part.features:
        if f.v is None:
            x, y = plate.at(f.u, plate.windows[0].v1 * 0.97)
            reach = 4.0
        else:
            x, y = plate.at(f.u, f.v)
            reach = (f.radius or 0.0) * plate.windows[0].scale + 1
        body = Box(x - reach, y - reach, x + reach, y + reach)
        if not _beside(f.name, "name", body, taken, sheet, found):
            crowded.append((f.name, body))
    for p in part.panels:
        label = panel_label(p, part, plate, taken)
        if label is not None:
            _take(label, taken, found)
    for r in part.repairs:
        at = [plate.at(u, v) for ring in r.rings for u, v in ring]
        body = Box(min(x for x, _ in at), min(y for _, y in at), max(x for x, _ in at), max(y for _, y in at))
        if body.x1 - body.x0 < plate.width / 3:
            _beside(r.number, "name", body, taken, sheet, found)
    for name, body in crowded:
        label = mark_label(name, [body], taken, sheet)
        if label is not None:
            keep_leader_free(label, taken)
            _take(msgspec.structs.replace(label, kind="name"), taken, found)
    return found


def _take(label: Label, taken: Taken, found: list[Label]) -> None:
    taken.add(label.box)
    found.append(label)


def _marks(part: PartMap, plate: Plate, taken: Taken, sheet: Box, found: list[Label]) -> None:
    boxes = mark_boxes(part, plate)
    for kind in ("holiday", "indication", "repaired", "closed", "retest", "false"):
        alike: dict[str, list[int]] = {}
        for k, m in enumerate(part.marks):
            if m.kind == kind and m.number:
                alike.setdefault(number_key(m.number)[0], []).append(k)
        for mine in alike.values():
            middles = [((boxes[k].x0 + boxes[k].x1) / 2, (boxes[k].y0 + boxes[k].y1) / 2) for k in mine]
            for group in groups(middles, NEAR):
                words = range_label(part.marks[mine[g]].number for g in group)
                label = mark_label(words, [boxes[mine[g]] for g in group], taken, sheet)
                if label is not None:
                    keep_leader_free(label, taken)
                    _take(label, taken, found)


def keep_leader_free(label: Label, taken: Taken) -> None:
    """Take what a leader runs over."""
    if label.leader is not None:
        x0, y0, x1, y1 = label.leader
        for k in range(1, 9):
            x, y = x0 + (x1 - x0) * k / 9, y0 + (y1 - y0) * k / 9
            taken.add(Box(x - 1, y - 1, x + 1, y + 1))


def mark_label(words: str, group: list[Box], taken: Taken, sheet: Box) -> Label | None:
    """A label for marks that stand together, with a leader where it cannot stand beside them; not yet taken."""
    body = Box(min(b.x0 for b in group), min(b.y0 for b in group), max(b.x1 for b in group), max(b.y1 for b in group))
    width, height = text_width(words, SIZE) + 2, SIZE * 1.24
    near = [x for b in [body, group[0], group[-1]] for x in around(b, width, height) if not x[1]]
    far = (
        [x for b in group[:24] for x in around(b, width, height) if x[1]]
        if len(group) < 5
        else [x for x in around(body, width, height) if x[1]]
    )
    for box, lead in [*near, *far]:
        if box.within(sheet) and taken.free(box):
            return Label(words, "label", box, _leader(box, group) if lead else None)
    return None


def _leader(box: Box, group: list[Box]) -> tuple[float, float, float, float]:
    cx, cy = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
    middles = [((b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2) for b in group]
    x, y = min(middles, key=lambda p: ((p[0] - cx) ** 2 + (p[1] - cy) ** 2, p))
    ex, ey = min(max(x, box.x0), box.x1), min(max(y, box.y0), box.y1)
    far = max(1e-6, ((ex - x) ** 2 + (ey - y) ** 2) ** 0.5)
    return x + (ex - x) / far * MARK, y + (ey - y) / far * MARK, ex, ey


def _beside(words: str, kind: str, body: Box, taken: Taken, sheet: Box, found: list[Label]) -> bool:
    for box, lead in around(body, text_width(words, SIZE) + 2, SIZE * 1.24):
        if lead:
            break
        if box.within(sheet) and taken.free(box):
            _take(Label(words, kind, box), taken, found)
            return True
    return False


def panel_label(p: MapPanel, part: PartMap, plate: Plate, taken: Taken) -> Label | None:
    """The name of a panel near its middle, with the reason where it was not reached; not yet taken."""
    body, middle = panel_body(p, part)
    (u0, v0, u1, v1), (u, v) = body, middle
    words = f"{p.name}: {p.word}, {p.reason}" if p.state == "not_reached" and p.reason else p.name
    window = plate.window(u)
    room = (u1 - u0) * window.scale - 8
    if text_width(words, SIZE) > room and words != p.name:
        words = f"{p.name}: {p.word}"
    if text_width(words, SIZE) > room:
        words = p.name
    x, y = window.at(u, v)
    half = text_width(words, SIZE) / 2 + 3
    x = min(max(x, window.box.x0 + half), window.box.x1 - half) if window.box.x1 - window.box.x0 > 2 * half else x
    low, high = window.at(u, v0)[1] - 11, window.at(u, v1)[1] + 11
    aside = [x, *(x + s * d for d in (20, 40, 60) if d + half < room / 2 for s in (-1, 1))]
    levels = [low, high, y] if part.kind in ("strip", "wall") else [y, y + 16, y - 16, y + 34, y - 34]
    for level in levels:
        for place in aside if part.kind in ("strip", "wall") else [x, x - 24, x + 24]:
            box = text_box(place, level, words, SIZE)
            if taken.free(box) and box.within(Box(0.0, 0.0, plate.width, plate.height)):
                return Label(words, "name", box)
    return None


def panel_body(p: MapPanel, part: PartMap) -> tuple[tuple[float, float, float, float], tuple[float, float]]:
    """Bounds and middle of a panel; one that runs through 0 deg is made whole first, its middle lies on the map. [m]"""
    rings = [r for r in p.rings if len(r) > 2]
    if not rings:
        return (part.u0, part.v0, part.u1, part.v1), (part.u0, part.v0)
    period = part.period_m
    if period and len(rings) > 1 and any(u > period - 1e-3 for r in rings for u, _ in r):
        rings = [
            [(u + period, v) for u, v in r] if min(u for u, _ in r) < 1e-3 and max(u for u, _ in r) < period - 1e-3 else r for r in rings
        ]
    shape: Any = shapely.union_all([shapely.make_valid(shapely.Polygon(r)) for r in rings])
    low_u, low_v, high_u, high_v = (float(x) for x in shape.bounds)
    point = shape.centroid if shape.intersects(shape.centroid) else shape.representative_point()
    u = float(point.x)
    return (low_u, low_v, high_u, high_v), (u - period if period and u >= period else u, float(point.y))
