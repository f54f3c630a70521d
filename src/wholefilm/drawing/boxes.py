"""Boxes on a drawing, and where a label finds room. Lengths are units of the drawing, y runs down. [px]"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import msgspec

_CELL = 32.0
_NARROW, _WIDE = "ijlI.,:;'|!()[] ", "mwMW%@"


class Box(msgspec.Struct, frozen=True):
    """A rectangle. [px]"""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: Box) -> bool:
        """Whether two boxes overlap; touching edges do not."""
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1

    def within(self, other: Box) -> bool:
        """Whether it lies wholly in another."""
        return self.x0 >= other.x0 and self.y0 >= other.y0 and self.x1 <= other.x1 and self.y1 <= other.y1


class Taken:
    """Boxes that are taken, found quickly by a grid."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Box]] = {}

    def add(self, box: Box) -> None:
        """Take a box."""
        for cell in self._of(box):
            self._cells.setdefault(cell, []).append(box)

    def free(self, box: Box) -> bool:
        """Whether a box meets none that is taken."""
        return not any(box.meets(other) for cell in self._of(box) for other in self._cells.get(cell, ()))

    @staticmethod
    def _of(box: Box) -> Iterator[tuple[int, int]]:
        for i in range(math.floor(box.x0 / _CELL), math.floor(box.x1 / _CELL) + 1):
            for j in range(math.floor(box.y0 / _CELL), math.floor(box.y1 / _CELL) + 1):
                yield i, j


def text_width(text: str, size: float) -> float:
    """Room that a text needs, on the wide side. [px]"""
    return size * sum(0.32 if c in _NARROW else 0.95 if c in _WIDE or ord(c) > 0x2E80 else 0.66 if c.isupper() else 0.6 for c in text)


def text_box(x: float, y: float, text: str, size: float, anchor: str = "middle") -> Box:
    """Box of a text whose middle line lies at `y`. [px]"""
    width, half = text_width(text, size), size * 0.62
    left = {"start": x, "middle": x - width / 2, "end": x - width}[anchor]
    return Box(left, y - half, left + width, y + half)


def around(body: Box, width: float, height: float) -> Iterator[tuple[Box, bool]]:
    """Places for a label round a body: beside it first, then further out with a leader. Yields (box, leader)."""
    cx, cy = (body.x0 + body.x1) / 2, (body.y0 + body.y1) / 2
    gap = 3.0
    for x, y in (
        (body.x1 + gap + width / 2, cy), (body.x0 - gap - width / 2, cy),
        (cx, body.y0 - gap - height / 2), (cx, body.y1 + gap + height / 2),
        (body.x1 + gap + width / 2, body.y0), (body.x1 + gap + width / 2, body.y1),
        (body.x0 - gap - width / 2, body.y0), (body.x0 - gap - width / 2, body.y1),
    ):  # fmt: skip
        yield Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2), False
    for far in (10, 18, 28, 40, 54, 70, 90, 115, 145, 180, 220, 270, 330):
        for step in range(16):
            angle = math.pi * (step * 7 % 16) / 8
            x = cx + math.cos(angle) * ((body.x1 - body.x0 + width) / 2 + far)
            y = cy + math.sin(angle) * ((body.y1 - body.y0 + height) / 2 + far)
            yield Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2), True


def groups(points: Sequence[tuple[float, float]], reach: float) -> list[list[int]]:
    """Indices of points that hang together by steps of at most `reach`, each group in order. [px]"""
    cells: dict[tuple[int, int], list[int]] = {}
    for n, (x, y) in enumerate(points):
        cells.setdefault((math.floor(x / reach), math.floor(y / reach)), []).append(n)
    seen = [False] * len(points)
    found = []
    for first in range(len(points)):
        if seen[first]:
            continue
        seen[first], group, queue = True, [first], [first]
        while queue:
            x, y = points[queue.pop()]
            i, j = math.floor(x / reach), math.floor(y / reach)
            for cell in ((i + a, j + b) for a in (-1, 0, 1) for b in (-1, 0, 1)):
                left = []
                for n in cells.get(cell, ()):
                    if seen[n]:
                        continue
                    if math.hypot(points[n][0] - x, points[n][1] - y) <= reach:
                        seen[n] = True
                        group.append(n)
                        queue.append(n)
                    else:
                        left.append(n)
                if cell in cells:
                    cells[cell] = left
        found.append(sorted(group))
    return found
