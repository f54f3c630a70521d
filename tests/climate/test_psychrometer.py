"""Wet bulb to humidity: rows worked out with each constant, PsychroLib beside them, and what is refused."""

from __future__ import annotations

import psychrolib
import pytest

from wholefilm.base.errors import BadInput, OutOfRange
from wholefilm.climate.entered import measured
from wholefilm.climate.psychrometer import CLASSES, PSYCHROMETERS, vapour_pressure_from_wet_bulb_hpa
from wholefilm.climate.state import ClimateState, climate_state

psychrolib.SetUnitSystem(psychrolib.SI)

# dry, wet [degC], pressure [hPa]; RH % and dew point degC: PsychroLib 2.5.0 (thermodynamic wet bulb), WMO 6.53e-4, 6.60e-4.
# Typed from a table that was worked out once with other programs; constants of WMO and the factor of AMS from memory.
ROWS = [
    (21, 17, 1013.25, (67.4, 14.73), (67.1, 14.66), (66.9, 14.62)),
    (20, 15, 1013.25, (58.9, 11.73), (58.6, 11.63), (58.4, 11.58)),
    (25, 20, 1013.25, (63.5, 17.59), (63.1, 17.50), (63.0, 17.46)),
    (30, 25, 1013.25, (67.0, 23.19), (66.6, 23.11), (66.5, 23.08)),
    (15, 12, 1013.25, (70.7, 9.73), (70.5, 9.67), (70.3, 9.64)),
    (10, 9, 1013.25, (88.2, 8.13), (88.1, 8.11), (88.0, 8.10)),
    (25, 20, 954.61, (64.1, 17.74), (63.8, 17.66), (63.6, 17.62)),  # 500 m above the sea
]
COLD = {"air": "-3 degC", "wet_bulb": "-4 degC", "surface": "-2 degC"}


def wet(dry: float, wet_bulb: float, hpa: float = 1013.25, **more: str) -> ClimateState:
    texts = {"air": f"{dry} degC", "wet_bulb": f"{wet_bulb} degC", "surface": f"{dry} degC", "pressure": f"{hpa} hPa"}
    return climate_state(measured(texts, **more))


@pytest.mark.parametrize(("dry", "bulb", "hpa", "psychro", "wmo", "ams"), ROWS)
def test_rows_of_the_table(
    dry: float, bulb: float, hpa: float, psychro: tuple[float, float], wmo: tuple[float, float], ams: tuple[float, float]
) -> None:
    for name, (rh, dew) in (("wmo", wmo), ("ams", ams)):
        state = wet(dry, bulb, hpa, psychrometer=name)
        assert state.rh_percent == pytest.approx(rh, abs=0.1)
        assert state.dew_point_c == pytest.approx(dew, abs=0.02)
        assert state.dew_point_c == pytest.approx(psychro[1], abs=0.16)


@pytest.mark.parametrize(("dry", "bulb", "hpa", "psychro", "wmo", "ams"), ROWS)
def test_psychrolib_says_what_the_table_says_of_it(
    dry: float, bulb: float, hpa: float, psychro: tuple[float, float], wmo: object, ams: object
) -> None:
    """The column typed above, against the library itself; and our humidity within 0.6 % of it at these depressions."""
    theirs = 100 * psychrolib.GetRelHumFromTWetBulb(float(dry), float(bulb), hpa * 100)
    assert theirs == pytest.approx(psychro[0], abs=0.06)
    assert wet(dry, bulb, hpa).rh_percent == pytest.approx(theirs, abs=0.6)


def test_a_large_depression_is_where_formulas_part() -> None:
    """ASHRAE 2017 chapter 1, example 1: dry 40, wet 20 degC: 14 %, dew point 7 degC (restated); WMO psychrometer 13.4 % and 6.76 degC."""
    state = wet(40, 20)
    assert state.rh_percent == pytest.approx(14, abs=0.7)
    assert state.dew_point_c == pytest.approx(7, abs=0.5)
    assert state.rh_percent == pytest.approx(13.4, abs=0.05)
    assert state.dew_point_c == pytest.approx(6.76, abs=0.02)


