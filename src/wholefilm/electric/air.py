"""Breakdown of an air gap between even electrodes, the state of the air, and the gap that a voltage jumps.

All formulas are graded *memory*: V = 24.36 p d + 6.72 sqrt(p d) (kV, bar, cm; Kuffel and Zaengl, High Voltage Engineering) and
V = 24.22 delta d + 6.08 sqrt(delta d) (Bruce 1947, as textbooks reuse it). The first lies within 3 % of the sphere-gap rows of
IEC 60052 from 0.5 to 10 mm. Breakdown depends on density times gap alone (similarity law), so the density goes into the
formula and is not multiplied onto its result.
"""

from __future__ import annotations

import math

import msgspec

from wholefilm.base.errors import OutOfRange

_REFERENCE_BAR = 1.013
UNIFORM_LINEAR, UNIFORM_ROOT = 24.36 * _REFERENCE_BAR, 6.72 * math.sqrt(_REFERENCE_BAR)
"""Figures of the even-gap curve in relative density times gap. [kV/cm, kV/cm^0.5]"""
_LOW_A, _LOW_B = 24.22, 6.08
LEAST_GAP_MM, MOST_GAP_MM = 0.02, 20.0
"""Gaps for which the formulas are used here; under 0.1 mm they are indicative. [mm]"""
_STANDARD_KPA, _STANDARD_K, _ZERO_C_K = 101.3, 293.0, 273.0


class Air(msgspec.Struct, frozen=True):
    """State of the air and what it follows from.

    Attributes
    ----------
    density : float
        Relative to 101.3 kPa and 20 degC.
    says : str
        How it was found, for a reader.
    """

    density: float
    says: str


def relative_density(pressure_kpa: float, temperature_c: float) -> float:
    """Density of air relative to 101.3 kPa and 20 degC: (p/101.3)(293/(273 + T)). [kPa, degC]

    Raises
    ------
    OutOfRange
        If pressure or temperature is none that people work in.
    """
    if not 30 <= pressure_kpa <= 120:
        raise OutOfRange("pressure", f"{pressure_kpa:g} kPa", "30 kPa to 120 kPa")
    if not -60 <= temperature_c <= 80:
        raise OutOfRange("temperature", f"{temperature_c:g} degC", "-60 degC to 80 degC")
    return (pressure_kpa / _STANDARD_KPA) * (_STANDARD_K / (_ZERO_C_K + temperature_c))


def standard_pressure_kpa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere: 101.325 (1 - 0.0065 h/288.15)^5.25588. [m above sea level -> kPa]

    A pressure measured on site is better.

    Raises
    ------
    OutOfRange
        If the height is not -500 m to 6000 m.
    """
    if not -500 <= altitude_m <= 6000:
        raise OutOfRange("altitude", f"{altitude_m:g} m", "-500 m to 6000 m")
    return float(101.325 * (1 - 0.0065 * altitude_m / 288.15) ** 5.25588)


def _checked(gap_mm: float, density: float) -> float:
    """Density times gap. [cm]"""
    if not LEAST_GAP_MM <= gap_mm <= MOST_GAP_MM:
        raise OutOfRange("thickness", f"{gap_mm:g} mm", f"{LEAST_GAP_MM:g} mm to {MOST_GAP_MM:g} mm for the air-gap model")
    return density * gap_mm / 10


def uniform_kv(gap_mm: float, density: float = 1.0) -> float:
    """Voltage that breaks down an air gap between even electrodes. [mm -> kV, peak or DC]

    Raises
    ------
    OutOfRange
        If the gap lies outside 0.02 to 20 mm.
    """
    x = _checked(gap_mm, density)
    return UNIFORM_LINEAR * x + UNIFORM_ROOT * math.sqrt(x)


def low_bracket_kv(gap_mm: float, density: float = 1.0) -> float:
    """The same by the older formula, which reads 1 to 8 % lower. [mm -> kV]"""
    x = _checked(gap_mm, density)
    return _LOW_A * x + _LOW_B * math.sqrt(x)


def gap_jumped_mm(voltage_kv: float, density: float = 1.0) -> float:
    """Gap between even electrodes that a voltage jumps; the inverse of `uniform_kv`, in closed form. [kV -> mm]

    Raises
    ------
    OutOfRange
        If the voltage is not more than zero, or jumps a gap beyond the model.
    """
    if not voltage_kv > 0:
        raise OutOfRange("voltage", f"{voltage_kv:g} kV", "more than 0 kV")
    root = (-UNIFORM_ROOT + math.sqrt(UNIFORM_ROOT**2 + 4 * UNIFORM_LINEAR * voltage_kv)) / (2 * UNIFORM_LINEAR)
    gap = 10 * root**2 / density
    if gap > MOST_GAP_MM:
        raise OutOfRange("voltage", f"{voltage_kv:g} kV", f"a voltage that jumps at most {MOST_GAP_MM:g} mm")
    return gap
