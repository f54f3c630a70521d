"""A shape as typed on a command line, worked out: area, parts, size of the map."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.surface.asked import Asked
from wholefilm.surface.catalog import CATALOG, measure
from wholefilm.surface.sections import Sized


class MapSize(msgspec.Struct, frozen=True):
    """Size of a developed map. [m]"""

    width_m: float
    height_m: float


class SurfacePart(msgspec.Struct, frozen=True):
    """A part with its true area; no map where none is true to area and no formula gives one."""

    name: str
    area_m2: float
    map: MapSize | None


class FormulaLine(msgspec.Struct, frozen=True):
    """How the area is worked out, where that stands, and its grade."""

    says: str
    document: str
    grade: str


class SurfaceAnswer(msgspec.Struct, frozen=True):
    """What `wholefilm surface --json` prints; `map` is that of the largest part."""

    shape: str
    says: str
    area_m2: float
    parts: list[SurfacePart]
    map: MapSize | None
    formula: FormulaLine
    note: str


class ShapeLine(msgspec.Struct, frozen=True):
    """What `wholefilm surface list --json` prints for each shape."""

    shape: str
    says: str
    needs: tuple[str, ...]
    may: tuple[str, ...]
    example: str


def shapes() -> list[ShapeLine]:
    """Every shape with the keys that it takes and an example."""
    return [
        ShapeLine(name, a.says, a.needs, a.may, " ".join([name, *(f'{key}="{value}"' for key, value in a.example.items())]))
        for name, a in CATALOG.items()
    ]


def work_out(shape: str, words: Sequence[str]) -> SurfaceAnswer:
    """Area of a shape.

    Parameters
    ----------
    shape : str
        One of those that `shapes` lists.
    words : list of str
        ``KEY=VALUE``, quantities with their units.

    Returns
    -------
    SurfaceAnswer

    Raises
    ------
    BadInput
        Names the key, the value and what is allowed.
    """
    given: dict[str, str] = {}
    for word in words:
        key, mark, value = word.partition("=")
        if not mark or not key:
            raise BadInput("KEY=VALUE", word, "a key, an equals sign and a value, such as diameter='2.4 m'")
        if key in given:
            raise BadInput(key, value, f"each key once; it is {given[key]} already")
        given[key] = value
    parts = measure(shape, given)
    asked, largest = CATALOG[shape], max(parts, key=lambda p: p.area_m2)
    ends = CATALOG[given["head"]] if shape == "vessel" else None
    return SurfaceAnswer(
        shape=shape,
        says=asked.says,
        area_m2=math.fsum(p.area_m2 for p in parts),
        parts=[SurfacePart(p.name, p.area_m2, _map(p)) for p in parts],
        map=_map(largest),
        formula=_formula(asked, ends),
        note=asked.note or (ends.note if ends else ""),
    )


def _formula(asked: Asked, ends: Asked | None) -> FormulaLine:
    """The formula of a shape; that of a vessel is as sure as that of its heads."""
    if ends is None:
        return FormulaLine(asked.formula, asked.document, asked.grade)
    return FormulaLine(f"{asked.formula}; heads: {ends.formula}", f"{asked.document}; heads: {ends.document}", ends.grade)


def _map(part: Sized) -> MapSize | None:
    if part.width_m is None or part.height_m is None:
        return None
    return MapSize(part.width_m, part.height_m)
