"""What the page needs of the floor below: jobs by name, read only."""

from __future__ import annotations

from typing import Protocol

from wholefilm.proof.states import Standing
from wholefilm.sheets.assessment import AssessmentSheet
from wholefilm.sheets.jobs import JobLine

__all__ = ["JobLine", "Library", "View"]


class View(Protocol):
    """A job as of a time."""

    @property
    def standing(self) -> Standing:
        """How it stands."""

    @property
    def assessment(self) -> AssessmentSheet:
        """Its assessment."""

    @property
    def digest(self) -> str:
        """Digest of the assessment, lower-case hex."""


class Library(Protocol):
    """Jobs by name. Each method raises NotFound for a job that is not there, BadInput for a time that cannot be read."""

    def names(self) -> list[JobLine]:
        """A line a job."""

    def version(self, name: str) -> str:
        """Changes whenever the job does."""

    def view(self, name: str, as_of: str | None = None) -> View:
        """How a job stands, or stood."""

    def blob(self, name: str, sha: str) -> bytes | None:
        """A photo or file that the job names, or None."""

    def report(self, name: str, as_of: str | None = None) -> bytes:
        """The report as PDF."""

    def export(self, name: str) -> bytes:
        """The whole record as a job file."""
