"""Dew point of the air by the Magnus formula of WMO-No. 8, Annex 4.B, over water."""

from __future__ import annotations

import math

from wholefilm.base.errors import OutOfRange

A_HPA, M, TN_C = 6.112, 17.62, 243.12
"""Constants over water: WMO-No. 8 Annex 4.B (Sonntag 1990); constants restated, range from memory."""


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
    Agrees with PsychroLib 2.5.0 within 0.044 K from 0 to 40 degC [1]_. Below 0 degC this is the dew point over water, not
    the frost point.

    References
    ----------
    .. [1] WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B.
    """
    if not 0 < rh_percent <= 100:
        raise OutOfRange("rh", f"{rh_percent} %", "over 0 to 100 %")
    log = math.log(vapour_pressure_wmo_hpa(air_c) * rh_percent / 100 / A_HPA)
    return TN_C * log / (M - log)
