"""The word that follows from findings, and grades that may be chosen."""

from __future__ import annotations

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome, worst
from wholefilm.base.sources import Grade, Source


@pytest.mark.parametrize(
    ("outcomes", "word"),
    [
        ("", "meets"),
        ("met", "meets"),
        ("met cannot_tell", "cannot_tell"),
        ("cannot_tell not_met met", "does_not_meet"),
        ("not_met", "does_not_meet"),
    ],
)
def test_the_worst_decides(outcomes: str, word: str) -> None:
    assert worst([Outcome(x) for x in outcomes.split()]).value == word


def test_only_what_was_seen_derived_or_entered_may_be_chosen_as_it_is() -> None:
    assert {g.value for g in Grade if g.choosable} == {"seen", "derived", "entered"}
    assert str(Source("SM-1", "rev A", Grade.MEMORY, "7.2", "12")) == "SM-1 rev A 7.2 p. 12 [memory]"


def test_a_message_names_field_value_and_what_is_allowed() -> None:
    error = BadInput("set", "x" * 500, "a voltage")
    assert str(error).startswith("set: 'xxx")
    assert str(error).endswith("Allowed: a voltage")
    assert len(str(error)) < 200
