"""Numbers that people say (B17, R-01, Q-02, NCR-01, clause 6.2, a role) to the ids that entries hold."""

from __future__ import annotations

from wholefilm.base.errors import BadInput
from wholefilm.job.facts import Fact, Job
from wholefilm.ledger.entry import is_id

from wholefilm.proof.people import on_card  # isort: skip

BY_FIELD = {
    "indication": "indication.raised",
    "indications": "indication.raised",
    "holidays": "holiday.confirmed",
    "counts_as_one": "holiday.confirmed",
    "repair": "repair.planned",
    "retest": "repair.planned",
    "question": "question.raised",
    "made_holiday": "made_holiday.made",
    "nonconformance": "nonconformance.raised",
    "noted": "requirement.noted",
    "system": "system.set",
    "started": "panel.started",
    "instruction": "instruction.received",
    "exposure_consent": "question.answered",
    "readings": "readings.loaded",
    "climate": "climate.read",
    "permit": "permit.noted",
    "consent": "question.answered",
    "agreed_by": "question.answered",
    "evidence": "question.answered",
}
"""Field of a body to the kind of entry that it names."""

PEOPLE = ("by", "person", "decided_by", "authorised_by", "from")
NUMBERED = ("indication.raised", "repair.planned", "question.raised", "nonconformance.raised", "made_holiday.made")


def person_id(job: Job, said: str, field: str = "--by") -> str:
    """Id of a person said by id, role or name on the card.

    Raises
    ------
    BadInput
        If nobody of the job, or more than one, is meant.
    """
    people = job.people
    if said in people:
        return said
    found = [
        p
        for p, body in people.items()
        if said.lower() in [r.lower() for r in body.roles] or said.lower() == on_card(job, body.card, "name").lower()  # type: ignore[attr-defined]
    ]
    if len(found) == 1:
        return found[0]
    known = "; ".join(" and ".join(job.roles(p)) for p in people) or "nobody yet"
    raise BadInput(field, said, f"one person of the job, by id, role or name: {known}")


def _numbered(job: Job, said: str) -> Fact | None:
    """The entry that bears a number."""
    for kind in NUMBERED:
        for fact in job.all(kind):
            if fact.body.number == said:
                return fact
    return None


def entry_id(job: Job, said: str, field: str) -> str:
    """Id of an entry said by id, number, clause, or ``last:KIND``.

    Parameters
    ----------
    job : Job
    said : str
    field : str
        Name of the body's field; it tells which kind is meant.

    Raises
    ------
    BadInput
        If no entry is meant.
    """
    if is_id(said):
        return said
    if said.startswith("last:"):
        facts = job.all(said.removeprefix("last:"))
        if facts:
            return facts[-1].id
        raise BadInput(field, said, "last: and a kind of which there is an entry")
    kind = BY_FIELD.get(field)
    fact = _numbered(job, said)
    if fact is not None and fact.kind == "question.raised" and field == "instruction":
        kind = "question.answered"
    if fact is not None and kind in ("holiday.confirmed", "question.answered"):
        name = {"holiday.confirmed": "indication", "question.answered": "question"}[kind]
        about = [f for f in job.all(kind) if getattr(f.body, name) == fact.id]
        if not about and fact.kind == "made_holiday.made":
            return fact.id
        if not about:
            raise BadInput(field, said, f"a number with a {kind} entry")
        return about[-1].id
    if fact is not None:
        return fact.id
    if kind == "requirement.noted":
        noted = [f for f in job.all(kind) if said in (f.body.clause, f.body.topic)]
        if len(noted) == 1:
            return noted[0].id
    if kind == "panel.started":
        started = [f for f in job.all(kind) if f.body.panel == said]
        if started:
            return started[-1].id
        names = ", ".join(dict.fromkeys(f.body.panel for f in job.all(kind))) or "none yet"
        raise BadInput(field, said, f"a panel that was started ({names}), the id of a panel.started, or last:panel.started")
    raise BadInput(field, said, "the id of an entry, a number that is in the job (B17, R-01, Q-01, NCR-01), or last:KIND")
