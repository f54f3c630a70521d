"""Workbooks that XlsxWriter and openpyxl wrote: read as the same cells, and refused by cell where a cell is no reading."""

from __future__ import annotations

import csv
import datetime
import io
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exchange.makers import HEADER, ROWS, by_openpyxl, by_xlsxwriter, with_part
from wholefilm.base.errors import BadInput
from wholefilm.exchange.cells import letters, place
from wholefilm.exchange.parts import is_date
from wholefilm.exchange.workbook import Workbook, read_workbook

PICKED = {0: "test_area", 1: "class", 2: "value"}
SHEET = "xl/worksheets/sheet1.xml"
MAKERS = pytest.mark.parametrize("make", [by_xlsxwriter, by_openpyxl])


def text(book: Workbook) -> str:
    return book.data.decode()


@MAKERS
def test_a_plain_sheet_is_its_cells(make: Any) -> None:
    book = read_workbook(make([HEADER, *ROWS]))
    assert text(book) == "test_area,class,dft_um\nS1,flat,410\nS1,weld,395.5\nS2,flat,402\n"
    assert (book.form.sheet, book.faults(PICKED), book.notes(PICKED)) == ("Readings", [], [])


@MAKERS
def test_lines_are_rows_of_the_sheet_and_line_breaks_are_blanks(make: Any) -> None:
    assert text(read_workbook(make([HEADER, ROWS[0], (), ("S1\nnorth", " flat ", 1)]))).split("\n") == [
        "test_area,class,dft_um", "S1,flat,410", "", "S1 north,flat,1", "",
    ]  # fmt: skip


def test_a_stored_number_has_fifteen_digits() -> None:
    """15.7 is stored as 15.699999999999999 by some programs; spreadsheets show 15 digits, 15.7 (common practice)."""
    data = with_part(
        by_xlsxwriter([HEADER, ("S1", "flat", 15.7)]), SHEET, lambda x: x.replace(b"<v>15.7</v>", b"<v>15.699999999999999</v>")
    )
    assert text(read_workbook(data)).endswith("S1,flat,15.7\n")
    small = with_part(by_xlsxwriter([HEADER, ("S1", "flat", 15.7)]), SHEET, lambda x: x.replace(b"<v>15.7</v>", b"<v>1.5E-3</v>"))
    assert text(read_workbook(small)).endswith("S1,flat,0.0015\n")


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.text(st.characters(min_codepoint=33, max_codepoint=0x2FFF, exclude_categories=["C", "Z"]), min_size=1, max_size=8),
            st.floats(0, 5000).map(lambda x: float(f"{x:.12g}")).filter(lambda x: x == 0 or x > 1e-9),
        ),
        min_size=1,
        max_size=8,
    )
)
def test_any_cells_read_as_openpyxl_reads_them(rows: list[tuple[str, float]]) -> None:
    """The reference reader is openpyxl; the file is written by XlsxWriter."""

    def write(_: Any, sheet: Any) -> None:
        for n, (name, number) in enumerate(rows, 1):
            sheet.write_string(n, 0, name)
            sheet.write_number(n, 1, number)

    data = by_xlsxwriter([("name", "number")], write)
    sheet = openpyxl.load_workbook(io.BytesIO(data), read_only=True).active
    assert sheet is not None
    mine = list(csv.reader(io.StringIO(text(read_workbook(data)))))[1:]
    theirs = [(str(a).strip(), float(b)) for a, b in list(sheet.iter_rows(values_only=True))[1:]]  # type: ignore[arg-type]
    assert [(a, float(b)) for a, b in mine] == theirs


@MAKERS
def test_merged_cells_are_named_where_they_matter(make: Any) -> None:
    def merge(book: Any, sheet: Any) -> None:
        if make is by_xlsxwriter:
            sheet.merge_range("A2:A3", "S1")
            sheet.merge_range("E1:F1", "note")
        else:
            sheet.merge_cells("A2:A3")
            sheet.merge_cells("E1:F1")

    book = read_workbook(make([HEADER, *ROWS], merge))
    faults = book.faults(PICKED)
    assert [f.field for f in faults] == ["cells A2:A3"]
    assert "one value in each cell" in faults[0].allowed
    assert book.faults({1: "class", 2: "value"}) == []


def test_stored_values_of_formulas_are_read_and_said() -> None:
    book = read_workbook(by_xlsxwriter([HEADER, *ROWS], lambda _, s: s.write_formula("C3", "=1+1", None, 396.5)))
    assert "S1,weld,396.5\n" in text(book)
    assert book.notes(PICKED) == ["column C (value) holds formulas: their stored values are read"]
    assert book.notes({0: "test_area"}) == []
    assert book.faults(PICKED) == []


def test_a_formula_without_a_stored_value_is_refused_by_cell() -> None:
    book = read_workbook(by_openpyxl([HEADER, *ROWS, ("S2", "weld", "=C2+1")]))
    (fault,) = book.faults(PICKED)
    assert (fault.field, fault.value) == ("cell C5, value", "a formula")
    assert "no stored value" in fault.allowed


