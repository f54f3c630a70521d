"""The file around the lines: ``.jsonl`` as it is, or a ``.zip`` with the photos and files."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Mapping
from pathlib import Path

from wholefilm.base.errors import BadInput

from .chain import Break
from .entry import is_sha256
from .files import write_whole

LINES = "job.jsonl"
LARGEST = 2 << 30  # bytes of all members unpacked; a larger archive is refused before it fills the memory
_UNPACK_ERRORS = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError, ValueError)


def read(path: Path) -> tuple[bytes, dict[str, bytes], list[Break]]:
    """Lines, blobs, and what in the archive cannot be read or does not belong there.

    Raises
    ------
    BadInput
        If the name ends in neither ``.jsonl`` nor ``.zip``, or there is no such file or it may not be read.
    """
    suffix = _suffix(path)
    try:
        content = path.read_bytes()
    except OSError as error:
        raise BadInput("file", path, f"a file that can be read ({error.strerror})") from error
    return unpack(content) if suffix == ".zip" else (content, {}, [])


def unpack(content: bytes) -> tuple[bytes, dict[str, bytes], list[Break]]:
    """The same for the bytes of a ``.zip``. Never raises on damaged bytes."""
    lines, blobs, breaks = b"", {}, []
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            members = archive.infolist()
            if sum(member.file_size for member in members) > LARGEST:
                return b"", {}, [Break("archive", f"is larger than {LARGEST} bytes unpacked")]
            names = [member.filename for member in members]
            breaks += [Break(name, "stands twice in the archive") for name in sorted({n for n in names if names.count(n) > 1})]
            for member in members:
                sha = member.filename.removeprefix("blobs/")
                if member.filename != LINES and not (member.filename.startswith("blobs/") and is_sha256(sha)):
                    breaks.append(Break(ascii(member.filename), f"does not belong here: only {LINES} and blobs/<sha256> do"))
                    continue
                try:
                    unpacked = archive.read(member)
                except _UNPACK_ERRORS as error:
                    breaks.append(Break(member.filename, f"cannot be unpacked: {error}"))
                    continue
                if member.filename == LINES:
                    lines = unpacked
                else:
                    blobs[sha] = unpacked
            if LINES not in names:
                breaks.append(Break(LINES, "is not in the archive"))
    except _UNPACK_ERRORS as error:
        breaks.append(Break("archive", f"cannot be opened: {error}"))
    return lines, blobs, breaks


def pack(lines: bytes, blobs: Mapping[str, bytes]) -> bytes:
    """Bytes of a ``.zip``; the same for the same content."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in [(LINES, lines), *((f"blobs/{sha}", blobs[sha]) for sha in sorted(blobs))]:
            member = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            member.compress_type = zipfile.ZIP_DEFLATED if name == LINES else zipfile.ZIP_STORED
            member.create_system = 3
            archive.writestr(member, content)
    return buffer.getvalue()


def write(path: Path, lines: bytes, blobs: Mapping[str, bytes]) -> None:
    """Write the file whole, or not at all.

    Raises
    ------
    BadInput
        If the name ends in neither ``.jsonl`` nor ``.zip``, or blobs are given for a ``.jsonl``.
    NotStored
        If the disk refuses.
    """
    if _suffix(path) == ".zip":
        write_whole(path, pack(lines, blobs))
    elif blobs:
        raise BadInput("file", path, "a name that ends in .zip, because photos or files go with it")
    else:
        write_whole(path, lines)


def _suffix(path: Path) -> str:
    suffix = path.suffix.lower()
    if suffix not in (".jsonl", ".zip"):
        raise BadInput("file", path, "a name that ends in .jsonl or .zip")
    return suffix
