"""Clocks of devices that differ: a finding that would turn is not told; one that would not stays."""

from __future__ import annotations

import pytest
from builder import DEVICES, Book, findings, whats


def two_devices(offset_ms: int | None, told_by: str = "A") -> Book:
    """Checks written on B, tests on A: the check before lies 30 min before the first test, the check after 82 min after the last."""
    book = Book().usual()
    book.write("device.joined", "1 08:00", device=DEVICES["B"], letter="B", holder="QC")
    book.check("3 07:30", on="B")
    book.test_all()
    book.check("3 12:00", occasion="after", on="B")
    if offset_ms is not None:
        body = {"device": DEVICES["B"], "offset_ms": offset_ms, "round_trip_ms": 40}
        book.write("clock.compared", "3 12:10", on=told_by, **body)
    return book


def test_never_compared_counts_as_no_difference_and_is_said() -> None:
    standing = two_devices(None).stand()
    assert standing.assessment.value == "meets"
    assert "clock_not_compared" in whats(standing, False)


@pytest.mark.parametrize("minutes", [0, 1, 29, -1, -29])
def test_a_small_difference_changes_nothing(minutes: int) -> None:
    standing = two_devices(minutes * 60_000).stand()
    assert standing.assessment.value == "meets"
    assert "clock_doubt" not in whats(standing)
    assert {f.finding.value for f in standing.findings} == {"met"}


def test_a_check_before_that_could_have_come_after_leaves_it_untold() -> None:
    """B's clock is 31 min slow against A's (other minus own = -31 min): by A's clock the check came a minute after the first test began."""
    standing = two_devices(-31 * 60_000).stand()
    assert standing.assessment.value == "cannot_tell"
    assert "clock_doubt" in whats(standing, True)
    assert findings(standing, "8.1") == ["cannot_tell"]
    assert findings(standing, "7.1") == ["cannot_tell", "met"]  # the first test lies on the floor; the shell came later
    assert findings(standing, "7.2") == ["met"]


def test_the_largest_difference_ever_measured_counts() -> None:
    book = two_devices(-31 * 60_000)
    book.write("clock.compared", "3 12:20", device=DEVICES["B"], offset_ms=2000, round_trip_ms=40)
    assert book.stand().assessment.value == "cannot_tell"


def test_a_shift_that_mends_leaves_a_test_in_doubt() -> None:
    """Without the shift there is no check before; with it there is. In doubt stays in doubt; the finding is not told."""
    book = Book().usual()
    book.write("device.joined", "1 08:00", device=DEVICES["B"], letter="B", holder="QC")
    book.check("3 08:05", on="B")
    book.test_all()
    book.check("3 12:00", occasion="after", on="B")
    assert findings(book.stand(), "8.1") == ["not_met"]
    book.write("clock.compared", "3 12:10", device=DEVICES["B"], offset_ms=10 * 60_000, round_trip_ms=40)
    standing = book.stand()
    assert findings(standing, "8.1") == ["cannot_tell"]
    assert standing.assessment.value == "does_not_meet"
