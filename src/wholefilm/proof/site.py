"""The items of a job as surfaces, and the places on them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from wholefilm.base.errors import WholefilmError
from wholefilm.base.quantity import quantity
from wholefilm.job.facts import Job
from wholefilm.surface import Panel, Spot, Surface, footprint, panels_touched, read_item

from .states import Line


class Site:
    """Every item of the job, read once; what cannot be read becomes a line."""

    def __init__(self, job: Job) -> None:
        self.surfaces: dict[str, Surface] = {}
        self.lines: list[Line] = []
        for fact in job.all("item.added"):
            try:
                surface = read_item(msgspec.to_builtins(fact.body))
            except (WholefilmError, ArithmeticError, TypeError, ValueError, KeyError, AttributeError) as error:
                self.lines.append(Line("unreadable_item", f"Item {fact.body.item} cannot be drawn", str(error), True, [fact.id]))
                continue
            if surface.item in self.surfaces:
                self.lines.append(Line("item_twice", f"Item {surface.item} was added twice; the first counts", "", True, [fact.id]))
            else:
                self.surfaces[surface.item] = surface
        self._footprints: dict[bytes, tuple[float, list[str]]] = {}
        self._panels: dict[str, tuple[Surface, Panel]] = {}
        for surface in self.surfaces.values():
            for panel in surface.panels:
                self._panels.setdefault(panel.name, (surface, panel))

    @property
    def panels(self) -> list[tuple[Surface, Panel]]:
        """Every panel with its item's surface."""
        return list(self._panels.values())

    def panel(self, name: str) -> Panel | None:
        """Panel by name, or None."""
        found = self._panels.get(name)
        return found[1] if found else None

    def surface_of(self, panel: str) -> Surface | None:
        """The item that a panel lies on, or None."""
        found = self._panels.get(panel)
        return found[0] if found else None

    def test_area_of(self, panel: str) -> str:
        """Test area of a panel; the name itself where no panel bears it."""
        found = self.panel(panel)
        return found.test_area if found else panel

    def area_m2(self, name: str) -> float | None:
        """Area of a test area or panel. [m2]"""
        for surface in self.surfaces.values():
            try:
                return surface.area(name).area_m2
            except WholefilmError:
                continue
        return None

    def length_m(self, names: Sequence[str]) -> float | None:
        """Length along the axis of the pipes, joints or cans that some test areas cover; None where one lies on another shape. [m]"""
        total = 0.0
        for name in names:
            mine = [(surface, panel) for surface, panel in self._panels.values() if name in (panel.test_area, panel.name)]
            if not mine or any(surface.shape not in ("pipe", "pipe_string", "can") for surface, _ in mine):
                return None
            ends: dict[tuple[str, str], list[tuple[float, float]]] = {}
            for surface, panel in mine:
                ends.setdefault((surface.item, panel.on), []).extend((box.q, box.q_end) for box in panel.boxes)
            total += sum(_covered(stretches) for stretches in ends.values())
        return total

    def covers(self, names: Sequence[str], panel: str) -> bool:
        """Whether a list of test areas, panels or items names a panel."""
        found = self._panels.get(panel)
        return panel in names or (found is not None and (found[1].test_area in names or found[0].item in names))

    def spot(self, place: Any) -> tuple[Surface, Spot] | None:
        """The item and the spot of a recorded place, or None if it lies on none."""
        given = msgspec.to_builtins(place)
        wanted = given.get("item")
        for name, surface in self.surfaces.items():
            if wanted in (None, name):
                try:
                    return surface, surface.read_place(given)
                except (WholefilmError, ArithmeticError, TypeError, ValueError):
                    continue
        return None

    def footprint(self, outlines: list[dict[str, Any]]) -> tuple[float, list[str]]:
        """Area of outlines, overlaps once [m2], and the panels that they touch; zero and none if unreadable."""
        key = msgspec.json.encode(outlines, order="sorted")
        if key not in self._footprints:
            self._footprints[key] = self._footprint(outlines)
        return self._footprints[key]

    def _footprint(self, outlines: list[dict[str, Any]]) -> tuple[float, list[str]]:
        for surface in self.surfaces.values():
            try:
                touched = sorted({p for o in outlines for p in panels_touched(surface, o)})
                return footprint(surface, outlines), touched
            except (WholefilmError, ArithmeticError, TypeError, ValueError, KeyError, AttributeError):
                continue
        return 0.0, []


def piece_m2(piece: Any) -> float:
    """Area of a piece as stated. [m2]"""
    return max(0.0, quantity(piece.area, "area").si)


def _covered(stretches: list[tuple[float, float]]) -> float:
    """Length of some stretches, overlaps once. [m]"""
    total, reached = 0.0, float("-inf")
    for low, high in sorted(stretches):
        total += max(0.0, high - max(low, reached))
        reached = max(reached, high)
    return total
