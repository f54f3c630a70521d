"""Maps of a job as strings, made once for a position of the job and a time."""

from __future__ import annotations

import threading
from collections import OrderedDict

import msgspec

from wholefilm.drawing.maps import draw_part, legend, swatch
from wholefilm.drawing.thickness import draw_thickness, spot_ranges, thickness_legend, thickness_swatch
from wholefilm.sheets.maps import maps_sheet
from wholefilm.sheets.readings import readings_sheet

from .library import View

KEPT = 16
DESK, PHONE = 1000.0, 350.0


class Drawing(msgspec.Struct, frozen=True):
    """One part, drawn for a desk and for a phone, where a strip stands in two rows."""

    title: str
    wide: bool
    desk: str
    phone: str


class Drawings(msgspec.Struct, frozen=True):
    """Drawings of a job with their key: sign (may be empty) and words."""

    drawn: list[Drawing]
    key: list[tuple[str, str]]


class DrawingRoom:
    """Keeps the last drawings."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str, str], Drawings] = OrderedDict()
        self._lock = threading.Lock()

    def maps(self, version: str, as_of: str, view: View) -> Drawings:
        """The developed maps."""
        return self._get(("maps", version, as_of), view)

    def thickness(self, version: str, as_of: str, view: View) -> Drawings:
        """Film thickness at its places."""
        return self._get(("thickness", version, as_of), view)

    def _get(self, key: tuple[str, str, str], view: View) -> Drawings:
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        made = _maps(view) if key[0] == "maps" else _thickness(view)
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return made


def _maps(view: View) -> Drawings:
    parts = maps_sheet(view.standing).maps
    drawn = [
        Drawing(
            p.title,
            p.kind == "strip" and p.u1 - p.u0 > 2 * (p.v1 - p.v0),
            draw_part(p, standalone=False, width=DESK),
            draw_part(p, standalone=False, width=PHONE, rows=2),
        )
        for p in parts
    ]
    return Drawings(drawn, [(swatch(key), words) for key, words in legend(parts)])


def _thickness(view: View) -> Drawings:
    spots, ranges = readings_sheet(view.standing).spots, spot_ranges(view.standing.requirements)
    parts = [p for p in maps_sheet(view.standing).maps if any(s.on == p.part for s in spots)]
    drawn = [
        Drawing(
            p.title,
            p.kind == "strip" and p.u1 - p.u0 > 2 * (p.v1 - p.v0),
            draw_thickness(p, spots, ranges, standalone=False, width=DESK),
            draw_thickness(p, spots, ranges, standalone=False, width=PHONE, rows=2),
        )
        for p in parts
    ]
    return Drawings(drawn, [(thickness_swatch(key), words) for key, words in thickness_legend(spots, ranges)] if drawn else [])
