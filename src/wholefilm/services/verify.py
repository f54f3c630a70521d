"""Is a record intact: files, databases, and the record inside a report."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from wholefilm.base.errors import BadInput, WholefilmError
from wholefilm.base.times import clock
from wholefilm.job.fold import fold, fold_ordered
from wholefilm.ledger.blobs import Blobs
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.jobfile import examine, read_path, verify, verify_path
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.sheets.assessment import assessment_sheet, digest

from .find import Found, find_file
from .sound import WRONG, Sound

if TYPE_CHECKING:
    from wholefilm.report.attached import Attached


class Verified(msgspec.Struct):
    """What was looked at, what is broken, and what a reader should know beside."""

    what: str
    breaks: list[str]
    notes: list[str]

    @property
    def intact(self) -> bool:
        """Whether nothing is broken."""
        return not self.breaks


def verify_file(path: Path) -> Verified:
    """Verify a job file: bytes, chains, order, heads ever stated, blobs beside it, signed digests.

    Raises
    ------
    BadInput
        Only if there is no such file or it may not be read.
    """
    breaks = [str(b) for b in verify_path(path)]
    found = Verified(str(path), breaks, [])
    if breaks:
        return found
    file = read_path(path)
    if not file.whole:
        found.notes.append("a part of a job: only its own chains were looked at")
    devices = len(file.trailer["heads"])
    found.notes.append(f"{len(file.entries)} entries of {devices} device{'' if devices == 1 else 's'}")
    if not file.blobs:
        _blobs_beside(path, {sha for e in file.entries for sha in e.blobs}, found)
    if file.whole:
        _signed(find_file(path), found)
    return found


def _blobs_beside(path: Path, wanted: set[str], found: Verified) -> None:
    """Photos and files in ``blobs/`` beside a file: those there must hash to their names."""
    folder = path.parent / "blobs"
    if not folder.is_dir():
        return
    beside = Sound(Blobs(folder))
    found.breaks += [WRONG.format(sha) for sha in sorted(wanted) if beside.wrong(sha)]
    found.notes.append(f"{sum(map(beside.has, wanted))} of {len(wanted)} photos, files and cards lie beside it, unchanged")


def _signed(found: Found, verified: Verified) -> None:
    """Remake the assessment sheet as of every signature and stated assessment, and compare digests."""
    for entry in found.entries:
        if entry.kind not in ("signed", "assessment.made") or not entry.heads:
            continue
        try:
            seen = [e for e in as_of(found.entries, entry_id=entry.id) if e.id != entry.id]
            remade = digest(assessment_sheet(assess(fold(seen, found.blobs))))
        except WholefilmError as error:
            verified.notes.append(f"{entry.kind} of {clock(entry.at)}: its sheet could not be made again: {error}")
            continue
        if remade == entry.body.get("digest"):
            since = len(found.entries) - len(seen) - 1
            verified.notes.append(f"{entry.kind} of {clock(entry.at)}: the sheet made again has the digest stated; {since} entries since")
        else:
            verified.notes.append(
                f"{entry.kind} of {clock(entry.at)}: the sheet made again differs from the digest stated "
                f"(program {entry.body.get('program', 'not named')}); a later program, or bytes that are not here, can cause this"
            )


def verify_stored(found: Found) -> Verified:
    """Verify a job of the database: chains, heads, forks, blobs."""
    breaks = [str(b) for b in check_chains(found.entries, True, found.aside)]
    verified = Verified(found.where, breaks, [f"{len(found.entries)} entries in the database"])
    named = sorted({s for e in found.entries for s in e.blobs})
    breaks += [WRONG.format(sha) for sha in named if found.blobs.wrong(sha)]
    kinds = ("photo.taken", "file.attached", "readings.loaded", "log.loaded")
    missing = sorted({s for e in found.entries if e.kind in kinds for s in e.blobs if not found.blobs.has(s)})
    verified.notes += [f"a photo or file is not here: {sha}" for sha in missing if not found.blobs.wrong(sha)]
    if not breaks:
        _signed(found, verified)
    return verified


def verify_report(path: Path) -> Verified:
    """Verify a report: the record inside is intact, and every sheet made again from it has the digest that the report states.

    It does not prove the drawn page.

    Raises
    ------
    BadInput
        If there is no such file, or it holds no record.
    """
    from wholefilm.report.attached import read_attached

    try:
        content = path.read_bytes()
    except OSError as error:
        raise BadInput("FILE", str(path), f"a file that can be read ({error.strerror})") from error
    attached = read_attached(content)
    breaks = [f"record inside, {b}" for b in verify(attached.job_file, attached.beside)]
    verified = Verified(str(path), breaks, [])
    if breaks:
        return verified
    remade, stated = _sheets_again(attached), attached.manifest.get("sheets")
    if not isinstance(stated, dict):
        verified.breaks.append("digests.json inside: it states no digests of sheets")
        return verified
    for name in sorted(set(remade) | set(stated)):
        if remade.get(name) != stated.get(name):
            verified.breaks.append(f"sheet {name}: made again from the record inside, it has another digest than the report states")
    verified.notes.append(f"{len(stated)} sheets made again from the record inside")
    verified.notes.append("this does not prove the drawn page: compare what you read with a report made anew from the record inside")
    return verified


class _Inside:
    """What lay beside a record when its report was set: attached, or stated as there and printed."""

    def __init__(self, attached: Attached) -> None:
        self._bytes = attached.beside
        self._here = {*attached.beside, *map(str, attached.manifest.get("beside", ()))}

    def has(self, sha: str) -> bool:
        """Whether it lay beside the record."""
        return sha in self._here

    def get(self, sha: str) -> bytes | None:
        """The bytes, if they are attached."""
        return self._bytes.get(sha)


def _sheets_again(attached: Attached) -> dict[str, str]:
    """Digest of every sheet, made again from the record inside. Name -> SHA-256."""
    from wholefilm.report.book import report_sheets

    found, _ = examine(attached.job_file)
    standing = assess(fold_ordered(found.ordered, _Inside(attached)))
    return report_sheets(standing, str(attached.manifest.get("as_of", ""))).digests()


def verify_anything(path: Path) -> Verified:
    """Verify a file by its name: a report (.pdf) or a job file (.jsonl, .zip)."""
    return verify_report(path) if path.suffix == ".pdf" else verify_file(path)
