"""Climate rules as data, typed twice, and a reading held against each; verdicts of the check cases."""

from __future__ import annotations

from typing import Any

import pytest

from wholefilm.base.errors import BadInput, NotFound, UnknownEdition
from wholefilm.base.findings import Outcome
from wholefilm.climate.entered import measured
from wholefilm.climate.holding import Earlier, Held, hold, hold_all, worst_of
from wholefilm.climate.requirement import read_climate
from wholefilm.climate.state import ClimateState, climate_state
from wholefilm.rules.climate import climate_rule, load_climate, read_climate_limits, read_climate_rule, read_every

# id, limit as printed, grade, clause, every. Source: excerpts and restatements of each document, typed here a second time.
SHELF = [
    ("IMO-PSPC/spread", "surface over dew point at least 3 K", "memory", "Table 1, item 3", ""),
    ("IMO-PSPC/rh", "relative humidity at most 85 %", "memory", "Table 1, item 3", ""),
    ("ISO-12944-7/spread", "surface over dew point at least 3 K", "restated", "", ""),
    ("ISO-12944-7/rh", "relative humidity at most 85 %", "restated", "", ""),
    ("ISO-8502-4/spread", "surface over dew point at least 3 K", "restated", "", ""),
    ("MIL-HDBK-1110/spread", "surface over dew point at least 5 degF, and rising", "seen", "9.6.6", ""),
    ("MIL-HDBK-1110/interval", "", "seen", "9.6.6, 9.6.6.2", "4 h"),
    ("TR-3/spread", "surface over dew point at least 17 degF (printed as a range to 25 degF)", "restated", "", ""),
    ("TR-3/surface-rh", "relative humidity at the surface at most 55 % (printed as a range to 40 %)", "restated", "", ""),
    (
        "UFGS-09970/tank-climate", "relative humidity at the surface below 55 % or surface over dew point at least 10 K",
        "seen", "3.6.1.2", "",
    ),
]  # fmt: skip


def test_the_shelf_is_what_was_read() -> None:
    found = []
    for rule in load_climate().values():
        rows = dict(rule.describe())
        limit = rows.get("limit", "").removesuffix(f" [{rule.grade.value}]")
        found.append((rule.id, limit, rule.grade.value, rule.clause, rule.every))
    assert found == SHELF


def test_no_rule_was_written_for_a_holiday_test() -> None:
    for rule in load_climate().values():
        assert "test" not in rule.written_for
        assert rule.editions


def state(air: float, rh: float, steel: float, **u: str) -> ClimateState:
    return climate_state(measured({"air": f"{air} degC", "rh": f"{rh} %", "surface": f"{steel} degC"} | u))


def held(rule: str, s: ClimateState, earlier: Earlier | None = None) -> list[Held]:
    found = climate_rule(rule)
    return hold_all(found.limits, found.any_of, s, earlier)


def words(rule: str, s: ClimateState) -> str:
    return held(rule, s)[0].finding.value


# Verdicts of CLI-02 (published practice example: work not allowed), 04, 05, 07 (computed): ISO 3 K, US 5 degF, RH 85 %
@pytest.mark.parametrize(
    ("air", "rh", "steel", "iso", "us", "humidity"),
    [
        (16, 71, 13, "not_met", "not_met", "met"),
        (20, 86, 25, "met", "met", "not_met"),
        (30, 60, 24.5, "met", "met", "met"),
        (35, 75, 33, "met", "met", "met"),
    ],
)
def test_verdicts(air: float, rh: float, steel: float, iso: str, us: str, humidity: str) -> None:
    s = state(air, rh, steel)
    assert words("ISO-8502-4/spread", s) == words("ISO-12944-7/spread", s) == words("IMO-PSPC/spread", s) == iso
    assert words("MIL-HDBK-1110/spread", s) == us
    assert words("ISO-12944-7/rh", s) == words("IMO-PSPC/rh", s) == humidity


def test_cli_01_by_wet_bulb_meets_three_kelvin() -> None:
    s = climate_state(measured({"air": "21 degC", "wet_bulb": "17 degC", "surface": "19 degC", "pressure": "1013.25 hPa"}))
    assert words("ISO-8502-4/spread", s) == "met"


