"""Is a record intact: files, databases, and the record inside a report."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import count_of
from wholefilm.base.times import clock
from wholefilm.job.fold import fold, fold_ordered
from wholefilm.ledger import bundle
from wholefilm.ledger.blobs import Blobs
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.jobfile import examine
from wholefilm.proof.assessment import assess
from wholefilm.sheets.signed import covered

from .find import Found, find_file
from .places import Places
from .sound import Sound

if TYPE_CHECKING:
    from wholefilm.report.attached import Attached


_MOST = 12


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
    data, blobs, strays = bundle.read(path)
    file, breaks = examine(data, blobs)
    places = Places([*file.entries, *file.aside])
    found = Verified(str(path), places.say([*strays, *breaks]), [])
    if found.breaks:
        return found
    if not file.whole:
        found.notes.append("a part of a job: only its own chains were looked at")
    found.notes.append(f"{count_in_words(len(file.entries))} of {count_of(len(file.trailer['heads']), 'device')}")
    if not file.blobs:
        _blobs_beside(path, {sha for e in file.entries for sha in e.blobs if sha != e.body.get("digest")}, found, places)
    if file.whole:
        _signed(find_file(path), found)
    return found


def _blobs_beside(path: Path, wanted: set[str], found: Verified, places: Places) -> None:
    """Photos and files in ``blobs/`` beside a file: those there must hash to their names."""
    folder = path.parent / "blobs"
    if not folder.is_dir():
        return
    beside = Sound(Blobs(folder))
    found.breaks += [places.wrong_bytes(sha) for sha in sorted(wanted) if beside.wrong(sha)]
    found.notes.append(f"{sum(map(beside.has, wanted))} of {len(wanted)} photos, files and cards lie beside it, unchanged")
    withheld = [places.not_here(sha) for sha in sorted(wanted) if not beside.has(sha)]
    found.notes += withheld[:_MOST] + ([f"and {len(withheld) - _MOST} more are not here"] if len(withheld) > _MOST else [])


def _signed(found: Found, verified: Verified) -> None:
    """Remake the assessment sheet as of every signature and stated assessment, and compare digests."""
    job = fold_ordered(found.ordered, found.blobs) if found.ordered else fold(found.entries, found.blobs, found.aside)
    for fact in job.all("signed", "assessment.made"):
        act = f"signature of the {fact.body.role}" if fact.kind == "signed" else "assessment"
        verified.notes.append(f"{act}, {clock(fact.at)}: {covered(job, fact).says} [SHA-256 {fact.body.digest}]")


def verify_stored(found: Found) -> Verified:
    """Verify a job of the database: chains, heads, forks, blobs."""
    places = Places([*found.entries, *found.aside], file=False)
    breaks = places.say(check_chains(found.entries, True, found.aside))
    verified = Verified(found.where, breaks, [f"{count_in_words(len(found.entries))} in the database"])
    named = sorted({s for e in found.entries for s in e.blobs})
    breaks += [places.wrong_bytes(sha) for sha in named if found.blobs.wrong(sha)]
    kinds = ("photo.taken", "file.attached", "readings.loaded", "log.loaded")
    missing = sorted({s for e in found.entries if e.kind in kinds for s in e.blobs if not found.blobs.has(s)})
    verified.notes += [places.not_here(sha) for sha in missing if not found.blobs.wrong(sha)]
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
    file, breaks = examine(attached.job_file, attached.beside)
    said = Places([*file.entries, *file.aside]).say(breaks)
    verified = Verified(str(path), [f"in the record inside: {says}" for says in said], [])
    if breaks:
        return verified
    remade, stated = _sheets_again(attached), attached.manifest.get("sheets")
    if not isinstance(stated, dict):
        verified.breaks.append("the list of digests inside states no sheet [digests.json]")
        return verified
    for name in sorted(set(remade) | set(stated)):
        if remade.get(name) != stated.get(name):
            verified.breaks.append(
                f"the {name} sheet, made again from the record inside, is not the one that the report states "
                f"[made again {remade.get(name, 'none')}, stated {stated.get(name, 'none')}]"
            )
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


def count_in_words(entries: int) -> str:
    """``1 entry``, ``401 entries``."""
    return f"{entries} entr{'y' if entries == 1 else 'ies'}"


def verify_anything(path: Path) -> Verified:
    """Verify a file by its name: a report (.pdf) or a job file (.jsonl, .zip)."""
    return verify_report(path) if path.suffix == ".pdf" else verify_file(path)
