"""Readers of the fields of an item, a place or an outline: each failure names the field, the value and what is allowed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from typing import Any

from ..base.errors import BadInput
from ..base.quantity import quantity

_NAME = re.compile(r"[^\W_][\w ./-]{0,39}")
_SLOPE = re.compile(r"(\d+(?:[.,]\d+)?)\s*:\s*(\d+(?:[.,]\d+)?)")
_CLOCK = re.compile(r"(0?\d|1[0-2]):([0-5]\d)")
_NUMBERS = re.compile(r"(\d+)")
_LARGEST_M = 10_000.0


def mapping(value: object, field: str) -> Mapping[str, Any]:
    """The value as a map of fields, or BadInput."""
    if not isinstance(value, Mapping):
        raise BadInput(field, value, "a map of fields")
    return value


def items(value: object, field: str, most: int = 1000) -> list[Any]:
    """The value as a list of at most `most` things, or BadInput."""
    if not isinstance(value, list | tuple) or len(value) > most:
        raise BadInput(field, value, f"a list of at most {most}")
    return list(value)


def only(body: Mapping[str, Any], allowed: tuple[str, ...], field: str) -> None:
    """Refuse a field that is not known, so that a slip of the pen is not lost in silence."""
    for key in body:
        if key not in allowed:
            raise BadInput(f"{field}.{key}" if field else str(key), body[key], f"one of the fields {', '.join(allowed)}")


def name(body: Mapping[str, Any], key: str, field: str) -> str:
    """A name that can be chalked: letters, digits, space, dot, slash, hyphen, at most 40."""
    value = body.get(key)
    if not isinstance(value, str) or not _NAME.fullmatch(value):
        raise BadInput(_at(field, key), _shown(value), "1 to 40 letters, digits, spaces, '.', '/', '-', the first a letter or digit")
    return value


def text(body: Mapping[str, Any], key: str, field: str) -> str:
    """A text that is not empty, or BadInput."""
    value = body.get(key)
    if not isinstance(value, str) or not value.strip():
        raise BadInput(_at(field, key), _shown(value), "a text")
    return value


def count(body: Mapping[str, Any], key: str, field: str, most: int) -> int:
    """A whole number from 0 to `most`."""
    value = body.get(key)
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= most:
        raise BadInput(_at(field, key), _shown(value), f"a whole number from 0 to {most}")
    return value


def measure(value: object, dimension: str, field: str) -> float:
    """A typed quantity in SI (angles in degrees). [SI]"""
    if not isinstance(value, str):
        raise BadInput(field, _shown(value), f"a text with a number and a unit of {dimension}")
    try:
        number = quantity(value, dimension, field).si
    except (OverflowError, ValueError) as error:
        raise BadInput(field, value, "a number of ordinary size") from error
    if abs(number) > _LARGEST_M:
        raise BadInput(field, value, f"at most {_LARGEST_M:.0f} in {'degrees' if dimension == 'angle' else 'SI units'}")
    return number


def length(body: Mapping[str, Any], key: str, field: str) -> float:
    """A length of either sign. [m]"""
    return measure(body.get(key), "length", _at(field, key))


def size(body: Mapping[str, Any], key: str, field: str) -> float:
    """A length above 0. [m]"""
    number = length(body, key, field)
    if number <= 1e-6:
        raise BadInput(_at(field, key), body[key], "a length above 0")
    return number


def angle(body: Mapping[str, Any], key: str, field: str) -> float:
    """An angle from 0 to 360 deg. [deg]"""
    return turn(body.get(key), _at(field, key))


def turn(value: object, field: str) -> float:
    """An angle from 0 to 360 deg; 360 is 0. [deg]"""
    number = measure(value, "angle", field)
    if not 0 <= number <= 360:
        raise BadInput(field, value, "0 to 360 deg, clockwise from the datum")
    return number % 360


def clock(body: Mapping[str, Any], key: str, field: str) -> float:
    """A clock position such as ``06:00`` or ``5:30``, or an angle from 0 to 360 deg; 12:00 is 0. [deg]"""
    value = body.get(key)
    match = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) and len(value) < 20 else None
    if match is None:
        if isinstance(value, str) and ":" in value:
            raise BadInput(_at(field, key), value, "00:00 to 12:00, such as 06:30, or an angle such as '195 deg'")
        return turn(value, _at(field, key))
    return (int(match[1]) % 12 * 60 + int(match[2])) / 2


def clock_text(degrees: float) -> str:
    """An angle as a clock position: ``06:00``; 0 deg is 12:00."""
    minutes = round(degrees % 360 * 2) % 720
    return f"{minutes // 60 or 12:02d}:{minutes % 60:02d}"


def some(names: Iterable[str], most: int = 60) -> str:
    """Names in one line; of a great many the first and the last."""
    found = list(names)
    if len(found) <= most:
        return ", ".join(found)
    return f"{', '.join(found[:5])}, ... {found[-1]} ({len(found)} names)"


def slope(body: Mapping[str, Any], key: str, field: str) -> float:
    """A slope, typed as rise to run (``1:6``) or as an angle under 80 deg. [-]"""
    value = body.get(key)
    match = _SLOPE.fullmatch(value.strip()) if isinstance(value, str) and len(value) < 40 else None
    if match is None:
        degrees = measure(value, "angle", _at(field, key)) if isinstance(value, str) and "deg" in value else math.nan
        if not 0 <= degrees <= 80:
            raise BadInput(_at(field, key), _shown(value), "rise to run such as '1:6', or an angle from 0 to 80 deg")
        return math.tan(math.radians(degrees))
    rise, run = (float(part.replace(",", ".")) for part in match.groups())
    if run == 0 or rise / run > 5.5:
        raise BadInput(_at(field, key), _shown(value), "rise to run such as '1:6', at most 5.5:1")
    return rise / run


def natural_key(label: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key in which numbers within a name sort by value: S1-2 before S1-10."""
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in _NUMBERS.split(label) if part)


def _at(field: str, key: str) -> str:
    return f"{field}.{key}" if field else key


def _shown(value: object) -> object:
    return "nothing" if value is None else value
