"""Tables of text: bytes to rows of cells with their line numbers, in bounded memory.

Nothing is guessed here but what a mark at the start of the bytes says. How a file is written is a `TextForm`; who loads a file
finds it out once and keeps it with the file, so that the same bytes give the same rows for ever.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator, Sequence
from itertools import chain

import msgspec

from .errors import BadInput

ENCODINGS = (
    "utf-8", "utf-16", "cp1250", "cp1251", "cp1252", "cp1253", "cp1254", "cp1257", "iso-8859-1", "iso-8859-15", "cp932", "gb18030",
)  # fmt: skip
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab"}
DECIMALS = {".": "point", ",": "comma"}
LONGEST_CELL = 1_000
"""Characters of a cell; more is no reading and no note."""
LONGEST_LINE = 1 << 20
_CHUNK = 1 << 18


class TextForm(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """How a table of text is written.

    Attributes
    ----------
    encoding : str
        One of `ENCODINGS`. A byte order mark is passed over.
    delimiter : str
        One of `DELIMITERS`.
    decimal : str
        One of `DECIMALS`, or empty where both are taken.
    sheet : str
        Name of the sheet of a workbook that the table was made from, else empty.
    """

    encoding: str = "utf-8"
    delimiter: str = ","
    decimal: str = ""
    sheet: str = ""

    def __post_init__(self) -> None:
        for field, value, allowed in (
            ("encoding", self.encoding, ENCODINGS),
            ("delimiter", self.delimiter, tuple(DELIMITERS)),
            ("decimal", self.decimal, ("", *DECIMALS)),
        ):
            if value not in allowed:
                raise BadInput(field, value, "one of " + ", ".join(repr(a) if field != "encoding" else a for a in allowed))


class Chunk:
    """Some rows of a table.

    Parameters
    ----------
    before : int
        Lines of the file before this chunk.
    delimiter : str
    text : str
        Whole lines without a quote, each ended by LF; or empty, and `rows` with the line on which each ends.
    """

    __slots__ = ("_delimiter", "_rows", "_text", "numbers")

    def __init__(self, before: int, delimiter: str, text: str = "", rows: Sequence[tuple[int, list[str]]] = ()) -> None:
        self._text, self._delimiter = text, delimiter
        self._rows = [row for _, row in rows]
        self.numbers: Sequence[int] = range(before + 1, before + 1 + text.count("\n")) if text else [n for n, _ in rows]

    def rows(self) -> list[list[str]]:
        """Cells row by row, an empty list for an empty line.

        Raises
        ------
        BadInput
            If a line is no CSV.
        """
        if self._text and not self._rows:
            reader = csv.reader(self._text.split("\n")[:-1], delimiter=self._delimiter)
            try:
                self._rows = list(reader)
            except csv.Error as error:
                raise _not_csv(self.numbers[0] + reader.line_num - 1, error) from error
        return self._rows

    def columns(self, width: int, wanted: Sequence[int]) -> list[list[str]] | None:
        """Some columns, if each row has `width` cells and none is near too long; None if that is not plain to see.

        The cells of the last column keep their line end, which counts as a blank.

        Parameters
        ----------
        width : int
        wanted : sequence of int, shape (m,)

        Returns
        -------
        list of list of str, shape (m, n)
        """
        text, mark, half = self._text, self._delimiter, LONGEST_CELL // 2
        if not text or (width == 1 and (text[0] == "\n" or "\n\n" in text)):
            return None
        if any(mark not in (part := text[at : at + half]) and "\n" not in part for at in range(0, len(text), half)):
            return None
        cells, rows = text.replace("\n", "\n" + mark).split(mark), len(self.numbers)
        # each line end is the end of a cell, and one empty cell is left; if the last of every `width` cells have all ends, rows are whole
        if len(cells) != rows * width + 1 or "".join(cells[width - 1 :: width]).count("\n") != rows:
            return None
        cells.pop()
        return [cells[at::width] for at in wanted]


def encoding_of(data: bytes) -> str:
    """``utf-16`` where its byte order mark stands in front, else ``utf-8``."""
    return "utf-16" if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) else "utf-8"


def delimiter_of(head: str) -> str:
    """The delimiter that a header line has most of, outside quotes; a comma where it has none."""
    bare = "".join(head.split('"')[::2])
    return max(DELIMITERS, key=bare.count)


def head_of(data: bytes, encoding: str) -> str:
    """The first line that is not blank, empty if there is none."""
    for text in _texts(data, encoding):
        for line in text.split("\n"):
            if line.strip(" \t,;\ufeff\xa0"):
                return line
    return ""


def head_cells(data: bytes, form: TextForm) -> list[str]:
    """Cells of the first row that is not blank, without blanks at their ends; empty if there is none.

    Raises
    ------
    BadInput
        As `read_chunks`.
    """
    for chunk in read_chunks(data, form):
        for row in chunk.rows():
            if any(map(str.strip, row)):
                return [cell.strip() for cell in row]
    return []


def read_chunks(data: bytes, form: TextForm) -> Iterator[Chunk]:
    """Rows of a table, about 250,000 characters at a time.

    Parameters
    ----------
    data : bytes
    form : TextForm

    Yields
    ------
    Chunk
        The header is a row like others.

    Raises
    ------
    BadInput
        Naming byte or line: bytes that are no text in this encoding, a NUL, a line over `LONGEST_LINE`, quotes that do not close.
    """
    before = 0
    stream = _texts(data, form.encoding)
    for text in stream:
        _no_nul(text, before)
        if '"' in text:
            rows, taken = _quoted(text, stream, form.delimiter, before)
            yield Chunk(before, form.delimiter, rows=rows)
        else:
            taken = text.count("\n")
            yield Chunk(before, form.delimiter, text)
        before += taken


def _quoted(text: str, stream: Iterator[str], delimiter: str, before: int) -> tuple[list[tuple[int, list[str]]], int]:
    """Rows of lines with quotes, and how many lines they take; a quoted cell may run on into the lines that follow."""
    handed = 0

    def hand() -> Iterator[str]:
        nonlocal handed
        for more in chain([text], stream):
            _no_nul(more, before + handed)
            handed += more.count("\n")
            yield from io.StringIO(more)

    rows = []
    reader = csv.reader(hand(), delimiter=delimiter, strict=True)
    try:
        while reader.line_num == 0 or reader.line_num < handed:
            row = next(reader)
            rows.append((before + reader.line_num, row))
    except csv.Error as error:
        raise _not_csv(before + reader.line_num, error) from error
    return rows, reader.line_num


def _no_nul(text: str, before: int) -> None:
    if "\0" in text:
        line = before + text.count("\n", 0, text.index("\0")) + 1
        raise BadInput(f"line {line}", "a NUL character", "text; UTF-16 needs its byte order mark, or --encoding utf-16")


def _not_csv(line: int, error: csv.Error) -> BadInput:
    return BadInput(f"line {line}", str(error), f"lines of CSV: quotes closed, cells under {LONGEST_CELL} characters")


def _texts(data: bytes, encoding: str) -> Iterator[str]:
    """Whole lines, each ended by LF however the file ends it: the first ones alone up to the header, then many at a time."""
    _no_endless_line(data)
    codec = "utf-8-sig" if encoding == "utf-8" else encoding
    if encoding == "utf-16" and encoding_of(data) != "utf-16":
        codec = "utf-16-le"
    stream = io.TextIOWrapper(io.BytesIO(data), encoding=codec)
    try:
        blank = True
        while text := stream.readline() if blank else stream.read(_CHUNK) + stream.readline():
            blank = blank and not text.strip()
            yield text if text.endswith("\n") else text + "\n"
    except UnicodeDecodeError:
        raise _not_text(data, codec, encoding) from None


def _no_endless_line(data: bytes) -> None:
    at = 0
    while len(data) - at > LONGEST_LINE:
        line_end = max(data.rfind(b"\n", at, at + LONGEST_LINE), data.rfind(b"\r", at, at + LONGEST_LINE))
        if line_end < 0:
            line = data.count(b"\n", 0, at) + 1
            raise BadInput(f"line {line}", "a line without end", f"lines under {LONGEST_LINE:,} bytes")
        at = line_end + 1


def _not_text(data: bytes, codec: str, encoding: str) -> BadInput:
    """The refusal that names the first byte which is no text."""
    decoder = codecs.getincrementaldecoder(codec)()
    at = 0
    for start in range(0, len(data) + 1, _CHUNK):
        block = data[start : start + _CHUNK]
        waiting = len(decoder.getstate()[0])
        try:
            decoder.decode(block, final=start + _CHUNK >= len(data))
        except UnicodeDecodeError as error:
            at = start - waiting + error.start
            break
    line = data.count(b"\n", 0, at) + 1
    says = f"{encoding.upper()} text; on line {line} stands 0x{data[at]:02X}. Name another encoding with --encoding: {', '.join(ENCODINGS)}"
    return BadInput("file", f"byte {at}", says)
