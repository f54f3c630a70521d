"""Film thickness at its places: one sign a spot, by the rule that is held against its test area and class."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from wholefilm.base.quantity import quantity
from wholefilm.film.acceptance import ThicknessRange
from wholefilm.proof.states import Requirement
from wholefilm.sheets.maps import PartMap
from wholefilm.sheets.readings import SpotDot

from .boxes import Box, Taken
from .labels import Label, keep_leader_free, mark_label, panel_label
from .maps import lines, outline, part_plate, sheet_of, written
from .numbers import number_key
from .plate import Plate, Window, furniture, n, titled

THICKNESS_LEGEND = {
    "spot": "dot: within the range entered",
    "under": "down-pointing: under the least entered, with its value in µm",
    "over": "up-pointing: over the most entered, with its value in µm",
    "no_rule": "small ring: no range is entered for it",
}


class SpotRange(msgspec.Struct, frozen=True):
    """A range for single spots: test areas (all if empty), classes, least and most, and the clause. [um]"""

    clause: str
    test_areas: list[str]
    classes: list[str]
    low_um: float | None
    high_um: float | None


def spot_ranges(requirements: Sequence[Requirement]) -> list[SpotRange]:
    """Ranges for each spot among the requirements that are held against the job. [um]"""
    found = []
    for r in requirements:
        if r.usable and isinstance(r.rule, ThicknessRange) and r.rule.statistic == "each_spot":
            low, high = (quantity(x, "length").to("um") if x else None for x in (r.rule.min, r.rule.max))
            found.append(SpotRange(r.clause, list(r.applies_to), list(r.rule.classes), low, high))
    return found


def spot_sign(spot: SpotDot, ranges: Sequence[SpotRange]) -> str:
    """``under``, ``over``, ``spot`` (in every range that applies) or ``no_rule``."""
    mine = [r for r in ranges if (not r.test_areas or spot.test_area in r.test_areas) and spot.class_ in r.classes]
    if any(r.low_um is not None and spot.um < r.low_um for r in mine):
        return "under"
    if any(r.high_um is not None and spot.um > r.high_um for r in mine):
        return "over"
    return "spot" if mine else "no_rule"


def draw_thickness(
    part: PartMap,
    spots: Sequence[SpotDot],
    ranges: Sequence[SpotRange],
    *,
    paper: str = "book",
    standalone: bool = True,
    width: float = 1000.0,
    rows: int = 1,
) -> str:
    """Spots of one part on its outline as SVG; the same text for the same data.

    Parameters
    ----------
    part : PartMap
    spots : sequence of SpotDot
        Those of other parts are left out. [m, um]
    ranges : sequence of SpotRange
        As from `spot_ranges`. [um]
    paper, standalone, width, rows
        As for `draw_part`.

    Raises
    ------
    BadInput
        As for `draw_part`.
    """
    mine = [(s, spot_sign(s, ranges)) for s in spots if s.on == part.part]
    plate, taken = part_plate(part, width, rows), Taken()
    frame = furniture(part, plate, taken)
    for s, _ in mine:
        x, y = plate.at(s.u, s.v)
        taken.add(Box(x - 4, y - 4, x + 4, y + 4))
    placed = _values(mine, plate, taken)
    count = {sign: sum(1 for _, x in mine if x == sign) for sign in THICKNESS_LEGEND}
    said = (
        f"{len(mine)} spots: {count['spot']} within, {count['under']} under, {count['over']} over, {count['no_rule']} with no range entered"
    )
    panels = [f'<path class="wf-panel wf-not_yet" d="{"".join(d for r in p.rings if r for d in outline(r, plate))}"/>' for p in part.panels]
    bare: Any = msgspec.structs.replace(
        part, repairs=[], marks=[], panels=[msgspec.structs.replace(p, state="not_yet", reason="") for p in part.panels]
    )
    placed += _names(bare, plate, taken)
    body = [*panels, *lines(bare, plate), *frame, *[_sign(s, sign, plate) for s, sign in mine]]
    title = f"Film thickness, {part.title[:1].lower()}{part.title[1:]}"
    return sheet_of(plate, title, said, [*body, *[x for p in placed for x in written(p)]], paper=paper, standalone=standalone)


def thickness_legend(spots: Sequence[SpotDot], ranges: Sequence[SpotRange]) -> list[tuple[str, str]]:
    """Keys and words for what occurs, then the ranges held against it."""
    seen = {spot_sign(s, ranges) for s in spots}
    words = [(key, says) for key, says in THICKNESS_LEGEND.items() if key in seen]
    for r in sorted(ranges, key=lambda r: number_key(r.clause)):
        span = " to ".join(f"{x:g}" for x in (r.low_um, r.high_um) if x is not None)
        bound = span if None not in (r.low_um, r.high_um) else f"at least {span}" if r.low_um is not None else f"at most {span}"
        words.append(
            ("range", f"clause {r.clause}: each spot {bound} um on {', '.join(r.classes)}, {', '.join(r.test_areas) or 'all test areas'}")
        )
    return words


def thickness_swatch(key: str) -> str:
    """A small sign for one line of the key, styled by the page; empty for a line that has none."""
    if key not in THICKNESS_LEGEND:
        return ""
    at = Plate([Window(0.0, 1.0, 0.0, 0.0, 17.0, 10.0, 1.0)], 34.0, 20.0)
    sign = _sign(SpotDot("", 0.0, 0.0, 0.0, "", ""), key, at)
    size = 'class="wf-key" width="34" height="20" viewBox="0 0 34 20" aria-hidden="true"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{sign}</svg>'


def _values(mine: list[tuple[SpotDot, str]], plate: Plate, taken: Taken) -> list[Label]:
    sheet, found = Box(1.0, 1.0, plate.width - 1, plate.height - 1), []
    for s, sign in mine:
        if sign in ("under", "over"):
            x, y = plate.at(s.u, s.v)
            label = mark_label(f"{s.um:.0f}", [Box(x - 5, y - 5, x + 5, y + 5)], taken, sheet)
            if label is not None:
                keep_leader_free(label, taken)
                taken.add(label.box)
                found.append(label)
    return found


def _names(part: PartMap, plate: Plate, taken: Taken) -> list[Label]:
    found = []
    for p in part.panels:
        label = panel_label(p, part, plate, taken)
        if label is not None:
            taken.add(label.box)
            found.append(label)
    return found


def _sign(s: SpotDot, sign: str, plate: Plate) -> str:
    x, y = plate.at(s.u, s.v)
    title = titled(f"{s.test_area}, {s.class_}, {s.um:.0f} um" if s.test_area else "")
    if sign == "under":
        return f'<path class="wf-under" d="M{n(x)},{n(y + 5)}l-4.5,-8h9z">{title}</path>'
    if sign == "over":
        return f'<path class="wf-over" d="M{n(x)},{n(y - 5)}l4.5,8h-9z">{title}</path>'
    if sign == "no_rule":
        return f'<circle class="wf-feature" cx="{n(x)}" cy="{n(y)}" r="2.2">{title}</circle>'
    return f'<circle class="wf-spot" cx="{n(x)}" cy="{n(y)}" r="2">{title}</circle>'
