"""Rows of a file of thickness readings, as the job's columns and units name them, in columns that hold a million spots."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.table import TextForm, delimiter_of, head_of, read_chunks

from .cells import Signs
from .columns import CLASSES, KNOWN, NEEDED, PLACED, SHOWN, SpotReading, Spots
from .reader import Reader

__all__ = ["CLASSES", "KNOWN", "NEEDED", "SHOWN", "BadRows", "SpotReading", "Spots", "examine", "read_columns", "read_spots", "text_form"]


class BadRows(BadInput):
    """Rows that cannot be read: each with line, column, value and what is allowed; the first `SHOWN` by themselves."""

    def __init__(self, rows: list[BadInput], count: int) -> None:
        super().__init__(rows[0].field, rows[0].value, rows[0].allowed)
        self.rows, self.count = rows, count
        more = [f"and {count - len(rows)} more"] if count > len(rows) else []
        self.args = ("\n".join([*map(str, rows), *more]),)


def read_spots(data: bytes, columns: Mapping[str, Any], units: Mapping[str, Any]) -> list[SpotReading]:
    """The spots of a file one by one; `read_columns` for many.

    Raises
    ------
    BadInput
        As `read_columns`.
    """
    reader = _read(data, Reader(columns, units, text_form(data, units)))
    _refuse(reader)
    return list(reader.spots)


def read_columns(data: bytes, columns: Mapping[str, Any], units: Mapping[str, Any]) -> Spots:
    """Read a CSV file of spots.

    Parameters
    ----------
    data : bytes
        CSV with a header line.
    columns : mapping
        Our name (`test_area`, `class`, `value`, optional `on`, `first`, `second`, `spot`, `measured_area`) to the file's header, or to
        ``{"constant": TEXT}`` for one text that holds for every row.
    units : mapping
        Unit of `value`, and of `first` and `second` where given (else m). `text`: a `TextForm`, how the file is written; without it
        UTF-8, comma or semicolon or tab, decimal point or comma.

    Returns
    -------
    Spots

    Raises
    ------
    BadInput
        Naming the column or the line, with what is allowed; `BadRows` for rows. Nothing is half read.

    Notes
    -----
    Places and names of spots are read when they are first asked for; a line whose place cannot be read has none then.
    """
    form = text_form(data, units)
    reader = _read(data, Reader(columns, units, form, only=NEEDED))
    _refuse(reader)
    reader.spots.read_later(lambda: _read(data, Reader(columns, units, form, only=PLACED)).spots)
    return reader.spots


def _read(data: bytes, reader: Reader) -> Reader:
    for chunk in read_chunks(data, reader.form):
        reader.take(chunk)
    reader.finish()
    return reader


def _refuse(reader: Reader) -> None:
    if reader.bad:
        raise reader.bad[0] if reader.count == 1 else BadRows(reader.bad, reader.count)


def examine(
    data: bytes, columns: Mapping[str, Any], units: Mapping[str, Any], signs: Signs | None = None
) -> tuple[Spots, list[BadInput], int, list[str]]:
    """`read_columns`, with bad rows told and left out instead of refused.

    Parameters
    ----------
    data, columns, units
        As for `read_columns`.
    signs : Signs, optional
        Gathers which decimal signs the number columns have.

    Returns
    -------
    spots : Spots
        The rows that can be read.
    bad : list of BadInput
        The first `SHOWN` bad rows.
    count : int
        How many rows are bad.
    header : list of str
    """
    reader = _read(data, Reader(columns, units, text_form(data, units), signs))
    return reader.spots, reader.bad, reader.count, reader.header or []


def text_form(data: bytes, units: Mapping[str, Any]) -> TextForm:
    """How a file is written: as its `units` say under `text`, else found from its header line.

    Raises
    ------
    BadInput
        If what stands there is no `TextForm`.
    """
    if "text" not in units:
        return TextForm(delimiter=delimiter_of(head_of(data, "utf-8")))
    try:
        return msgspec.convert(units["text"], TextForm)
    except BadInput as error:
        raise BadInput(f"units.text.{error.field}", error.value, error.allowed) from None
    except msgspec.ValidationError as error:
        raise BadInput("units.text", units["text"], f"encoding, delimiter and decimal of the file ({error})") from error
