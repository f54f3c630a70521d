"""Rows of a sheet: typed structs whose fields carry the heading that a reader sees."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Annotated, Any

import msgspec
from msgspec import Meta
from msgspec import inspect as look


def head(title: str, number: bool = False) -> Meta:
    """Heading of a column; numbers stand at the right."""
    return Meta(title=title, extra={"number": number})


_FEW, _MOST_WEIGHTY = 3, 60
_WEIGHTY = re.compile(
    r"(?:(?i:does not meet|cannot tell)|not met|failed|in doubt|not valid|open|not yet tested|not reached|not here|not answered"
    r"|not released|did not come|no indication, (?!checked))(?!\w)"
)
Words = Annotated[str, head("")]


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """One line of a table."""


class Column(msgspec.Struct, frozen=True):
    """A column: field name, heading, whether it holds numbers."""

    name: str
    title: str
    number: bool


class Table(msgspec.Struct, frozen=True):
    """A table ready to print: title, columns, cells as text, and what to say when it is empty."""

    title: str
    columns: list[Column]
    cells: list[list[str]]
    empty: str = "nothing recorded"


def columns_of(row: type[Row]) -> list[Column]:
    """Columns of a row type that have a heading, in order."""
    info = look.type_info(row)
    assert isinstance(info, look.StructType)
    found = []
    for field in info.fields:
        if isinstance(field.type, look.Metadata):
            schema, extra = field.type.extra_json_schema or {}, field.type.extra or {}
            if schema.get("title"):
                found.append(Column(field.encode_name, str(schema["title"]), bool(extra.get("number"))))
    return found


def cell(value: Any) -> str:
    """A value as printed in a table."""
    if value is None or value is False:
        return ""
    if value is True:
        return "yes"
    if isinstance(value, float):
        return f"{value:.2f}"
    if isinstance(value, list | tuple):
        return ", ".join(str(v) for v in value)
    return str(value)


def table(title: str, row: type[Row], rows: list[Any], empty: str = "nothing recorded") -> Table:
    """Rows of one type as a table ready to print."""
    columns = columns_of(row)
    return Table(title, columns, [[cell(getattr(r, c.name)) for c in columns] for r in rows], empty)


def lifted(given: Table) -> tuple[str, list[int]]:
    """What a table of three rows or more can say once: columns that hold the same in every row, and columns without a word.

    Parameters
    ----------
    given : Table

    Returns
    -------
    str
        ``"In every row: ... Nothing under: ..."``; empty if nothing is lifted.
    list of int
        Columns that stay, by their number from 0. The first column stays, and so does a word that a reader must not miss.
    """
    if len(given.cells) < _FEW:
        return "", list(range(len(given.columns)))
    said, blank, kept = [], [], []
    for n, column in enumerate(given.columns):
        values = {row[n] for row in given.cells}
        only = next(iter(values)) if len(values) == 1 else None
        if only == "":
            blank.append(column.title)
        elif only and n and len(only) <= _MOST_WEIGHTY and column.title and not weighty(only):
            said.append(f"{column.title}: {only}")
        else:
            kept.append(n)
    parts = [
        f"In every row: {' · '.join(said)}." if said else "",
        f"Nothing under: {', '.join(b for b in blank if b)}." if any(blank) else "",
    ]
    return " ".join(p for p in parts if p), kept


def joined(parts: Iterable[str]) -> str:
    """Sentences or pieces of them in one line: a full stop joins by itself, else a semicolon does."""
    said = ""
    for part in (p.strip() for p in parts):
        if part:
            said += part if not said else f" {part}" if said[-1] in ".!?" else f"; {part}"
    return said


def weighty(value: str) -> bool:
    """Whether a cell holds a word that a reader must not miss; it is set in bold, and the word is there without it."""
    return len(value) <= _MOST_WEIGHTY and bool(_WEIGHTY.match(value))


def m2(value: float) -> float:
    """An area as kept in a sheet: three decimals, no negative zero. [m2]"""
    return round(value, 3) + 0.0