def test_three_degrees_celsius_are_not_five_degrees_fahrenheit() -> None:
    """A spread of 2.9 K: 5 degF is 2.78 K, so it meets the one and not the other. 20 degC and 65 %: dew point 13.22 degC."""
    s = state(20, 65, 16.12)
    assert s.spread_k == pytest.approx(2.9, abs=0.01)
    assert words("ISO-8502-4/spread", s) == "not_met"
    us = held("MIL-HDBK-1110/spread", s)[0]
    assert us.finding is Outcome.MET
    assert us.value == "5.22 degF (2.90 K)"


def test_the_limit_itself_is_allowed() -> None:
    assert words("ISO-12944-7/rh", state(20, 85, 25)) == "met"
    assert words("ISO-12944-7/rh", state(20, 85.01, 25)) == "not_met"


def test_cli_05_is_met_inside_the_uncertainty_of_an_ordinary_hygrometer() -> None:
    plain = held("ISO-8502-4/spread", state(30, 60, 24.5))[0]
    assert plain.says == "met"
    near = held("ISO-8502-4/spread", state(30, 60, 24.5, rh_uncertainty="3 %"))[0]
    assert (near.finding, near.inside_uncertainty, near.says) == (Outcome.MET, True, "met, inside uncertainty")
    below = held("ISO-8502-4/spread", state(30, 60, 24.0, rh_uncertainty="3 %"))[0]
    assert below.says == "not met, inside uncertainty"
    far = held("ISO-8502-4/spread", state(30, 60, 29, rh_uncertainty="3 %"))[0]
    assert far.says == "met"


@pytest.mark.parametrize(
    ("surface", "spread", "word"),
    [
        (None, None, "cannot_tell"), (14, None, "cannot_tell"), (None, 1.0, "cannot_tell"), (14, 2.0, "met"), (15.5, 9.0, "not_met"),
        (15, 9.0, "not_met"), (14, 9.0, "cannot_tell"),
    ],
)  # fmt: skip
def test_and_rising_needs_an_earlier_reading(surface: float | None, spread: float | None, word: str) -> None:
    """20 degC, 50 %, steel 15: spread 5.74 K. Surface and spread must both rise; where they part nothing can be told."""
    rising = held("MIL-HDBK-1110/spread", state(20, 50, 15), Earlier(surface, spread))[1]
    assert (rising.limit, rising.finding.value) == ("and rising", word)
    assert held("MIL-HDBK-1110/spread", state(20, 50, 15))[1].finding is Outcome.CANNOT_TELL


# UFGS 09970: under 55 % at the steel, or dew point 10 K under it. 20 degC: dew points 12.00 (60 %) and 9.26 (50 %).
@pytest.mark.parametrize(("rh", "steel", "word"), [(60, 21.9, "met"), (60, 21, "not_met"), (50, 19, "met"), (50, 18, "not_met")])
def test_one_of_two_limits_is_enough(rh: float, steel: float, word: str) -> None:
    results = held("UFGS-09970/tank-climate", state(20, rh, steel))
    assert [h.finding.value for h in results] == [word]


def test_one_of_two_alternatives_carries_or_is_inside_uncertainty() -> None:
    sure = held("UFGS-09970/tank-climate", state(20, 50, 25, rh_uncertainty="3 %"))[0]
    assert sure.says == "met"
    near = held("UFGS-09970/tank-climate", state(20, 60, 21.8, rh_uncertainty="3 %"))[0]
    assert near.inside_uncertainty


# TR 3: 17 to 25 degF is 9.44 to 13.89 K. 20 degC, 50 %: dew point 9.26 degC.
@pytest.mark.parametrize(("steel", "word"), [(18.6, "not_met"), (18.8, "met"), (23.1, "met"), (23.2, "cannot_tell")])
def test_beyond_a_printed_range_nothing_can_be_told(steel: float, word: str) -> None:
    assert words("TR-3/spread", state(20, 50, steel)) == word


@pytest.mark.parametrize(("steel", "word"), [(18.3, "not_met"), (19.5, "met"), (24.5, "cannot_tell")])
def test_the_same_for_the_humidity_at_the_surface(steel: float, word: str) -> None:
    """20 degC, 50 %: 55.6 % at 18.3 degC, 51.6 % at 19.5, 38.0 % at 24.5."""
    assert words("TR-3/surface-rh", state(20, 50, steel)) == word


def test_other_bounds() -> None:
    s = state(20, 50, 15)
    limits = read_climate_limits(
        [
            {"of": "air", "at_least": "68 degF"}, {"of": "air", "over": "20 degC"}, {"of": "surface", "at_most": "59 degF"},
            {"of": "surface", "below": "15 degC"},
        ]
    )  # fmt: skip
    assert [hold(x, s).finding.value for x in limits] == ["met", "not_met", "met", "not_met"]
    assert worst_of([hold(x, s) for x in limits]) is Outcome.NOT_MET
    assert worst_of([]) is Outcome.CANNOT_TELL


