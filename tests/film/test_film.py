"""Thickness readings: statistics against the standard library and numpy, the strict range, and files of readings."""

from __future__ import annotations

import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.film.acceptance import ThicknessRange, accept_range
from wholefilm.film.readings import SpotReading, read_spots
from wholefilm.film.result import Readings
from wholefilm.film.statistics import thickness_statistics


@given(st.lists(st.floats(0, 5000, allow_nan=False), min_size=2, max_size=40))
def test_statistics_agree_with_the_standard_library_and_numpy(values: list[float]) -> None:
    got = thickness_statistics(values)
    assert got.n == len(values)
    assert got.mean_um == pytest.approx(statistics.fmean(values), abs=1e-9)
    assert got.sd_um == pytest.approx(statistics.stdev(values), abs=1e-7)
    assert got.sd_um == pytest.approx(float(np.std(values, ddof=1)), abs=1e-7)
    assert (got.min_um, got.max_um) == (min(values), max(values))


def test_statistics_by_hand() -> None:
    """2, 4, 4, 4, 5, 5, 7, 9: mean 5, squares of deviations sum to 32, divided by 7 (not 8): s = 2.138."""
    got = thickness_statistics([2, 4, 4, 4, 5, 5, 7, 9])
    assert (got.mean_um, got.sd_um) == pytest.approx((5, 2.13809), abs=1e-5)
    assert thickness_statistics([700]).sd_um == 0


def spots(*texts: str) -> Readings:
    return Readings([quantity(t, "length").to("um") for t in texts])


RANGE = ThicknessRange(classes=["flat", "weld"], min="600 um", max="1000 um")


@pytest.mark.parametrize(
    ("texts", "outcome", "under", "over"),
    [
        (["600 um", "1000 um"], "met", 0, 0),
        (["599.999 um"], "not_met", 1, 0),
        (["1000.001 um"], "not_met", 0, 1),
        (["599 um", "1001 um", "1002 um", "800 um"], "not_met", 1, 2),
        (["23.6 mil"], "not_met", 1, 0),  # 599.44 um
        (["23.7 mil"], "met", 0, 0),  # 601.98 um
        ([], "cannot_tell", 0, 0),
    ],
)
def test_every_spot_within_two_bounds_both_allowed(texts: list[str], outcome: str, under: int, over: int) -> None:
    got = accept_range(RANGE, spots(*texts))
    assert (got.outcome.value, got.under, got.over, got.n) == (outcome, under, over, len(texts))


def test_a_bound_may_be_left_open() -> None:
    assert accept_range(ThicknessRange(classes=["flat"], min="600 um"), spots("9000 um")).outcome.value == "met"
    assert accept_range(ThicknessRange(classes=["flat"], max="1000 um"), spots("1 um")).outcome.value == "met"


@given(st.lists(st.integers(500, 1100), min_size=1), st.integers(600, 1000))
def test_a_spot_inside_the_range_never_turns_a_finding(values: list[int], inside: int) -> None:
    before, after = (accept_range(RANGE, Readings([float(v) for v in some])) for some in (values, [*values, inside]))
    assert before.outcome is after.outcome
    assert (before.outcome.value == "met") == all(600 <= v <= 1000 for v in values)


def test_a_bound_typed_in_another_unit_than_the_value_decides_exactly() -> None:
    """600 um = 23.622047244... mil, so 0.6 mm, 600 um and 0.0006 m are one bound; 1 mil = 25.4 um exactly."""
    for low in ("600 um", "0.6 mm", "0.0006 m"):
        rule = ThicknessRange(classes=["flat"], min=low)
        assert [accept_range(rule, spots(t)).outcome.value for t in ("600 um", "0.6 mm", "599.999 um")] == ["met", "met", "not_met"]
    for n in range(1, 400):
        rule = ThicknessRange(classes=["flat"], min=f"{n / 10} mil", max=f"{n / 10} mil")
        assert accept_range(rule, spots(f"{254 * n / 100:.2f} um", f"{n / 10} mil")).outcome.value == "met", n


