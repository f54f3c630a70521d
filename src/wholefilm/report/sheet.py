"""One page to print, for a wall, a meeting or a letter: title, lines, tables and room to sign. PDF/A-3a and PDF/UA-1 like the report."""

from __future__ import annotations

import io
import tempfile
from pathlib import Path
from typing import Any

import msgspec

from .engine import SOURCE, set_volume
from .glyphs import families, legible_all

TEMPLATE = Path(__file__).resolve().parent / "sheet.typ"
SIZES = (9.5, 9.0, 8.5, 8.0, 7.5, 7.0)
"""Sizes of type that are tried until the sheet stands on one page; the last is taken all the same. [pt]"""


class Column(msgspec.Struct, frozen=True):
    """A column: heading, share of the width, whether it holds numbers."""

    title: str
    width: float
    number: bool = False


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """A part of the sheet: heading, paragraphs, a table, a list, lines to write on."""

    heading: str = ""
    paras: list[str] = []
    columns: list[Column] = []
    rows: list[list[str]] = []
    bullets: list[str] = []
    to_fill: list[str] = []


class PrintSheet(msgspec.Struct, frozen=True):
    """A sheet.

    Attributes
    ----------
    title, sub : str
    parts : list of Part
    foot : str
        Small, at the end of every page.
    """

    title: str
    sub: str
    parts: list[Part]
    foot: str


def make_sheet(sheet: PrintSheet, *, at_ms: int) -> bytes:
    """Set a sheet. The same sheet gives the same bytes.

    Parameters
    ----------
    sheet : PrintSheet
    at_ms : int
        Time written into the file. [ms UTC]

    Returns
    -------
    bytes
        A PDF of one page where the smallest type allows it.

    Raises
    ------
    NotSet
        If the PDF engine refuses, with its words.
    """
    pdf = b""
    for size in SIZES:
        pdf = _set(msgspec.to_builtins(sheet) | {"size": size, "families": families()}, max(0, at_ms // 1000))
        if _pages(pdf) == 1:
            break
    return pdf


def _set(data: dict[str, Any], seconds: int) -> bytes:
    with tempfile.TemporaryDirectory(prefix="wholefilm-") as name:
        folder = Path(name)
        (folder / SOURCE).write_bytes(TEMPLATE.read_bytes())
        (folder / "data.json").write_bytes(msgspec.json.encode(legible_all(data), order="deterministic"))
        return set_volume(folder, seconds)


def _pages(pdf: bytes) -> int:
    from pypdf import PdfReader

    return len(PdfReader(io.BytesIO(pdf)).pages)
