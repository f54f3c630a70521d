"""The climate at a surface: dew point, frost point, spread, surface humidity, and how well each is known."""

from __future__ import annotations

import math

import msgspec

from wholefilm.base.errors import BadInput, OutOfRange

from .dew_point import (
    A_HPA,
    dew_point_of_vapour_wmo_c,
    frost_point_of_vapour_wmo_c,
    vapour_pressure_ice_wmo_hpa,
    vapour_pressure_of_air_wmo_hpa,
    vapour_pressure_wmo_hpa,
)
from .psychrometer import E337, E337_LEAST_WET_BULB_C, STANDARD_HPA, psychrometer, psychrometer_class, vapour_pressure_from_wet_bulb_hpa

RESULTS = ("dew_point_c", "frost_point_c", "rh_percent", "spread_k", "surface_rh_percent")


class Measured(msgspec.Struct, frozen=True, kw_only=True):
    """Air, humidity and surface as read; one of `rh_percent` and `wet_bulb_c`. [degC, %, hPa]

    Uncertainties [K, %] are those entered; None = not stated. With a wet bulb, `rh_u_percent` is what the instrument's class
    says of the humidity as a whole, and stands in place of `wet_bulb_u_k`.
    """

    air_c: float
    surface_c: float
    rh_percent: float | None = None
    wet_bulb_c: float | None = None
    pressure_hpa: float | None = None
    psychrometer: str = "wmo"
    wick: str = ""
    air_u_k: float | None = None
    rh_u_percent: float | None = None
    wet_bulb_u_k: float | None = None
    class_: str = ""
    surface_u_k: float | None = None


class Uncertainty(msgspec.Struct, frozen=True, omit_defaults=True):
    """Uncertainty of each result from those entered, at the level at which they were entered; left out where none was. [K, %]

    `not_stated` names the readings for which none was entered: their part is missing.
    """

    dew_point_k: float | None = None
    frost_point_k: float | None = None
    rh_percent: float | None = None
    spread_k: float | None = None
    surface_rh_percent: float | None = None
    not_stated: tuple[str, ...] = ()


class ClimateState(msgspec.Struct, frozen=True):
    """What follows from a reading. [degC, %, K]

    `frost_point_c` is None where the dew point is 0 degC or more. The spread is surface less frost point where there is one,
    else surface less dew point.
    """

    measured: Measured
    dew_point_c: float
    frost_point_c: float | None
    rh_percent: float
    spread_k: float
    surface_rh_percent: float
    uncertainty: Uncertainty
    notes: tuple[str, ...] = ()

    @property
    def over(self) -> str:
        """What the spread is measured from: ``frost point`` or ``dew point``."""
        return "dew point" if self.frost_point_c is None else "frost point"


def climate_state(m: Measured) -> ClimateState:
    """Work a reading out.

    Parameters
    ----------
    m : Measured

    Returns
    -------
    ClimateState

    Raises
    ------
    BadInput
        If not exactly one of humidity and wet bulb is given, or as `vapour_pressure_from_wet_bulb_hpa`.
    OutOfRange
        If a value lies outside the range of its formula, or the humidity comes out over 100 %.
    """
    if (m.rh_percent is None) == (m.wet_bulb_c is None):
        raise BadInput("rh, wet bulb", "both" if m.rh_percent is not None else "neither", "one of rh and wet bulb")
    for name, value in (("air", m.air_c), ("surface", m.surface_c), ("wet bulb", m.wet_bulb_c)):
        if value is not None and not -45 <= value <= 60:
            raise OutOfRange(name, f"{value:g} degC", "-45 to 60 degC")
    dew, frost, rh, spread, surface_rh = _results(m)
    return ClimateState(m, dew, frost, rh, spread, surface_rh, _uncertainty(m), tuple(_notes(m, frost)))


def surface_rh_percent(vapour_pressure_hpa: float, surface_c: float) -> float:
    """Relative humidity of the air when cooled or warmed to the surface; over ice below 0 degC. [hPa, degC] to [%]"""
    saturated = vapour_pressure_wmo_hpa(surface_c) if surface_c >= 0 else vapour_pressure_ice_wmo_hpa(surface_c)
    return 100 * vapour_pressure_hpa / saturated


