"""What a shape hands to the reader of items: parts, seams, and how test areas are cut into panels by rule."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from .model import Seam
from .parts import Box, Part

Cut = Callable[[Part, tuple[Box, ...], str], list[tuple[str, Box]]]


class Layout(msgspec.Struct, frozen=True):
    """Geometry of one item.

    Attributes
    ----------
    parts : dict of str to Part
    seams : list of Seam
    rule : str
        Name of the panel rule, as it stands in `panels.rule`.
    cut : callable
        (part, boxes of the test area, name of the test area) -> names and boxes of its panels.
    """

    parts: dict[str, Part]
    seams: list[Seam]
    rule: str
    cut: Cut
