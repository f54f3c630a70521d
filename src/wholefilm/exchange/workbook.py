"""A sheet of an XLSX workbook as a table of text.

Read with the parser of the standard library and not with one for workbooks: those take merged cells, errors and formulas without a value
in silence, or unpack the whole file before they look at it. Here each is named by its cell, and memory is bounded.
"""

from __future__ import annotations

import csv
import io

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.table import TextForm

from .cells import Odd, letters, place, read_cells
from .parts import Sheet, read_parts
from .zipped import Zipped


class Workbook(msgspec.Struct, frozen=True):
    """One sheet as text.

    Attributes
    ----------
    data : bytes
        UTF-8 CSV, commas, points; line n is row n of the sheet. Line breaks inside cells are blanks.
    form : TextForm
    odd : list of Odd
        Cells that cannot be readings: errors, dates, formulas without a stored value.
    formulas : set of int
        Columns from 0 in which stored values of formulas are read.
    merged : list of (str, int, int)
        Ranges of merged cells, with first and last column from 0.
    """

    data: bytes
    form: TextForm
    odd: list[Odd]
    formulas: set[int]
    merged: list[tuple[str, int, int]]

    def faults(self, columns: dict[int, str]) -> list[BadInput]:
        """What bars these columns from being read, merged ranges first.

        Parameters
        ----------
        columns : dict of int to str
            Columns from 0, and what they are read as.
        """
        found = [
            BadInput(f"cells {name}", "merged cells", "one value in each cell; take the merge apart in the columns that are read")
            for name, first, last in self.merged
            if any(first <= c <= last for c in columns)
        ]
        odd = sorted((o for o in self.odd if o.column in columns), key=lambda o: (o.row, o.column))
        return found + [BadInput(f"cell {letters(o.column)}{o.row}, {columns[o.column]}", o.value, o.why) for o in odd]

    def notes(self, columns: dict[int, str]) -> list[str]:
        """What a reader must know of these columns."""
        return [
            f"column {letters(c)} ({columns[c]}) holds formulas: their stored values are read" for c in sorted(self.formulas & set(columns))
        ]


def read_workbook(data: bytes, sheet: str | None = None) -> Workbook:
    """One sheet of a workbook.

    Parameters
    ----------
    data : bytes
    sheet : str, optional
        Its name; needed where more than one is shown.

    Raises
    ------
    BadInput
        If it is no workbook, goes over a limit, the sheet is not named or not there, or has no cell.
    """
    zipped = Zipped(data)
    parts = read_parts(zipped)
    chosen = _choose(parts.sheets, sheet)
    cells = read_cells(zipped, chosen.part, parts)
    if not cells.rows:
        raise BadInput("--sheet", chosen.name, "a sheet with a header and rows")
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\n").writerow
    width, line = len(cells.rows[0][1]), 0
    for row, texts in cells.rows:
        out.write("\n" * (row - line - 1))
        write(texts + [""] * (width - len(texts)))
        line = row
    merged = []
    for name in cells.merged:
        first, _, last = name.partition(":")
        merged.append((name, place(first)[0], place(last or first)[0]))
    form = TextForm(sheet=chosen.name)
    return Workbook(out.getvalue().encode(), form, cells.odd, cells.formulas, merged)


def _choose(sheets: list[Sheet], name: str | None) -> Sheet:
    names = ", ".join(s.name for s in sheets) or "(none)"
    if name is not None:
        found = next((s for s in sheets if s.name == name), None)
        if found is None:
            raise BadInput("--sheet", name, f"a sheet of the workbook: {names}")
        return found
    shown = [s for s in sheets if s.shown]
    if len(shown) != 1:
        raise BadInput("--sheet", "nothing", f"the sheet to read, since the workbook shows {len(shown)}: {names}")
    return shown[0]
