"""Quantities as they were typed, and the same in SI.

A quantity is text with a unit. The text is kept; the number is exact. A bare number is refused, a decimal
comma is accepted, and a dimension must be named: volts cannot pass for volts per mil, a mil is a length.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

import msgspec

from .errors import BadInput

# unit -> (dimension, factor to SI, offset added after the factor)
_F = Fraction
_IN = _F("0.0254")
_FT = _F("0.3048")
_MIL = _F("0.0000254")
UNITS: dict[str, tuple[str, Fraction, Fraction]] = {}


def _add(dimension: str, units: dict[str, Fraction | int], offset: Fraction | int = 0) -> None:
    for unit, factor in units.items():
        UNITS[unit] = (dimension, _F(factor), _F(offset))


_add("length", {"m": 1, "cm": _F(1, 100), "mm": _F(1, 1000), "um": _F(1, 10**6), "in": _IN, "ft": _FT, "mil": _MIL, "km": 1000})
_add("area", {"m2": 1, "cm2": _F(1, 10**4), "mm2": _F(1, 10**6), "ft2": _FT**2, "in2": _IN**2})
_add("voltage", {"V": 1, "kV": 1000, "mV": _F(1, 1000)})
_add("field", {"V/mil": 1 / _MIL, "V/um": 10**6, "V/mm": 1000, "kV/mm": 10**6, "V/m": 1, "kV/cm": 10**5})
_add("temperature", {"K": 1})
_add("temperature", {"degC": 1}, _F("273.15"))
_add("temperature", {"degF": _F(5, 9)}, _F("459.67") * _F(5, 9))
_add("temperature_difference", {"dK": 1, "ddegF": _F(5, 9)})
_add("share", {"%": _F(1, 100), "1": 1})
_add("resistance", {"ohm": 1, "kohm": 1000, "Mohm": 10**6})
_add("time", {"s": 1, "min": 60, "h": 3600, "d": 86400, "ms": _F(1, 1000)})
_add("speed", {"m/s": 1, "m/min": _F(1, 60), "ft/s": _FT})
_add("area_rate", {"m2/h": _F(1, 3600), "ft2/h": _FT**2 / 3600})
_add("pressure", {"Pa": 1, "hPa": 100, "kPa": 1000})
_add("frequency", {"Hz": 1, "kHz": 1000})
_add("angle", {"deg": 1})
_add("volume", {"m3": 1, "l": _F(1, 1000), "ml": _F(1, 10**6)})

ALIASES = {
    "µm": "um",
    "μm": "um",
    "mils": "mil",
    "°C": "degC",
    "°F": "degF",
    "°": "deg",
    "m²": "m2",
    "ft²": "ft2",
    "Ω": "ohm",
    "kΩ": "kohm",
    "hours": "h",
    "days": "d",
}
_NUMBER = re.compile(r"^([+-]?[0-9]+(?:[.,][0-9]+)?|[+-]?[.,][0-9]+)\s*(\S.*)?$")
MOST_DIGITS = 30
"""Digits of a number; more are no measurement, and no float could hold them all."""


class Quantity(msgspec.Struct, frozen=True):
    """A measured value.

    Attributes
    ----------
    text : str
        As typed.
    number : Fraction
        The number in `unit`, exact.
    unit : str
        Unit as in `UNITS`.
    dimension : str
    """

    text: str
    number: Fraction
    unit: str
    dimension: str

    @property
    def si(self) -> float:
        """The value in SI base units of the dimension (angles in degrees). [SI]"""
        return float(self._exact_si())

    def _exact_si(self) -> Fraction:
        _, factor, offset = UNITS[self.unit]
        return self.number * factor + offset

    def exact(self, unit: str) -> Fraction:
        """The value in another unit of the same dimension, exact.

        Raises
        ------
        BadInput
            If `unit` is unknown or of another dimension.
        """
        known = UNITS.get(ALIASES.get(unit, unit))
        if known is None or known[0] != self.dimension:
            raise BadInput("unit", unit, f"a unit of {self.dimension}: {', '.join(units_of(self.dimension))}")
        return (self._exact_si() - known[2]) / known[1]

    def to(self, unit: str) -> float:
        """The value in another unit of the same dimension. [unit]"""
        return float(self.exact(unit))

    def __str__(self) -> str:
        return self.text


@lru_cache
def units_of(dimension: str) -> tuple[str, ...]:
    """Units known for a dimension, as typed by a user."""
    return tuple(u for u, (d, _, _) in UNITS.items() if d == dimension)


@lru_cache(maxsize=1 << 16)
def quantity(text: str, dimension: str, field: str = "value") -> Quantity:
    """Read a typed quantity.

    Parameters
    ----------
    text : str
        Number and unit, such as ``"3.00 kV"``, ``"2,5 mm"``, ``"40 mil"``.
    dimension : str
        The dimension that the field wants, such as ``"voltage"``.
    field : str
        Name used in the message.

    Returns
    -------
    Quantity

    Raises
    ------
    BadInput
        If there is no number, no unit, an unknown unit or a unit of another dimension.
    """
    article = "an" if dimension[0] in "aeiou" else "a"
    wanted = f"{article} {dimension.replace('_', ' ')} with its unit ({', '.join(units_of(dimension))}), such as '{_example(dimension)}'"
    match = _NUMBER.match(text.strip())
    if match is None or not match[2]:
        raise BadInput(field, text, wanted)
    if len(match[1]) > MOST_DIGITS:
        raise BadInput(field, text, f"a number of at most {MOST_DIGITS} digits; {wanted}")
    unit = ALIASES.get(match[2].strip(), match[2].strip())
    if dimension == "temperature_difference":
        unit = {"K": "dK", "degC": "dK", "degF": "ddegF"}.get(unit, unit)
    known = UNITS.get(unit)
    if known is None or known[0] != dimension:
        raise BadInput(field, text, wanted)
    return Quantity(text, Fraction(match[1].replace(",", ".")), unit, dimension)


def _example(dimension: str) -> str:
    known = {
        "length": "800 um",
        "voltage": "3.0 kV",
        "temperature": "15.0 degC",
        "share": "5 %",
        "area": "2.4 m2",
        "time": "5 h",
        "resistance": "80 kohm",
        "angle": "165 deg",
        "temperature_difference": "3 K",
        "field": "100 V/mil",
    }
    return known.get(dimension, f"1 {units_of(dimension)[0]}" if units_of(dimension) else "?")
