"""Takes the chunks of a file of readings into columns: whole chunks at once, row by row only where something is wrong."""

from __future__ import annotations

from array import array
from collections.abc import Mapping, Sequence
from typing import Any

from wholefilm.base.errors import BadInput
from wholefilm.base.table import LONGEST_CELL, Chunk, TextForm

from .cells import Labels, Lengths, Names, Signs
from .columns import CLASSES, KNOWN, NAN, NEEDED, SHOWN, Spots


class Reader:
    """Spots, and what cannot be read.

    Parameters
    ----------
    columns, units : mapping
        As for `read_columns`.
    form : TextForm
    signs : Signs, optional
        Gathers the decimal signs of the number columns.
    only : tuple of str
        The columns that are read, of those that are named.

    Raises
    ------
    BadInput
        If a column or a unit is missing or unknown.
    """

    def __init__(
        self,
        columns: Mapping[str, Any],
        units: Mapping[str, Any],
        form: TextForm,
        signs: Signs | None = None,
        only: tuple[str, ...] = KNOWN,
    ) -> None:
        for ours in columns:
            if ours not in KNOWN:
                raise BadInput("columns", ours, f"one of {', '.join(KNOWN)}")
        for ours in NEEDED:
            if ours not in columns:
                raise BadInput("columns", ", ".join(columns), f"a column for each of {', '.join(NEEDED)}")
        if "value" not in units:
            raise BadInput("units", dict(units), "a unit for value, such as um")
        self.spots = Spots(str(units["value"]))
        self.form = form
        self.bad: list[BadInput] = []
        self.count = 0
        self.header: list[str] | None = None
        self._columns, self._signs, self._only = columns, signs, only
        self._names = {
            "test_area": Names("the name of a test area", needed=True),
            "class": Names(", ".join(CLASSES), needed=True, among=CLASSES),
            "on": Names("the name of a part"),
            "spot": Labels("the name of a spot"),
            "measured_area": Names("the name of a measured area"),
        }
        self._values = Lengths(str(units["value"]), "um", form.decimal, least=0)
        self._places = {name: Lengths(str(units.get(name, "m")), "m", form.decimal, empty=True) for name in ("first", "second")}
        self.spots.texts = self._values.texts
        self._at: dict[str, int] = {}
        self._constants: dict[str, str] = {}

    def take(self, chunk: Chunk) -> None:
        """The rows of a chunk; the first row that is not blank is the header.

        Raises
        ------
        BadInput
            If the header lacks a column.
        """
        if self.header is not None:
            columns = chunk.columns(len(self.header), list(self._at.values()))
            if columns is not None and self._at_once(chunk.numbers, dict(zip(self._at, columns, strict=True))):
                return
        for number, row in zip(chunk.numbers, chunk.rows(), strict=True):
            if any(map(str.strip, row)):
                if self.header is None:
                    self._head(row)
                else:
                    self._one(number, row)

    def finish(self) -> None:
        """Refuse a file in which no header was found."""
        if self.header is None:
            self._head([])

    def _head(self, row: list[str]) -> None:
        header = [h.strip() for h in row]
        for ours, theirs in self._columns.items():
            if isinstance(theirs, Mapping):
                self._constants[ours] = self._constant(ours, theirs)
                continue
            if theirs not in header:
                raise BadInput("columns", f"{ours} = {theirs}", f"a header of the file: {', '.join(header) or '(empty file)'}")
            if header.count(theirs) > 1:
                raise BadInput("columns", f"{ours} = {theirs}", "a header that the file has once")
            if ours in self._only:
                self._at[ours] = header.index(theirs)
        self.header = header

    def _constant(self, ours: str, given: Mapping[str, Any]) -> str:
        if set(given) != {"constant"} or not isinstance(given["constant"], str) or ours not in self._names:
            raise BadInput(f"columns.{ours}", dict(given), f'{{"constant": TEXT}}, for {", ".join(self._names)}')
        try:
            return self._names[ours][given["constant"]]
        except ValueError as error:
            raise BadInput(f"columns.{ours}", given["constant"], str(error)) from None

    def _at_once(self, numbers: Sequence[int], given: Mapping[str, Sequence[str]]) -> bool:
        """Take all rows if nothing is wrong with any; else take none."""
        n, spots, only = len(numbers), self.spots, self._only
        try:
            values = array("d", map(self._values.__getitem__, given["value"])) if "value" in given else ()
            names = {name: self._column(name, given, n) for name in self._names if name in only}
            places = [
                known.column(given[name]) if name in given else array("d", [NAN]) * n if name in only else array("d")
                for name, known in self._places.items()
            ]
        except ValueError:
            return False
        if self._signs is not None:
            for name in ("value", "first", "second"):
                if name in given:
                    self._signs.column(name, given[name], numbers)
        spots.row.extend(numbers)
        spots.values_um.extend(values)
        spots.test_area.extend(names.get("test_area", ()))
        spots.class_.extend(names.get("class", ()))
        spots.extend(names.get("on", ()), names.get("spot", ()), names.get("measured_area", ()), *places)
        return True

    def _column(self, name: str, given: Mapping[str, Sequence[str]], n: int) -> list[str]:
        return self._names[name].column(given[name]) if name in given else [self._constants.get(name, "")] * n

    def _one(self, number: int, row: list[str]) -> None:
        """Take one row, or note what is wrong with it."""
        header = self.header or []
        fault = None
        if len(row) != len(header):
            fault = BadInput(f"line {number}", ",".join(row), f"{len(header)} cells, as in the header")
        else:
            long = next((n for n, cell in enumerate(row) if len(cell) > LONGEST_CELL), None)
            if long is not None:
                fault = BadInput(f"line {number}, column {header[long]}", row[long], f"at most {LONGEST_CELL} characters")
        for name, at in sorted(self._at.items(), key=lambda x: x[1]) if fault is None else ():
            try:
                self._read(name)[row[at]]
            except ValueError as error:
                fault = BadInput(f"line {number}, {name}", row[at].strip(), str(error))
                break
        if fault is None:
            taken = self._at_once([number], {name: [row[at]] for name, at in self._at.items()})
            assert taken
            return
        self.count += 1
        if len(self.bad) < SHOWN:
            self.bad.append(fault)

    def _read(self, name: str) -> Mapping[str, Any]:
        if name == "value":
            return self._values
        return self._names[name] if name in self._names else self._places[name]
