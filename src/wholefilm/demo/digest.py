"""What a person of the story signs: the assessment sheet as it stood when they signed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wholefilm.job.fold import fold
from wholefilm.ledger.blobs import MemoryBlobs
from wholefilm.ledger.entry import Entry
from wholefilm.proof.assessment import assess
from wholefilm.sheets.assessment import assessment_sheet, digest


def digest_of(entries: Sequence[Entry], blobs: Mapping[str, bytes]) -> str:
    """Digest of the assessment sheet of some entries.

    Parameters
    ----------
    entries : sequence of Entry
        What the stated heads cover.
    blobs : mapping of str to bytes
        SHA-256 -> bytes.

    Returns
    -------
    str
        SHA-256, lower-case hex.
    """
    view = MemoryBlobs()
    for content in blobs.values():
        view.put(content)
    return digest(assessment_sheet(assess(fold(entries, view))))
