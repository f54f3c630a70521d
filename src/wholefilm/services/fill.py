"""What the program puts into a body by itself: ids, wall numbers, numbers of papers, cards."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Sequence
from typing import Any

from wholefilm import __version__
from wholefilm.base.errors import BadInput
from wholefilm.job.facts import Job
from wholefilm.ledger.entry import Entry
from wholefilm.proof.assessment import assess
from wholefilm.proof.signing import of_a_day
from wholefilm.sheets.signed import signed_digest

from .now import new_id
from .refs import entry_id


def fill(job: Job, entries: Sequence[Entry], kind: str, given: dict[str, Any], device: str) -> bytes | None:
    """Put into a body what the program knows better than a typist: ids, the next number, the hash of a card.

    Parameters
    ----------
    job : Job
    entries : sequence of Entry
        Every entry of the job, those withdrawn too: a number is never given again.
    kind : str
    given : dict
        The body as typed so far; changed in place.
    device : str

    Returns
    -------
    bytes or None
        The card that will lie beside the ledger.
    """
    own_card = None
    if kind == "device.joined":
        given.setdefault("device", device)
    if kind == "person.joined":
        given.setdefault("person", new_id())
    if isinstance(given.get("card"), dict):
        own_card = card(given["card"])
        given["card"] = hashlib.sha256(own_card).hexdigest()
    if kind in ("indication.raised", "made_holiday.made") and "number" not in given and device in job.devices:
        given["number"] = next_number(job, entries, device)
    prefix = {"repair.planned": "R", "question.raised": "Q", "nonconformance.raised": "NCR"}.get(kind)
    if prefix and "number" not in given:
        given["number"] = next_paper(entries, kind, prefix)
    if kind in ("signed", "assessment.made"):
        _as_it_stands(job, kind, given)
    if kind == "entry.corrected" and "of" in given and "over" not in given:
        given["of"] = entry_id(job, str(given["of"]), "of")
        fact = job.by_id.get(given["of"])
        given["over"] = fact.corrected_by[-1] if fact is not None and fact.corrected_by else given["of"]
    return own_card


def card(fields: dict[str, Any]) -> bytes:
    """A card that lies beside the ledger: name, certificate, contact, and salt so that its hash tells nothing."""
    unknown = [k for k in fields if k not in ("name", "certificate", "contact")]
    if unknown:
        raise BadInput(f"card.{unknown[0]}", fields[unknown[0]], "card.name, card.certificate or card.contact")
    return json.dumps({**fields, "salt": os.urandom(16).hex()}, sort_keys=True, ensure_ascii=False).encode()


def next_number(job: Job, entries: Sequence[Entry], device: str) -> str:
    """Next wall number of a device: its letter and a counter that never goes back."""
    letter = job.devices[device]
    return f"{letter}{_highest(wall_numbers(entries), letter) + 1}"


def _as_it_stands(job: Job, kind: str, given: dict[str, Any]) -> None:
    """What a signature and an assessment state of the sheet is worked out, never typed.

    Raises
    ------
    BadInput
        If something else was typed.
    """
    standing = assess(job)
    scope = given.get("scope") if kind == "signed" else None
    parts = [str(part) for part in (scope if isinstance(scope, list) else [scope or ""])]
    sheet = "daily report" if of_a_day(parts) else "assessment sheet"
    stated = {"digest": signed_digest(standing, parts), "program": f"wholefilm {__version__}"}
    if kind == "assessment.made":
        stated["assessment"] = standing.assessment.value
    for name, right in stated.items():
        if given.setdefault(name, right) != right:
            raise BadInput(name, given[name], f"{right}, as the {sheet} stands now; leave it out and it is filled in")


def next_paper(entries: Sequence[Entry], kind: str, prefix: str) -> str:
    """Next number of a repair, question or non-conformance: ``R-01``."""
    return f"{prefix}-{_highest(numbers_of(entries, kind), f'{prefix}-') + 1:02d}"


def numbers_of(entries: Sequence[Entry], *kinds: str) -> list[str]:
    """Every number that entries of some kinds ever bore, those withdrawn too."""
    bodies = [b for e in entries if e.kind in kinds for b in (e.body, *(e.body.get("found") or ()))]
    return [str(b["number"]) for b in bodies if isinstance(b, dict) and "number" in b]


def wall_numbers(entries: Sequence[Entry]) -> list[str]:
    """Numbers of indications, made holidays and burns."""
    return numbers_of(entries, "indication.raised", "made_holiday.made", "burn.inspected")


def _highest(numbers: list[str], before: str) -> int:
    return max((int(n[len(before) :]) for n in numbers if n.startswith(before) and n[len(before) :].isdigit()), default=0)
