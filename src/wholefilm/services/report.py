"""The test report of a job as PDF files, with the record inside the first."""

from __future__ import annotations

from pathlib import Path

from wholefilm import __version__
from wholefilm.base.errors import BadInput
from wholefilm.base.times import utc_ms
from wholefilm.ledger.files import write_whole
from wholefilm.ledger.jobfile import write_jobfile
from wholefilm.report.book import report_sheets
from wholefilm.report.pdf import make_pdf

from .view import View


def report_bytes(view: View) -> list[bytes]:
    """The volumes of a report: the same bytes for the same record.

    Parameters
    ----------
    view : View

    Returns
    -------
    list of bytes
        At least one PDF.
    """
    job = view.job
    photos: dict[str, bytes] = {}
    beside: dict[str, bytes] = {}
    for entry in view.entries:
        for sha in entry.blobs:
            content = view.found.blobs.get(sha)
            if content is not None:
                (photos if entry.kind == "photo.taken" else beside)[sha] = content
    last = utc_ms(view.as_of or job.last_at) if (view.as_of or job.last_at) else 0
    return make_pdf(
        report_sheets(view.standing, view.as_of),
        write_jobfile(view.entries, view.found.aside),
        photos,
        beside=beside,
        last_at_ms=last,
        program=f"wholefilm {__version__}",
    )


def write_report(view: View, path: Path) -> list[Path]:
    """Write FILE.pdf, and FILE-2.pdf and so on where one volume does not hold all.

    Raises
    ------
    BadInput
        If the name does not end in .pdf.
    NotStored
        If the disk refuses.
    """
    if path.suffix != ".pdf":
        raise BadInput("-o", str(path), "a name that ends in .pdf")
    written = []
    for n, content in enumerate(report_bytes(view), start=1):
        target = path if n == 1 else path.with_name(f"{path.stem}-{n}.pdf")
        write_whole(target, content)
        written.append(target)
    return written
