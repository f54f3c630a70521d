"""Area of openings that a contract takes off the tested area."""

from __future__ import annotations

import math

from msgspec.structs import replace

from ..base.errors import BadInput
from .cylinder import Cylinder
from .model import Feature, Panel, TestArea
from .parts import Part


def hole_area(shell_radius: float, bore_radius: float) -> float:
    """Area that a round bore cuts out of a cylinder, axes crossing at a right angle.

    Parameters
    ----------
    shell_radius, bore_radius : float
        The bore is not larger than the shell. [m]

    Returns
    -------
    float
        [m2]

    Notes
    -----
    Integral over the angle round the shell of the bore's chord, 2 a sqrt(b^2 - a^2 sin^2 theta); with a sin theta = b sin t it
    is smooth and the midpoint rule converges quickly. Equal bores give 4 a^2.
    """
    a, b, count = shell_radius, bore_radius, 2000
    step = math.pi / count
    angles = (-math.pi / 2 + (k + 0.5) * step for k in range(count))
    return math.fsum(2 * b * b * math.cos(t) ** 2 / math.sqrt(1 - (b / a * math.sin(t)) ** 2) * step for t in angles)


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
        hole = hole_area(part.radius, r) if isinstance(part, Cylinder) else math.pi * r * r * part.factor
        off[inside[0].name] = off.get(inside[0].name, 0.0) + hole
    cut = [replace(p, area_m2=p.area_m2 - off.get(p.name, 0.0)) for p in panels]
    return [replace(a, area_m2=math.fsum(p.area_m2 for p in cut if p.test_area == a.name)) for a in areas], cut
