"""Where a figure comes from, and how well that is known."""

from __future__ import annotations

import enum

import msgspec


class Grade(enum.StrEnum):
    """How a figure is known. Only `seen`, `derived` and `entered` may be chosen as they are."""

    SEEN = "seen"
    RESTATED = "restated"
    MEMORY = "memory"
    DERIVED = "derived"
    ENTERED = "entered"

    @property
    def choosable(self) -> bool:
        """Whether a figure of this grade may be chosen without the user's own confirmation."""
        return self in (Grade.SEEN, Grade.DERIVED, Grade.ENTERED)


class Source(msgspec.Struct, frozen=True, omit_defaults=True):
    """A document, down to the clause, with the grade of what is taken from it."""

    document: str
    edition: str
    grade: Grade
    clause: str = ""
    page: str = ""

    def __str__(self) -> str:
        parts = [self.document, self.edition, self.clause, self.page and f"p. {self.page}"]
        return " ".join(p for p in parts if p) + f" [{self.grade.value}]"
