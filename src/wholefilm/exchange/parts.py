"""The small parts of an XLSX workbook (ECMA-376-1, SpreadsheetML): its sheets, shared strings and which styles are dates."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable
from xml.parsers import expat

import msgspec

from wholefilm.base.errors import BadInput

from .zipped import Zipped

# Built-in number formats of dates and times: ECMA-376-1, 18.8.30, ids 14 to 22, 45 to 47; 27 to 36, 50 to 58 in East Asian editions.
_DATES = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
_NOT_CODE = re.compile(r'"[^"]*"|\\.|_.|\*.|\[(?!h+\]|m+\]|s+\])[^\]]*\]', re.IGNORECASE)
MOST_STRING_CHARACTERS = 64 << 20


class Sheet(msgspec.Struct, frozen=True):
    """A worksheet: its name, whether it is shown, and its part."""

    name: str
    shown: bool
    part: str


class Parts(msgspec.Struct, frozen=True):
    """Worksheets, shared strings, and whether each cell style is a date."""

    sheets: list[Sheet]
    strings: list[str]
    dates: list[bool]


Start = Callable[[str, dict[str, str]], None]


def local(name: str) -> str:
    """A name without its prefix."""
    return name.rpartition(":")[2]


def read_parts(zipped: Zipped) -> Parts:
    """The parts that name and explain the cells of the sheets.

    Raises
    ------
    BadInput
        If it is no XLSX workbook.
    """
    targets = _targets(zipped, "_rels/.rels", "")
    book = next((part for kind, part in targets.values() if kind == "officeDocument"), None)
    if book is None:
        raise BadInput("file", "a zip file without a workbook", "an XLSX workbook")
    folder, name = posixpath.split(book)
    targets = _targets(zipped, posixpath.join(folder, "_rels", f"{name}.rels"), folder)
    sheets: list[Sheet] = []

    def start(tag: str, attributes: dict[str, str]) -> None:
        if local(tag) == "sheet":
            got = {local(k): v for k, v in attributes.items()}
            kind, part = targets.get(got.get("id", ""), ("", ""))
            if kind == "worksheet":
                sheets.append(Sheet(got.get("name", ""), got.get("state", "visible") == "visible", part))

    _walk(zipped, book, start)
    by_kind = dict(targets.values())
    strings = _strings(zipped, by_kind["sharedStrings"]) if by_kind.get("sharedStrings", "") in zipped else []
    dates = _dates(zipped, by_kind["styles"]) if by_kind.get("styles", "") in zipped else []
    return Parts(sheets, strings, dates)


def _walk(zipped: Zipped, part: str, start: Start) -> None:
    parser = expat.ParserCreate()
    parser.StartElementHandler = start
    zipped.parse(part, parser)


def _targets(zipped: Zipped, part: str, folder: str) -> dict[str, tuple[str, str]]:
    """Id of each relationship to its kind and the part that it leads to."""
    found: dict[str, tuple[str, str]] = {}

    def start(tag: str, attributes: dict[str, str]) -> None:
        if local(tag) == "Relationship":
            target = attributes.get("Target", "")
            path = target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
            found[attributes.get("Id", "")] = (attributes.get("Type", "").rpartition("/")[2], path)

    _walk(zipped, part, start)
    return found


def _strings(zipped: Zipped, part: str) -> list[str]:
    """Shared strings; runs of one string joined, phonetic hints left out."""
    found: list[str] = []
    pieces: list[str] = []
    inside = {"t": 0, "rPh": 0}
    left = MOST_STRING_CHARACTERS

    def start(tag: str, _: dict[str, str]) -> None:
        if local(tag) in inside:
            inside[local(tag)] += 1

    def text(data: str) -> None:
        nonlocal left
        if inside["t"] and not inside["rPh"]:
            left -= len(data)
            if left < 0:
                raise BadInput("file", part, f"at most {MOST_STRING_CHARACTERS:,} characters of text in a workbook")
            pieces.append(data)

    def end(tag: str) -> None:
        if local(tag) in inside:
            inside[local(tag)] -= 1
        elif local(tag) == "si":
            found.append("".join(pieces))
            pieces.clear()

    parser = expat.ParserCreate()
    parser.StartElementHandler, parser.CharacterDataHandler, parser.EndElementHandler = start, text, end
    zipped.parse(part, parser)
    return found


def _dates(zipped: Zipped, part: str) -> list[bool]:
    codes: dict[int, str] = {}
    formats: list[int] = []
    inside = False

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal inside
        name = local(tag)
        if name == "numFmt":
            codes[_whole(attributes.get("numFmtId"))] = attributes.get("formatCode", "")
        elif name in ("cellXfs", "cellStyleXfs"):
            inside = name == "cellXfs"
        elif name == "xf" and inside:
            formats.append(_whole(attributes.get("numFmtId")))

    _walk(zipped, part, start)
    return [is_date(n, codes.get(n)) for n in formats]


def _whole(text: str | None) -> int:
    return int(text) if text and text.isascii() and text.isdigit() and len(text) < 9 else 0


def is_date(number: int, code: str | None) -> bool:
    """Whether a number format shows a date or a time.

    Parameters
    ----------
    number : int
        `numFmtId`.
    code : str or None
        Its format code, where the workbook defines one.
    """
    if code is None:
        return number in _DATES
    return bool(set(_NOT_CODE.sub("", code).lower().replace("general", "")) & set("dmyhs"))
