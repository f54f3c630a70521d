"""Tables in pages of 200 rows."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.sheets.rows import Column, Table

from .filtering import Choice, Chosen, chosen

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
    choices: list[Choice] = []
    of: int = 0
    says: str = ""


def pages_of(tables: list[Table], asked: Mapping[str, str], choose: bool = False) -> list[Page]:
    """The page of each table that is asked for by ``rows1``, ``rows2`` and so on; the first if none is.

    Parameters
    ----------
    tables : list of Table
    asked : mapping of str to str
        What stands in the address.
    choose : bool
        Whether the rows of a long table may be chosen by state, test area and the like.

    Raises
    ------
    BadInput
        If a page is not a number from 1 to the number of pages, or a value asked for is longer than any.
    """
    found = []
    for number, given in enumerate(tables, start=1):
        mine = chosen(given, number, asked) if choose else Chosen(given, len(given.cells), [])
        table = mine.table
        key = f"rows{number}"
        pages = max(1, math.ceil(len(table.cells) / ROWS))
        typed = asked.get(key, "1")
        if not (typed.isascii() and typed.isdigit() and len(typed) < 8 and 1 <= int(typed) <= pages):
            raise BadInput(key, typed, f"a page from 1 to {pages}")
        page = int(typed)
        start = (page - 1) * ROWS
        cells = table.cells[start : start + ROWS]
        found.append(
            Page(
                table.title,
                table.columns,
                cells,
                "no row fits the choice" if mine.asked else table.empty,
                key,
                page,
                pages,
                start + 1,
                start + len(cells),
                len(table.cells),
                mine.choices,
                mine.of,
                mine.says,
            )
        )
    return found
