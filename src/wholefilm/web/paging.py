"""Tables in pages of 200 rows."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.sheets.rows import Column, Table

ROWS = 200


class Page(msgspec.Struct, frozen=True):
    """One page of a table: its rows, and where it lies among all."""

    title: str
    columns: list[Column]
    cells: list[list[str]]
    empty: str
    key: str
    page: int
    pages: int
    first: int
    last: int
    total: int


def pages_of(tables: list[Table], asked: Mapping[str, str]) -> list[Page]:
    """The page of each table that is asked for by ``rows1``, ``rows2`` and so on; the first if none is.

    Raises
    ------
    BadInput
        If a page is not a number from 1 to the number of pages.
    """
    found = []
    for number, table in enumerate(tables, start=1):
        key = f"rows{number}"
        pages = max(1, math.ceil(len(table.cells) / ROWS))
        typed = asked.get(key, "1")
        if not (typed.isascii() and typed.isdigit() and len(typed) < 8 and 1 <= int(typed) <= pages):
            raise BadInput(key, typed, f"a page from 1 to {pages}")
        page = int(typed)
        start = (page - 1) * ROWS
        cells = table.cells[start : start + ROWS]
        found.append(
            Page(table.title, table.columns, cells, table.empty, key, page, pages, start + 1, start + len(cells), len(table.cells))
        )
    return found
