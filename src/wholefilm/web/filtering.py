"""Rows chosen by what stands in a column: plain forms that work without a script, on tables long enough to want them."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.sheets.rows import Table

MANY = 30
# Columns by which a reader chooses, as they are named in every sheet.
BY = ("state", "test_area", "result", "finding_says", "panel")
MOST_CHOICES, LONGEST = 60, 120
ALL = ""


class Choice(msgspec.Struct, frozen=True):
    """What a reader may choose in one column: address key, heading, the values with how many rows each has, the one chosen."""

    key: str
    title: str
    values: list[tuple[str, int]]
    chosen: str


class Chosen(msgspec.Struct, frozen=True):
    """A table after the choice: the rows that are left, how many there were, and what may be chosen; nothing for a short one."""

    table: Table
    of: int
    choices: list[Choice]

    @property
    def asked(self) -> dict[str, str]:
        """What was chosen, by address key."""
        return {c.key: c.chosen for c in self.choices if c.chosen}

    @property
    def says(self) -> str:
        """What was chosen, in words."""
        return ", ".join(f"{c.title.lower()} {c.chosen}" for c in self.choices if c.chosen)


def chosen(table: Table, number: int, asked: Mapping[str, str]) -> Chosen:
    """A table with the rows that a reader asked for.

    Parameters
    ----------
    table : Table
    number : int
        Which table of the page, from 1; the address keys are ``state1``, ``test_area1`` and so on.
    asked : mapping of str to str
        What stands in the address.

    Returns
    -------
    Chosen
        A table of 30 rows or fewer is left as it is unless its rows are asked for. A value that stands in no row leaves none:
        at another time it may.

    Raises
    ------
    BadInput
        If a value asked for is longer than any state or name.
    """
    keys = {column.name: f"{column.name}{number}" for column in table.columns if column.name in BY}
    wanted = {key: asked[key] for key in keys.values() if asked.get(key)}
    for key, want in wanted.items():
        if len(want) > LONGEST:
            raise BadInput(key, want, f"a value of the table of at most {LONGEST} characters")
    if len(table.cells) <= MANY and not wanted:
        return Chosen(table, len(table.cells), [])
    choices: list[Choice] = []
    left = table.cells
    for at, column in enumerate(table.columns):
        key = keys.get(column.name, "")
        want = wanted.get(key, ALL)
        counts: dict[str, int] = {}
        for row in table.cells:
            if key and row[at]:
                counts[row[at]] = counts.get(row[at], 0) + 1
        names_each_row = len(counts) == len(table.cells)
        if not key or (not want and (not counts or names_each_row or len(counts) > MOST_CHOICES)):
            continue
        choices.append(Choice(key, column.title, list((counts | ({} if want in (ALL, *counts) else {want: 0})).items()), want))
        left = [row for row in left if want in (ALL, row[at])]
    return Chosen(msgspec.structs.replace(table, cells=left), len(table.cells), choices)
