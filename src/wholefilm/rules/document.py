"""A rule as a document has it: where it stands, for which editions, for what film, and what is in doubt."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from wholefilm.base.errors import UnknownEdition
from wholefilm.base.sources import Grade, Source

from .forms import AnyForm, Bounds, Branch, Class, Figure, FindOnMadeHoliday, Form, Limits, Part, Row, Text, UserEnters

Method = Literal["wet_sponge", "spark", "ac_spark", "found_voltage"]
Practice = Literal[
    "speed_at_most", "passes", "check_interval", "coverage", "clear_of_bare_metal", "wetting_agent", "instrument_at_least",
    "step_at_most", "meter_tolerance", "found_voltages", "earliest_after_topcoat", "only_fully_cured", "typical_voltage",
]  # fmt: skip
_WORST = (Grade.ENTERED, Grade.DERIVED, Grade.SEEN, Grade.RESTATED, Grade.MEMORY)


class Procedure(Part, frozen=True, kw_only=True):
    """A figure of the procedure that stands beside the voltage."""

    what: Practice
    value: Text
    grade: Grade


class Entered(Part, frozen=True, kw_only=True):
    """Who read a rule or confirmed it from an own copy, on which page, when (calendar day)."""

    page: Text
    who: Text
    when: Annotated[str, Meta(pattern=r"^\d{4}-\d\d-\d\d$")]


class Rule(Part, frozen=True, kw_only=True):
    """One voltage rule in one form.

    Attributes
    ----------
    id : str
    title, document : str
    editions : tuple of str
        Editions for which it was read or remembered. Empty only where no figure ships.
    method : str
    form : AnyForm
    thickness_range, extended_range : Bounds or None
        Film for which it was written; a further range that it allows with a remark or an approval.
    thickness_basis : str
        Which thickness the document means.
    procedure : tuple of Procedure
    clause : str
    doubts : tuple of str
        Open questions. A rule with any is shown, not chosen, until the user confirmed it.
    only_for : str
        The only kind of film or item it is for; empty if it is not so narrowed.
    superseded_by, note : str
    entered : Entered or None
        Set on a rule that a user entered.
    """

    id: Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,79}$")]
    title: Text
    document: Text
    method: Method
    form: AnyForm
    editions: tuple[Text, ...] = ()
    thickness_basis: str = "not said"
    thickness_range: Bounds | None = None
    extended_range: Bounds | None = None
    procedure: tuple[Procedure, ...] = ()
    clause: str = ""
    doubts: tuple[Text, ...] = ()
    only_for: str = ""
    superseded_by: str = ""
    note: str = ""
    entered: Entered | None = None

    def check_edition(self, edition: str) -> str:
        """The edition, if the rule is known for it.

        Raises
        ------
        UnknownEdition
            If it is not; names the known ones. Where none is known (no figure ships), any named one is taken.
        """
        if (self.editions and edition not in self.editions) or not edition.strip():
            known = ", ".join(self.editions) or "none is known here: name the edition of your own copy"
            raise UnknownEdition("edition", edition, f"for {self.id}: {known}")
        return edition

    @property
    def grade(self) -> Grade | None:
        """Worst grade of the figures of the form; None if it has none."""
        return worst_grade(grades(self.form))

    @property
    def choosable(self) -> bool:
        """Whether it may be chosen as it stands: has figures, all seen, derived or entered, and no doubt is open."""
        range_ok = self.thickness_range is None or self.thickness_range.grade.choosable
        return self.grade is not None and self.grade.choosable and range_ok and not self.doubts

    def source(self, edition: str) -> Source:
        """Document, edition, clause and grade, for a finding or an entry. Without figures the grade is `entered`."""
        page = self.entered.page if self.entered else ""
        return Source(self.document, self.check_edition(edition), self.grade or Grade.ENTERED, self.clause, page)

    def describe(self) -> list[tuple[str, str]]:
        """Rows of label and text, for printing one rule. Every figure stands with its grade."""
        from .describing import described

        return described(self)


def grades(part: object) -> list[Grade]:
    """Grades of all figures inside a form or part of it."""
    found: list[Grade] = []
    if isinstance(part, FindOnMadeHoliday | Figure | Row | Branch | Class | Limits | Bounds):
        found.append(part.grade)
    if isinstance(part, Form):
        for name in part.__struct_fields__:
            value = getattr(part, name)
            for one in value if isinstance(value, tuple) else (value,):
                found += grades(one)
    return found


def worst_grade(found: list[Grade]) -> Grade | None:
    """The least sure of some grades; None of none."""
    return max(found, key=_WORST.index) if found else None


def has_figures(rule: Rule) -> bool:
    """Whether the rule ships figures, or a procedure in place of them."""
    return not isinstance(rule.form, UserEnters)
