"""Dew point and frost point against PsychroLib 2.5.0 (ASHRAE Handbook of Fundamentals 2017, chapter 1), and against printed tables."""

from __future__ import annotations

import psychrolib
import pytest

from wholefilm.base.errors import OutOfRange
from wholefilm.climate.dew_point import (
    dew_point_of_vapour_wmo_c,
    dew_point_wmo_c,
    frost_point_of_vapour_wmo_c,
    vapour_pressure_ice_wmo_hpa,
    vapour_pressure_of_air_wmo_hpa,
    vapour_pressure_wmo_hpa,
)
from wholefilm.climate.entered import measured
from wholefilm.climate.state import climate_state

psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("air", range(0, 51))
def test_within_a_tenth_of_a_kelvin_of_psychrolib(air: int) -> None:
    """0 to 50 degC and 20 to 100 %: dew point where it is 0 degC or more, frost point below."""
    for rh in range(20, 101):
        theirs = psychrolib.GetTDewPointFromRelHum(float(air), rh / 100)
        if dew_point_wmo_c(air, rh) >= 0:
            assert dew_point_wmo_c(air, rh) == pytest.approx(theirs, abs=0.1), rh
        else:
            assert frost_point_of_vapour_wmo_c(vapour_pressure_of_air_wmo_hpa(air, rh)) == pytest.approx(theirs, abs=0.1), rh


# Air degC, RH %, dew point degC: rows of a trade dew point table (seen); the source prints one decimal, within 0.08 K of PsychroLib
TABLE = [
    (5, 70, 0.0), (10, 50, 0.1), (10, 80, 6.7), (10, 85, 7.6), (15, 60, 7.3), (15, 90, 13.4), (20, 50, 9.3), (20, 55, 10.7),
    (20, 60, 12.0), (20, 65, 13.3), (25, 50, 13.8), (25, 60, 16.7), (30, 50, 18.4), (30, 55, 20.0), (30, 60, 21.4),
]  # fmt: skip


@pytest.mark.parametrize(("air", "rh", "printed"), TABLE)
def test_rows_of_a_printed_table(air: float, rh: float, printed: float) -> None:
    assert dew_point_wmo_c(air, rh) == pytest.approx(printed, abs=0.1)


# Air degF, RH %, computed degF beside a trade chart that mostly rounds down (chart: 57, 65, 45, 59, 87, 45, 69, 36): we compute.
CHART_F = [
    (70, 65, 57.7), (70, 85, 65.3), (50, 85, 45.7), (80, 50, 59.7), (90, 90, 86.7), (60, 60, 46.1), (100, 40, 71.3), (40, 85, 35.9),
]  # fmt: skip


@pytest.mark.parametrize(("air", "rh", "expected"), CHART_F)
def test_a_chart_in_fahrenheit_is_computed_not_looked_up(air: float, rh: float, expected: float) -> None:
    state = climate_state(measured({"air": f"{air} degF", "rh": f"{rh} %", "surface": f"{air} degF"}))
    assert state.dew_point_c * 1.8 + 32 == pytest.approx(expected, abs=0.1)


# WMO-No. 8 / Sonntag, from memory of the tables of saturation pressure: over ice at -10 degC 2.60 hPa, at -20 degC 1.03 hPa;
# over water at -10 degC 2.86 hPa.
@pytest.mark.parametrize(("temperature", "hpa"), [(-10, 2.60), (-20, 1.03)])
def test_vapour_pressure_over_ice(temperature: float, hpa: float) -> None:
    assert vapour_pressure_ice_wmo_hpa(temperature) == pytest.approx(hpa, abs=0.01)
    assert vapour_pressure_ice_wmo_hpa(temperature) < vapour_pressure_wmo_hpa(temperature)


@pytest.mark.parametrize("temperature", [-40, -20, -5, -0.1, 0])
def test_vapour_pressure_over_ice_within_half_a_percent_of_psychrolib(temperature: float) -> None:
    assert vapour_pressure_ice_wmo_hpa(temperature) * 100 == pytest.approx(psychrolib.GetSatVapPres(float(temperature)), rel=0.005)


def test_both_points_meet_at_the_freezing_point() -> None:
    assert dew_point_of_vapour_wmo_c(6.112) == pytest.approx(0, abs=1e-12)
    assert frost_point_of_vapour_wmo_c(6.112) == pytest.approx(0, abs=1e-12)


def test_there_is_no_frost_point_above_freezing_and_no_ice() -> None:
    for wrong in (6.2, 0.0, -1.0):
        with pytest.raises(OutOfRange, match="frost point"):
            frost_point_of_vapour_wmo_c(wrong)
    with pytest.raises(OutOfRange, match="over ice"):
        vapour_pressure_ice_wmo_hpa(0.1)


def test_air_at_freezing_and_90_percent() -> None:
    """Row 18 of the check values: PsychroLib -1.27 (frost point), MetPy -1.45 (dew point over water)."""
    state = climate_state(measured({"air": "0 degC", "rh": "90 %", "surface": "2 degC"}))
    assert state.frost_point_c == pytest.approx(-1.27, abs=0.02)
    assert state.dew_point_c == pytest.approx(-1.45, abs=0.02)
    assert state.over == "frost point"
    assert state.spread_k == pytest.approx(3.27, abs=0.02)
