"""A report of the demo job, made once for the tests; run as a program it prints the SHA-256 of the volumes that it makes."""

from __future__ import annotations

import functools
import hashlib
import io
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import pdfplumber
from pypdf import PdfReader

from wholefilm.demo import north_basin
from wholefilm.job.fold import fold
from wholefilm.ledger.entry import Entry
from wholefilm.ledger.jobfile import write_jobfile
from wholefilm.proof.assessment import assess
from wholefilm.report.book import ReportSheets, report_sheets
from wholefilm.report.pdf import make_pdf

PROGRAM = "wholefilm test"
# The last entry of the demo job is of 2025-06-17T10:05:00+02:00; typed by hand from its signature.
LAST_MS = 1_750_147_500_000


class Beside:
    """Blobs of a job, in memory."""

    def __init__(self, blobs: Mapping[str, bytes]) -> None:
        self.blobs = blobs

    def has(self, sha: str) -> bool:
        return sha in self.blobs

    def get(self, sha: str) -> bytes | None:
        return self.blobs.get(sha)


def sheets_of(entries: Sequence[Entry], blobs: Mapping[str, bytes]) -> ReportSheets:
    return report_sheets(assess(fold(list(entries), Beside(blobs))))


def demo_report() -> tuple[ReportSheets, bytes, Mapping[str, bytes], list[bytes]]:
    """Sheets, job file, blobs and volumes of the demo job."""
    demo = north_basin.build()
    sheets, job_file = sheets_of(demo.entries, demo.blobs), write_jobfile(demo.entries)
    return sheets, job_file, demo.blobs, make_pdf(sheets, job_file, demo.blobs, last_at_ms=LAST_MS, program=PROGRAM)


def text_of(pdf: bytes) -> str:
    """All words of a PDF, with single spaces; the signs without width that the engine sets between two scripts left out."""
    text = " ".join(page.extract_text() for page in reader(pdf).pages)
    return " ".join(text.replace("\u2060", "").replace("\u200b", "").split())


def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


class Page(NamedTuple):
    """A page as a reader of letters sees it; sizes in points."""

    width: float
    height: float
    chars: list[dict[str, Any]]
    lines: list[str]
    drawn: bool


@functools.lru_cache(maxsize=2)
def pages_of(pdf: bytes) -> list[Page]:
    """Every page with its letters and lines."""
    with pdfplumber.open(io.BytesIO(pdf)) as book:
        return [Page(p.width, p.height, p.chars, (p.extract_text() or "").splitlines(), bool(p.images or p.curves)) for p in book.pages]


if __name__ == "__main__":
    print(*(hashlib.sha256(volume).hexdigest() for volume in demo_report()[3]))
