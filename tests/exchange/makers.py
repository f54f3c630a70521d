"""Workbooks for the tests, written by two independent libraries (XlsxWriter, openpyxl), and zips written by hand."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Sequence
from typing import Any

import openpyxl
import xlsxwriter

HEADER = ("test_area", "class", "dft_um")
ROWS: list[tuple[Any, ...]] = [("S1", "flat", 410), ("S1", "weld", 395.5), ("S2", "flat", 402)]


def by_xlsxwriter(rows: Sequence[Sequence[Any]], change: Callable[[Any, Any], None] | None = None, **options: Any) -> bytes:
    """A workbook of one sheet, ``Readings``; `change` gets the workbook and the sheet."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, **options})
    sheet = book.add_worksheet("Readings")
    for n, row in enumerate(rows):
        sheet.write_row(n, 0, row)
    if change:
        change(book, sheet)
    book.close()
    return out.getvalue()


def by_openpyxl(rows: Sequence[Sequence[Any]], change: Callable[[Any, Any], None] | None = None) -> bytes:
    """The same by openpyxl, which stores no value with a formula."""
    out = io.BytesIO()
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Readings"
    for row in rows:
        sheet.append(list(row))
    if change:
        change(book, sheet)
    book.save(out)
    return out.getvalue()


def with_part(data: bytes, name: str, change: Callable[[bytes], bytes]) -> bytes:
    """The same zip with one part changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            content = old.read(part)
            new.writestr(part.filename, change(content) if part.filename == name else content)
    return out.getvalue()
