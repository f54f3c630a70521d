"""One reading against its set value; deviations worked out by hand."""

from __future__ import annotations

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.instruments.field_check import field_check, read_setting, same_setting


@pytest.mark.parametrize(
    ("set_", "read", "tolerance", "verdict", "says"),
    [
        ("3.00 kV", "3.02 kV", "5 %", "passed", "+0.7 %"),
        ("3.00 kV", "2.46 kV", "5 %", "low", "-18.0 %"),
        ("3.00 kV", "3.15 kV", "5 %", "passed", "+5.0 %"),
        ("3.00 kV", "3.1500001 kV", "5 %", "high", "+5.0 %"),
        ("3.00 kV", "2850 V", "5 %", "passed", "-5.0 %"),
        ("3.00 kV", "2849.9 V", "5 %", "low", "-5.0 %"),
        ("3.00 kV", "No alarm", "5 %", "low", "no alarm"),
        ("80 kohm", "84000 ohm", "5 %", "passed", "+5.0 %"),
        ("80 kohm", "70 kohm", "5 %", "low", "-12.5 %"),
        ("2 mm", "2,2 mm", "5 %", "high", "+10.0 %"),
        ("3.00 kV", "3.00 kV", "0 %", "passed", "+0.0 %"),
        ("3.00 kV", "-3.00 kV", "5 %", "low", "-200.0 %"),
    ],
)
def test_verdicts(set_: str, read: str, tolerance: str, verdict: str, says: str) -> None:
    got = field_check(set_, read, tolerance)
    assert (got.verdict.value, got.says) == (verdict, says)


@pytest.mark.parametrize(
    ("set_", "read", "means"),
    [
        ("80 kohm", "41 kohm", "low: insensitive, may have missed holidays"),
        ("80 kohm", "no alarm", "low: insensitive, may have missed holidays"),
        ("80 kohm", "200 kohm", "high: over-sensitive, indications may be false"),
        ("80 kohm", "86 kohm", ""),
        ("3.0 kV", "2.0 kV", "low: may have missed holidays"),
        ("9 mm", "10 mm", "high: look for burns"),
    ],
)
def test_what_a_failed_check_means_for_a_sponge_and_for_a_spark(set_: str, read: str, means: str) -> None:
    """A sponge tester speaks at or below its threshold: one that needs 41 kohm on 80 stays silent on a holiday of 60 kohm.

    80 kohm with 10 % either way is the figure of NACE TM0384 (text read), taken here as an example only.
    """
    assert field_check(set_, read, "10 %").means == means


@pytest.mark.parametrize(
    ("set_", "read", "tolerance", "field"),
    [
        ("3.00 kV", "80 kohm", "5 %", "read"),
        ("3.00", "3.00 kV", "5 %", "set"),
        ("3.00 kV", "3.00", "5 %", "read"),
        ("3.00 kV", "3.00 kV", "5", "tolerance"),
        ("0 V", "0 V", "5 %", "set"),
        ("-3 kV", "-3 kV", "5 %", "set"),
        ("no alarm", "3 kV", "5 %", "set"),
        ("20 degC", "20 degC", "5 %", "set"),
    ],
)
def test_what_cannot_be_a_reading_is_refused(set_: str, read: str, tolerance: str, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        field_check(set_, read, tolerance)
    assert caught.value.field == field


def test_settings_are_the_same_whatever_the_unit() -> None:
    assert same_setting("3.0 kV", "3000 V")
    assert not same_setting("3.0 kV", "3001 V")
    assert not same_setting("3 mm", "3 V")
    assert read_setting("80 kohm").dimension == "resistance"
