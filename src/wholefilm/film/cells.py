"""Cells of a file of readings, read once for each text: names and lengths, and which decimal sign a file has."""

from __future__ import annotations

import re
from array import array
from collections.abc import Sequence
from contextlib import suppress

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import ALIASES, MOST_DIGITS, UNITS, units_of
from wholefilm.base.table import DECIMALS

_ANY = "[.,]"
_NUMBER = r"[+-]?(?:[0-9]+(?:{d}[0-9]+)?|{d}[0-9]+)"
_WITH_SIGN = r"^\s*[+-]?[0-9]*{d}[0-9]+\s*$"
_THOUSANDS = r"\s*[+-]?[1-9][0-9]{{0,2}}(?:{d}[0-9]{{3}})+\s*$"


class Names(dict[str, str]):
    """Cell to name, blanks at its ends taken off; the same text is kept once.

    Parameters
    ----------
    allowed : str
        Words for a refusal.
    needed : bool
        Whether an empty cell is refused.
    among : tuple of str
        The only names allowed; empty for any.
    """

    def __init__(self, allowed: str, needed: bool = False, among: tuple[str, ...] = ()) -> None:
        super().__init__()
        self.allowed, self._needed, self._among = allowed, needed, among

    def __missing__(self, cell: str) -> str:
        name = cell.strip()
        if (self._needed and not name) or (self._among and name not in self._among):
            raise ValueError(self.allowed)
        return self.setdefault(cell, self.setdefault(name, name))

    def column(self, cells: Sequence[str]) -> list[str]:
        """A whole column.

        Raises
        ------
        ValueError
            If a cell cannot be read.
        """
        return list(map(self.__getitem__, cells))


class Labels(Names):
    """Names that rarely repeat and may be anything."""

    def column(self, cells: Sequence[str]) -> list[str]:
        """A whole column."""
        return list(map(str.strip, cells))


class Lengths(dict[str, float]):
    """Cell to length, worked out exactly and rounded once.

    Parameters
    ----------
    unit, into : str
        Unit of the cells, and of the result.
    decimal : str
        The sign allowed, empty for both.
    empty : bool
        Whether a cell may be empty; it gives NaN.
    least : int, optional
        The least number allowed.
    """

    def __init__(self, unit: str, into: str, decimal: str = "", empty: bool = False, least: int | None = None) -> None:
        super().__init__()
        self.texts: dict[float, str] = {}
        self._empty, self._least, self._decimal = empty, least, decimal
        known = UNITS.get(ALIASES.get(unit, unit))
        self._factor = known[1] / UNITS[into][1] if known is not None and known[0] == "length" else None
        self._unit = unit
        sign = re.escape(decimal) if decimal else _ANY
        self._one = re.compile(_NUMBER.format(d=sign))

    def __missing__(self, cell: str) -> float:
        if self._factor is None:
            raise ValueError(f"a unit of length: {', '.join(units_of('length'))}, not {self._unit}")
        text = cell.strip()
        if not text and self._empty:
            return self.setdefault(cell, float("nan"))
        if self._one.fullmatch(text) is None or len(text) > MOST_DIGITS:
            sign = f" with a decimal {DECIMALS[self._decimal]}" if self._decimal else ""
            says = "no thousands separator, exponent, unit or blank in it"
            raise ValueError(f"a number{sign} in {self._unit} of at most {MOST_DIGITS} digits; {says}")
        whole, _, part = text.replace(",", ".").partition(".")
        number = int(whole + part)
        if self._least is not None and number < self._least:
            raise ValueError("zero or more")
        # a quotient of two whole numbers is rounded once, to the nearest float
        value = number * self._factor.numerator / (self._factor.denominator * 10 ** len(part))
        self.texts.setdefault(value, text)
        return self.setdefault(cell, value)

    def column(self, cells: Sequence[str]) -> array[float]:
        """A whole column; numbers that need no conversion and rarely repeat are read at once.

        Raises
        ------
        ValueError
            If a cell cannot be read.
        """
        if self._factor == 1 and self._decimal != ",":
            joined = "\n".join(cells).encode()
            # of such signs float() takes what a cell may hold, and a number that ends in its point
            plain = not joined.translate(None, b"0123456789.+-\n") and b".\n" not in joined and not joined.endswith(b".")
            if plain and max(map(len, cells)) <= MOST_DIGITS:
                with suppress(ValueError):
                    return array("d", map(float, cells))
        return array("d", map(self.__getitem__, cells))


class Signs:
    """Which decimal signs the numbers of a file have, and whether they can be nothing else."""

    def __init__(self) -> None:
        self._first: dict[str, tuple[int, str, str]] = {}
        self._proven: set[str] = set()
        self._with = {s: re.compile(_WITH_SIGN.format(d=re.escape(s)), re.MULTILINE) for s in DECIMALS}
        self._proof = {
            s: re.compile(f"^(?!{_THOUSANDS.format(d=re.escape(s))}){_WITH_SIGN.format(d=re.escape(s))[1:]}", re.MULTILINE)
            for s in DECIMALS
        }

    def column(self, name: str, cells: Sequence[str], numbers: Sequence[int]) -> None:
        """Take a column of cells with their lines."""
        joined = "\n".join(cells)
        for sign in DECIMALS:
            if sign not in joined:
                continue
            if sign not in self._first:
                n = next((n for n, cell in enumerate(cells) if self._with[sign].match(cell)), None)
                if n is not None:
                    self._first[sign] = (numbers[n], name, cells[n].strip())
            if sign not in self._proven and self._proof[sign].search(joined):
                self._proven.add(sign)

    def settle(self, delimiter: str) -> str:
        """The one decimal sign of the file; a point where no number has any.

        Raises
        ------
        BadInput
            If the file has both signs, or only numbers in which the sign may part thousands (``1.234``).
        """
        found = sorted(self._first.items(), key=lambda x: x[1])
        if not found:
            return "."
        (sign, (line, name, cell)), *others = found
        if others:
            other, (line2, name2, cell2) = others[0]
            raise BadInput(
                f"line {line2}, {name2}",
                cell2,
                f"one decimal sign in the whole file: line {line} has a {DECIMALS[sign]} ({cell}), this line has a {DECIMALS[other]}; "
                "write them alike, without thousands separators",
            )
        if sign not in self._proven and (delimiter, sign) != (",", "."):
            raise BadInput(
                f"line {line}, {name}",
                cell,
                f"a number that can be read in one way only: the {DECIMALS[sign]} may part thousands here; "
                f"if it is the decimal sign, say so with --decimal {DECIMALS[sign]}",
            )
        return sign
