"""A report as PDF: archival (PDF/A-3a), tagged for readers that speak (PDF/UA-1), with the record inside."""

from __future__ import annotations

import io
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import msgspec

from .attached import MANIFEST, Attached, file_name, manifest, read_attached
from .blocks import Block, Heading, Key, MapBlock, Photo, lies
from .book import ReportSheets
from .chapters import chapters
from .cover import cover, title
from .engine import SOURCE, set_volume
from .glyphs import families, legible, legible_all, shortened
from .pictures import small
from .volumes import Limits, by_length, by_photos, halves

__all__ = ["Attached", "Limits", "make_pdf", "read_attached"]
# Room for the title in the head of a page, beside the time and the page number.
RUNNING_MM = 76.0
TEMPLATE = Path(__file__).resolve().parent / SOURCE


def make_pdf(
    sheets: ReportSheets,
    job_file: bytes,
    photos: Mapping[str, bytes],
    *,
    beside: Mapping[str, bytes] | None = None,
    last_at_ms: int,
    program: str,
    limits: Limits | None = None,
) -> list[bytes]:
    """Set a report. The same record gives the same bytes.

    Parameters
    ----------
    sheets : ReportSheets
    job_file : bytes
        The record as a job file; it is attached to the first volume.
    photos : mapping of str to bytes
        Photos by the SHA-256 of their bytes. One that is missing or cannot be read is said to be, with its caption.
    beside : mapping of str to bytes, optional
        Readings, cards and files by SHA-256; attached too, so that the sheets can be made again from the report alone.
    last_at_ms : int
        Time of the last entry, written into the file as its time. [ms UTC]
    program : str
        Name and version of the program.
    limits : Limits, optional
        Most pages and photos of a volume, 150 and 150 if not given.

    Returns
    -------
    list of bytes
        The volumes, in order.

    Raises
    ------
    NotSet
        If the PDF engine refuses, with its words.
    """
    within = limits or Limits()
    common = _common(sheets, program)
    seconds = max(0, last_at_ms // 1000)
    attached = dict(sorted((beside or {}).items()))
    extra = {file_name(sheets.job.job): job_file, MANIFEST: _json(manifest(sheets, program, {*photos, *attached})), **attached}

    def run(blocks: list[Block], number: int, of: int) -> bytes:
        data = {**common, "volume": [number, of], "cover": msgspec.to_builtins(cover(sheets)) if number == 1 else None}
        return _volume(data, blocks, photos, extra if number == 1 else {}, seconds)

    waiting = by_length(by_photos(chapters(sheets, program), within.photos), within.pages)
    done: list[list[Block]] = []
    made: list[tuple[int, bytes]] = []
    while waiting:
        blocks, of = waiting.pop(0), len(done) + len(waiting) + 1
        pdf = run(blocks, len(done) + 1, of)
        cut = halves(blocks) if _pages(pdf) > within.pages else None
        if cut:
            waiting[:0] = cut
            continue
        done.append(blocks)
        made.append((of, pdf))
    # A volume says how many there are; those that were set before the last cut are set again.
    return [pdf if of == len(done) else run(done[n], n + 1, len(done)) for n, (of, pdf) in enumerate(made)]


def _common(sheets: ReportSheets, program: str) -> dict[str, Any]:
    named = legible(title(sheets))
    return {
        "job": named,
        "running": shortened(named, RUNNING_MM, 8.5),
        "as_of": sheets.job.sub.split(" · ")[0],
        "head": sheets.head_digest()[:16],
        "program": program,
        "families": families(),
    }


def _json(value: Any) -> bytes:
    return msgspec.json.encode(value, order="deterministic")


def _pages(pdf: bytes) -> int:
    from pypdf import PdfReader

    return len(PdfReader(io.BytesIO(pdf)).pages)


def _volume(data: dict[str, Any], blocks: list[Block], photos: Mapping[str, bytes], extra: Mapping[str, bytes], seconds: int) -> bytes:
    """One volume: its files laid into a folder of its own, then set."""
    with tempfile.TemporaryDirectory(prefix="wholefilm-") as name:
        folder = Path(name)
        (folder / SOURCE).write_bytes(TEMPLATE.read_bytes())
        placed = [_placed(block, n, folder, photos) for n, block in enumerate(blocks)]
        for n, content in enumerate(extra.values()):
            (folder / f"attached-{n}").write_bytes(content)
        # Cells of tables are made legible with their column, and hold the places where a long word may break.
        data = legible_all({**data, "runs": _runs(blocks, placed)}, done=("cells",)) | {"attached": _attached(list(extra))}
        (folder / "data.json").write_bytes(_json(data))
        return set_volume(folder, seconds)


def _attached(names: list[str]) -> list[dict[str, str]]:
    """How each attached file is described: the record first, then the digests, then what lay beside the record."""
    record = {"relationship": "source", "mime": "application/x-ndjson", "says": "The record that this report was made from"}
    digests = {"relationship": "data", "mime": "application/json", "says": "Heads of the record and SHA-256 of every sheet"}
    beside = {"relationship": "data", "mime": "application/octet-stream", "says": "Lay beside the record; named by its SHA-256"}
    kinds = [record, digests, *[beside] * (len(names) - 2)]
    return [{"name": n, "file": f"attached-{i}", **kind} for i, (n, kind) in enumerate(zip(names, kinds, strict=False))]


def _placed(block: Block, n: int, folder: Path, photos: Mapping[str, bytes]) -> dict[str, Any]:
    """A block as the template reads it; drawings and photos become files beside it."""
    given: dict[str, Any] = msgspec.to_builtins(block)
    if isinstance(block, MapBlock):
        (folder / f"map-{n}.svg").write_text(block.svg, encoding="utf-8")
        given |= {"file": f"map-{n}.svg", "svg": ""}
    elif isinstance(block, Photo):
        raw = photos.get(block.sha)
        picture = small(raw) if raw is not None else None
        given |= {"file": "", "why": "the picture is not here" if raw is None else "the bytes are here and cannot be read as a picture"}
        if picture is not None:
            (folder / f"photo-{n}.jpg").write_bytes(picture)
            given["file"] = f"photo-{n}.jpg"
    return given


def _runs(blocks: list[Block], placed: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Blocks that follow each other on pages of one direction; a heading and the key of the maps go with what follows them."""
    runs: list[dict[str, Any]] = []
    for n, block in enumerate(blocks):
        lying = lies(block)
        if lying is None:
            after = blocks[n + 1 :] if isinstance(block, Heading | Key) or not runs else []
            lying = next((x for x in map(lies, after) if x is not None), runs[-1]["lying"] if runs else False)
        if not runs or runs[-1]["lying"] != lying:
            runs.append({"lying": lying, "blocks": []})
        runs[-1]["blocks"].append(placed[n])
    return runs
