"""Air gaps: check rows of handbooks. Sources and grades stand beside each value."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import OutOfRange
from wholefilm.electric import gap_jumped_mm, low_bracket_kv, relative_density, standard_pressure_kpa, uniform_kv


def test_1_the_older_formula_at_10_mm() -> None:
    """Bruce 1947 as in Naidu and Kamaraju: 30.3 kV at 10 mm (memory)."""
    assert low_bracket_kv(10) == pytest.approx(30.3, rel=0.001)


def test_2_and_3_the_curve_at_10_mm() -> None:
    """Kuffel and Zaengl: 31.4 kV (memory); Spath measured 31.55 kV (seen, quoted in a paper of the 1930s)."""
    assert uniform_kv(10) == pytest.approx(31.4402, abs=5e-5)
    assert uniform_kv(10) == pytest.approx(31.4, rel=0.003)
    assert uniform_kv(10) == pytest.approx(31.55, rel=0.01)


@pytest.mark.parametrize(
    ("gap_mm", "kv"),
    # IEC 60052, spheres of 2 cm (memory); 17.4 at 5 mm also for 5 cm (seen on a public page). 3 mm in two columns alike.
    [(0.5, 2.8), (0.75, 3.75), (1.0, 4.7), (1.5, 6.4), (2.0, 8.0), (2.5, 9.6),
     (3.0, 11.2), (4.0, 14.4), (5.0, 17.4), (6.0, 20.4), (10.0, 30.7)],
)  # fmt: skip
def test_4_and_5_within_3_percent_of_the_sphere_gap_rows(gap_mm: float, kv: float) -> None:
    assert uniform_kv(gap_mm) == pytest.approx(kv, rel=0.03)


def test_the_named_rows_4_and_5() -> None:
    assert uniform_kv(1) == pytest.approx(4.60649, abs=5e-6)
    assert uniform_kv(5) == pytest.approx(17.1209, abs=5e-5)


def test_7_aiee_spheres_at_20_kv() -> None:
    """AIEE table, spheres of 2.5 cm, 760 mmHg and 25 degC: 20 kV at 5.8 mm (seen)."""
    assert uniform_kv(5.8, 0.983) == pytest.approx(19.184, rel=5e-4)
    assert uniform_kv(5.8, 0.983) == pytest.approx(20, rel=0.06)


def test_8_a_needle_gap_needs_less_than_the_even_gap() -> None:
    """AIEE needles: 10 kV cross 8.5 mm (seen); between even electrodes 10 kV cross less than a third of that."""
    assert gap_jumped_mm(10) < 8.5 / 3
    assert uniform_kv(8.5) > 10


def test_10_and_11_constants_of_the_other_law_agree_with_each_other() -> None:
    """Paschen constants, a public page quoting Zastawny 1997 (seen): A 15, B 365 per cm Torr, gamma 0.01 give C 1.18; per kPa 2737.5."""
    assert math.log(15 / math.log(1 + 1 / 0.01)) == pytest.approx(1.18, rel=0.002)
    assert pytest.approx(2737.5, rel=0.001) == 365 / 0.1333224
    b, c = 2737.5, 1.18  # and our curve lies under that law above 0.3 mm, by 7 to 16 %
    for gap_mm in (0.5, 1.0, 2.0, 5.0):
        product = 101.3 * gap_mm / 10
        law_kv = b * product / (math.log(product / 0.1333224) + c) / 1000
        assert 1.03 < law_kv / uniform_kv(gap_mm) < 1.17


@pytest.mark.parametrize(("v", "k", "t_mm"), [("525 per sqrt mil", 3294.14, 0.219), ("1250 per sqrt mil", 7843.2, 5.34)])
def test_12_13_15_16_where_the_square_root_rules_cross_the_curve(v: str, k: float, t_mm: float) -> None:
    """Coefficients per sqrt mm (memory); the crossing is derived arithmetic."""
    coefficient = float(v.split()[0]) / math.sqrt(0.0254)
    assert coefficient == pytest.approx(k, rel=1e-5)
    low, high = 0.05, 15.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if coefficient / 1000 * math.sqrt(middle) > uniform_kv(middle) else (low, middle)
    assert low == pytest.approx(t_mm, rel=0.005)


def test_14_the_coefficient_in_micrometres_is_rounded() -> None:
    """1250 per sqrt mil is 248.0 per sqrt um; documents print 250 (restated)."""
    assert 1250 / math.sqrt(25.4) == pytest.approx(248.024, abs=1e-3)
    assert 1250 / math.sqrt(25.4) == pytest.approx(250, rel=0.01)


@pytest.mark.parametrize(("h", "kpa", "density"), [(500, 95.5, 0.942), (1000, 89.9, 0.887), (2000, 79.5, 0.785), (3000, 70.1, 0.692)])
def test_18_standard_atmosphere(h: float, kpa: float, density: float) -> None:
    """US Standard Atmosphere 1976 (seen through a public library): 79.5014 kPa at 2000 m."""
    assert standard_pressure_kpa(h) == pytest.approx(kpa, abs=0.06)
    assert relative_density(standard_pressure_kpa(h), 20) == pytest.approx(density, abs=0.001)
    assert standard_pressure_kpa(2000) == pytest.approx(79.5014, rel=0.001)


def test_20_density_at_25_degc() -> None:
    """(760 Torr, 293 K form; seen)."""
    assert relative_density(101.3, 25) == pytest.approx(0.983, rel=0.001)


@pytest.mark.parametrize(
    ("kv", "mm"),
    [(0.5, 0.037), (1, 0.113), (1.5, 0.210), (2, 0.320), (2.5, 0.439), (3, 0.565), (4, 0.831), (5, 1.11),
     (7.5, 1.86), (10, 2.64), (15, 4.29), (20, 5.98), (30, 9.49)],
)  # fmt: skip
def test_gaps_that_a_voltage_jumps(kv: float, mm: float) -> None:
    """Derived from the same curve by hand."""
    assert gap_jumped_mm(kv) == pytest.approx(mm, abs=0.007)


@given(st.floats(0.02, 19.9), st.floats(0.6, 1.1))
def test_the_inverse_is_exact(gap_mm: float, density: float) -> None:
    kv = uniform_kv(gap_mm, density)
    assert gap_jumped_mm(kv, density) == pytest.approx(gap_mm, rel=1e-9)


@given(st.floats(0.02, 19.0), st.floats(1.001, 1.05), st.floats(0.6, 1.1))
def test_it_rises_with_the_gap_and_with_the_density(gap_mm: float, more: float, density: float) -> None:
    assert uniform_kv(gap_mm * more, density) > uniform_kv(gap_mm, density)
    assert uniform_kv(gap_mm, density * more) > uniform_kv(gap_mm, density)


def test_thin_air_is_jumped_further() -> None:
    """Derived by hand: 2.5 kV jumps 0.44 mm at sea level, 0.56 mm at 2000 m."""
    assert gap_jumped_mm(2.5) == pytest.approx(0.44, abs=0.005)
    assert gap_jumped_mm(2.5, 0.785) == pytest.approx(0.56, abs=0.005)


@pytest.mark.parametrize("gap", [0.0, -1.0, 0.019, 20.1, math.nan, math.inf])
def test_gaps_outside_the_model_are_refused(gap: float) -> None:
    with pytest.raises(OutOfRange, match="20 mm"):
        uniform_kv(gap)


@pytest.mark.parametrize("kv", [0.0, -2.0, 1e9, math.nan])
def test_voltages_outside_the_model_are_refused(kv: float) -> None:
    with pytest.raises(OutOfRange, match="voltage"):
        gap_jumped_mm(kv)


@pytest.mark.parametrize(("kpa", "c"), [(20, 20), (130, 20), (101, -80), (101, 99), (math.nan, 20)])
def test_air_that_nobody_works_in_is_refused(kpa: float, c: float) -> None:
    with pytest.raises(OutOfRange):
        relative_density(kpa, c)
