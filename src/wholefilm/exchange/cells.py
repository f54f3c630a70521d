"""The cells of a sheet of an XLSX workbook, row by row, with what cannot be taken as a reading noted cell by cell."""

from __future__ import annotations

import re
from xml.parsers import expat

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.table import LONGEST_CELL

from .parts import Parts, local
from .zipped import MOST_UNPACKED, Zipped

MOST_COLUMNS = 256
MOST_SHEET_ROWS = 1 << 20
NOTED = 20
"""Cells of one column and one fault that are named one by one."""
_PLACE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_PLAIN = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_BLANK = re.compile(r"\s+")


class Odd(msgspec.Struct, frozen=True):
    """A cell that holds no reading: column from 0, row from 1, what stands there and why not."""

    column: int
    row: int
    value: str
    why: str


class Cells(msgspec.Struct):
    """A sheet as texts.

    Attributes
    ----------
    rows : list of (int, list of str)
        Row of the sheet from 1, and its cells from column A to the last that holds something; blank rows are left out.
    odd : list of Odd
        The first `NOTED` of each column and fault.
    formulas : set of int
        Columns with formulas whose stored value was read.
    merged : list of str
        Ranges of merged cells.
    """

    rows: list[tuple[int, list[str]]]
    odd: list[Odd]
    formulas: set[int]
    merged: list[str]


def letters(column: int) -> str:
    """Letters of a column, A for 0."""
    name = ""
    column += 1
    while column:
        column, digit = divmod(column - 1, 26)
        name = chr(65 + digit) + name
    return name


def place(reference: str) -> tuple[int, int]:
    """Column from 0 and row from 1 of a reference such as ``C14``.

    Raises
    ------
    BadInput
        If it is none.
    """
    match = _PLACE.fullmatch(reference)
    if match is None:
        raise BadInput("cell", reference, "a reference such as C14")
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - 64
    return column - 1, int(match[2])


def read_cells(zipped: Zipped, part: str, parts: Parts) -> Cells:
    """The cells of a sheet.

    Raises
    ------
    BadInput
        Naming the cell: a text over `LONGEST_CELL` characters, a column or row beyond the limits, rows out of order.
    """
    reader = _Cells(parts)
    parser = expat.ParserCreate()
    parser.StartElementHandler, parser.CharacterDataHandler, parser.EndElementHandler = reader.start, reader.text, reader.end
    zipped.parse(part, parser)
    return reader.found


class _Cells:
    """Handlers of the XML parser: `sheetData` of `row` of `c` with `f`, `v`, `is`; then `mergeCell` (ECMA-376-1, 18.3.1)."""

    def __init__(self, parts: Parts) -> None:
        self.found = Cells([], [], set(), [])
        self._strings, self._dates = parts.strings, parts.dates
        self._noted: dict[tuple[int, str], int] = {}
        self._row, self._column = 0, -1
        self._cells: list[str] = []
        self._type, self._style, self._formula = "n", "", False
        self._pieces: list[str] = []
        self._reading = self._phonetic = False
        self._size = 0

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        name = tag if ":" not in tag else local(tag)
        if name == "c":
            self._column = self._at(attributes["r"]) if "r" in attributes else self._column + 1
            if self._column >= MOST_COLUMNS:
                raise BadInput(f"cell {self._name()}", "a column beyond", f"at most {MOST_COLUMNS} columns")
            self._type, self._style, self._formula = attributes.get("t", "n"), attributes.get("s", ""), False
            self._pieces.clear()
        elif name in ("v", "t"):
            self._reading = not self._phonetic
        elif name == "f":
            self._formula = True
        elif name == "rPh":
            self._phonetic = True
        elif name == "row":
            given = attributes.get("r", str(self._row + 1))
            row = int(given) if given.isascii() and given.isdigit() and len(given) < 9 else 0
            if not self._row < row <= MOST_SHEET_ROWS:
                raise BadInput("row", given, f"rows in order, at most {MOST_SHEET_ROWS:,}")
            self._row, self._column = row, -1
        elif name == "mergeCell":
            self.found.merged.append(attributes.get("ref", ""))

    def text(self, data: str) -> None:
        """Characters."""
        if self._reading:
            self._pieces.append(data)
            self._size += len(data)

    def end(self, tag: str) -> None:
        """An element ends."""
        name = tag if ":" not in tag else local(tag)
        if name == "c":
            self._cell("".join(self._pieces))
        elif name in ("v", "t"):
            self._reading = False
        elif name == "rPh":
            self._phonetic = False
        elif name == "row" and self._cells:
            self.found.rows.append((self._row, self._cells))
            self._cells = []

    def _at(self, reference: str) -> int:
        column, row = place(reference)
        if row != self._row or column <= self._column:
            raise BadInput(f"cell {reference}", f"after column {letters(self._column)} of row {self._row}", "cells in order")
        return column

    def _name(self) -> str:
        return f"{letters(self._column)}{self._row}"

    def _cell(self, raw: str) -> None:
        value = self._value(raw)
        if len(value) > LONGEST_CELL:
            raise BadInput(f"cell {self._name()}", value, f"at most {LONGEST_CELL} characters")
        if not value:
            return
        self._size += len(value)
        if self._size > MOST_UNPACKED:
            raise BadInput(f"cell {self._name()}", "too much text before it", f"at most {MOST_UNPACKED:,} characters in a sheet")
        self._cells += [""] * (self._column - len(self._cells))
        self._cells.append(value)

    def _value(self, raw: str) -> str:
        kind = self._type
        if self._formula:
            if not raw:
                return self._odd("a formula", "a value: the file holds no stored value of this formula; save it once where it was made")
            self.found.formulas.add(self._column)
        if kind == "s":
            known = raw.isascii() and raw.isdigit() and len(raw) < 9 and int(raw) < len(self._strings)
            raw = self._strings[int(raw)] if known else self._odd(raw, "a text that the workbook has")
        if kind in ("s", "str", "inlineStr"):
            return _BLANK.sub(" ", raw).strip()
        if kind == "e":
            return self._odd(raw, "a value, not an error")
        if kind == "d" or (raw and kind == "n" and self._is_date()):
            return self._odd(raw, "a number or a text, not a date; format the column as a number or as text")
        if kind == "b":
            return {"1": "TRUE", "0": "FALSE"}.get(raw.strip(), raw)
        return _number(raw.strip())

    def _is_date(self) -> bool:
        style = int(self._style) if self._style.isascii() and self._style.isdigit() and len(self._style) < 9 else -1
        return 0 <= style < len(self._dates) and self._dates[style]

    def _odd(self, value: str, why: str) -> str:
        count = self._noted[self._column, why] = self._noted.get((self._column, why), 0) + 1
        if count <= NOTED:
            self.found.odd.append(Odd(self._column, self._row, value[:LONGEST_CELL], why))
        return value[:LONGEST_CELL]


def _number(raw: str) -> str:
    """A stored number as text; 15 digits, as the format keeps them, so that a stored 15.699999999999999 is 15.7 again."""
    if len(raw) <= 15 and _PLAIN.fullmatch(raw):
        return raw
    try:
        number = float(raw)
    except ValueError:
        return raw
    if number != number or abs(number) >= 1e15 or 0 < abs(number) < 1e-15:
        return raw
    text = f"{number:.15g}"
    if "e" in text:
        from decimal import Decimal

        text = f"{Decimal(text):f}"
    return text
