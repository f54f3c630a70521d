"""Parts of a zipped file, streamed within limits: a file that unpacks to more than it should is refused, not unpacked."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Iterator
from xml.parsers import expat

from wholefilm.base.errors import BadInput

MOST_ENTRIES = 2_000
MOST_UNPACKED = 256 << 20
"""Bytes of all parts together, unpacked."""
MOST_RATIO = 200
_SMALL = 1 << 20
_BLOCK = 1 << 16
_LONGEST_TOKEN = 1 << 20
_MOST_DIRECTORY = 1 << 20
_END, _END_SIZE = b"PK\x05\x06", 22


class Zipped:
    """The parts of a zipped file.

    Parameters
    ----------
    data : bytes
    what : str
        What the file should be, for messages.

    Raises
    ------
    BadInput
        If it is no zip file, or its list of parts goes over a limit; nothing is unpacked then.
    """

    def __init__(self, data: bytes, what: str = "an XLSX workbook") -> None:
        self._what = what
        self._left = MOST_UNPACKED
        self._check_directory(data)
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(data))
        except (zipfile.BadZipFile, ValueError, NotImplementedError, struct.error, UnicodeDecodeError) as error:
            raise BadInput("file", str(error), f"{what} that is whole") from error
        parts = self._zip.infolist()
        if len(parts) > MOST_ENTRIES:
            raise BadInput("file", f"{len(parts):,} parts", f"{what} of at most {MOST_ENTRIES:,} parts")
        total = sum(p.file_size for p in parts)
        if total > MOST_UNPACKED:
            raise BadInput("file", f"{total:,} bytes unpacked", f"{what} of at most {MOST_UNPACKED:,} bytes unpacked")
        for p in parts:
            if p.flag_bits & 1:
                raise BadInput("file", p.filename, f"{what} without a password")
            if p.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
                raise BadInput("file", f"{p.filename}: packed by method {p.compress_type}", f"{what} packed by deflate")
            if p.file_size > _SMALL and p.file_size > MOST_RATIO * p.compress_size:
                says = f"{p.filename}: {p.compress_size:,} bytes that unpack to {p.file_size:,}"
                raise BadInput("file", says, f"{what} whose parts unpack to at most {MOST_RATIO} times their size")
        self._parts = {p.filename: p for p in parts}

    def _check_directory(self, data: bytes) -> None:
        at = data.rfind(_END, max(0, len(data) - _END_SIZE - 0xFFFF))
        if at < 0 or len(data) - at < _END_SIZE:
            raise BadInput("file", "no list of parts at its end", f"{self._what} that is whole")
        entries, size = struct.unpack_from("<HL", data, at + 10)
        if size > _MOST_DIRECTORY or entries > MOST_ENTRIES:
            raise BadInput("file", f"a list of {entries:,} parts in {size:,} bytes", f"{self._what} of at most {MOST_ENTRIES:,} parts")

    def __contains__(self, name: str) -> bool:
        return name in self._parts

    def blocks(self, name: str) -> Iterator[bytes]:
        """The bytes of a part, block by block; what comes out is counted, whatever the list of parts says.

        Raises
        ------
        BadInput
            If there is no such part, it is damaged, or the limit of all parts together is reached.
        """
        if name not in self._parts:
            raise BadInput("file", f"no part {name}", self._what)
        try:
            with self._zip.open(self._parts[name]) as part:
                while block := part.read(_BLOCK):
                    self._left -= len(block)
                    if self._left < 0:
                        raise BadInput("file", name, f"{self._what} of at most {MOST_UNPACKED:,} bytes unpacked")
                    yield block
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, struct.error) as error:
            raise BadInput("file", f"{name}: {error}", f"{self._what} that is whole") from error

    def parse(self, name: str, parser: expat.XMLParserType) -> None:
        """Feed a part to an XML parser.

        Raises
        ------
        BadInput
            As `blocks`; if it is no XML, has a document type, or a token without end.
        """

        def no_doctype(*_: object) -> None:
            raise BadInput("file", f"{name}: a document type", f"{self._what}, which has none")

        parser.StartDoctypeDeclHandler = no_doctype
        parser.buffer_text = True
        fed = 0
        try:
            for block in self.blocks(name):
                parser.Parse(block, False)
                fed += len(block)
                if fed - parser.CurrentByteIndex > _LONGEST_TOKEN:
                    raise BadInput("file", f"{name}: a token over {_LONGEST_TOKEN:,} bytes", self._what)
            parser.Parse(b"", True)
        except expat.ExpatError as error:
            raise BadInput("file", f"{name}: {error}", f"{self._what} that is whole") from error
