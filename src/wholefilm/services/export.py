"""Write a job as a job file: whole, or not at all."""

from __future__ import annotations

from pathlib import Path

from wholefilm.base.errors import BadInput
from wholefilm.ledger.jobfile import write_path

from .find import Found


def export(found: Found, path: Path) -> int:
    """Write a found job to ``.jsonl`` (entries alone) or ``.zip`` (with photos and files).

    Returns
    -------
    int
        Entries written.

    Raises
    ------
    BadInput
        If the name ends otherwise.
    """
    blobs: dict[str, bytes] | None = None
    if path.suffix == ".zip":
        blobs = {}
        for sha in sorted({s for e in found.entries for s in e.blobs}):
            content = found.blobs.get(sha)
            if content is not None:
                blobs[sha] = content
    elif path.suffix != ".jsonl":
        raise BadInput("-o", str(path), "a name that ends in .jsonl, or in .zip to hold photos and files too")
    write_path(path, found.entries, blobs, found.aside)
    return len(found.entries) + len(found.aside)
