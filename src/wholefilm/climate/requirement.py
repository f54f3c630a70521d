"""A contract's requirement of the climate: a rule of a document or own figures, what it applies to, how often to read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.misfit import misfit
from wholefilm.rules.climate import ClimateLimit, ClimateRule, climate_rule, limits_say, read_climate_limits, read_every

APPLIES = ("application", "cure", "test")


class ClimateRequired(msgspec.Struct, frozen=True, tag_field="form", tag="climate", forbid_unknown_fields=True, kw_only=True):
    """Climate limits that a contract asks for.

    Attributes
    ----------
    applies_to : str
        ``application``, ``cure`` or ``test``: the rules were written for the first two; the contract alone brings in the third.
    rule, edition : str
        Id of a climate rule, and which of its editions the contract names.
    limits : list of ClimateLimit
        Own figures in place of a rule.
    every : str
        Longest time from one reading to the next; that of the rule if left out.
    """

    applies_to: Literal["application", "cure", "test"]
    rule: str | None = None
    edition: str | None = None
    limits: list[ClimateLimit] | None = None
    every: str | None = None

    @property
    def document_rule(self) -> ClimateRule | None:
        """The rule of a document that is named, or None where the figures are the contract's own."""
        return climate_rule(self.rule) if self.rule else None

    @property
    def all_limits(self) -> tuple[list[ClimateLimit], bool]:
        """The limits, and whether one of them is enough."""
        found = self.document_rule
        return (list(found.limits), found.any_of) if found else (list(self.limits or []), False)

    @property
    def interval_ms(self) -> int | None:
        """Longest time from one reading to the next; None if neither contract nor rule names one. [ms]"""
        return read_every(self.interval) if self.interval else None

    @property
    def interval(self) -> str:
        """The same as written, or empty."""
        found = self.document_rule
        return self.every or (found.every if found else "")

    def __str__(self) -> str:
        limits, any_of = self.all_limits
        parts = [limits_say(limits, any_of), f"read every {self.interval}" if self.interval else ""]
        return "; ".join(p for p in parts if p)


def read_climate(given: Mapping[str, Any]) -> ClimateRequired:
    """Read a requirement of the climate, strictly.

    Parameters
    ----------
    given : dict
        ``{"form": "climate", "applies_to": "test", "limits": [{"of": "spread", "at_least": "3 K"}], "every": "4 h"}``, or
        with `rule` and `edition` in place of `limits`.

    Returns
    -------
    ClimateRequired

    Raises
    ------
    BadInput
        If a key is unknown, nothing is asked, a rule or its edition is not known, or a quantity cannot be read.
    """
    if given.get("limits") is not None:
        read_climate_limits(given["limits"], "rule.limits")
    try:
        found = msgspec.convert(dict(given), ClimateRequired, strict=True)
    except msgspec.ValidationError as error:
        raise misfit(error, given, "rule", page="docs/reference/requirements.md") from error
    if found.rule is not None and found.limits is not None:
        raise BadInput("rule.limits", "beside rule", "the id of a rule or own limits, not both")
    if found.rule is not None:
        climate_rule(found.rule).source(found.edition or "")
    elif found.edition is not None:
        raise BadInput("rule.edition", found.edition, "only with rule")
    elif found.limits is None and found.every is None:
        raise BadInput("rule", "nothing asked", "rule with edition, limits, or every")
    if found.every is not None:
        read_every(found.every, "rule.every")
    return found
