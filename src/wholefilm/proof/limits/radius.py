"""The most holidays inside any circle, along the surface."""

from __future__ import annotations

import math

from ..site import Site
from ..states import HolidayState


def most_within(holidays: list[HolidayState], radius_m: float, site: Site) -> int:
    """Largest number of holidays inside any circle of a radius on one part, along the surface.

    Parameters
    ----------
    holidays : list of HolidayState
    radius_m : float
        Radius. [m]
    site : Site

    Returns
    -------
    int

    Notes
    -----
    Exact on flat and developed parts: a largest circle can be moved until two holidays lie on its edge. On cones and heads the
    lengths are those along the surface from each holiday in turn.
    """
    best = 1 if holidays else 0
    for one in holidays:
        surface = site.surfaces.get(one.item)
        if surface is None:
            continue
        part = surface.parts[one.part]
        mine = [h for h in holidays if h.item == one.item and h.part == one.part]
        if part.straight:
            near = [(_offset(h.u - one.u, part.period_m), h.v - one.v) for h in mine]
        else:
            near = [part.offset((one.u, one.v), (h.u, h.v)) for h in mine]
        for u, v in near:
            gap = math.hypot(u, v)
            if 0 < gap <= 2 * radius_m:
                rise = math.sqrt(max(0.0, radius_m**2 - gap**2 / 4))
                for sign in (1, -1):
                    cu, cv = u / 2 - sign * rise * v / gap, v / 2 + sign * rise * u / gap
                    best = max(best, sum(1 for a, b in near if math.hypot(a - cu, b - cv) <= radius_m * (1 + 1e-9)))
            elif gap == 0:
                best = max(best, sum(1 for a, b in near if math.hypot(a, b) == 0))
    return best


def _offset(du: float, period: float | None) -> float:
    return du if not period else (du + period / 2) % period - period / 2
