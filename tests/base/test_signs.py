"""Signs of units on pages and print. Signs: SI brochure, 9th ed., tables 2 to 8 and 5.4.3 (from memory); ft², in² common practice."""

from __future__ import annotations

import pytest

from wholefilm.base.signs import with_signs


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("600 to 1000 um", "600 to 1000 µm"),
        ("2.4 m2, 12 ft2, 3 in2, 5 m3", "2.4 m², 12 ft², 3 in², 5 m³"),
        ("300 m2/h", "300 m²/h"),
        ("-18.0 degC and 60 degF", "-18.0 °C and 60 °F"),
        ("course 1, 241.3 deg, 1.36 m", "course 1, 241.3°, 1.36 m"),
        ("0.8 ohm, 80 kohm, 20 Mohm", "0.8 Ω, 80 kΩ, 20 MΩ"),
        ("at most 1 per m2", "at most 1 per m²"),
        ("800um", "800µm"),
    ],
)
def test_units_behind_a_number(typed: str, read: str) -> None:
    assert with_signs(typed) == read
    assert with_signs(read) == read


@pytest.mark.parametrize("words", ["um 16 Uhr", "M2 rim at 2", "NB-07 m2x", "5 umbrellas", "deg", "3.0 kV", "20 mil", "4 m", "", "9deg2"])
def test_other_words_stay(words: str) -> None:
    assert with_signs(words) == words
