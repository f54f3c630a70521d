"""The surface of an item: parts, test areas, panels, seams, features, and the questions asked of them."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import msgspec

from ..base.errors import BadInput, NotFound
from .fields import natural_key, some
from .flat import Flat
from .parts import Box, Part, Point, Ring, wrap


class TestArea(msgspec.Struct, frozen=True):
    """What the contract judges: name, part or group of parts, true area [m2], boxes in the part's grid (none for a group)."""

    __test__ = False

    name: str
    on: str
    area_m2: float
    boxes: tuple[Box, ...]


class Panel(msgspec.Struct, frozen=True):
    """A piece of one test area with a name that can be chalked.

    Attributes
    ----------
    name, test_area, on : str
        `on` is the name of the part.
    area_m2 : float
        True area. [m2]
    outline : list of list of (float, float)
        Rings in map coordinates; two where the panel runs through the edge of the map. [m]
    wraps : bool
        Whether it does so.
    boxes : tuple of Box
        The same in the part's grid, exact.
    """

    name: str
    test_area: str
    on: str
    area_m2: float
    outline: list[Ring]
    wraps: bool
    boxes: tuple[Box, ...]


class Seam(msgspec.Struct, frozen=True):
    """A weld line or joint: kind ``vertical`` or ``girth``, a line in map coordinates [m], its length [m].

    `reach_m`: how far to either side a place may be counted to the panel on the other one, because the joint belongs to it. [m]
    """

    name: str
    kind: str
    on: str
    line: tuple[Point, Point]
    length_m: float
    reach_m: float = 0.0


class Feature(msgspec.Struct, frozen=True):
    """A thing on a part; `v` is None for one that runs the full height (a ladder). Lengths in m."""

    name: str
    what: str
    on: str
    u: float
    v: float | None
    radius_m: float | None = None
    pad_radius_m: float | None = None


class Spot(msgspec.Struct, frozen=True):
    """A place found on the surface: part, map coordinates [m], words, panel and test area."""

    part: str
    u: float
    v: float
    text: str
    panel: str
    test_area: str


@dataclass(frozen=True)
class Surface:
    """The surface of one item.

    Attributes
    ----------
    item, shape, datum : str
    parts : dict of str to Part
    test_areas : list of TestArea
    panels : list of Panel
    seams : list of Seam
    features : list of Feature
    """

    item: str
    shape: str
    datum: str
    parts: dict[str, Part]
    test_areas: list[TestArea]
    panels: list[Panel]
    seams: list[Seam]
    features: list[Feature]
    find: Callable[[str], str | None] | None = field(default=None, repr=False, compare=False)
    _areas: dict[str, TestArea] = field(default_factory=dict, repr=False)
    _panels: dict[str, Panel] = field(default_factory=dict, repr=False)
    _by_part: dict[str, list[Panel]] = field(default_factory=dict, repr=False)
    flats: dict[str, list[Flat]] = field(default_factory=dict, repr=False, compare=False)  # rings of panels, looked at when first asked for
    made: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)  # polygons of panels, made when first asked for

    def __post_init__(self) -> None:
        self._areas.update((area.name, area) for area in self.test_areas)
        for panel in sorted(self.panels, key=lambda p: natural_key(p.name)):
            self._panels[panel.name] = panel
            self._by_part.setdefault(panel.on, []).append(panel)

    @property
    def total_m2(self) -> float:
        """Area of all test areas. [m2]"""
        return math.fsum(area.area_m2 for area in self.test_areas)

    def part(self, name: str) -> Part:
        """Part by name, or by what else it may be called; NotFound names the known ones."""
        if name in self.parts:
            return self.parts[name]
        known = self.find(name) if self.find is not None else None
        if known is None:
            raise NotFound("on", name, f"one of {some(self.parts)}")
        return self.parts[known]

    def panel(self, name: str) -> Panel:
        """Panel by name; NotFound names the known ones."""
        if name not in self._panels:
            raise NotFound("panel", name, f"one of {some(self._panels)}")
        return self._panels[name]

    def area(self, name: str) -> TestArea | Panel:
        """Test area or panel by name; the test area where both bear it."""
        if name in self._areas:
            return self._areas[name]
        if name in self._panels:
            return self._panels[name]
        raise NotFound("area", name, f"a test area ({some(self._areas)}) or a panel ({some(self._panels)})")

    def panels_of(self, name: str) -> list[Panel]:
        """Panels of a test area, or the one panel of that name, sorted by name."""
        area = self.area(name)
        if isinstance(area, Panel):
            return [area]
        return [panel for panel in self._panels.values() if panel.test_area == name]

    def on_part(self, part: str) -> list[Panel]:
        """Panels on a part, sorted by name."""
        return self._by_part.get(part, [])

    def panels_holding(self, part: str, u: float, v: float) -> list[str]:
        """Panels that hold a map point, edges included, sorted by name; numbers in names sort by value."""
        shape = self.part(part)
        return [p.name for p in self._by_part.get(part, []) if any(shape.box_has(box, u, v) for box in p.boxes)]

    def panel_at(self, part: str, u: float, v: float) -> str:
        """Panel at a map point; on a boundary the one whose name sorts first.

        Raises
        ------
        BadInput
            If no panel holds the point.
        """
        names = self.panels_holding(part, u, v)
        if not names:
            raise BadInput("place", f"{part} {u:.3f} m, {v:.3f} m", "a place in one of the panels of the item")
        return names[0]

    def to_xyz(self, part: str, u: float, v: float) -> tuple[float, float, float]:
        """Point in space of a map point. [m]"""
        return self.part(part).to_xyz(u, v)

    def from_xyz(self, part: str, xyz: tuple[float, float, float]) -> Point:
        """Map point of a point in space; BadInput if it lies over 1 mm off the part. [m]"""
        return self.part(part).from_xyz(*xyz)

    def distance(self, part: str, a: Point, b: Point) -> float:
        """Shortest way along the part, periodic where it closes. [m]"""
        return self.part(part).distance(a, b)

    def nearest_seam(self, part: str, u: float, v: float) -> tuple[Seam, float] | None:
        """Nearest seam of the part and the distance to it [m]; None where the part has no seam."""
        found = [(self.seam_distance(seam, u, v), seam) for seam in self.seams if seam.on == part]
        if not found:
            return None
        far, seam = min(found, key=lambda pair: (pair[0], natural_key(pair[1].name)))
        return seam, far

    def seam_distance(self, seam: Seam, u: float, v: float) -> float:
        """Distance from a map point of the seam's part to the seam. [m]"""
        (u0, v0), (_, v1) = seam.line
        if seam.kind == "girth":
            return abs(v - v0)
        period = self.parts[seam.on].period_m
        across = wrap(u - u0, period) if period else u - u0
        return math.hypot(across, max(v0 - v, 0.0, v - v1))

    def say(self, part: str, u: float, v: float) -> str:
        """A place in words of the trade, such as ``course 2, 165 deg, 3.40 m``."""
        return self.part(part).say(u, v)

    def say_near(self, part: str, u: float, v: float) -> str | None:
        """A place by what is near it, such as ``0.12 right of V2-4, 0.80 above G1`` [m]; None if nothing is."""
        from .near import say_near

        return say_near(self, part, u, v)

    def read_place(self, place: Mapping[str, Any]) -> Spot:
        """Find a typed place; see `wholefilm.surface.places.read_place`."""
        from .places import read_place

        return read_place(self, place)

    def read_text(self, text: str) -> Spot:
        """Find a place typed as one line, such as ``course 2, 165 deg, 3.40 m``."""
        from .places import parse_place_text

        return self.read_place(parse_place_text(text))
