"""Rows of a sheet: typed structs whose fields carry the heading that a reader sees."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from msgspec import Meta
from msgspec import inspect as look


def head(title: str, number: bool = False) -> Meta:
    """Heading of a column; numbers stand at the right."""
    return Meta(title=title, extra={"number": number})


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


def m2(value: float) -> float:
    """An area as kept in a sheet: three decimals, no negative zero. [m2]"""
    return round(value, 3) + 0.0


def area_text(value: float) -> str:
    """An area for a sentence: one decimal. [m2]"""
    return f"{value:.1f}"
