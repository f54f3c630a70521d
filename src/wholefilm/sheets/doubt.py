"""In doubt: what a failed or missing check drags along, the list for testing again, and the findings it turned."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.findings import area_text
from wholefilm.base.times import clock
from wholefilm.proof.doubt import in_doubt, to_test_again, turned
from wholefilm.proof.states import Standing

from .rows import Row, Table, head, table


class DoubtRow(Row, frozen=True, kw_only=True):
    """One thing in doubt."""

    what: Annotated[str, head("What")]
    name: Annotated[str, head("Which")]
    m2: Annotated[str, head("m²", True)]
    why: Annotated[str, head("Why")]
    then: Annotated[str, head("What puts it right")]
    entry: str


class AgainRow(Row, frozen=True, kw_only=True):
    """One line of the list for testing again."""

    number: Annotated[int, head("No.", True)]
    name: Annotated[str, head("Panel or repair")]
    m2: Annotated[str, head("m²", True)]
    what: Annotated[str, head("What to do")]
    set: Annotated[str, head("Set")]
    tested: Annotated[str, head("Tested before")]
    ask: Annotated[str, head("Ask first")]


class TurnedRow(Row, frozen=True, kw_only=True):
    """One finding that a failed check turned."""

    check: Annotated[str, head("Check")]
    clause: Annotated[str, head("Clause")]
    about: Annotated[str, head("About")]
    had_it_passed: Annotated[str, head("Had it passed")]
    now: Annotated[str, head("Now")]


class DoubtSheet(msgspec.Struct, frozen=True):
    """Everything in doubt."""

    says: str
    doubt: list[DoubtRow]
    again: list[AgainRow]
    turned: list[TurnedRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("In doubt", DoubtRow, self.doubt, "nothing is in doubt"),
            table("To test again, in the order in which it was tested", AgainRow, self.again, "nothing"),
            table("Findings that the failed check turned", TurnedRow, self.turned, "none"),
        ]


def doubt_sheet(standing: Standing) -> DoubtSheet:
    """What is in doubt in a standing."""
    found, again = in_doubt(standing), to_test_again(standing)
    checks = {c.fact.id: f"{c.fact.body.instrument}, {clock(c.fact.when)}" for c in standing.checks}
    area = sum(x.m2 or 0.0 for x in found if x.what == "test")
    says = f"{area_text(area)} m2 in doubt, {len(again)} to do again" if found else "Nothing is in doubt."
    return DoubtSheet(
        says,
        [
            DoubtRow(what=x.what, name=x.name, m2="" if x.m2 is None else area_text(x.m2), why=x.why, then=x.cure, entry=x.entry)
            for x in found
        ],
        [
            AgainRow(number=n, name=x.name, m2="" if x.m2 is None else area_text(x.m2), what=x.what, set=x.set, tested=x.tested, ask=x.ask)
            for n, x in enumerate(again, start=1)
        ],
        [
            TurnedRow(
                check=checks[x.check],
                clause=x.clause,
                about=x.about,
                had_it_passed=x.had_it_passed.replace("_", " "),
                now=x.now.replace("_", " "),
            )
            for x in turned(standing)
        ],
    )
