"""The record inside a report: put in when it is set, taken out to verify it."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.ledger.entry import is_sha256

from .book import ReportSheets

MANIFEST = "digests.json"
_ALLOWED = "a report that holds its record: a PDF with a job file (.jsonl) and digests.json attached"


class Attached(msgspec.Struct, frozen=True):
    """What lies inside a report.

    Attributes
    ----------
    job_file : bytes
        The job file as its bytes came.
    manifest : dict
        As of when, heads, and the digest of every sheet printed.
    beside : dict of str to bytes
        Readings, cards and files that the sheets were made from, by SHA-256. Photos are printed, not attached.
    """

    job_file: bytes
    manifest: dict[str, Any]
    beside: dict[str, bytes]


def manifest(sheets: ReportSheets, program: str, here: Iterable[str]) -> dict[str, Any]:
    """As of when, by which program, for which heads, what lay beside the record (SHA-256), and the digest of every sheet."""
    return {
        "as_of": sheets.assessment.as_of,
        "beside": sorted(here),
        "format": 1,
        "heads": sheets.assessment.heads,
        "job": sheets.job.job,
        "program": program,
        "sheets": sheets.digests(),
    }


def file_name(job: str) -> str:
    """Name of the job file inside the report."""
    return (re.sub(r"[^A-Za-z0-9._-]+", "-", job).strip("-.")[:60] or "job") + ".jsonl"


def read_attached(pdf: bytes) -> Attached:
    """Take the record out of a report.

    Parameters
    ----------
    pdf : bytes
        First volume of a report.

    Raises
    ------
    BadInput
        If the bytes are no PDF, or it holds no record.
    """
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        reader = PdfReader(io.BytesIO(pdf))
        found = {name: data for name, items in reader.attachments.items() for data in items[:1]}
    except (PyPdfError, OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise BadInput("report", f"{len(pdf)} bytes", _ALLOWED) from error
    jobs = [name for name in found if name.endswith(".jsonl")]
    if len(jobs) != 1 or MANIFEST not in found:
        raise BadInput("report", ", ".join(sorted(found)) or "nothing attached", _ALLOWED)
    try:
        said = msgspec.json.decode(found[MANIFEST], type=dict[str, Any])
    except (msgspec.MsgspecError, UnicodeError) as error:
        raise BadInput(f"report, {MANIFEST}", found[MANIFEST][:80], "a JSON object") from error
    return Attached(found[jobs[0]], said, {str(name): data for name, data in found.items() if is_sha256(str(name))})
