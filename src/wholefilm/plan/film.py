"""The film of a test area as planning sees it: thicknesses by what they mean, and what is known of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity
from wholefilm.rules.document import Rule

BASES = {
    "min": "minimum",
    "nominal": "nominal",
    "mean": "mean",
    "thickness": "as given",
    "max": "maximum",
    "expected_max": "expected maximum",
}
"""Name of a thickness to how it is worded; in the order in which they stand side by side."""
MOST_M = 0.05
"""Thickest film that is taken for one: 50 mm. [m]"""

_MAXIMUM = ("expected_max", "max", "thickness")
_NOMINAL = ("nominal", "thickness", "mean")

Known = Literal["yes", "no", "not known"]


class Film(msgspec.Struct, frozen=True):
    """A film.

    Attributes
    ----------
    thickness : dict of str to Quantity
        Keys of `BASES`. [length]
    substrate : str
        ``metal`` or ``concrete``; empty if not told.
    conductive : str
        What is known of conductive layers, in words; empty if nothing is told, ``no`` if none.
    immersed : str
        ``yes``, ``no`` or ``not known``.
    """

    thickness: Mapping[str, Quantity]
    substrate: str = ""
    conductive: str = ""
    immersed: Known = "not known"

    def check(self) -> None:
        """Refuse what is no film.

        Raises
        ------
        BadInput
            If no thickness is given, one is not more than zero or over 50 mm, the order of the given ones is turned round, or
            a word is unknown.
        """
        if not self.thickness:
            raise BadInput("thickness", "nothing", "at least one thickness with its unit, such as '800 um'")
        for name, value in self.thickness.items():
            if name not in BASES:
                raise BadInput("thickness", name, f"one of {', '.join(BASES)}")
            if value.dimension != "length" or not 0 < value.si <= MOST_M:
                raise BadInput(name, value.text, "a film of more than 0 and at most 50 mm")
        middle = ("mean", "thickness")  # a nominal film is specified: what was measured may lie all above or all below it
        for low, high in (("min", "max"), *(("min", m) for m in middle), *((m, "max") for m in middle)):
            if low in self.thickness and high in self.thickness and self.thickness[low].exact("m") > self.thickness[high].exact("m"):
                raise BadInput(low, self.thickness[low].text, f"at most the {BASES[high]} thickness, {self.thickness[high].text}")
        if self.substrate not in ("", "metal", "concrete"):
            raise BadInput("substrate", self.substrate, "metal or concrete")

    @property
    def greatest(self) -> Quantity:
        """The thickest that is given."""
        return max(self.thickness.values(), key=lambda q: q.exact("m"))

    @property
    def least(self) -> Quantity:
        """The thinnest that is given."""
        return min(self.thickness.values(), key=lambda q: q.exact("m"))


def bases_of(rule: Rule, film: Film) -> list[str]:
    """Which of the given thicknesses a document's rule is worked out for: those that it means, or all where it does not say."""
    said = rule.thickness_basis
    if "maximum" in said:
        asked: tuple[str, ...] = _MAXIMUM if "expected" in said else ("max", "expected_max", "thickness")
    elif "specified" in said or "grade" in said:
        asked = _NOMINAL
    else:
        return [name for name in BASES if name in film.thickness]
    return [name for name in asked if name in film.thickness][:1]
