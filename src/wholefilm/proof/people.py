"""People of a job: who is meant by a word, and what qualification is stated."""

from __future__ import annotations

import json
from typing import Any

from wholefilm.job.facts import Job


def person_called(job: Job, said: str) -> str:
    """The person's id meant by an id, a role or the name on a card; the word itself where it is nobody, or more than one."""
    people: dict[str, Any] = dict(job.people)
    if said in people:
        return said
    word = said.strip().lower()
    mine = [
        p for p, body in people.items() if word in [str(r).lower() for r in body.roles] or on_card(job, body.card, "name").lower() == word
    ]
    return mine[0] if len(mine) == 1 else said


def on_card(job: Job, sha: str, field: str) -> str:
    """A field of a person's card; empty if the card is not here or has no such field."""
    data = job.blobs.get(sha)
    if data is None:
        return ""
    try:
        card = json.loads(data)
    except (ValueError, RecursionError):
        return ""
    return str(card.get(field) or "") if isinstance(card, dict) else ""


def qualification(job: Job, person: Any) -> str:
    """A person's qualification as stated, with the certificate on the card where the card is here; empty if nothing is stated."""
    stated, certificate = getattr(person, "qualification", None) or "", on_card(job, person.card, "certificate")
    return ", ".join(p for p in dict.fromkeys((stated, certificate)) if p)
