"""Readings as a rule takes them, and what comes of holding them against it."""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import compress

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity, quantity

PM = 10**6
"""Picometres in a micrometre: sums are made in whole picometres, so that a mean that equals a limit does equal it."""
Writer = Callable[[Fraction | float], str]
_DIGITS = {"um": 2, "mil": 2, "mm": 4}


class Readings(msgspec.Struct, frozen=True):
    """Readings of one film, all of shape (n,).

    Attributes
    ----------
    values_um : sequence of float
        The nearest float to each exact value. [um]
    spots : sequence of str
        Name of the spot of each; the same name in the same place is one spot. Empty: each value stands for a spot by itself.
    places : sequence of str
        Name of the measured area of each. Empty: not told.
    """

    values_um: Sequence[float]
    spots: Sequence[str] = ()
    places: Sequence[str] = ()

    def __len__(self) -> int:
        return len(self.values_um)

    def of(self, wanted: Sequence[bool]) -> Readings:
        """Some of the readings."""
        return Readings(
            array("d", compress(self.values_um, wanted)), list(compress(self.spots, wanted)), list(compress(self.places, wanted))
        )


class Number(msgspec.Struct, frozen=True):
    """How many areas, spots and readings; zero where the rule does not count them.

    Attributes
    ----------
    areas, spots, readings : int
    repeats : int or None
        Most readings that may be repeated; None if the rule does not say.
    """

    areas: int = 0
    spots: int = 0
    readings: int = 0
    repeats: int | None = None

    def short_of(self, due: Number) -> str:
        """What is missing of what is due, in words; empty if nothing."""
        parts = [(getattr(self, name), getattr(due, name), name) for name in ("areas", "spots", "readings")]
        return ", ".join(f"{there} of {wanted} {name}" for there, wanted, name in parts if there < wanted)


class ThicknessResult(msgspec.Struct, frozen=True):
    """Readings held against a rule.

    Attributes
    ----------
    outcome : Outcome
    n : int
        Readings that were held against it.
    under, over : int
        Readings, spots or areas under and over their limits.
    value, limit, because : str
        As printed.
    due, there : Number
        How many the rule asks for, and how many there are.
    why : tuple of str
        What was not met, or what cannot be told: ``spot_low``, ``mean``, ``short``, ...
    inside_uncertainty : bool
        Whether the stated uncertainty reaches a limit that decides. It never changes the outcome.
    """

    outcome: Outcome
    n: int
    under: int
    over: int
    value: str
    limit: str
    because: str
    due: Number = Number()
    there: Number = Number()
    why: tuple[str, ...] = ()
    inside_uncertainty: bool = False


def picometres(values_um: Sequence[float]) -> Iterator[int]:
    """Values as whole picometres. [pm]"""
    return map(round, map(float(PM).__mul__, values_um))


def exact_mean_um(values_um: Sequence[float]) -> Fraction:
    """Mean of values, exact to the picometre of each. [um]"""
    return Fraction(sum(picometres(values_um)), len(values_um) * PM)


def length_um(text: str, field: str) -> Fraction:
    """A thickness more than zero. [um]

    Raises
    ------
    BadInput
    """
    read = quantity(text, "length", field)
    if read.number <= 0:
        raise BadInput(field, text, "a thickness more than zero")
    return read.exact("um")


def share_of(text: str, field: str) -> Fraction:
    """A share of zero or more, exact. [1]

    Raises
    ------
    BadInput
    """
    read = quantity(text, "share", field)
    if read.number < 0:
        raise BadInput(field, text, "a share of zero or more, such as '80 %'")
    return read.exact("1")


def writer(*texts: str | None) -> Writer:
    """Prints thicknesses in the unit of the first text that has one, else in um."""
    unit = next((quantity(t, "length").unit for t in texts if t), "um")
    unit = unit if unit in _DIGITS else "um"

    def written(um: Fraction | float) -> str:
        number = Quantity("", Fraction(um), "um", "length").to(unit)
        return f"{number:.{_DIGITS[unit]}f}".rstrip("0").rstrip(".") + f" {unit}"

    return written
