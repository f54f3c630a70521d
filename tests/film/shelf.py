"""Rules of the shelf with the contract's figures in them, for the tests of acceptance."""

from __future__ import annotations

from array import array
from fractions import Fraction

from wholefilm.base.quantity import quantity
from wholefilm.film.acceptance import accept
from wholefilm.film.named import Own, named_rule
from wholefilm.film.result import Readings, ThicknessResult
from wholefilm.rules.thickness import thickness_rule


def runs(*pairs: tuple[float, int]) -> list[float]:
    """Values written as value and how many of it."""
    return [value for value, n in pairs for _ in range(n)]


def readings(values: list[float], unit: str = "um", spots: list[str] | None = None, places: list[str] | None = None) -> Readings:
    """Readings typed in a unit, converted as a file of them is: exactly, then to the nearest float."""
    exact = [quantity(f"{Fraction(str(v)).limit_denominator(10**6).__float__():.6f} {unit}", "length").to("um") for v in values]
    return Readings(array("d", exact), spots or (), places or ())


def held(
    rule: str, values: list[float], unit: str = "um", *, edition: str | None = None, area: str | None = None,
    spots: list[str] | None = None, places: list[str] | None = None, own: Own | None = None,
) -> ThicknessResult:  # fmt: skip
    """Readings held against a rule of the shelf."""
    named = named_rule(thickness_rule(rule), edition, own or Own(), ["flat"])
    return accept(named.form, readings(values, unit, spots, places), quantity(area, "area") if area else None)
