"""Wet bulb to vapour pressure: the psychrometer's constant is a named choice, its accuracy a named class."""

from __future__ import annotations

import msgspec

from wholefilm.base.errors import BadInput, OutOfRange
from wholefilm.base.sources import Grade, Source

from .dew_point import vapour_pressure_ice_wmo_hpa, vapour_pressure_wmo_hpa

STANDARD_HPA = 1013.25
"""Standard atmosphere; the only pressure that is ever assumed, and it is said."""
LOWEST_HPA, HIGHEST_HPA = 0.7 * STANDARD_HPA, 1.3 * STANDARD_HPA
"""ASTM E337 is written for pressures within 30 % of standard [restated]."""
E337 = Source("ASTM E337", "02, 15, 15(2023)", Grade.RESTATED)
E337_LEAST_WET_BULB_C = 1.0


class Psychrometer(msgspec.Struct, frozen=True):
    """A constant: `a` per kelvin over water, `a_ice` for a frozen wick where it was read, each times (1 + `factor` t wet bulb)."""

    name: str
    a: float
    factor: float
    a_ice: float | None
    source: Source


PSYCHROMETERS = {
    p.name: p
    for p in (
        Psychrometer("wmo", 6.53e-4, 9.44e-4, None, Source("WMO-No. 8 Annex 4.B, aspirated psychrometer", "", Grade.MEMORY)),
        # 6.60e-4 and 5.82e-4 seen, the factor from memory: the whole is no better known than that
        Psychrometer("ams", 6.60e-4, 1.15e-3, 5.82e-4, Source("AMS Glossary of Meteorology, psychrometric formula", "", Grade.MEMORY)),
    )
}


class PsychrometerClass(msgspec.Struct, frozen=True):
    """What ASTM E337 says of an instrument at the 95 % level. [K, K, %]"""

    name: str
    says: str
    air_k: float
    depression_k: float
    rh_percent: float


CLASSES = {
    c.name: c
    for c in (
        PsychrometerClass("aspirated", "method A, aspirated, dry bulb and depression within 0.2 K, 3 % RH", 0.2, 0.2, 3.0),
        PsychrometerClass("aspirated_fine", "method A, aspirated, dry bulb within 0.2 K, depression within 0.1 K, 2 % RH", 0.2, 0.1, 2.0),
        PsychrometerClass("sling", "method B, sling, dry bulb within 0.6 K, depression within 0.3 K, 5 % RH", 0.6, 0.3, 5.0),
    )
}


def psychrometer(name: str) -> Psychrometer:
    """A constant by name.

    Raises
    ------
    BadInput
        Names those that there are.
    """
    if name not in PSYCHROMETERS:
        raise BadInput("psychrometer", name, ", ".join(PSYCHROMETERS))
    return PSYCHROMETERS[name]


def psychrometer_class(name: str) -> PsychrometerClass:
    """A class of ASTM E337 by name.

    Raises
    ------
    BadInput
        Names those that there are.
    """
    if name not in CLASSES:
        raise BadInput("psychrometer class", name, "; ".join(f"{c.name} ({c.says})" for c in CLASSES.values()))
    return CLASSES[name]


def vapour_pressure_from_wet_bulb_hpa(
    air_c: float, wet_bulb_c: float, pressure_hpa: float, constant: Psychrometer, wick: str = ""
) -> float:
    r"""Vapour pressure of the air from a dry and a wet bulb.

    Parameters
    ----------
    air_c, wet_bulb_c : float
        Dry and wet bulb; the wet bulb not above the dry. [degC]
    pressure_hpa : float
        Air pressure at the place, within 30 % of 1013.25. [hPa]
    constant : Psychrometer
    wick : str
        ``"water"`` or ``"ice"``; must be told below 0 degC.

    Returns
    -------
    float
        :math:`e = e_s(t_w) - A (1 + f t_w) p (t - t_w)`. [hPa]

    Raises
    ------
    BadInput
        If the wet bulb is above the dry, the wick is not told below 0 degC, or the constant has no figure for ice.
    OutOfRange
        If the pressure is outside its range, or no vapour is left at such a depression.

    Notes
    -----
    Named constants differ by 0.05 K of dew point at a depression of 5 K and by more at larger ones.
    """
    if not LOWEST_HPA <= pressure_hpa <= HIGHEST_HPA:
        raise OutOfRange(
            "pressure", f"{pressure_hpa:g} hPa", f"{LOWEST_HPA:.0f} to {HIGHEST_HPA:.0f} hPa (within 30 % of standard, {E337})"
        )
    if wet_bulb_c > air_c:
        raise BadInput("wet bulb", f"{wet_bulb_c:g} degC", f"at most the air temperature, {air_c:g} degC: a wet bulb cannot be the warmer")
    if wick not in ("", "water", "ice"):
        raise BadInput("wick", wick, "water or ice")
    if wick == "ice" and wet_bulb_c > 0:
        raise BadInput("wick", "ice", f"water: the wet bulb is above 0 degC ({wet_bulb_c:g} degC)")
    if wet_bulb_c < 0 and not wick:
        raise BadInput("wick", "nothing", "water or ice: below 0 degC it must be told whether the wick was frozen")
    if wick == "ice":
        if constant.a_ice is None:
            having = ", ".join(p.name for p in PSYCHROMETERS.values() if p.a_ice is not None)
            raise BadInput("psychrometer", constant.name, f"for a frozen wick: {having}")
        saturated, a = vapour_pressure_ice_wmo_hpa(wet_bulb_c), constant.a_ice
    else:
        saturated, a = vapour_pressure_wmo_hpa(wet_bulb_c), constant.a
    vapour = saturated - a * (1 + constant.factor * wet_bulb_c) * pressure_hpa * (air_c - wet_bulb_c)
    if vapour <= 0:
        raise OutOfRange(
            "wet bulb", f"{wet_bulb_c:g} degC", f"a higher one: in air of {air_c:g} degC this leaves no vapour; read both bulbs again"
        )
    return vapour
