"""Area of openings that a contract takes off the tested area."""

from __future__ import annotations

import math

from msgspec.structs import replace

from ..base.errors import BadInput
from .model import Feature, Panel, TestArea
from .parts import Part


def deduct(
    parts: dict[str, Part], areas: list[TestArea], panels: list[Panel], features: list[Feature]
) -> tuple[list[TestArea], list[Panel]]:
    """Take the openings of manways and nozzles off their panels and test areas.

    Raises
    ------
    BadInput
        If an opening does not lie within one panel.
    """
    off: dict[str, float] = {}
    for feature in features:
        if feature.radius_m is None or feature.v is None:
            continue
        part, r = parts[feature.on], feature.radius_m
        rim = part.carry((feature.u, feature.v), [(r * math.sin(k * math.pi / 18), r * math.cos(k * math.pi / 18)) for k in range(36)])
        inside = [p for p in panels if p.on == feature.on and all(any(part.box_has(b, u, v) for b in p.boxes) for u, v in rim)]
        if len(inside) != 1:
            raise BadInput("openings_deducted", feature.name, "openings that lie within one panel each")
        hole = part.hole(feature.u, feature.v, r)
        off[inside[0].name] = off.get(inside[0].name, 0.0) + hole
    cut = [replace(p, area_m2=p.area_m2 - off.get(p.name, 0.0)) for p in panels]
    return [replace(a, area_m2=math.fsum(p.area_m2 for p in cut if p.test_area == a.name)) for a in areas], cut
