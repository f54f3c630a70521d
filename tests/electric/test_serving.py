"""The fewest settings: against a search of all subsets, and worked examples."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.electric import Strength, ceiling_kv, fewest_settings, uniform_kv

ends = st.tuples(st.integers(1, 30), st.integers(0, 12)).map(lambda x: (float(x[0]), float(x[0] + x[1])))


def _least(stretches: list[tuple[float, float]]) -> int:
    """Fewest points, by trying every subset of the upper ends."""
    points = sorted({high for _, high in stretches})
    for n in range(len(points) + 1):
        for chosen in itertools.combinations(points, n):
            if all(any(low <= p <= high for p in chosen) for low, high in stretches):
                return n
    raise AssertionError


@given(st.lists(ends, min_size=1, max_size=9))
@settings(max_examples=300)
def test_no_smaller_number_of_settings_serves(stretches: list[tuple[float, float]]) -> None:
    low, high = (np.array(x) for x in zip(*stretches, strict=True))
    found, which = fewest_settings(low, high)
    assert len(found) == _least(stretches)
    for (a, b), i in zip(stretches, which, strict=True):
        for volts in (found[i].low, found[i].at, found[i].high):
            assert a - 1e-9 <= volts <= b + 1e-9
    assert sum(s.serves for s in found) == len(stretches)


def test_a_reading_that_allows_no_voltage_is_left_unserved_and_said() -> None:
    found, which = fewest_settings(np.array([2.0, 5.0]), np.array([3.0, 4.0]))
    assert [s.serves for s in found] == [1]
    assert which.tolist() == [0, -1]


@pytest.mark.parametrize(("e1", "zones"), [(15.0, 4), (20.0, 2), (30.0, 2)])
def test_a_film_of_0_3_to_1_2_mm(e1: float, zones: int) -> None:
    """Worked example (derived, a model): half of the strength used, 15 kV/mm needs 4 settings, 20 and 30 need 2; 10 has none."""
    t = np.linspace(0.3, 1.2, 2001)
    strength = Strength(e1, 1.0, 0.0, 0.5, "worked example, invented")
    low, high = np.array([uniform_kv(x) for x in t]), np.array([ceiling_kv(x, strength) for x in t])
    assert len(fewest_settings(low, high)[0]) == zones


def test_a_weak_film_allows_none() -> None:
    t = np.linspace(0.3, 0.5, 101)
    strength = Strength(10, 1.0, 0.0, 0.5, "worked example, invented")
    _, which = fewest_settings(np.array([uniform_kv(x) for x in t]), np.array([ceiling_kv(x, strength) for x in t]))
    assert (which == -1).all()


def test_bad_ends_are_refused() -> None:
    for low, high in (([1.0], [2.0, 3.0]), ([0.0], [1.0]), ([1.0], [np.nan])):
        with pytest.raises(BadInput, match="stretches"):
            fewest_settings(np.array(low), np.array(high))
    assert fewest_settings(np.array([]), np.array([]))[0] == []