COLUMNS = {"test_area": "Area", "class": "On", "value": "DFT", "first": "x"}
UNITS = {"value": "um", "first": "mm"}


def read(text: str, columns: dict[str, str] = COLUMNS, units: dict[str, str] = UNITS) -> list[SpotReading]:
    return read_spots(text.encode(), columns, units)


@pytest.mark.parametrize(
    "text",
    [
        "Area,On,DFT,x\nF,flat,700.5,1500\nS1,weld,812,\n",
        "\ufeffArea;On;DFT;x\r\nF;flat;700,5;1500\r\nS1;weld;812;\r\n",
        "Area,On,DFT,x\rF,flat,700.5,1500\rS1,weld,812,\r",
        'x,On,DFT,Area\n1500,flat,"700,5",F\n\n,weld,812,S1\n',
    ],
)
def test_commas_semicolons_decimal_commas_and_any_line_ends(text: str) -> None:
    one, two = read(text)
    assert (one.test_area, one.class_, one.thickness.to("um"), one.first, one.row) == ("F", "flat", 700.5, 1.5, 2)
    assert (two.test_area, two.class_, two.thickness.to("um"), two.first) == ("S1", "weld", 812, None)


def test_mils_are_read_as_mils() -> None:
    assert read("Area,On,DFT,x\nF,flat,30,\n", units={"value": "mil"})[0].thickness.to("um") == 762


HEAD = "Area,On,DFT,x\nF,flat,700,1\n"


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (HEAD + "F,flat\n", "line 3"),
        (HEAD + "F,flat,700,1,2\n", "line 3"),
        (HEAD + "F,flat,700,5,1\n", "line 3"),  # a decimal comma among commas
        (HEAD + "F,round,700,1\n", "line 3, class"),
        (HEAD + "F,Flat,700,1\n", "line 3, class"),
        (HEAD + ",flat,700,1\n", "line 3, test_area"),
        (HEAD + "F,flat,,1\n", "line 3, value"),
        (HEAD + "F,flat,thick,1\n", "line 3, value"),
        (HEAD + "F,flat,-1,1\n", "line 3, value"),
        (HEAD + "F,flat,1e3,1\n", "line 3, value"),
        (HEAD + "F,flat,inf,1\n", "line 3, value"),
        (HEAD + "F,flat,700,one\n", "line 3, first"),
        (HEAD + "F,flat," + "7" * 40 + ",1\n", "line 3, value"),
        (HEAD + 'F,flat,"' + "7" * 140_000 + '",1\n', "line 3"),
        ("", "columns"),
        ("Area,On,um,x\n", "columns"),
        ("Area,On,DFT,x,DFT\nF,flat,700,1,800\n", "columns"),
    ],
)
def test_a_wrong_row_is_refused_by_line_and_column(text: str, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        read(text)
    assert caught.value.field == field
    assert caught.value.allowed


@pytest.mark.parametrize(
    ("columns", "units", "field"),
    [
        ({"class": "On", "value": "DFT"}, UNITS, "columns"),
        ({**COLUMNS, "depth": "x"}, UNITS, "columns"),
        (COLUMNS, {}, "units"),
        (COLUMNS, {"value": "kV"}, "line 2, value"),
        (COLUMNS, {"value": "um", "first": "deg"}, "line 2, first"),
    ],
)
def test_wrong_columns_and_units_are_refused(columns: dict[str, str], units: dict[str, str], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        read(HEAD, columns, units)
    assert caught.value.field == field


def test_bytes_that_are_no_text_are_refused() -> None:
    with pytest.raises(BadInput) as caught:
        read_spots(b"Area\xff", COLUMNS, UNITS)
    assert (caught.value.field, caught.value.value) == ("file", "byte 4")
