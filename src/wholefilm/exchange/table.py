"""A file with a table, CSV or XLSX, as bytes of text and how they are written; size is looked at before anything is read."""

from __future__ import annotations

import stat
from pathlib import Path

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.table import TextForm, delimiter_of, encoding_of, head_of

from .workbook import Workbook, read_workbook

MOST_BYTES = 256 << 20
MOST_ROWS = 5_000_000
_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


class TableFile(msgspec.Struct, frozen=True):
    """A table as it came.

    Attributes
    ----------
    data : bytes
        The text of the table: the bytes of a CSV file as they are, or the CSV made from a sheet.
    form : TextForm
        How `data` is written; the decimal sign is not settled yet.
    workbook : Workbook or None
    original : bytes or None
        The bytes of the workbook.
    """

    data: bytes
    form: TextForm
    workbook: Workbook | None = None
    original: bytes | None = None


def read_file(path: Path) -> bytes:
    """The bytes of a file of at most `MOST_BYTES`; a larger one is not read.

    Raises
    ------
    BadInput
        If it cannot be read, is no file, is empty or too large.
    """
    try:
        state = path.stat()
        if not stat.S_ISREG(state.st_mode):
            raise BadInput("FILE", str(path), "a file, not a folder or device")
        if state.st_size > MOST_BYTES:
            raise _too_large(path, state.st_size)
        with path.open("rb") as file:
            data = file.read(state.st_size + 1)
    except (OSError, ValueError) as error:
        raise BadInput("FILE", str(path), f"a file that can be read ({getattr(error, 'strerror', None) or error})") from error
    if len(data) != state.st_size:
        raise BadInput("FILE", str(path), "a file that nobody writes to while it is read")
    if not data.strip(b"\xef\xbb\xbf\xff\xfe\0 \t\r\n"):
        raise BadInput("FILE", str(path), "a file with a header and rows; this one is empty")
    return data


def _too_large(path: Path, size: int) -> BadInput:
    return BadInput("FILE", f"{path}: {size:,} bytes", f"at most {MOST_BYTES:,} bytes; part the file")


def read_table(data: bytes, *, encoding: str | None = None, sheet: str | None = None) -> TableFile:
    """Find out how a table is written.

    Parameters
    ----------
    data : bytes
    encoding : str, optional
        Of a CSV file; without it what its byte order mark says, else UTF-8.
    sheet : str, optional
        Of a workbook.

    Raises
    ------
    BadInput
        If it is neither, or has more than `MOST_ROWS` rows.
    """
    if data.startswith(_OLE):
        raise BadInput("FILE", "a workbook of the old form, or with a password", "CSV, or XLSX without a password")
    if data.startswith(_ZIP):
        if encoding is not None:
            raise BadInput("--encoding", encoding, "nothing for a workbook")
        book = read_workbook(data, sheet)
        return TableFile(book.data, book.form, book, data)
    if sheet is not None:
        raise BadInput("--sheet", sheet, "nothing for a CSV file")
    try:
        form = TextForm(encoding=encoding or encoding_of(data))
    except BadInput as error:
        raise BadInput("--encoding", encoding, error.allowed) from None
    lines = data.count(b"\n")
    if lines > MOST_ROWS + 1_000:
        raise BadInput("FILE", f"{lines:,} lines", f"at most {MOST_ROWS:,} rows; part the file")
    return TableFile(data, TextForm(encoding=form.encoding, delimiter=delimiter_of(head_of(data, form.encoding))))
