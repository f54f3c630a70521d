"""What a shape hands to the reader of items: parts, seams, and how test areas are cut into panels by rule."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from .model import Feature, Seam
from .parts import Box, Part

Find = Callable[[str], str | None]
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
    features : list of Feature
        Those that follow from the dimensions.
    groups : dict of str to list of str
        Parts that one test area may be made of, by the name of the group.
    find : callable, optional
        Name of a part by another way to call it, such as ``KP 0.049``, or None.
    """

    parts: dict[str, Part]
    seams: list[Seam]
    rule: str
    cut: Cut
    features: list[Feature] = []
    groups: dict[str, list[str]] = {}
    find: Find | None = None
