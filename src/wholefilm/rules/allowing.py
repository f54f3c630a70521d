"""A typed voltage or resistance held against what a document allows at all."""

from __future__ import annotations

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity, quantity

from .document import Rule
from .forms import Figure, Fixed, Limit, Power, Span


class Allowed(msgspec.Struct, frozen=True):
    """Whether a value lies inside what the document allows, and the sentence that says so."""

    inside: bool
    says: str


def allows(rule: Rule, edition: str, value: Quantity) -> Allowed:
    """Hold a voltage, or the trip resistance of a wet-sponge tester, against a span or a limit.

    Parameters
    ----------
    rule : Rule
        A rule of form span, limit, or fixed, or a power rule with a span.
    edition : str
    value : Quantity
        Voltage or resistance.

    Returns
    -------
    Allowed

    Raises
    ------
    UnknownEdition
    BadInput
        If the rule says nothing of such a value.
    """
    rule.check_edition(edition)
    low, high, strictly = _ends(rule, value)
    if low is None and high is None:
        raise BadInput("value", value.text, f"what {rule.id} limits; it limits no {value.dimension} by itself")
    number = value.exact(value.unit)
    wrong_low = low is not None and number < low.exact(value.unit)
    wrong_high = high is not None and (number >= high.exact(value.unit) if strictly else number > high.exact(value.unit))
    words = [f"at least {low.text}" if low else "", f"{'below' if strictly else 'at most'} {high.text}" if high else ""]
    ok = not (wrong_low or wrong_high)
    return Allowed(ok, f"{value.text} is {'inside' if ok else 'outside'} what {rule.id} allows: {', '.join(w for w in words if w)}")


def _ends(rule: Rule, value: Quantity) -> tuple[Quantity | None, Quantity | None, bool]:
    form = rule.form
    if value.dimension == "resistance" and isinstance(form, Limit) and form.trip:
        return _about(form.trip, form.trip_tolerance)
    if value.dimension != "voltage":
        return None, None, False
    match form:
        case Span(low=low, high=high):
            return _read(low), _read(high), False
        case Limit(at_least=low, at_most=at_most, below=below):
            return _read(low), _read(at_most or below), below is not None
        case Fixed(volts=volts, to=None, tolerance=tolerance):
            return _about(volts, tolerance)
        case Fixed(volts=volts, to=to):
            return _read(volts), _read(to), False
        case Power(span=span) if span is not None:
            return (*(quantity(t, "voltage") if t else None for t in (span.low, span.high)), False)  # type: ignore[return-value]
    return None, None, False


def _read(figure: Figure | None) -> Quantity | None:
    return quantity(figure.value, "voltage") if figure else None


def _about(figure: Figure, tolerance: Figure | None) -> tuple[Quantity, Quantity, bool]:
    """A value give or take its tolerance, a share or an amount; exact."""
    dimension = "resistance" if "ohm" in figure.value else "voltage"
    read = quantity(figure.value, dimension)
    if tolerance is None:
        return read, read, False
    if "%" in tolerance.value:
        play = read.number * quantity(tolerance.value, "share").exact("1")
    else:
        play = quantity(tolerance.value, dimension).exact(read.unit)
    ends = [msgspec.structs.replace(read, text=f"{float(n):g} {read.unit}", number=n) for n in (read.number - play, read.number + play)]
    return ends[0], ends[1], False
