"""Voltage areas: no reading is left unserved, and no smaller number of settings would serve the places."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.electric import Strength, ceiling_kv, uniform_kv
from wholefilm.plan.areas import allowed_by_model, allowed_by_rule, voltage_areas
from wholefilm.rules.evaluation import evaluate
from wholefilm.rules.loader import load, rule
from wholefilm.rules.rows import volts_of_row

GIVES = [
    r for r in load().values() if type(r.form).__name__ in ("Power", "Linear", "Table", "Fixed")
]  # every shipped rule that gives a voltage to set
STRENGTH = Strength(15.0, 1.0, 0.0, 0.5, "worked example of the model, no product")


@pytest.mark.parametrize("one", GIVES, ids=lambda r: r.id)
def test_a_row_of_thicknesses_says_what_one_at_a_time_says(one: object) -> None:
    """Each shipped rule: the row agrees with the exact working to its rounding of 1 V, and refuses the same thicknesses."""
    texts = [
        f"{n} um"
        for n in (1, 100, 149, 150, 151, 250, 254, 300, 375, 500, 508, 750, 760, 762, 812, 999, 1000, 1016, 1400, 2000, 3175, 4000, 9000)
    ]
    texts += [f"{n} mil" for n in (8, 9, 10, 11.5, 15, 16, 20, 30, 40, 41, 55, 62, 80, 125, 126)]
    classes = getattr(one.form, "classes", ())
    choice = classes[0].name if classes else None
    um = np.array([float(quantity(t, "length").exact("um")) for t in texts])
    low, high = volts_of_row(one, um, choice=choice, approval="letter")
    for n, text in enumerate(texts):
        try:
            found = evaluate(one, one.editions[0], quantity(text, "length"), choice=choice, approval="letter").volts
        except BadInput:
            assert np.isnan([low[n], high[n]]).all(), text
            continue
        assert low[n] == pytest.approx(quantity(found.low, "voltage").to("V"), abs=0.51), text
        assert high[n] == pytest.approx(quantity(found.high, "voltage").to("V"), abs=0.51), text


def test_a_rule_without_a_voltage_to_set_is_refused() -> None:
    span = next(r for r in load().values() if type(r.form).__name__ == "Span")
    with pytest.raises(BadInput, match="a rule that gives a voltage to set"):
        volts_of_row(span, np.array([800.0]))


readings = st.lists(
    st.tuples(st.integers(0, 4), st.floats(100, 3000), st.floats(0.8, 2.0)), min_size=1, max_size=12
)  # place, low end, high end as a multiple of it (under 1: none)


@settings(max_examples=200)
@given(readings)
def test_stabbing_leaves_no_reading_unserved(rows: list[tuple[int, float, float]]) -> None:
    place = np.array([r[0] for r in rows])
    low = np.array([r[1] for r in rows])
    high = low * np.array([r[2] for r in rows])
    found = voltage_areas(low, place, [f"place {n}" for n in range(5)], low, high)
    by_name = {s.name: s for s in found.settings}
    served = {p.place: [by_name[n] for n in p.settings] for p in found.places}
    for (where, *_), a, b in zip(rows, low, high, strict=True):
        if a <= b:
            mine = served[f"place {where}"]
            assert any(s.low_v <= b and s.high_v >= a for s in mine)
            if len(mine) == 1:  # any voltage of the stretch serves the reading
                assert a <= mine[0].low_v <= mine[0].high_v <= b
    assert found.unserved == int((low > high).sum())
    assert found.fewest <= len(found.settings)


@settings(max_examples=100)
@given(st.lists(st.tuples(st.floats(100, 400), st.floats(1.0, 1.6)), min_size=1, max_size=7))
def test_no_smaller_number_of_settings_serves_the_places(rows: list[tuple[float, float]]) -> None:
    """Against every choice of that many upper ends, by brute force."""
    low = np.array([r[0] for r in rows])
    high = low * np.array([r[1] for r in rows])
    found = voltage_areas(low, np.arange(len(rows)), [str(n) for n in range(len(rows))], low, high)
    k = len(found.settings)
    assert not any(_serve(chosen, low, high) for chosen in combinations(high, k - 1))
    assert _serve([s.high_v for s in found.settings], low, high)


def _serve(chosen: object, low: np.ndarray, high: np.ndarray) -> bool:
    return all(any(a <= v <= b for v in chosen) for a, b in zip(low, high, strict=True))


def test_a_place_that_no_one_voltage_serves_is_told_to_be_cut() -> None:
    um = np.array([600.0, 610.0, 1600.0, 820.0])
    place = np.array([0, 0, 0, 1])
    low, high = allowed_by_rule(rule("SP0274/um"), um, 0.10)
    found = voltage_areas(um, place, ["course 1, flat", "course 2, flat"], low, high)
    first, second = found.places
    assert first.low_v is None
    assert len(first.settings) == 2
    assert len(second.settings) == 1
    assert first.least_um == 600
    assert first.greatest_um == 1600


def test_the_gauge_narrows_what_a_reading_allows() -> None:
    um = np.array([800.0])
    wide, narrow = allowed_by_rule(rule("SP0274/um"), um, 0.10), allowed_by_rule(rule("SP0274/um"), um, 0.10, gauge_um=40)
    assert narrow[0][0] == pytest.approx(250 * 840**0.5 * 0.9)
    assert narrow[1][0] == pytest.approx(250 * 760**0.5 * 1.1)
    assert wide[0][0] < narrow[0][0] < narrow[1][0] < wide[1][0]


def test_the_model_is_that_of_one_thickness_at_a_time() -> None:
    um = np.array([20.0, 300.0, 812.0, 3000.0, 19_999.0, 25_000.0])
    low, high = allowed_by_model(um, 0.85, STRENGTH)
    for n, value in enumerate(um[:5]):
        assert low[n] == pytest.approx(1000 * uniform_kv(value / 1000, 0.85), rel=1e-12)
        assert high[n] == pytest.approx(1000 * ceiling_kv(value / 1000, STRENGTH), rel=1e-12)
    assert np.isnan(low[5])


def test_zones_of_a_range_as_the_worked_model_gives_them() -> None:
    """0.3 to 1.2 mm at 15 kV/mm, half of it used: 4 settings; at 20 and 30: 2; at 10: none serves all. Worked model, derived."""
    um = np.linspace(300, 1200, 2000)
    place = np.zeros(um.size, dtype=np.intp)

    def count(kv_per_mm: float) -> tuple[int, int]:
        low, high = allowed_by_model(um, 1.0, Strength(kv_per_mm, 1.0, 0.0, 0.5, "model"))
        found = voltage_areas(um, place, ["all"], low, high)
        return len(found.settings), found.unserved

    assert count(20) == (2, 0)
    assert count(30) == (2, 0)
    assert count(15)[0] == 4
    assert count(15)[1] == 0
    assert count(10)[1] > 0


def test_figures_that_are_none_are_refused() -> None:
    um = np.array([800.0])
    with pytest.raises(BadInput, match="0 % to 50 %"):
        allowed_by_rule(rule("SP0274/um"), um, 0.6)
    with pytest.raises(BadInput, match="zero or more"):
        allowed_by_rule(rule("SP0274/um"), um, 0.1, gauge_um=-1)
    with pytest.raises(BadInput, match="rows of one length"):
        voltage_areas(um, np.array([0, 0]), ["a"], um, um)
