"""Certificates, verification devices and the window of doubt; days counted on a calendar by hand."""

from __future__ import annotations

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.base.times import utc_ms
from wholefilm.instruments.certificate import Term, certificate_at
from wholefilm.instruments.suspect import at_risk
from wholefilm.instruments.verification import Backed, Device, device_at, verified


def t(text: str) -> int:
    """``06-01 08:00`` of 2025, two hours ahead of UTC. [ms UTC]"""
    return utc_ms(f"2025-{text.replace(' ', 'T')}:00.000+02:00")


DUE = "2025-06-30T00:00:00.000+02:00"


@pytest.mark.parametrize(
    ("at", "term", "days"),
    [
        ("06-01 00:00", Term.RUNNING, 29),
        ("06-01 08:00", Term.RUNNING, 28),
        ("06-29 00:00", Term.RUNNING, 1),
        ("06-29 12:00", Term.RUNNING, 0),
        ("06-30 00:00", Term.RUNNING, 0),
        ("06-30 00:01", Term.OVERDUE, -1),
        ("07-03 12:00", Term.OVERDUE, -4),
    ],
)
def test_days_left_and_overdue(at: str, term: Term, days: int) -> None:
    got = certificate_at("C-12", DUE, t(at))
    assert (got.term, got.days_left) == (term, days)
    assert "C-12" in got.says


def test_no_interval_is_assumed_where_no_due_date_is_stated() -> None:
    """SSPC-PA 2 (2004), 3.1.3: no fixed interval (text read)."""
    got = certificate_at("C-12", None, t("06-01 08:00"), "2010-01-01T00:00:00.000+01:00")
    assert (got.term, got.days_left) == (Term.NONE_STATED, None)
    assert got.says == "certificate C-12 of 2010-01-01, no due date stated"


def test_a_missing_certificate_and_one_dated_after_the_use_are_named() -> None:
    assert certificate_at(None, DUE, t("06-01 08:00")).says.startswith("no certificate named")
    assert "later than this use" in certificate_at("C-12", DUE, t("06-01 08:00"), "2025-06-02T00:00:00.000+02:00").says
    with pytest.raises(BadInput, match="due"):
        certificate_at("C-12", "2025-06-30", t("06-01 08:00"))


DEVICES = [
    Device("VM-1", "C-1", DUE, "2024-06-30T00:00:00.000+02:00", t("05-01 08:00")),
    Device("VM-1", "C-2", "2026-06-30T00:00:00.000+02:00", "2025-07-01T00:00:00.000+02:00", t("07-02 08:00")),
    Device("R-80", None, None, None, t("05-01 08:00")),
]


@pytest.mark.parametrize(
    ("name", "at", "backed", "says"),
    [
        ("VM-1", "06-01 08:00", Backed.CERTIFIED, "C-1"),
        ("VM-1", "07-01 08:00", Backed.OVERDUE, "overdue since 2025-06-30"),
        ("VM-1", "07-03 08:00", Backed.CERTIFIED, "C-2"),
        ("R-80", "06-01 08:00", Backed.UNSTATED, "no certificate named, no due date stated"),
        ("VM-9", "06-01 08:00", Backed.UNKNOWN, "VM-9 is no instrument of this job"),
        (None, "06-01 08:00", Backed.UNNAMED, "names no verification device"),
    ],
)
def test_what_stands_behind_a_check(name: str | None, at: str, backed: Backed, says: str) -> None:
    got = verified(name, DEVICES, t(at))
    assert got.backed is backed
    assert says in got.says


def test_a_device_entered_later_than_its_use_is_read_as_first_entered() -> None:
    found = device_at(DEVICES, "VM-1", t("04-01 08:00"))
    assert found is not None
    assert found.certificate == "C-1"


def at(text: str) -> int:
    return utc_ms(f"{text}:00.000+00:00")


def test_cal_01_readings_since_the_last_good_check_are_suspect() -> None:
    """Case CAL-01: ASTM D7091 and SSPC-PA 2, verification rule (from memory): two of the three are suspect."""
    readings = [at("2026-05-19T15:00"), at("2026-05-20T08:00"), at("2026-05-20T14:00")]
    assert at_risk(at("2026-05-20T16:00"), at("2026-05-20T07:00"), readings) == readings[1:]
    assert at_risk(at("2026-05-20T16:00"), None, readings) == readings
    assert at_risk(at("2026-05-20T10:00"), at("2026-05-20T07:00"), readings) == [readings[1]]
    with pytest.raises(BadInput, match="last_good"):
        at_risk(at("2026-05-20T06:00"), at("2026-05-20T07:00"), readings)
