"""Strength of a film, only from what the user enters from the maker's data sheet: no number of a class of coating is here.

Models of ours for planning: strength E1 t^-a (kV/mm, t in mm, E1 at 1 mm), breakdown E1 t^(1-a). The exponent has no default:
published ones run from 0.07 to 0.5.
"""

from __future__ import annotations

import math

import msgspec

from wholefilm.base.errors import BadInput, OutOfRange


class Strength(msgspec.Struct, frozen=True):
    """Dielectric strength as entered.

    Attributes
    ----------
    kv_per_mm : float
        Strength read from the data sheet. [kV/mm]
    at_mm : float
        Thickness of the specimen it was measured on. [mm]
    exponent : float
        How it falls with thickness; 0 = not at all.
    share : float
        Share of it that is to be used, 0 to 1: a data sheet tells of short tests on small areas under power frequency.
    source : str
        Data sheet, edition, page.
    """

    kv_per_mm: float
    at_mm: float
    exponent: float
    share: float
    source: str

    def check(self) -> None:
        """Refuse what is no strength.

        Raises
        ------
        OutOfRange
            If a figure is outside what it can be.
        BadInput
            If no source is named.
        """
        for name, value, low, high, unit in (
            ("strength", self.kv_per_mm, 0.1, 500, " kV/mm"),
            ("strength at", self.at_mm, 0.005, 20, " mm"),
            ("exponent", self.exponent, 0, 0.9, ""),
            ("share", self.share, 0.01, 1, ""),
        ):
            if not low <= value <= high:
                raise OutOfRange(name, f"{value:g}{unit}", f"{low:g}{unit} to {high:g}{unit}")
        if not self.source.strip():
            raise BadInput("strength source", self.source or "nothing", "data sheet, edition and page that the strength was read from")


def ceiling_kv(thickness_mm: float, strength: Strength) -> float:
    """Voltage at which so much of the strength as the user allows is used, at a thickness. [mm -> kV]"""
    at_one = strength.kv_per_mm * strength.at_mm**strength.exponent
    return float(strength.share * at_one * thickness_mm ** (1 - strength.exponent))


def remaining_film_mm(voltage_kv: float, strength: Strength) -> float:
    """Most film that may be left over the steel at a spot for a voltage to break through it; thicker spots are not found. [kV -> mm]"""
    at_one = strength.kv_per_mm * strength.at_mm**strength.exponent
    return float((voltage_kv / at_one) ** (1 / (1 - strength.exponent)))


def strength_exponent(thin: tuple[float, float], thick: tuple[float, float]) -> float:
    """The exponent that two (thickness, strength) pairs of one material give. [same unit each]"""
    (t1, e1), (t2, e2) = thin, thick
    return math.log(e1 / e2) / math.log(t2 / t1)
