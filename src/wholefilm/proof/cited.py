"""A voltage rule that a job cites: whole, as it travels in the entry, from the shelf or from a user's own copy."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.rules.bodies import from_body, may_choose, user_rule
from wholefilm.rules.document import Entered, Rule
from wholefilm.rules.loader import load


class Cited(msgspec.Struct, frozen=True):
    """A cited rule.

    Attributes
    ----------
    rule : Rule
    edition : str
    confirmed : Entered or None
        Who confirmed a rule of the shelf from an own copy, on which page, when.
    """

    rule: Rule
    edition: str
    confirmed: Entered | None

    @property
    def choosable(self) -> bool:
        """Whether a voltage sheet may stand on it: seen without a doubt, entered, or confirmed from an own copy."""
        return may_choose(self.rule, self.confirmed)


def is_cited(rule: Mapping[str, Any]) -> bool:
    """Whether the rule of a requirement is a voltage rule as `as_body` writes it."""
    return isinstance(rule.get("rule"), Mapping)


def read_cited(rule: Mapping[str, Any]) -> Cited:
    """Read it from an entry, whatever is shipped today.

    Raises
    ------
    BadInput
    """
    return Cited(*from_body(rule))


def check_cited(rule: Mapping[str, Any]) -> None:
    """Refuse a rule, as it is typed, that is neither on the shelf nor entered from an own copy.

    Raises
    ------
    BadInput
        If it bears the id of a shipped rule and differs from it, or a new one and no page of an own copy.
    """
    cited = read_cited(rule)
    shelf = load().get(cited.rule.id)
    if shelf is None:
        user_rule(dict(rule["rule"]))
    elif shelf != cited.rule:
        raise BadInput("rule", cited.rule.id, "the rule as it stands on the shelf, or one of your own copy under an id of its own")
