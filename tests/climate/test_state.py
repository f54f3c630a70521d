"""Check cases of the climate, uncertainty, and properties. Cases: published where named, else worked out apart from this code."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput, OutOfRange
from wholefilm.climate.dew_point import vapour_pressure_wmo_hpa
from wholefilm.climate.entered import measured
from wholefilm.climate.state import ClimateState, climate_state, surface_rh_percent


def read(air: float, surface: float, *, rh: float | None = None, wet: float | None = None, class_: str = "", **u: str) -> ClimateState:
    texts = {"air": f"{air:f} degC", "surface": f"{surface:f} degC"} | u
    texts |= {"rh": f"{rh:f} %"} if rh is not None else {}
    texts |= {"wet_bulb": f"{wet:f} degC"} if wet is not None else {}
    return climate_state(measured(texts, class_=class_))


# CLI-01 published practice example (its chart says 15), PsychroLib 14.73
def test_cli_01() -> None:
    state = read(21, 19, wet=17)
    assert state.dew_point_c == pytest.approx(14.73, abs=0.15)
    assert state.spread_k == pytest.approx(4.27, abs=0.15)


# CLI-02 published practice example (its chart says 11); CLI-04, 05, 07 computed apart (PsychroLib, MetPy)
@pytest.mark.parametrize(
    ("air", "rh", "steel", "dew", "spread"),
    [(16, 71, 13, 10.75, 2.25), (20, 86, 25, 17.59, 7.41), (30, 60, 24.5, 21.39, 3.11), (35, 75, 33, 29.90, 3.10)],
)
def test_cli_02_04_05_07(air: float, rh: float, steel: float, dew: float, spread: float) -> None:
    state = read(air, steel, rh=rh)
    assert state.dew_point_c == pytest.approx(dew, abs=0.05)
    assert state.spread_k == pytest.approx(spread, abs=0.05)


# CLI-09 computed: dew point 12 degC, steel 15 degC 82.2 %, steel 17 degC 72.4 %
@pytest.mark.parametrize(("steel", "rh"), [(15, 82.2), (17, 72.4)])
def test_cli_09(steel: float, rh: float) -> None:
    assert surface_rh_percent(vapour_pressure_wmo_hpa(12), steel) == pytest.approx(rh, abs=0.3)


# PsychroLib: +3 % and +5 % RH and +1 K air move the dew point by so much [K]; +1 K at the rows: 0.92 to 0.98
@pytest.mark.parametrize(
    ("air", "rh", "u", "moved"),
    [(10, 85, 3, 0.51), (20, 85, 3, 0.55), (20, 50, 3, 0.87), (10, 85, 5, 0.84), (20, 85, 5, 0.91), (20, 50, 5, 1.42)],
)
def test_uncertainty_of_humidity(air: float, rh: float, u: float, moved: float) -> None:
    got = read(air, air, rh=rh, rh_uncertainty=f"{u} %").uncertainty
    assert got.dew_point_k == pytest.approx(moved, abs=0.075)
    assert got.rh_percent == u
    assert got.not_stated == ("air", "surface")


def test_uncertainties_add_as_squares() -> None:
    """20 degC, 50 %: 3 % RH 0.87 K and 1 K of air 0.92 to 0.98 K for the dew point; 0.5 K of surface beside it for the spread."""
    got = read(20, 15, rh=50, rh_uncertainty="3 %", air_uncertainty="1 K", surface_uncertainty="0.5 K").uncertainty
    low, high = math.hypot(0.87, 0.92) - 0.03, math.hypot(0.87, 0.98) + 0.03
    assert got.dew_point_k is not None
    assert got.spread_k is not None
    assert low < got.dew_point_k < high
    assert got.spread_k == pytest.approx(math.hypot(got.dew_point_k, 0.5), abs=1e-6)
    assert got.not_stated == ()


def test_no_uncertainty_entered_gives_no_figure() -> None:
    got = read(20, 15, rh=50).uncertainty
    assert (got.dew_point_k, got.frost_point_k, got.rh_percent, got.spread_k, got.surface_rh_percent) == (None,) * 5
    assert got.not_stated == ("air", "rh", "surface")
    alone = read(20, 15, rh=50, surface_uncertainty="0.5 K").uncertainty
    assert (alone.dew_point_k, alone.spread_k) == (None, pytest.approx(0.5))


def test_uncertainty_at_saturation_is_taken_from_the_side_that_there_is() -> None:
    got = read(20, 15, rh=100, rh_uncertainty="3 %").uncertainty
    assert got.dew_point_k == pytest.approx(0.49, abs=0.03)  # PsychroLib: 97 % is 19.51 degC


# ASTM E337 (restated): 3, 2 and 5 % RH at the 95 % level; PsychroLib at 20 degC and 50 %: +3 % is 0.87 K, +5 % is 1.42 K of dew point
@pytest.mark.parametrize(
    ("name", "rh", "air", "dew"), [("aspirated", 3, 0.2, 0.87), ("aspirated_fine", 2, 0.2, 0.58), ("sling", 5, 0.6, 1.42)]
)
def test_a_class_of_e337_brings_its_own_uncertainty(name: str, rh: float, air: float, dew: float) -> None:
    state = read(20, 20, wet=13.8, class_=name)
    assert state.rh_percent == pytest.approx(50, abs=0.6)
    got = state.uncertainty
    assert got.rh_percent == rh
    assert got.dew_point_k == pytest.approx(math.hypot(dew, 0.95 * air), abs=0.09)
    assert got.not_stated == ("surface",)
    assert any("95 % level" in note for note in state.notes)


@pytest.mark.parametrize(
    ("texts", "class_", "field"),
    [
        ({"air": "20", "rh": "50 %", "surface": "20 degC"}, "", "air"),
        ({"air": "20 degC", "rh": "50 %", "surface": "20 degC", "rh_uncertainty": "-1 %"}, "", "rh_uncertainty"),
        ({"air": "20 degC", "rh": "50 %", "surface": "20 degC", "wet_bulb_uncertainty": "1 K"}, "", "wet_bulb_uncertainty"),
        ({"air": "20 degC", "rh": "50 %", "surface": "20 degC"}, "sling", "psychrometer class"),
        ({"air": "20 degC", "wet_bulb": "15 degC", "surface": "20 degC", "air_uncertainty": "1 K"}, "sling", "psychrometer class"),
        ({"air": "20 degC", "surface": "20 degC"}, "", "rh, wet bulb"),
        ({"air": "20 degC", "rh": "50 %", "wet_bulb": "15 degC", "surface": "20 degC"}, "", "rh, wet bulb"),
        ({"air": "61 degC", "rh": "50 %", "surface": "20 degC"}, "", "air"),
        ({"air": "20 degC", "rh": "50 %", "surface": "-46 degC"}, "", "surface"),
        ({"air": "20 degC", "rh": "0 %", "surface": "20 degC"}, "", "rh"),
        ({"air": "20 degC", "rh": "101 %", "surface": "20 degC"}, "", "rh"),
        ({"air": "20 degC", "rh": "0.000000001 %", "surface": "20 degC"}, "", "rh"),
    ],
)
def test_bad_input_names_the_field(texts: dict[str, str], class_: str, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        climate_state(measured(texts, class_=class_))
    assert caught.value.field == field


AIR, RH = st.floats(-40, 55), st.floats(2, 100)


@given(AIR, RH)
def test_dew_point_is_never_above_the_air_nor_below_by_more_at_more_humidity(air: float, rh: float) -> None:
    state = read(air, air, rh=rh)
    assert state.dew_point_c <= air + 1e-6
    if state.frost_point_c is not None:
        assert state.dew_point_c <= state.frost_point_c + 1e-9 <= 1e-9
    assert read(air, air, rh=rh * 0.99).dew_point_c < state.dew_point_c


@given(AIR, RH, st.floats(-40, 55), st.floats(0.01, 5))
def test_a_warmer_surface_has_more_spread_and_less_humidity(air: float, rh: float, surface: float, by: float) -> None:
    cold, warm = read(air, surface, rh=rh), read(air, surface + by, rh=rh)
    assert warm.spread_k > cold.spread_k
    assert warm.surface_rh_percent < cold.surface_rh_percent


@given(st.floats(3, 50), st.floats(0, 8))
def test_a_lower_wet_bulb_is_drier_air(air: float, depression: float) -> None:
    try:
        state, drier = read(air, air, wet=max(1, air - depression)), read(air, air, wet=max(1, air - depression) - 0.5)
    except OutOfRange:
        return  # no vapour left at that depression
    assert drier.rh_percent < state.rh_percent <= 100 + 1e-6
    assert drier.dew_point_c < state.dew_point_c <= air + 1e-6


@given(AIR, RH, st.floats(0.1, 10), st.floats(0.1, 3))
def test_more_uncertainty_is_never_less(air: float, rh: float, u: float, more: float) -> None:
    one = read(air, air, rh=rh, surface_uncertainty=f"{u:f} K").uncertainty.spread_k
    two = read(air, air, rh=rh, surface_uncertainty=f"{u:f} K", air_uncertainty=f"{more:f} K").uncertainty.spread_k
    assert one is not None
    assert two is not None
    assert two >= one - 1e-9
