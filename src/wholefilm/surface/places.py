"""Typed places: read a place of the book, or one line of a notebook, onto the surface."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from ..base.errors import BadInput
from . import fields
from .cylinder import Cylinder
from .model import Spot
from .near import near_point
from .parts import ROUNDED_M, TOUCH_M

if TYPE_CHECKING:
    from .model import Surface

_ON = ("on", "course", "at", "arc", "z", "x", "y", "from_centre", "from_apex", "along", "clock")
_NEAR = ("near", "right", "left", "near_level", "above", "below", "clock", "on_pad", "at", "arc")
FORMS = (
    "'course 2, 165 deg, 3.40 m', 'shell, arc 17.27 m, 3.06 m', 'floor, x 2.10 m, y -1.35 m', 'roof, 71 deg, 3.00 m from apex', "
    "'J-004, -40 mm, 06:00', "
    "'0.12 right of V2-4, 0.80 above G1', '0.02 below top, 71 deg', 'M2 rim at 153 deg', 'N2 pad at 40 deg'"
)
_LENGTH = r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:\s*(?:mm|cm|m|in|ft))?"
_SIDE = rf"({_LENGTH})\s+(right|left) of (.+)|on (.+)"
_LEVEL = rf"({_LENGTH})\s+(above|below) (.+)|at (.+)"
_RIM = r"(.+?) (rim|pad)(?: toe)? at (.+)"
_APEX = r"(.+?) from (apex|centre|pole)"
_CLOCK = r"\d{1,2}:\d{2}"


def read_place(surface: Surface, place: Mapping[str, Any]) -> Spot:
    """Find a typed place on the surface.

    Parameters
    ----------
    surface : Surface
    place : dict
        Either `on` and two coordinates, or `near` with `right` or `left`, `above` or `below`, `near_level`, or `near` with `clock`
        and `on_pad`. Coordinates: shell and columns `at` or `arc`, with `z`; floor `x`, `y`; roof `at`, `from_apex`; both discs
        also `at`, `from_centre`; pipes, cans and necks `along`, with `clock`, `at` or `arc`; heads `at`, with `along` from the pole
        or `from_centre`; walls `arc` or `x`, `y`, with `z`. `item`, `course` and `panel` may stand beside; `panel` settles a place
        on a boundary.

    Returns
    -------
    Spot

    Raises
    ------
    BadInput
        If a field is missing, unknown or wrong, or the place lies outside the surface.
    """
    place = fields.mapping(place, "place")
    if place.get("item", surface.item) != surface.item:
        raise BadInput("place.item", place["item"], f"the item {surface.item}")
    if "near" in place:
        fields.only(place, ("item", "panel", *_NEAR), "place")
        part, (u, v) = near_point(surface, place)
        course = None
    else:
        fields.only(place, ("item", "panel", *_ON), "place")
        shape = surface.part(fields.text(place, "on", "place"))
        part, (u, v) = shape.name, shape.read(place, "place")
        course = _course(shape, place, v)
    return _spot(surface, part, u, v, place, course)


def _course(shape: object, place: Mapping[str, Any], z: float) -> tuple[float, float] | None:
    if "course" not in place:
        return None
    courses = shape.courses if isinstance(shape, Cylinder) else ()
    known = [c for n, c in enumerate(courses, start=1) if place["course"] in (c.name, str(n))]
    if not known:
        raise BadInput("place.course", place["course"], f"a number from 1 to {len(courses)} or one of {', '.join(c.name for c in courses)}")
    if not known[0].bottom - ROUNDED_M <= z <= known[0].top + ROUNDED_M:
        raise BadInput(
            "place.z", place.get("z"), f"{known[0].bottom:.2f} m to {known[0].top:.2f} m in that course (z counts from the floor)"
        )
    return known[0].bottom, known[0].top


def _spot(surface: Surface, part: str, u: float, v: float, place: Mapping[str, Any], course: tuple[float, float] | None) -> Spot:
    if course is not None:
        v = min(max(v, course[0]), course[1])
    names = surface.panels_holding(part, u, v)
    if not names:
        raise BadInput("place", surface.say(part, u, v), "a place in one of the panels of the item")
    if "panel" in place:
        if place["panel"] not in names and place["panel"] not in (across := _across(surface, part, u, v)):
            names = [*names, *across]
            raise BadInput("place.panel", place["panel"], f"a panel that holds the place: {', '.join(names)}")
        chosen = str(place["panel"])
    elif course is not None:
        low, high = course
        boxes = {n: surface.panel(n).boxes for n in names}
        within = [n for n in names if any(min(b.q_end, high) - max(b.q, low) > TOUCH_M for b in boxes[n])]
        chosen = within[0] if within else names[0]
    else:
        chosen = names[0]
    return Spot(part, u, v, surface.say(part, u, v), chosen, surface.panel(chosen).test_area)


def _across(surface: Surface, part: str, u: float, v: float) -> list[str]:
    """Panels across a joint whose reach holds the point: those that a place beside it may name."""
    found: list[str] = []
    for seam in surface.seams:
        if seam.on == part and seam.reach_m > 0 and surface.seam_distance(seam, u, v) <= seam.reach_m:
            (u0, v0), _ = seam.line
            beyond = (2 * u0 - u, v) if seam.kind == "vertical" else (u, 2 * v0 - v)
            found += surface.panels_holding(part, *beyond)
    return found


def parse_place_text(text: str) -> dict[str, Any]:
    """Read one typed line into the body of a place.

    Parameters
    ----------
    text : str
        Such as ``course 2, 165 deg, 3.40 m`` (z counts from the floor) or ``0.12 right of V2-4, 0.80 above G1``. Parts are
        parted by a comma and a space, or a semicolon. In the second form a length without unit is in metres.

    Returns
    -------
    dict
        A place, to be given to `read_place`.

    Raises
    ------
    BadInput
        If the line has none of the known forms.
    """
    if not isinstance(text, str) or len(text) > 200:
        raise BadInput("place", text, f"a line such as {FORMS}")
    words = [word.strip() for word in re.split(r";\s*|,\s+", text.strip()) if word.strip()]
    found = _near_text(words) or _on_text(words)
    if found is None:
        raise BadInput("place", text, f"a line such as {FORMS}")
    return found


def _near_text(words: list[str]) -> dict[str, Any] | None:
    if len(words) == 1 and (rim := re.fullmatch(_RIM, words[0], re.I)):
        return {"near": rim[1], "clock": rim[3], **({"on_pad": True} if rim[2].lower() == "pad" else {})}
    if len(words) == 2 and (level := re.fullmatch(_LEVEL, words[0], re.I)):
        where = {"arc": words[1][4:].strip()} if words[1][:4].lower() == "arc " else {"at": words[1]}
        return {"near": level[3] or level[4], (level[2] or "above").lower(): _metres(level[1] or "0"), **where}
    side = re.fullmatch(_SIDE, words[0], re.I) if words else None
    if side is None or len(words) > 2:
        return None
    place: dict[str, Any] = {"near": side[3] or side[4]}
    place[(side[2] or "right").lower()] = _metres(side[1] or "0")
    if len(words) == 2:
        level = re.fullmatch(_LEVEL, words[1], re.I)
        if level is None:
            return None
        place["near_level"] = level[3] or level[4]
        place[(level[2] or "above").lower()] = _metres(level[1] or "0")
    return place


def _on_text(words: list[str]) -> dict[str, Any] | None:
    if len(words) == 4:
        return _xyz_text(words)
    if len(words) != 3:
        return None
    where, first, second = words
    place: dict[str, Any] = {"on": where}
    if around := _around(second):
        return {**place, "along": first.removeprefix("along ").strip(), **around}
    if where.lower().startswith("course "):
        place = {"on": "shell", "course": where[7:].strip()}
    if first[:2].lower() == "x " and second[:2].lower() == "y ":
        return {**place, "x": first[2:].strip(), "y": second[2:].strip()}
    place.update({"arc": first[4:].strip()} if first[:4].lower() == "arc " else {"at": first})
    if far := re.fullmatch(_APEX, second, re.I):
        return {**place, "along" if far[2].lower() == "pole" else f"from_{far[2].lower()}": far[1]}
    return {**place, "z": second[2:].strip() if second[:2].lower() == "z " else second}


def _around(word: str) -> dict[str, str] | None:
    """The way round a tube, which stands last there: a clock position, an angle or an arc."""
    if re.fullmatch(_CLOCK, word):
        return {"clock": word}
    if word[:4].lower() == "arc ":
        return {"arc": word[4:].strip()}
    return {"at": word} if re.fullmatch(r"[\d.,]+\s*(?:deg|°)", word) else None


def _xyz_text(words: list[str]) -> dict[str, Any] | None:
    """``sump, x 17.40 m, y 1.80 m, -0.30 m``."""
    where, *rest = words
    if rest[0][:2].lower() != "x " or rest[1][:2].lower() != "y ":
        return None
    z = rest[2][2:].strip() if rest[2][:2].lower() == "z " else rest[2]
    return {"on": where, "x": rest[0][2:].strip(), "y": rest[1][2:].strip(), "z": z}


def _metres(typed: str) -> str:
    return typed if typed[-1].isalpha() else f"{typed} m"