def test_a_wet_bulb_above_the_dry_is_refused() -> None:
    """CLI-08."""
    with pytest.raises(BadInput, match="a wet bulb cannot be the warmer") as caught:
        wet(20, 21)
    assert (caught.value.field, caught.value.value) == ("wet bulb", "21 degC")


def test_a_wet_bulb_under_one_degree_is_warned_of() -> None:
    """ASTM E337 is written for wet bulbs of 1 degC and more (restated)."""
    assert any("under 1 degC" in note for note in wet(2, 0.9).notes)
    assert not any("under 1 degC" in note for note in wet(2, 1).notes)


def test_below_freezing_the_wick_must_be_told() -> None:
    with pytest.raises(BadInput, match="whether the wick was frozen"):
        climate_state(measured(COLD))
    with pytest.raises(BadInput, match="for a frozen wick: ams"):
        climate_state(measured(COLD, wick="ice"))
    with pytest.raises(BadInput, match="water: the wet bulb is above"):
        wet(3, 2, wick="ice")
    with pytest.raises(BadInput, match="water or ice"):
        wet(3, 2, wick="dry")
    ice = climate_state(measured(COLD, wick="ice", psychrometer="ams"))
    water = climate_state(measured(COLD, wick="water", psychrometer="ams"))
    # By hand, AMS with its factor 1 - 0.0046, 1013.25 hPa and 1 K: ice 4.372 - 0.587 = 3.785 hPa, water 4.548 - 0.666 = 3.882 hPa;
    # over water at -3 degC 4.898 hPa; 77.3 % and 79.3 %.
    assert ice.rh_percent == pytest.approx(77.3, abs=0.2)
    assert water.rh_percent == pytest.approx(79.3, abs=0.2)


@pytest.mark.parametrize("hpa", [700, 1400, 10132.5, 0, -1])
def test_a_pressure_beyond_30_percent_of_standard_is_refused(hpa: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        wet(20, 15, hpa)
    assert caught.value.field == "pressure"
    assert "709 to 1317 hPa" in caught.value.allowed


def test_only_the_standard_pressure_is_assumed_and_it_is_said() -> None:
    state = climate_state(measured({"air": "20 degC", "wet_bulb": "15 degC", "surface": "20 degC"}))
    assert state.dew_point_c == wet(20, 15).dew_point_c
    assert any("no pressure was read: the standard 1013.25 hPa" in note for note in state.notes)
    assert not any("standard" in note for note in wet(20, 15).notes)


def test_no_vapour_left_and_unknown_names() -> None:
    with pytest.raises(OutOfRange, match="leaves no vapour"):
        wet(50, 10)
    with pytest.raises(BadInput, match="wmo, ams"):
        wet(20, 15, psychrometer="other")
    with pytest.raises(BadInput, match="sling"):
        measured({"air": "20 degC", "wet_bulb": "15 degC", "surface": "20 degC"}, class_="best")


def test_classes_and_constants_as_published() -> None:
    """ASTM E337 (restated): A 0.2, 0.2 K and 3 %; A fine 0.2, 0.1 K and 2 %; B sling 0.6, 0.3 K and 5 %."""
    assert [(c.name, c.air_k, c.depression_k, c.rh_percent) for c in CLASSES.values()] == [
        ("aspirated", 0.2, 0.2, 3.0), ("aspirated_fine", 0.2, 0.1, 2.0), ("sling", 0.6, 0.3, 5.0),
    ]  # fmt: skip
    assert (PSYCHROMETERS["wmo"].a, PSYCHROMETERS["wmo"].factor, PSYCHROMETERS["wmo"].a_ice) == (6.53e-4, 9.44e-4, None)
    assert (PSYCHROMETERS["ams"].a, PSYCHROMETERS["ams"].a_ice) == (6.60e-4, 5.82e-4)


def test_the_formula_by_hand() -> None:
    """20 / 15 degC: over water 6.112 exp(17.62 x 15 / 258.12) = 17.017 hPa; less 6.53e-4 x 1.01416 x 1013.25 x 5 = 3.355 hPa."""
    got = vapour_pressure_from_wet_bulb_hpa(20, 15, 1013.25, PSYCHROMETERS["wmo"])
    assert got == pytest.approx(17.017 - 3.355, abs=0.002)