@pytest.mark.parametrize(
    ("limits", "field"),
    [
        (None, "limits"),
        ([], "limits"),
        ([{"of": "wind", "at_most": "5 m/s"}], "limits[0].of"),
        ([{"of": "spread", "at_least": "3 K", "colour": "red"}], "limits[0].colour"),
        ([{"of": "spread"}], "limits[0]"),
        ([{"of": "spread", "at_least": "3 K", "over": "2 K"}], "limits[0]"),
        ([{"of": "spread", "at_least": "3"}], "limits[0].at_least"),
        ([{"of": "rh", "at_most": "850 %"}], "limits[0].at_most"),
        ([{"of": "rh", "at_most": "3 K"}], "limits[0].at_most"),
        ([{"of": "rising", "at_least": "3 K"}], "limits[0].at_least"),
        ([{"of": "spread", "at_least": "3 K", "range_to": "2 K"}], "limits[0].range_to"),
        ([{"of": "rh", "at_most": "55 %", "range_to": "60 %"}], "limits[0].range_to"),
    ],
)
def test_limits_are_read_strictly(limits: Any, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_climate_limits(limits)
    assert caught.value.field == field


RULE = {
    "id": "X", "title": "t", "document": "d", "editions": ["1"], "grade": "seen", "written_for": "application", "says": "s",
    "limits": [{"of": "spread", "at_least": "3 K"}],
}  # fmt: skip


@pytest.mark.parametrize(
    "change",
    [{"grade": None}, {"grade": "sure"}, {"editions": []}, {"editions": ["1", "1"]}, {"colour": "red"}, {"limits": []}, {"every": "0 h"}],
)
def test_a_rule_without_grade_or_edition_is_refused(change: dict[str, Any]) -> None:
    assert read_climate_rule(RULE).choosable
    with pytest.raises(BadInput):
        read_climate_rule({k: v for k, v in (RULE | change).items() if v is not None})


def test_ids_and_editions_are_asked_by_name() -> None:
    with pytest.raises(NotFound, match="ISO-8502-4/spread"):
        climate_rule("ISO-8502")
    assert str(climate_rule("ISO-8502-4/spread").source("2017")) == "ISO 8502-4 2017 [restated]"
    for edition in ("2016", ""):
        with pytest.raises(UnknownEdition, match="1993; 2017"):
            climate_rule("ISO-8502-4/spread").source(edition)


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        ({"applies_to": "test"}, "rule"),
        ({"applies_to": "lunch", "every": "4 h"}, "rule.applies_to"),
        ({"every": "4 h"}, "rule.applies_to"),
        ({"applies_to": "test", "rule": "ISO-8502-4/spread"}, "edition"),
        ({"applies_to": "test", "rule": "ISO-8502-4/spread", "edition": "1066"}, "edition"),
        ({"applies_to": "test", "rule": "nosuch", "edition": "1"}, "climate rule"),
        ({"applies_to": "test", "every": "4 h", "edition": "1"}, "rule.edition"),
        ({"applies_to": "test", "every": "4"}, "rule.every"),
        ({"applies_to": "test", "every": "0 h"}, "rule.every"),
        ({"applies_to": "test", "every": "400 d"}, "rule.every"),
        ({"applies_to": "test", "limits": [{"of": "spread"}]}, "rule.limits[0]"),
        (
            {"applies_to": "test", "rule": "ISO-8502-4/spread", "edition": "2017", "limits": [{"of": "spread", "at_least": "3 K"}]},
            "rule.limits",
        ),
    ],
)
def test_a_requirement_is_read_strictly(rule: dict[str, Any], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_climate({"form": "climate"} | rule)
    assert caught.value.field == field


def test_a_requirement_in_words() -> None:
    own = read_climate({"form": "climate", "applies_to": "test", "limits": [{"of": "spread", "at_least": "3 K"}], "every": "4 h"})
    assert str(own) == "surface over dew point at least 3 K; read every 4 h"
    named = read_climate(
        {"form": "climate", "applies_to": "application", "rule": "MIL-HDBK-1110/interval", "edition": "text as read, date not shown"}
    )
    assert (named.interval, named.interval_ms) == ("4 h", 4 * 3600 * 1000)
    assert read_every("90 min") == 5400000
