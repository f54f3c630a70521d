"""Text as the fonts of the report can set it: what no font has becomes `[U+XXXX]`; how wide a text runs."""

from __future__ import annotations

import bisect
import unicodedata
from collections.abc import Container
from functools import lru_cache
from pathlib import Path
from typing import Any

import msgspec

from wholefilm.base.signs import with_signs

FONTS = Path(__file__).resolve().parent / "fonts"
MM_PER_PT = 25.4 / 72
# Joiners that shape a word in Arabic script or an Indic one; every other sign without a form of its own is shown by its number.
JOINERS = {0x200C, 0x200D}
BREAK = "\u200b"


class _Widths(msgspec.Struct):
    first: int
    per_mille: list[int]


class _Coverage(msgspec.Struct):
    families: dict[str, list[tuple[int, int]]]
    widths: _Widths


@lru_cache(maxsize=1)
def _coverage() -> _Coverage:
    return msgspec.json.decode((FONTS / "coverage.json").read_bytes(), type=_Coverage)


def families() -> list[str]:
    """Font families in the order in which they are asked."""
    return list(_coverage().families)


@lru_cache(maxsize=1 << 14)
def _families_of(char: str) -> frozenset[str]:
    """Families that have a character."""
    code = ord(char)
    found = set()
    for family, ranges in _coverage().families.items():
        n = bisect.bisect_right(ranges, (code, 0x110000)) - 1
        if n >= 0 and ranges[n][0] <= code <= ranges[n][1]:
            found.add(family)
    return frozenset(found)


def _printable(char: str) -> bool:
    kind = unicodedata.category(char)
    if kind == "Cf":
        return ord(char) in JOINERS
    return kind[0] != "C" and kind not in ("Zl", "Zp")


def legible(text: str) -> str:
    """A text for print: units with their signs, every character that cannot be set replaced by its number, as in ``[U+0930]``.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
        Composed (NFC); line ends stay, tabs become spaces, controls and signs without a form are shown by number. A mark
        that combines stays only where one font has both it and the letter before it.
    """
    text = with_signs(text)
    if text.isascii() and text.isprintable():
        return text
    out: list[str] = []
    held: frozenset[str] = frozenset()
    for char in unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\t", " ")):
        if char == "\n":
            out.append(char)
            held = frozenset()
            continue
        has = _families_of(char) if _printable(char) else frozenset()
        joins = unicodedata.category(char)[0] == "M" or ord(char) in JOINERS
        if joins:
            has = has & held
        if not has:
            out.append(f"[U+{ord(char):04X}]")
            held = frozenset()
            continue
        out.append(char)
        held = has
    return "".join(out)


def legible_all(value: Any, done: Container[str] = ()) -> Any:
    """The same for every text inside lists and dicts, keys left alone; what stands under a key of `done` is legible already."""
    if isinstance(value, str):
        return legible(value)
    if isinstance(value, list | tuple):
        return [legible_all(v, done) for v in value]
    if isinstance(value, dict):
        return {k: v if k in done else legible_all(v, done) for k, v in value.items()}
    return value


@lru_cache(maxsize=1)
def _advances() -> tuple[int, list[int]]:
    """First character and advances from it on; figures are set tabular, each as wide as the widest. [1/1000 em]"""
    table = _coverage().widths
    found = list(table.per_mille)
    zero = ord("0") - table.first
    found[zero : zero + 10] = [max(found[zero : zero + 10])] * 10
    return table.first, found


@lru_cache(maxsize=1 << 14)
def width_mm(text: str, size_pt: float) -> float:
    """How wide a text runs on one line, near enough to share out columns. [mm]

    Parameters
    ----------
    text : str
    size_pt : float
        Size of type. [pt]
    """
    first, per_mille = _advances()
    total = 0
    for char in text:
        n = ord(char) - first
        total += (per_mille[n] or 700) if 0 <= n < len(per_mille) else 0 if char == BREAK else 1000
    return total / 1000 * size_pt * MM_PER_PT


def shortened(text: str, room_mm: float, size_pt: float) -> str:
    """A text cut to one line of so much room, with three dots if something was cut.

    Parameters
    ----------
    text : str
    room_mm : float
        Room for the line. [mm]
    size_pt : float
        Size of type. [pt]
    """
    line = " ".join(text.split())
    if width_mm(line, size_pt) <= room_mm:
        return line
    while line and width_mm(line + " ...", size_pt) > room_mm:
        line = line[:-1]
    return line.rstrip() + " ..."


def breakable(text: str, room_mm: float, size_pt: float) -> str:
    """A text whose words longer than the room may break inside.

    Parameters
    ----------
    text : str
    room_mm : float
        Room for one word. [mm]
    size_pt : float
        Size of type. [pt]
    """
    if width_mm(text, size_pt) <= room_mm:
        return text
    return " ".join(_broken(word, room_mm, size_pt) for word in text.split(" "))


def _broken(word: str, room_mm: float, size_pt: float) -> str:
    if width_mm(word, size_pt) <= room_mm:
        return word
    out: list[str] = []
    used = 0.0
    for char in word:
        wide = width_mm(char, size_pt)
        if used + wide > room_mm and out:
            out.append(BREAK)
            used = 0.0
        out.append(char)
        used += wide
    return "".join(out)
