"""Written times. Reference: the datetime module of the language, and instants worked out by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.base.times import clock, local_day, utc_ms


@pytest.mark.parametrize(
    ("at", "ms"),
    [
        ("1970-01-01T00:00:00.000+00:00", 0),
        ("1970-01-01T01:00:00.001+01:00", 1),
        ("1969-12-31T23:59:59.999+00:00", -1),
        ("2000-01-01T00:00:00.000+00:00", 946_684_800_000),  # 10957 days of 86400 s
        ("1999-12-31T14:00:00.000-10:00", 946_684_800_000),
        ("2000-01-01T05:45:00.000+05:45", 946_684_800_000),
    ],
)
def test_instants(at: str, ms: int) -> None:
    assert utc_ms(at) == ms


@given(st.datetimes(datetime.fromisoformat("0003-01-01"), datetime.fromisoformat("9997-12-31")), st.integers(-14 * 60, 14 * 60))
def test_any_time_in_any_offset_agrees_with_datetime(moment: datetime, minutes: int) -> None:
    zoned = moment.replace(microsecond=moment.microsecond // 1000 * 1000, tzinfo=timezone(timedelta(minutes=minutes)))
    expected = (zoned - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(milliseconds=1)
    assert utc_ms(zoned.isoformat(timespec="milliseconds")) == expected


@pytest.mark.parametrize(
    "at",
    [
        "", "2025-03-03", "2025-03-03T08:00:00.000Z", "2025-03-03T08:00:00+01:00", "2025-03-03 08:00:00.000+01:00",
        "2025-02-29T08:00:00.000+01:00", "2025-03-03T24:00:00.000+01:00", "2025-03-03T08:60:00.000+01:00", "2025-03-03T08:00:60.000+01:00",
        "2025-03-03T08:00:00.000+14:01", "2025-03-03T08:00:00.000-15:00", "2025-03-03T08:00:00.000+01:00\n",
        "٢025-03-03T08:00:00.000+01:00",
        "0001-01-01T00:00:00.000+14:00", "9999-12-31T23:59:59.999-14:00", "2025-03-03T08:00:00,000+01:00",
    ],
)  # fmt: skip
def test_what_is_no_written_time_is_refused(at: str) -> None:
    with pytest.raises(BadInput) as caught:
        utc_ms(at, "happened.from")
    assert caught.value.field == "happened.from"
    assert "YYYY-MM-DDThh:mm:ss.sss+hh:mm" in caught.value.allowed


def test_day_and_clock_are_the_writers() -> None:
    assert (local_day("2025-03-03T00:10:00.000+10:00"), clock("2025-03-03T00:10:00.000+10:00")) == ("2025-03-03", "2025-03-03 00:10")
