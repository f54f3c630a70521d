"""Cure clocks: the row as entered, never between two rows; times counted by hand."""

from __future__ import annotations

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.film.cure import Row, Steel, clock, lowest_steel, row_for

H = 3_600_000
ROWS = [
    Row("10", "lining", "10 degC", "7 d", "14 d", "recoat"),
    Row("20", "lining", "20 degC", "72 h"),
    Row("48", "topcoat", "50 degF", "48 h"),
]


def steel(hour: float, temperature: str) -> Steel:
    return Steel(int(hour * H), temperature, f"bottom, hour {hour}")


WARM = [steel(0, "22 degC"), steel(24, "21 degC"), steel(60, "20 degC")]


def test_hol_04_47_hours_of_48_is_too_early() -> None:
    """Case HOL-04: UFGS 09970, 3.10.3, holiday test not sooner than 48 h after the topcoat (text read); 47 h: wait."""
    early = clock(ROWS, "48", 0, WARM, 47 * H)
    assert (early.finding, early.earliest) == (Outcome.NOT_MET, 48 * H)
    assert "1 h before it is due" in early.says
    assert clock(ROWS, "48", 0, WARM, 48 * H).finding is Outcome.MET


def test_a_row_is_never_worked_out_between_two() -> None:
    got = clock(ROWS, "15", 0, WARM, 200 * H)
    assert (got.row, got.earliest, got.finding) == (None, None, Outcome.CANNOT_TELL)
    assert "no row 15" in got.says
    at_15 = clock(ROWS, "20", 0, [steel(1, "15 degC")], 200 * H)
    assert at_15.finding is Outcome.NOT_MET, "72 h at 20 degC says nothing of 15 degC"
    assert at_15.earliest == 72 * H


def test_steel_colder_than_the_row_is_named() -> None:
    got = clock(ROWS, "20", 0, [*WARM, steel(30, "19,9 degC")], 73 * H)
    assert got.finding is Outcome.NOT_MET
    assert "19,9 degC (bottom, hour 30)" in got.says
    assert clock(ROWS, "20", 0, WARM, 73 * H).finding is Outcome.MET


@pytest.mark.parametrize(
    ("temperature", "met"), [("50 degF", True), ("10 degC", True), ("283.15 K", True), ("49.9 degF", False), ("9.99 degC", False)]
)
def test_units_of_steel_do_not_matter(temperature: str, met: bool) -> None:
    """50 degF is 10 degC exactly."""
    assert (clock(ROWS, "48", 0, [steel(1, temperature)], 50 * H).finding is Outcome.MET) is met


def test_only_steel_since_the_last_coat_and_before_the_work_counts() -> None:
    series = [steel(-1, "2 degC"), *WARM, steel(90, "1 degC")]
    lowest = lowest_steel(series, 0, 73 * H)
    assert lowest is not None
    assert lowest.temperature == "20 degC"
    assert clock(ROWS, "20", 0, series, 73 * H).finding is Outcome.MET
    assert clock(ROWS, "20", 0, series, 91 * H).finding is Outcome.NOT_MET


def test_without_steel_nobody_can_tell() -> None:
    got = clock(ROWS, "20", 0, [], 73 * H)
    assert (got.finding, got.lowest) == (Outcome.CANNOT_TELL, None)


def test_the_longest_wait_ends_the_window_of_the_next_coat() -> None:
    assert clock(ROWS, "10", 0, WARM, 14 * 24 * H).finding is Outcome.MET
    late = clock(ROWS, "10", 0, WARM, 14 * 24 * H + H)
    assert (late.finding, late.latest) == (Outcome.NOT_MET, 14 * 24 * H)
    assert "1 h after the longest wait, 14 d" in late.says
    assert clock(ROWS, "20", 0, WARM, 73 * H).latest is None


def test_of_two_rows_of_one_name_the_later_entered_counts() -> None:
    later = Row("20", "lining", "20 degC", "96 h")
    assert row_for([*ROWS, later], "20") == later


@pytest.mark.parametrize(
    ("field", "row"),
    [("wait", Row("x", "", "10 degC", "soon")), ("steel", Row("x", "", "10", "4 h")), ("longest", Row("x", "", "10 degC", "4 h", "4 m"))],
)
def test_what_cannot_be_read_is_named(field: str, row: Row) -> None:
    with pytest.raises(BadInput, match=field):
        clock([row], "x", 0, WARM, 100 * H)
