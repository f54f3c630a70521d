"""Wire end, strength of a film, pulses: worked tables and one published pair."""

from __future__ import annotations

import math

import pytest

from wholefilm.base.errors import BadInput, OutOfRange
from wholefilm.electric import Strength, ceiling_kv, pulses_on_a_point, remaining_film_mm, strength_exponent, tip_kv, uniform_kv


@pytest.mark.parametrize(
    ("gap_mm", "by_radius"),
    # Worked by another hand with the same model (derived, a model): radius 0.05, 0.1, 0.2, 0.5 mm.
    [(0.25, (1.42, 1.58, 1.68, 1.74)), (0.5, (1.85, 2.21, 2.50, 2.71)), (1.0, (2.25, 2.85, 3.49, 4.17)),
     (2.0, (2.65, 3.47, 4.47, 5.95)), (5.0, (3.15, 4.26, 5.73, 8.32))],
)  # fmt: skip
def test_first_streamer_at_a_wire_end(gap_mm: float, by_radius: tuple[float, ...]) -> None:
    assert [tip_kv(gap_mm, radius_mm=r) for r in (0.05, 0.1, 0.2, 0.5)] == pytest.approx(by_radius, abs=0.011)


def test_a_published_simulation_brackets_it() -> None:
    """Georghiou 1999, abstract (seen): radius 0.05 mm, 1 mm gap: streamers above 2.5 kV, none at or below it; the model says 2.25 kV."""
    assert tip_kv(1.0, radius_mm=0.05) == pytest.approx(2.5, rel=0.11)


def test_a_blunt_end_comes_near_the_even_gap() -> None:
    assert tip_kv(0.25, radius_mm=2.0) == pytest.approx(uniform_kv(0.25), rel=0.05)
    with pytest.raises(OutOfRange, match="radius"):
        tip_kv(1.0, radius_mm=0.0)
    with pytest.raises(OutOfRange, match="thickness"):
        tip_kv(math.nan)


def test_21_exponent_of_a_published_pair() -> None:
    """Epoxy 1800 V/mil at 1 mil and 425 V/mil at 125 mil (seen, a public page, no laboratory named): 0.299."""
    assert strength_exponent((1, 1800), (125, 425)) == pytest.approx(0.299, rel=0.002)


def _film(kv_per_mm: float, exponent: float, share: float = 1.0) -> Strength:
    return Strength(kv_per_mm, 1.0, exponent, share, "worked example, invented")


def test_ceiling_and_remaining_film_are_inverse() -> None:
    strength = _film(16, 0.299)
    assert remaining_film_mm(ceiling_kv(0.4, strength), strength) == pytest.approx(0.4, rel=1e-12)
    assert ceiling_kv(0.5, _film(15, 0.0, 0.5)) == pytest.approx(3.75)  # half of 15 kV/mm over 0.5 mm


@pytest.mark.parametrize(("r_mm", "needed_kv"), [(0.10, 3.19), (0.15, 4.24), (0.20, 5.19), (0.30, 6.89)])
def test_thin_spots_that_a_voltage_finds(r_mm: float, needed_kv: float) -> None:
    """Worked table (derived, a model): 0.5 mm film, 16 kV/mm at 1 mm, exponent 0.3."""
    assert remaining_film_mm(needed_kv, _film(16, 0.3)) == pytest.approx(r_mm, abs=0.0006)


@pytest.mark.parametrize(
    ("strength", "says"),
    [
        (Strength(0, 1, 0, 1, "x"), "strength"),
        (Strength(math.nan, 1, 0, 1, "x"), "strength"),
        (Strength(16, 0, 0, 1, "x"), "strength at"),
        (Strength(16, 1, 1.0, 1, "x"), "exponent"),
        (Strength(16, 1, 0, 0, "x"), "share"),
        (Strength(16, 1, 0, 1, " "), "source"),
    ],
)
def test_what_is_no_strength_is_refused(strength: Strength, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        strength.check()


def test_pulses_on_a_point() -> None:
    """Common practice: 30 pulses a second at 0.3 m/s is one pulse every 10 mm."""
    assert pulses_on_a_point(30, 10, 0.3) == pytest.approx(1.0)
    with pytest.raises(OutOfRange, match="speed"):
        pulses_on_a_point(30, 10, 0)
