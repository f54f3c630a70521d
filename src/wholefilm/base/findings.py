"""What every rule returns: met, not met or cannot tell, and because of what."""

from __future__ import annotations

import enum

import msgspec

from .sources import Source


class Outcome(enum.StrEnum):
    """The three words of a finding."""

    MET = "met"
    NOT_MET = "not_met"
    CANNOT_TELL = "cannot_tell"


class Assessment(enum.StrEnum):
    """The three words of an assessment."""

    MEETS = "meets"
    DOES_NOT_MEET = "does_not_meet"
    CANNOT_TELL = "cannot_tell"


class Finding(msgspec.Struct, frozen=True):
    """One rule held against one thing.

    Attributes
    ----------
    about : str
        Test area, panel, holiday, repair or topic.
    rule : Source
        Document, edition, clause and grade of the rule.
    value, limit : str
        What was found and what is allowed, with units, as printed.
    finding : Outcome
    because : str
        One sentence that a reader can check.
    inside_uncertainty : bool
        True if the stated uncertainty reaches the limit.
    """

    about: str
    rule: Source
    value: str
    limit: str
    finding: Outcome
    because: str
    inside_uncertainty: bool = False


def worst(outcomes: list[Outcome]) -> Assessment:
    """Assessment of a list of outcomes: any not met, else any cannot tell, else meets."""
    if Outcome.NOT_MET in outcomes:
        return Assessment.DOES_NOT_MEET
    if Outcome.CANNOT_TELL in outcomes:
        return Assessment.CANNOT_TELL
    return Assessment.MEETS


def count_of(n: int, what: str) -> str:
    """A number of things in words: ``1 holiday``, ``2 holidays``."""
    return f"{n} {what}{'' if n == 1 else 's'}"


def area_text(m2: float) -> str:
    """An area for a sentence: one decimal, two where it is under 1 m2. [m2]"""
    return f"{m2:.2f}" if 0.005 <= m2 < 1 else f"{m2:.1f}"