def _results(m: Measured) -> tuple[float, float | None, float, float, float]:
    if m.wet_bulb_c is not None:
        pressure = STANDARD_HPA if m.pressure_hpa is None else m.pressure_hpa
        vapour = vapour_pressure_from_wet_bulb_hpa(m.air_c, m.wet_bulb_c, pressure, psychrometer(m.psychrometer), m.wick)
        rh = 100 * vapour / vapour_pressure_wmo_hpa(m.air_c)
    else:
        assert m.rh_percent is not None
        rh = m.rh_percent
        vapour = vapour_pressure_of_air_wmo_hpa(m.air_c, rh)
    dew = dew_point_of_vapour_wmo_c(vapour)
    frost = frost_point_of_vapour_wmo_c(vapour) if vapour < A_HPA else None
    if dew < -80:
        raise OutOfRange("rh", f"{rh:g} %", "more: the dew point comes out under -80 degC, where the formula was not written for")
    return dew, frost, rh, m.surface_c - (dew if frost is None else frost), surface_rh_percent(vapour, m.surface_c)


def _moves(m: Measured) -> list[tuple[str, float, str]]:
    """Each uncertainty entered: the reading's name, its size and the field that it moves."""
    return [
        (name, size, field)
        for name, size, field in (
            ("air", m.air_u_k, "air_c"),
            ("rh", m.rh_u_percent, "rh_percent"),
            ("wet bulb", m.wet_bulb_u_k, "wet_bulb_c"),
            ("surface", m.surface_u_k, "surface_c"),
        )
        if size is not None and getattr(m, field) is not None
    ]


def _uncertainty(m: Measured) -> Uncertainty:
    """Root of the sum of the squares of what each entered uncertainty moves, by finite differences."""
    here = _results(m)
    if m.wet_bulb_c is not None and m.rh_u_percent is not None:
        m = msgspec.structs.replace(m, wet_bulb_c=None, rh_percent=here[2])
    moves = _moves(m)
    humidity = "rh" if m.rh_percent is not None else "wet bulb"
    stated = {name for name, _, _ in moves}
    lacking = tuple(name for name in ("air", humidity, "surface") if name not in stated)
    if not moves:
        return Uncertainty(not_stated=lacking)
    squares = dict.fromkeys(RESULTS, 0.0)
    for _, size, field in moves:
        up, down = _moved(m, field, size), _moved(m, field, -size)
        for n, name in enumerate(RESULTS):
            squares[name] += _half(here[n], up and up[n], down and down[n]) ** 2
    u = {name: math.sqrt(s) for name, s in squares.items()}
    of_air = bool(stated & {"air", humidity})
    return Uncertainty(
        u["dew_point_c"] if of_air else None,
        u["frost_point_c"] if of_air and here[1] is not None else None,
        m.rh_u_percent if humidity == "rh" else (u["rh_percent"] if of_air else None),
        u["spread_k"],
        u["surface_rh_percent"],
        lacking,
    )


def _moved(m: Measured, field: str, by: float) -> tuple[float, float | None, float, float, float] | None:
    """Results with one field moved; None where it leaves its range, as at 100 % humidity."""
    try:
        return _results(msgspec.structs.replace(m, **{field: getattr(m, field) + by}))
    except BadInput:
        return None


def _half(here: float | None, up: float | None, down: float | None) -> float:
    """Half of the way between both sides, or the whole way to the one that there is. A frost point may end at 0 degC."""
    if here is None:
        return 0.0
    if up is None or down is None:
        one = up if up is not None else down
        return abs(one - here) if one is not None else 0.0
    return abs(up - down) / 2


def _notes(m: Measured, frost: float | None) -> list[str]:
    notes = []
    if m.wet_bulb_c is not None:
        constant = psychrometer(m.psychrometer)
        notes.append(f"psychrometer constant {constant.name}: {constant.source}")
        if m.class_:
            known = psychrometer_class(m.class_)
            notes.append(f"uncertainty of air and humidity: {known.says}, {E337}, at the 95 % level")
        if m.pressure_hpa is None:
            notes.append(f"no pressure was read: the standard {STANDARD_HPA} hPa is taken")
        if m.wet_bulb_c < E337_LEAST_WET_BULB_C:
            notes.append(f"the wet bulb is under {E337_LEAST_WET_BULB_C:g} degC, for which {E337} is not written")
    elif m.pressure_hpa is not None:
        notes.append("the pressure is not needed with a relative humidity, and is not used")
    if frost is not None:
        notes.append("the dew point is below 0 degC: the spread is from the frost point, the dew point is over water")
    if m.surface_c < 0:
        notes.append("the surface is below 0 degC: its humidity counts over ice")
    return notes
