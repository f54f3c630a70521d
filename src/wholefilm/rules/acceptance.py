"""Acceptance clauses as documents have them: the limits, what follows, what they were written for, what is in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from msgspec import Meta

from wholefilm.base.errors import BadInput, UnknownEdition
from wholefilm.base.sources import Grade, Source

from .forms import Part, Text
from .limits import LimitsRule, form_of, read_limits
from .reading import strict


class _Shell(Part, frozen=True, kw_only=True):
    """The fields of a clause beside its limits."""

    id: Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,79}$")]
    title: Text
    document: Text
    editions: Annotated[tuple[Text, ...], Meta(min_length=1)]
    grade: Grade
    written_for: Text
    says: Text
    rule: dict[str, Any] | None = None
    clause: str = ""
    doubts: tuple[Text, ...] = ()
    note: str = ""


class Clause(Part, frozen=True, kw_only=True):
    """One acceptance clause of a document.

    Attributes
    ----------
    id, title, document : str
    editions : tuple of str
    grade : Grade
    written_for : str
        The film, item and test it was written for.
    says : str
        The clause in our words.
    rule : LimitsRule or None
        None where the clause asks for an agreement, or the figure could not be read.
    clause : str
    doubts : tuple of str
    note : str
    """

    id: str
    title: str
    document: str
    editions: tuple[str, ...]
    grade: Grade
    written_for: str
    says: str
    rule: LimitsRule | None = None
    clause: str = ""
    doubts: tuple[str, ...] = ()
    note: str = ""

    @property
    def choosable(self) -> bool:
        """Whether it may be chosen as it stands."""
        return self.rule is not None and self.grade.choosable and not self.doubts

    def source(self, edition: str) -> Source:
        """Document, edition, clause and grade.

        Raises
        ------
        UnknownEdition
        """
        if edition not in self.editions:
            raise UnknownEdition("edition", edition, f"for {self.id}: {', '.join(self.editions)}")
        return Source(self.document, edition, self.grade, self.clause)

    def describe(self) -> list[tuple[str, str]]:
        """Rows of label and text, for printing one clause."""
        rows = [("id", self.id), ("document", self.document), ("editions", "; ".join(self.editions)), ("clause", self.clause)]
        rows += [("written for", self.written_for), ("says", self.says), ("grade", self.grade.value)]
        if self.rule is not None:
            for one in self.rule.limits:
                fields = {name: getattr(one, name) for name in one.__struct_fields__}
                rows.append(("limit", f"{form_of(one)}: " + ", ".join(f"{k} {v}" for k, v in fields.items() if v is not None)))
            rows.append(("what follows", self.rule.follows))
        rows += [("doubt", doubt) for doubt in self.doubts]
        rows.append(("note", self.note))
        return [(label, text) for label, text in rows if text]


def read_clause(given: Mapping[str, Any]) -> Clause:
    """Read one acceptance clause strictly.

    Raises
    ------
    BadInput
        As `read_limits`, and on an unknown or missing key.
    """
    named = str(given.get("id") or "clause") if isinstance(given, Mapping) else "clause"
    shell = strict(given, _Shell, named)
    rule = None
    if shell.rule is not None:
        try:
            rule = read_limits(shell.rule)
        except BadInput as error:
            raise BadInput(f"{named}: {error.field}", error.value, error.allowed) from error
    fields = {name: getattr(shell, name) for name in shell.__struct_fields__ if name != "rule"}
    return Clause(rule=rule, **fields)
