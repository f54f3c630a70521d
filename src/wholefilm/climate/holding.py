"""A climate reading held against one limit: value, limit, met or not, and whether the stated uncertainty reaches the limit."""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import quantity
from wholefilm.rules.climate import DIMENSIONS, ClimateLimit, limit_says

from .state import ClimateState

COMPARE: dict[str, Callable[[float, float], bool]] = {
    "at_least": operator.ge,
    "over": operator.gt,
    "at_most": operator.le,
    "below": operator.lt,
}
IN = {"temperature_difference": "dK", "temperature": "degC", "share": "%"}
SHOWN = {"dK": "K", "ddegF": "degF"}
WORDS = {Outcome.MET: "met", Outcome.NOT_MET: "not met", Outcome.CANNOT_TELL: "cannot tell"}


class Earlier(msgspec.Struct, frozen=True):
    """An earlier reading of the same place: surface and spread, each None if not known. [degC, K]"""

    surface_c: float | None = None
    spread_k: float | None = None
    when: str = ""


class Held(msgspec.Struct, frozen=True):
    """One limit held against one reading: value and limit in the document's unit, as printed."""

    value: str
    limit: str
    finding: Outcome
    because: str
    inside_uncertainty: bool = False

    @property
    def says(self) -> str:
        """The finding in words: ``met, inside uncertainty``."""
        return WORDS[self.finding] + (", inside uncertainty" if self.inside_uncertainty else "")


def hold(limit: ClimateLimit, state: ClimateState, earlier: Earlier | None = None) -> Held:
    """Hold a reading against a limit.

    Parameters
    ----------
    limit : ClimateLimit
    state : ClimateState
    earlier : Earlier, optional
        Asked by ``rising`` alone.

    Returns
    -------
    Held
        `cannot_tell` for ``rising`` without an earlier reading, and beyond the far end of a printed range. The uncertainty
        never changes the finding.
    """
    if limit.of == "rising":
        return _rising(state, earlier)
    dimension = DIMENSIONS[limit.of]
    value, u = _value(limit, state)
    name, text = limit.bound
    bound = quantity(text, dimension)
    edge = bound.to(IN[dimension])
    met = COMPARE[name](value, edge)
    finding, because = (Outcome.MET, "") if met else (Outcome.NOT_MET, "")
    if met and limit.range_to:
        far = quantity(limit.range_to, dimension).to(IN[dimension])
        if value > far if name in ("at_least", "over") else value < far:
            finding = Outcome.CANNOT_TELL
            because = f"beyond {limit.range_to}, the other end of the range as printed; whether that still does is not said"
    shown = _shown(value, bound.unit, dimension)
    inside = u is not None and abs(value - edge) <= u
    over = f", over the {state.over}" if limit.of == "spread" else ""
    word = {Outcome.MET: "within", Outcome.NOT_MET: "outside", Outcome.CANNOT_TELL: "within"}[finding]
    because = because or f"{shown}{over}: {word} the limit"
    return Held(shown, limit_says(limit), finding, because, inside)


def hold_all(limits: Sequence[ClimateLimit], any_of: bool, state: ClimateState, earlier: Earlier | None = None) -> list[Held]:
    """Hold a reading against the limits of a rule: one result a limit, or one in all if any of them is enough."""
    held = [hold(limit, state, earlier) for limit in limits]
    if not any_of or len(held) < 2:
        return held
    words = [h.finding for h in held]
    finding = next((w for w in (Outcome.MET, Outcome.CANNOT_TELL) if w in words), Outcome.NOT_MET)
    says = "; ".join(f"{h.value}: {h.says}" for h in held)
    # An alternative that is met beyond doubt carries the rule; else any one near its limit may turn it.
    sure = any(h.finding is Outcome.MET and not h.inside_uncertainty for h in held)
    inside = not sure and any(h.inside_uncertainty for h in held)
    return [Held(" or ".join(h.value for h in held), " or ".join(h.limit for h in held), finding, says, inside)]


def worst_of(held: Sequence[Held]) -> Outcome:
    """The worst of some findings; `cannot_tell` of none."""
    words = [h.finding for h in held]
    for word in (Outcome.NOT_MET, Outcome.CANNOT_TELL):
        if word in words:
            return word
    return Outcome.MET if words else Outcome.CANNOT_TELL


def _value(limit: ClimateLimit, state: ClimateState) -> tuple[float, float | None]:
    """The value that a limit speaks of, and its uncertainty where one was entered. [K, degC or %]"""
    m, u = state.measured, state.uncertainty
    return {
        "spread": (state.spread_k, u.spread_k),
        "rh": (state.rh_percent, u.rh_percent),
        "surface_rh": (state.surface_rh_percent, u.surface_rh_percent),
        "air": (m.air_c, m.air_u_k),
        "surface": (m.surface_c, m.surface_u_k),
    }[limit.of]


def _shown(value: float, unit: str, dimension: str) -> str:
    """A value in the unit of the limit, and in K or degC beside it."""
    if dimension == "share":
        return f"{value:.1f} %"
    if dimension == "temperature":
        return f"{value:.1f} degC" if unit != "degF" else f"{value * 1.8 + 32:.1f} degF ({value:.1f} degC)"
    return f"{value:.2f} K" if unit != "ddegF" else f"{value * 1.8:.2f} degF ({value:.2f} K)"


def _rising(state: ClimateState, earlier: Earlier | None) -> Held:
    if earlier is None or (earlier.surface_c is None and earlier.spread_k is None):
        return Held("no earlier reading", "and rising", Outcome.CANNOT_TELL, "an earlier reading of the same place is needed to tell")
    rises: dict[str, bool] = {}
    parts = []
    for name, now, before, unit in (
        ("surface", state.measured.surface_c, earlier.surface_c, "degC"),
        ("spread", state.spread_k, earlier.spread_k, "K"),
    ):
        if before is not None:
            rises[name] = now > before
            parts.append(f"{name} {before:.1f} to {now:.1f} {unit}")
    value = ", ".join(parts)
    since = f" since {earlier.when}" if earlier.when else ""
    if len(rises) < 2:
        says = f"earlier surface and spread are both needed: only the {next(iter(rises))} is told"
        return Held(value, "and rising", Outcome.CANNOT_TELL, says)
    if rises["surface"] != rises["spread"]:
        says = f"{value}{since}: one rises, the other does not, and the document does not say which is meant"
        return Held(value, "and rising", Outcome.CANNOT_TELL, says)
    word = Outcome.MET if rises["surface"] else Outcome.NOT_MET
    return Held(value, "and rising", word, f"{value}{since}")
