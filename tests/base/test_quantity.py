"""Units. Exact by definition: 1 in = 25.4 mm, 1 mil = 0.001 in, 1 ft = 12 in (international yard and pound agreement of 1959);
degC = K - 273.15, degF = 1.8 degC + 32. From memory, and in every handbook.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import ALIASES, UNITS, quantity, units_of


@pytest.mark.parametrize(
    ("text", "dimension", "unit", "exact"),
    [
        ("1 mil", "length", "um", Fraction(254, 10)),
        ("40 mil", "length", "um", Fraction(1016)),
        ("1 in", "length", "mm", Fraction(254, 10)),
        ("1 ft", "length", "in", Fraction(12)),
        ("1 in", "length", "mil", Fraction(1000)),
        ("800 um", "length", "mm", Fraction(8, 10)),
        ("2,5 mm", "length", "um", Fraction(2500)),
        (".5 mm", "length", "um", Fraction(500)),
        ("-1.35 m", "length", "cm", Fraction(-135)),
        ("1 ft2", "area", "in2", Fraction(144)),
        ("1 ft2", "area", "m2", Fraction("0.09290304")),
        ("3.00 kV", "voltage", "V", Fraction(3000)),
        ("100 V/mil", "field", "V/um", Fraction(1000, 254)),
        ("1 V/um", "field", "V/mil", Fraction(254, 10)),
        ("3 kV/mm", "field", "V/um", Fraction(3)),
        ("0 degC", "temperature", "degF", Fraction(32)),
        ("100 degC", "temperature", "degF", Fraction(212)),
        ("-40 degF", "temperature", "degC", Fraction(-40)),
        ("0 K", "temperature", "degC", Fraction("-273.15")),
        ("3 K", "temperature_difference", "dK", Fraction(3)),
        ("3 degC", "temperature_difference", "dK", Fraction(3)),
        ("5 degF", "temperature_difference", "dK", Fraction(25, 9)),
        ("5 %", "share", "1", Fraction(1, 20)),
        ("80 kohm", "resistance", "ohm", Fraction(80000)),
        ("4 d", "time", "h", Fraction(96)),
        ("1 ft2/h", "area_rate", "m2/h", Fraction("0.09290304")),
        ("1013.25 hPa", "pressure", "Pa", Fraction(101325)),
    ],
)
def test_conversions_are_exact(text: str, dimension: str, unit: str, exact: Fraction) -> None:
    read = quantity(text, dimension)
    assert read.exact(unit) == exact
    assert read.to(unit) == float(exact)
    assert str(read) == text


def test_100_volt_per_mil_is_3_937_volt_per_micrometre() -> None:
    """100 / 25.4 = 3.93701 (by hand); a slip of the factor 25.4 either way would be 2540 or 0.155."""
    assert quantity("100 V/mil", "field").to("V/um") == pytest.approx(3.937, abs=5e-4)


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("800", "length"),
        ("800 ", "length"),
        ("um", "length"),
        ("", "length"),
        ("3 kV", "length"),
        ("100 V", "field"),
        ("100 V/mil", "voltage"),
        ("40 mil", "angle"),
        ("90 deg", "length"),
        ("5 degC", "share"),
        ("1.000,5 um", "length"),
        ("1,000,5 um", "length"),
        ("1e3 um", "length"),
        ("1/2 um", "length"),
        ("+-5 %", "share"),
        ("٣ um", "length"),
        ("inf um", "length"),
        ("nan um", "length"),
        ("3 KV", "voltage"),
        ("3 kv", "voltage"),
        ("1 M", "length"),
        ("5 um um", "length"),
        ("5 um\nx", "length"),
        ("1" * 31 + " um", "length"),
        ("1" * 5000 + " um", "length"),
    ],
)
def test_what_is_no_quantity_is_refused_with_field_value_and_what_is_allowed(text: str, dimension: str) -> None:
    with pytest.raises(BadInput) as caught:
        quantity(text, dimension, "basis.low")
    assert (caught.value.field, caught.value.value) == ("basis.low", text)
    assert all(unit in caught.value.allowed for unit in units_of(dimension))


def test_a_mil_is_a_length_and_nothing_else() -> None:
    assert UNITS["mil"][0] == "length"
    assert "mil" not in units_of("angle")
    assert ALIASES["mils"] == "mil"


def test_another_dimension_cannot_be_asked_for() -> None:
    for unit in ("V/um", "um", "furlong"):
        with pytest.raises(BadInput):
            quantity("3 kV", "voltage").exact(unit)


PLACES = [(d, u) for u, (d, _, _) in UNITS.items()]


@given(st.sampled_from(PLACES), st.data())
def test_there_and_back_through_any_unit_loses_nothing(place: tuple[str, str], data: st.DataObject) -> None:
    dimension, unit = place
    whole, part = data.draw(st.integers(-(10**8), 10**8)), data.draw(st.integers(0, 999))
    text = f"{whole}.{part:03d} {unit}"
    read = quantity(text, dimension)
    other = data.draw(st.sampled_from(units_of(dimension)))
    _, factor, offset = UNITS[other]
    assert (read.exact(other) * factor + offset - UNITS[read.unit][2]) / UNITS[read.unit][1] == read.number
    assert read.exact(read.unit) == read.number


@given(st.integers(0, 10**9), st.integers(0, 999))
def test_a_comma_is_a_point(whole: int, part: int) -> None:
    assert quantity(f"{whole},{part:03d} mm", "length").number == quantity(f"{whole}.{part:03d} mm", "length").number
