"""Developed maps as data: parts with panels, seams, features, marks and repairs. Drawn elsewhere."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import WholefilmError
from wholefilm.proof.states import HolidayState, HolidayWord, PanelState, PanelWord, Standing
from wholefilm.surface import Surface, outline_polygons

STATE_KEYS = {
    PanelWord.CHECKED: "checked",
    PanelWord.AWAITING: "awaiting",
    PanelWord.IN_DOUBT: "doubt",
    PanelWord.NOT_REACHED: "not_reached",
    PanelWord.NOT_IN_SCOPE: "not_in_scope",
    PanelWord.NOT_YET: "not_yet",
}
Ring = list[tuple[float, float]]


class MapPanel(msgspec.Struct, frozen=True):
    """A panel on a map: its state as a key and a word, its rings. [m]"""

    name: str
    state: str
    word: str
    reason: str
    rings: list[Ring]


class MapMark(msgspec.Struct, frozen=True):
    """A mark: kind is indication, holiday, repaired, closed, false or retest. [m]"""

    kind: str
    number: str
    u: float
    v: float


class MapLine(msgspec.Struct, frozen=True):
    """A seam. [m]"""

    name: str
    kind: str
    line: list[tuple[float, float]]


class MapFeature(msgspec.Struct, frozen=True):
    """A manway, nozzle or ladder; `v` is None for one that runs the full height. [m]"""

    name: str
    what: str
    u: float
    v: float | None
    radius: float | None


class MapRepair(msgspec.Struct, frozen=True):
    """The outline of a repair. [m]"""

    number: str
    state: str
    rings: list[Ring]


class PartMap(msgspec.Struct, frozen=True):
    """One part, developed. [m]

    `kind` is strip (u runs round by angle, v up or along), wall (u runs round by length, v up), disc or plan (x right, y up).
    """

    item: str
    part: str
    kind: str
    title: str
    period_m: float
    u0: float
    u1: float
    v0: float
    v1: float
    panels: list[MapPanel]
    seams: list[MapLine]
    features: list[MapFeature]
    marks: list[MapMark]
    repairs: list[MapRepair]


class MapsSheet(msgspec.Struct, frozen=True):
    """Every part of every item."""

    maps: list[PartMap]


def maps_sheet(standing: Standing) -> MapsSheet:
    """Maps of a standing."""
    states: dict[str, dict[str, PanelState]] = {}
    for panel in standing.panels:
        states.setdefault(panel.item, {})[panel.name] = panel
    return MapsSheet(
        [_part(standing, surface, name, states.get(surface.item, {})) for surface in standing.surfaces.values() for name in surface.parts]
    )


def _r(x: float) -> float:
    return round(x, 4) + 0.0


def _part(standing: Standing, surface: Surface, name: str, states: Mapping[str, PanelState]) -> PartMap:
    part = surface.parts[name]
    panels = [
        MapPanel(
            p.name,
            STATE_KEYS[states[p.name].word],
            states[p.name].word.value,
            states[p.name].reason,
            [[(_r(u), _r(v)) for u, v in ring] for ring in p.outline],
        )
        for p in surface.on_part(name)
        if p.name in states
    ]
    points = [point for p in panels for ring in p.rings for point in ring]
    u0, u1 = min((u for u, _ in points), default=0.0), max((u for u, _ in points), default=1.0)
    v0, v1 = min((v for _, v in points), default=0.0), max((v for _, v in points), default=1.0)
    strip = bool(part.period_m)
    return PartMap(
        item=surface.item,
        part=name,
        kind=part.map_kind,
        title=f"{name[:1].upper()}{name[1:]}, {part.seen}",
        period_m=_r(part.period_m or 0.0),
        u0=_r(u0),
        u1=_r(part.period_m or u1) if strip else _r(u1),
        v0=_r(v0),
        v1=_r(v1),
        panels=panels,
        seams=[MapLine(s.name, s.kind, [(_r(u), _r(v)) for u, v in s.line]) for s in surface.seams if s.on == name],
        features=[
            MapFeature(f.name, f.what, _r(f.u), None if f.v is None else _r(f.v), f.radius_m) for f in surface.features if f.on == name
        ],
        marks=_marks(standing, surface, name),
        repairs=_repairs(standing, surface, name),
    )


def _marks(standing: Standing, surface: Surface, name: str) -> list[MapMark]:
    kinds = {HolidayWord.OPEN: "holiday", HolidayWord.REPAIRED: "repaired", HolidayWord.CLOSED: "closed"}
    mine: list[HolidayState] = [h for h in standing.holidays if h.item == surface.item and h.part == name]
    marks = [MapMark(kinds[h.word], h.number, _r(h.u), _r(h.v)) for h in mine]
    for i in standing.indications:
        if (i.decided == "holiday" and not i.retest_of) or i.fact.body.place is None:
            continue
        try:
            spot = surface.read_place(msgspec.to_builtins(i.fact.body.place))
        except (WholefilmError, ArithmeticError, TypeError, ValueError):
            continue
        if spot.part == name:
            kind = "false" if i.decided == "false" else "indication" if not i.retest_of else _retest_mark(standing, i.retest_of)
            marks.append(MapMark(kind, i.number, _r(spot.u), _r(spot.v)))
    return marks


def _retest_mark(standing: Standing, repair: str) -> str:
    """An indication of a retest stays on the map: as an indication while its repair is open, as `retest` when that was done again."""
    state = next((r for r in standing.repairs if r.fact.id == repair), None)
    return "indication" if state is None or state.word is HolidayWord.OPEN else "retest"


def _repairs(standing: Standing, surface: Surface, name: str) -> list[MapRepair]:
    found = []
    for r in standing.repairs:
        rings: list[Ring] = []
        for outline in r.fact.body.outline:
            try:
                part, given = outline_polygons(surface, outline)
            except (WholefilmError, ArithmeticError, TypeError, ValueError, KeyError, AttributeError):
                continue
            if part == name:
                rings += [[(_r(u), _r(v)) for u, v in _thin(ring)] for ring in given]
        if rings:
            found.append(MapRepair(r.number, r.word.value, rings))
    return found


def _thin(ring: list[tuple[float, float]], most: int = 72) -> list[tuple[float, float]]:
    step = max(1, math.ceil(len(ring) / most))
    return ring[::step]
