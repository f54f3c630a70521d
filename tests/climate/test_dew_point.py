"""Dew point over water. Expected values were computed once by PsychroLib 2.5.0 (ASHRAE 2017) and MetPy 1.7.1 and typed here."""

from __future__ import annotations

import pytest

from wholefilm.base.errors import OutOfRange
from wholefilm.climate.dew_point import dew_point_wmo_c, vapour_pressure_wmo_hpa

# air degC, RH %, PsychroLib 2.5.0, MetPy 1.7.1 [degC]; PsychroLib gives the frost point under 0 degC: left out there
ROWS = [
    (5, 85, 2.69, 2.68), (10, 50, 0.06, 0.05), (10, 80, 6.71, 6.70), (10, 85, 7.60, 7.59), (15, 60, 7.31, 7.29), (16, 71, 10.75, 10.74),
    (20, 50, 9.27, 9.26), (20, 60, 12.01, 11.99), (20, 65, 13.23, 13.21), (20, 85, 17.40, 17.39), (23, 50, 12.03, 12.01),
    (25, 80, 21.31, 21.29), (30, 50, 18.45, 18.42), (30, 60, 21.39, 21.36), (30, 85, 27.20, 27.16), (35, 90, 33.11, 33.04),
    (40, 70, 33.47, 33.39), (0, 90, None, -1.45), (-5, 80, None, -7.93),
]  # fmt: skip


@pytest.mark.parametrize(("air", "rh", "psychrolib", "metpy"), ROWS)
def test_agrees_with_two_libraries(air: float, rh: float, psychrolib: float | None, metpy: float) -> None:
    """Within 0.05 K of PsychroLib; of MetPy (Bolton's constants) within 0.1 K, which parts from the others above 30 degC."""
    got = dew_point_wmo_c(air, rh)
    if psychrolib is not None:
        assert got == pytest.approx(psychrolib, abs=0.05)
    assert got == pytest.approx(metpy, abs=0.1)


# ASHRAE Handbook of Fundamentals 2017, chapter 1, table 3, saturation pressure over water [Pa]; typed from a restatement
@pytest.mark.parametrize(("air", "pascal"), [(5, 872.6), (25, 3169.7), (50, 12351.3)])
def test_vapour_pressure_within_half_a_percent_of_the_ashrae_table(air: float, pascal: float) -> None:
    assert vapour_pressure_wmo_hpa(air) * 100 == pytest.approx(pascal, rel=0.005)


@pytest.mark.parametrize("air", [-45, -10, 0, 20, 60])
def test_saturated_air_is_at_its_dew_point_and_drier_air_is_above(air: float) -> None:
    assert dew_point_wmo_c(air, 100) == pytest.approx(air, abs=1e-9)
    assert dew_point_wmo_c(air, 50) < dew_point_wmo_c(air, 99) < air


@pytest.mark.parametrize(
    ("air", "rh", "field"), [(20, 0, "rh"), (20, -1, "rh"), (20, 100.1, "rh"), (60.1, 50, "temperature"), (-45.1, 50, "temperature")]
)
def test_outside_the_range_is_refused(air: float, rh: float, field: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        dew_point_wmo_c(air, rh)
    assert caught.value.field == field
    assert " to " in caught.value.allowed


def test_not_a_number_is_refused() -> None:
    for air, rh in ((float("nan"), 50.0), (20.0, float("nan"))):
        with pytest.raises(OutOfRange):
            dew_point_wmo_c(air, rh)
