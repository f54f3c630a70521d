"""What a signature, or an assessment made, covers: the sheet as it stood then, made again from the record and compared.

A signature of daily reports covers those; every other one, and an assessment made, covers the assessment sheet.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

import msgspec

from wholefilm.base.errors import WholefilmError
from wholefilm.job.facts import Fact, Job
from wholefilm.job.fold import fold
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.proof.signing import of_a_day
from wholefilm.proof.states import Standing

from .assessment import assessment_sheet, digest
from .day import day_sheet


class Covered(msgspec.Struct, frozen=True):
    """What one signature covers.

    Attributes
    ----------
    same : bool or None
        Whether the sheet made again has the digest stated; None if it cannot be made again.
    since : int
        Entries that the signer had not seen, the signature left out.
    says : str
        The same for a reader, without a full stop.
    """

    same: bool | None
    since: int
    says: str


def signed_digest(standing: Standing, scope: Sequence[str] = ()) -> str:
    """What a signature states of what it signs.

    Parameters
    ----------
    standing : Standing
    scope : sequence of str
        As `signed` has it; empty for an assessment.

    Returns
    -------
    str
        SHA-256, lower-case hex: of the daily report for the scope ``day 2025-06-03``, of the digests of several one after the
        other for several, else of the assessment sheet.

    Raises
    ------
    NotFound
        If nothing happened on such a day.
    """
    if not of_a_day(scope):
        return digest(assessment_sheet(standing))
    days = [day_sheet(standing, part.removeprefix("day ")).digest for part in scope]
    return days[0] if len(days) == 1 else hashlib.sha256("".join(days).encode()).hexdigest()


def covered(job: Job, fact: Fact) -> Covered:
    """What a `signed` or `assessment.made` covers.

    Parameters
    ----------
    job : Job
    fact : Fact
        Of that job.

    Returns
    -------
    Covered
        Never raises for any job that `fold` gave.
    """
    if not fact.heads:
        since = sum(1 for e in job.record if e.ms > fact.ms)
        return Covered(None, since, f"it does not tell what its signer had seen; {_since(since)}")
    seen = [e for e in as_of(job.record, entry_id=fact.id) if e.id != fact.id]
    since = len(job.record) - len(seen) - 1
    scope = fact.body.scope if fact.kind == "signed" else ()
    sheet = "daily report" if of_a_day(scope) else "assessment sheet"
    if fact.id not in job.remade:
        try:
            job.remade[fact.id] = signed_digest(assess(fold(seen, job.blobs)), scope)
        except WholefilmError:
            job.remade[fact.id] = ""
    made = job.remade[fact.id]
    if not made:
        return Covered(None, since, f"the {sheet} of that time cannot be made again; {_since(since)}")
    if made == fact.body.digest:
        return Covered(True, since, f"the {sheet} as it stood then; {_since(since)}")
    why = f"signed with {fact.body.program}; a changed record, another program, or files that are not here can cause this"
    return Covered(False, since, f"another sheet than the {sheet} of that time, made again ({why}); {_since(since)}")


def _since(entries: int) -> str:
    return "1 entry since" if entries == 1 else f"{entries or 'no'} entries since"
