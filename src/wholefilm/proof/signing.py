"""Signatures held against the work: what a signer leaves open, and what counts as a reservation."""

from __future__ import annotations

from collections.abc import Sequence

from wholefilm.base.findings import Assessment
from wholefilm.base.times import clock

from .states import HolidayWord, Line, PanelState, PanelWord, Standing

_NOTHING = ("", "none", "no", "nil", "n/a")
_MOST = 12


def reserved(reservations: Sequence[str]) -> bool:
    """Whether any reservation says something."""
    return any(text.strip(" .-").lower() not in _NOTHING for text in reservations)


def of_a_day(scope: Sequence[str]) -> bool:
    """Whether a signature is for daily reports alone, such as ``day 2025-06-03``: it says nothing of the work as a whole."""
    return bool(scope) and all(part.startswith("day ") for part in scope)


def work_open(standing: Standing, panels: Sequence[PanelState]) -> list[tuple[str, str]]:
    """What is still to be done on some panels: (``tested`` or ``closed``, sentence); empty if nothing is."""
    names = {p.name for p in panels}
    untested = [p.name for p in panels if p.word not in (PanelWord.CHECKED, PanelWord.NOT_IN_SCOPE)]
    unclosed = [h.number for h in standing.holidays if h.panel in names and h.word is not HolidayWord.CLOSED]
    left = [("tested", f"not checked before and after: {', '.join(untested[:_MOST])}")] if untested else []
    return left + ([("closed", f"holidays not closed: {', '.join(unclosed[:_MOST])}")] if unclosed else [])


def signed_in_spite(standing: Standing) -> list[Line]:
    """Signatures without a reservation or on open work, and assessments called `meets`, on a record that does not say so."""
    if standing.assessment is Assessment.MEETS:
        return []
    word = f"the record says: {standing.assessment.value.replace('_', ' ')}"
    signed = [f for f in standing.job.all("signed") if not of_a_day(f.body.scope)]
    made = standing.job.all("assessment.made")
    lines = [
        Line("signed_without_reservations", "Signed without reservations", f"{f.body.role}, {clock(f.at)}; {word}", False, [f.id])
        for f in signed
        if not reserved(f.body.reservations)
    ]
    left = work_open(standing, standing.panels)
    if signed and left:
        lines.append(
            Line("signed_with_work_open", "Signed, and work is open", " · ".join(s for _, s in left), False, [f.id for f in signed])
        )
    otherwise = [f for f in made if f.body.assessment == Assessment.MEETS.value]
    return lines + [Line("assessed_otherwise", "Assessed before as meets", f"{clock(f.at)}; {word}", False, [f.id]) for f in otherwise]
