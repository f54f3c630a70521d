"""Voltage areas of a job's readings, by a rule or by the planning model."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.electric import Air, Strength
from wholefilm.plan.areas import MOST_WITHIN, allowed_by_model, allowed_by_rule
from wholefilm.proof.cited import Cited
from wholefilm.rules import rule as of_shelf
from wholefilm.rules.document import Rule
from wholefilm.sheets.areas import AreasSheet, areas_sheet

from .view import View

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def areas_of(
    view: View, *, rule: str, within: str | None, gauge: str, choice: str | None, approval: str | None, strength: Strength | None, air: Air
) -> AreasSheet:
    """Voltage areas of a job.

    Parameters
    ----------
    view : View
    rule : str
        ``ID`` or ``ID:EDITION``; with `within`. One of rule and strength.
    within : str or None
        Share of the rule's voltage by which a setting may lie off. It has no default.
    gauge : str
        Uncertainty of the gauge, a length.
    choice, approval : str or None
    strength : Strength or None
    air : Air

    Returns
    -------
    AreasSheet

    Raises
    ------
    BadInput
        Names the option, the value and what is allowed.
    """
    off = quantity(gauge, "length", "--gauge").to("um")
    if bool(rule) == (strength is not None):
        raise BadInput("--rule", rule or "nothing", "a rule with --within, or in its place a strength from the data sheet (--strength ...)")
    if strength is not None:
        how = f"model: floor by an even gap of air ({air.says}), ceiling by {strength.kv_per_mm:g} kV/mm from {strength.source}"
        entered = strength

        def by_model(um: Floats) -> tuple[Floats, Floats]:
            return allowed_by_model(um, air.density, entered, gauge_um=off)

        return areas_sheet(view.standing, by_model, how)
    if not within:
        raise BadInput("--within", "nothing", "how far from the rule's voltage a setting may lie, such as '10 %'; it has no default")
    share, found = quantity(within, "share", "--within").to("1"), _rule(view, rule)
    if not 0 <= share <= MOST_WITHIN:
        raise BadInput("--within", within, f"0 % to {100 * MOST_WITHIN:g} %")

    def by_rule(um: Floats) -> tuple[Floats, Floats]:
        return allowed_by_rule(found, um, share, choice=choice, approval=approval, gauge_um=off)

    return areas_sheet(view.standing, by_rule, f"each within {within} of what {rule} gives" + (f", gauge {gauge}" if off else ""))


def _rule(view: View, said: str) -> Rule:
    """A rule that the job cites, else one of the shelf."""
    ident, _, edition = said.partition(":")
    for r in reversed(view.standing.requirements):
        if isinstance(r.rule, Cited) and r.rule.rule.id == ident and edition in ("", r.rule.edition):
            return r.rule.rule
    found = of_shelf(ident)
    if edition:
        found.check_edition(edition)
    return found
