"""Rates, shares, unevenness: against scipy and statsmodels, and against published values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint
from statsmodels.stats.rates import confint_poisson
from told import stand

from wholefilm.base.errors import BadInput
from wholefilm.proof.statistics import dispersion, equal_pieces, poisson_interval, rates, share_interval
from wholefilm.sheets.statistics import statistics_sheet


@pytest.mark.parametrize(
    ("count", "low", "high"),
    # Garwood 1936, 95 % two-sided, as printed in Pearson and Hartley, Biometrika Tables, table 40 (from memory; 0 and 10 in
    # many texts): 0: 0 to 3.689; 1: 0.0253 to 5.572; 2: 0.242 to 7.225; 5: 1.623 to 11.668; 10: 4.795 to 18.390; 20: 12.217 to 30.888
    [(0, 0, 3.689), (1, 0.0253, 5.572), (2, 0.242, 7.225), (5, 1.623, 11.668), (10, 4.795, 18.390), (20, 12.217, 30.888)],
)
def test_the_exact_poisson_interval_of_the_tables(count: int, low: float, high: float) -> None:
    found = poisson_interval(count, 1.0)
    assert (found.low, found.high) == pytest.approx((low, high), abs=6e-4)


@given(st.integers(0, 2000), st.floats(0.01, 1e5), st.sampled_from([0.8, 0.9, 0.95, 0.99]))
def test_the_exact_poisson_interval_against_two_libraries(count: int, area: float, level: float) -> None:
    found = poisson_interval(count, area, level)
    tail = (1 - level) / 2
    chi = (stats.chi2.ppf(tail, 2 * count) / 2 if count else 0.0, stats.chi2.ppf(1 - tail, 2 * count + 2) / 2)
    assert (found.low * area, found.high * area) == pytest.approx(chi, rel=1e-8)
    assert (found.low, found.high) == pytest.approx(confint_poisson(count, area, method="exact-c", alpha=1 - level), rel=1e-8)


@pytest.mark.parametrize(
    ("count", "of", "low", "high"),
    # Clopper and Pearson 1934, 95 %: 0 of 10: 0 to 0.3085; 1 of 10: 0.0025 to 0.4450; 5 of 10: 0.1871 to 0.8129 (handbook tables, memory)
    [(0, 10, 0, 0.3085), (1, 10, 0.0025, 0.4450), (5, 10, 0.1871, 0.8129), (10, 10, 0.6915, 1)],
)
def test_the_exact_share_of_the_tables(count: int, of: int, low: float, high: float) -> None:
    found = share_interval(count, of)
    assert (found.low, found.high) == pytest.approx((low, high), abs=6e-5)


@given(st.integers(1, 500).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_the_exact_share_against_two_libraries(pair: tuple[int, int]) -> None:
    count, of = pair
    found = share_interval(count, of)
    told = stats.binomtest(count, of).proportion_ci(0.95, method="exact")
    assert (found.low, found.high) == pytest.approx((told.low, told.high), abs=1e-9)
    assert (found.low, found.high) == pytest.approx(proportion_confint(count, of, 0.05, method="beta"), abs=1e-9)


@given(st.lists(st.integers(0, 30), min_size=2, max_size=60).filter(lambda c: sum(c) > 0))
def test_dispersion_against_the_chi_square_of_a_library(counts: list[int]) -> None:
    found = dispersion(counts)
    told = stats.chisquare(counts)  # all expected alike: Fisher's variance test
    assert (found.chi_square, found.p) == pytest.approx((told.statistic, told.pvalue), rel=1e-9, abs=1e-12)
    assert found.degrees == len(counts) - 1


def test_the_48_joints_and_the_12_cans_of_the_stories() -> None:
    """Stories: mean 0.354, index 1.74, chi-square 81.8 on 47, p 0.0012; index 3.32, 36.6 on 11, p 0.00014."""
    joints = dispersion([0] * 37 + [1] * 7 + [2] * 3 + [4])
    assert (joints.mean, joints.index, joints.chi_square) == pytest.approx((0.354, 1.74, 81.8), abs=0.05)
    assert joints.p == pytest.approx(0.0012, abs=5e-5)
    cans = dispersion([2, 4, 3, 0, 11, 5, 1, 7, 3, 13, 2, 5])
    assert (cans.index, cans.chi_square, cans.p) == pytest.approx((3.32, 36.6, 0.00014), abs=0.05)
    assert cans.p == pytest.approx(0.00014, abs=5e-6)
    for name, what, index in (("river-crossing", "48 pieces, J-001 to J-048", "1.74"), ("penstock", "12 pieces, P-01 to P-12", "3.32")):
        (row,) = statistics_sheet(stand(name)).uneven
        assert (row.pieces, row.index) == (what, index)


def test_a_full_test_is_a_count_and_nothing_says_that_there_may_be_more() -> None:
    sheet = statistics_sheet(stand("river-crossing"))
    assert sheet.says.startswith("All of it was tested: the number of holidays is a count")
    words = " ".join([sheet.says, *(r.says for r in sheet.uneven)]).lower()
    for word in ("may be more", "missed", "undetected", "remaining", "expected to"):
        assert word not in words


def test_an_interval_only_where_areas_are_compared_or_a_sample_was_tested() -> None:
    part = stand("river-crossing", "2025-07-07T20:00")
    by_area = {r.test_area: r for r in rates(part)}
    assert by_area["SL"].sample
    assert by_area["SL"].rate is not None
    assert by_area["BJ"].rate is None  # nothing of it was tested yet
    assert statistics_sheet(part).says.startswith("Only a part was tested")
    assert all(r.rate is not None for r in rates(stand("penstock")))


def test_pieces_that_nobody_tested_are_not_counted_as_clean() -> None:
    tested = {name for p in equal_pieces(stand("river-crossing", "2025-07-07T20:00")) for name in p.counts}
    assert tested == {f"J-{n:03d}" for n in range(1, 13)}


@pytest.mark.parametrize("bad", [lambda: poisson_interval(-1, 1), lambda: poisson_interval(1, 0), lambda: share_interval(3, 2),
                                 lambda: dispersion([0, 0]), lambda: dispersion([3])])  # fmt: skip
def test_what_is_no_count_is_refused(bad) -> None:
    with pytest.raises(BadInput):
        bad()
