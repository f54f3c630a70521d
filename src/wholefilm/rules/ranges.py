"""Thickness against a range: one exact comparison for bounds, branches and rows."""

from __future__ import annotations

from fractions import Fraction
from typing import Protocol

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity, quantity


class Bounded(Protocol):
    """Whatever has the four bounds."""

    @property
    def at_least(self) -> str | None:
        """Lower end, inside."""

    @property
    def over(self) -> str | None:
        """Lower end, outside."""

    @property
    def at_most(self) -> str | None:
        """Upper end, inside."""

    @property
    def below(self) -> str | None:
        """Upper end, outside."""


def metres(text: str, field: str) -> Fraction:
    """A length, exact. [m]"""
    return quantity(text, "length", field).exact("m")


def inside(bounds: Bounded, thickness: Quantity) -> bool:
    """Whether a thickness lies inside the bounds."""
    t = thickness.exact("m")
    return not (
        (bounds.at_least is not None and t < metres(bounds.at_least, "at_least"))
        or (bounds.over is not None and t <= metres(bounds.over, "over"))
        or (bounds.at_most is not None and t > metres(bounds.at_most, "at_most"))
        or (bounds.below is not None and t >= metres(bounds.below, "below"))
    )


def worded(bounds: Bounded) -> str:
    """The bounds for a reader: ``at least 8 mil, at most 125 mil``."""
    pairs = (("at least", bounds.at_least), ("over", bounds.over), ("at most", bounds.at_most), ("below", bounds.below))
    return ", ".join(f"{word} {text}" for word, text in pairs if text) or "any thickness"


def check_bounds(bounds: Bounded, field: str, *, open_ended: bool = False) -> tuple[Fraction, bool, Fraction | None, bool]:
    """Refuse bounds that no thickness meets, or two for one side.

    Returns
    -------
    tuple
        Lower end [m], whether inside, upper end [m] or None, whether inside.

    Raises
    ------
    BadInput
    """
    if bounds.at_least is not None and bounds.over is not None:
        raise BadInput(field, worded(bounds), "one of at_least and over")
    if bounds.at_most is not None and bounds.below is not None:
        raise BadInput(field, worded(bounds), "one of at_most and below")
    low_text = bounds.at_least if bounds.at_least is not None else bounds.over
    high_text = bounds.at_most if bounds.at_most is not None else bounds.below
    if low_text is None and high_text is None and not open_ended:
        raise BadInput(field, "no bound", "at least one of at_least, over, at_most, below")
    low = metres(low_text, field) if low_text is not None else Fraction(0)
    high = metres(high_text, field) if high_text is not None else None
    if low < 0 or (high is not None and not low < high):
        raise BadInput(field, worded(bounds), "a range whose lower end is not negative and lies under its upper end")
    return low, bounds.over is None, high, bounds.at_most is not None