@MAKERS
def test_an_error_is_refused_by_cell(make: Any) -> None:
    def error(book: Any, sheet: Any) -> None:
        if make is by_xlsxwriter:
            sheet.write_formula("C3", "=1/0", None, "#DIV/0!")
        else:
            sheet["C3"] = "#DIV/0!"

    (fault,) = read_workbook(make([HEADER, *ROWS], error)).faults(PICKED)
    assert str(fault) == "cell C3, value: '#DIV/0!' is not accepted. Allowed: a value, not an error"


@MAKERS
def test_a_date_is_refused_by_cell_unless_its_column_is_not_read(make: Any) -> None:
    """A spreadsheet makes a date of 4.10; a date in a column of its own is no trouble."""
    day = datetime.date(2025, 4, 10)

    def dated(book: Any, sheet: Any) -> None:
        if make is by_xlsxwriter:
            form = book.add_format({"num_format": "dd.mm.yyyy"})
            sheet.write_datetime("C3", day, form)
            sheet.write_datetime("D3", day, form)
        else:
            sheet["C3"], sheet["D3"] = day, day

    book = read_workbook(make([(*HEADER, "when"), *ROWS], dated))
    (fault,) = book.faults(PICKED)
    assert fault.field == "cell C3, value"
    assert "not a date" in fault.allowed


@pytest.mark.parametrize(
    ("number", "code", "is_one"),
    [
        # numFmtId: table of ECMA-376-1, 18.8.30
        *[(n, None, False) for n in (0, 1, 2, 3, 4, 9, 10, 11, 12, 13, 37, 40, 48, 49)],
        *[(n, None, True) for n in (14, 15, 16, 17, 18, 19, 20, 21, 22, 45, 46, 47)],
        (164, "yyyy-mm-dd", True),
        (165, "[h]:mm", True),
        (166, '0.0 "mils dry"', False),
        (167, "[Red]0.0", False),
        (168, "0.0\\ \\m", False),
        (169, "General", False),
        (170, "#,##0.00_);[Red]\\(#,##0.00\\)", False),
        (171, "[$-407]d. mmmm", True),
    ],
)
def test_number_formats_that_are_dates(number: int, code: str | None, is_one: bool) -> None:
    assert is_date(number, code) is is_one


def test_which_sheet() -> None:
    data = by_xlsxwriter([HEADER, *ROWS], lambda b, _: b.add_worksheet("Spare").write("A1", "x"))
    with pytest.raises(BadInput) as caught:
        read_workbook(data)
    assert str(caught.value).endswith("the sheet to read, since the workbook shows 2: Readings, Spare")
    assert text(read_workbook(data, "Spare")) == "x\n"
    with pytest.raises(BadInput, match="a sheet of the workbook: Readings, Spare"):
        read_workbook(data, "spare")
    hidden = by_xlsxwriter([HEADER, *ROWS], lambda b, _: b.add_worksheet("Spare").hide())
    assert read_workbook(hidden).form.sheet == "Readings"
    with pytest.raises(BadInput, match="a sheet with a header and rows"):
        read_workbook(hidden, "Spare")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (b'<row r="3"', b'<row r="1"', "rows in order"),
        (b'<row r="3"', b'<row r="99999999"', "rows in order"),
        (b'r="B3"', b'r="B4"', "cells in order"),
        (b'r="B3"', b'r="A3"', "cells in order"),
        (b'r="C3"', b'r="XFD3"', "at most 256 columns"),
        (b'r="C3"', b'r="??"', "a reference such as C14"),
        (b"<worksheet", b"<!DOCTYPE x><worksheet", "a document type"),
        (b"</sheetData>", b"", "mismatched tag"),
        (b"<v>410</v>", b"<v>" + b"4" * 1001 + b"</v>", "at most 1000 characters"),
    ],
)
def test_sheets_that_no_program_writes_are_refused(old: bytes, new: bytes, says: str) -> None:
    data = by_xlsxwriter([HEADER, *ROWS])

    def change(part: bytes) -> bytes:
        assert old in part
        return part.replace(old, new, 1)

    with pytest.raises(BadInput, match=says.replace("?", r"\?")):
        read_workbook(with_part(data, SHEET, change))


def test_a_long_text_names_its_cell() -> None:
    with pytest.raises(BadInput) as caught:
        read_workbook(by_xlsxwriter([HEADER, ("S1", "flat", 1), ("S1", "x" * 10_000, 1)]))
    assert caught.value.field == "cell B3"


def test_letters_and_places() -> None:
    """AA is the 27th column, XFD the 16384th (ECMA-376-1, 18.3.1.4: the last of a sheet)."""
    assert [letters(n) for n in (0, 25, 26, 16_383)] == ["A", "Z", "AA", "XFD"]
    assert [place(x) for x in ("A1", "AA10", "XFD1048576")] == [(0, 1), (26, 10), (16_383, 1_048_576)]
