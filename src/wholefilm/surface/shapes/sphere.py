"""Ball, in two halves."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from .. import fields
from ..fields import only
from ..layout import Layout
from ..meridian import Arc
from ..parts import Box, Part
from ..revolved import Revolved


def read_sphere(dimensions: Mapping[str, Any]) -> Layout:
    """Parts ``top half`` and ``bottom half`` of a ball of `diameter`; by the rule each is cut into quadrants.

    Raises
    ------
    BadInput
        If the diameter is missing or not positive.
    """
    only(dimensions, ("diameter",), "dimensions")
    radius = fields.size(dimensions, "diameter", "dimensions") / 2
    half = (Arc(0.0, radius, radius, 0.0, math.pi / 2),)
    parts: dict[str, Part] = {
        "top half": Revolved("top half", half, 2 * radius, True),
        "bottom half": Revolved("bottom half", half, 0.0, False),
    }
    return Layout(parts, [], "quadrants", quadrants)


def quadrants(part: Part, boxes: tuple[Box, ...], label: str) -> list[tuple[str, Box]]:
    """Four panels, clockwise from 0 deg."""
    return [(f"{label}-{k + 1}", Box(90.0 * k, 90.0, box.q, box.q_end)) for box in boxes for k in range(4)]
