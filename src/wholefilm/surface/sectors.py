"""Sectors of rings on maps that are discs."""

from __future__ import annotations

import math

from .parts import TOUCH_M, Ring

_ARC_DEG = 0.5


def sector(p: float, span: float, inner: float, outer: float) -> list[Ring]:
    """Outline of a sector from `p` clockwise by `span` [deg] between two radii [m].

    Notes
    -----
    Its arcs are chords of half a degree, drawn so that the area is right.
    """
    count = max(1, math.ceil(span / _ARC_DEG))
    step = math.radians(span / count)
    fair = math.sqrt(step / math.sin(step))
    angles = [math.radians(p + span * k / count) for k in range(count + 1)]
    edge = [(outer * fair * math.sin(a), outer * fair * math.cos(a)) for a in angles]
    if inner <= TOUCH_M:
        return [edge[:-1] if span >= 360 else [(0.0, 0.0), *edge]]
    return [edge + [(inner * fair * math.sin(a), inner * fair * math.cos(a)) for a in reversed(angles)]]
