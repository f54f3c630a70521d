"""The demo judged at nine times; every figure typed by hand from the table of its story."""

from __future__ import annotations

from collections import Counter

import pytest

from wholefilm.job.fold import fold
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing

# time; tested, checked, awaiting, in doubt, not yet tested [m2]; confirmed; open, repaired, closed; false
TIMES = [
    ("2025-06-02T20:00", 206.4, 206.4, 0, 0, 369.1, 16, 16, 0, 0, 2),
    ("2025-06-03T16:50", 575.5, 405.9, 169.6, 0, 0, 40, 40, 0, 0, 3),
    ("2025-06-03T20:00", 575.5, 405.9, 0, 169.6, 0, 40, 40, 0, 0, 3),
    ("2025-06-04T07:30", 575.5, 405.9, 0, 169.6, 0, 40, 40, 0, 0, 3),
    ("2025-06-04T20:00", 575.5, 575.5, 0, 0, 0, 42, 42, 0, 0, 3),
    ("2025-06-05T20:00", 575.5, 575.5, 0, 0, 0, 42, 0, 42, 0, 3),
    ("2025-06-10T12:00", 575.5, 575.5, 0, 0, 0, 42, 11, 0, 31, 3),
    ("2025-06-16T12:00", 575.5, 575.5, 0, 0, 0, 42, 0, 0, 42, 3),
    ("2025-06-17T20:00", 575.5, 575.5, 0, 0, 0, 42, 0, 0, 42, 3),
]


def stand(story, time: str) -> Standing:
    return assess(fold(as_of(story.entries, time=f"{time}:00.000+02:00"), story))


@pytest.mark.parametrize("row", TIMES, ids=[row[0] for row in TIMES])
def test_how_the_job_stands(story, row) -> None:
    time, tested, checked, awaiting, doubt, not_yet, confirmed, is_open, repaired, closed, false = row
    standing = stand(story, time)
    areas = [standing.sum_m2(n) for n in ("tested_m2", "checked_m2", "awaiting_m2", "in_doubt_m2", "not_yet_tested_m2")]
    assert areas == pytest.approx([tested, checked, awaiting, doubt, not_yet], abs=0.05)
    words = Counter(h.word.value for h in standing.holidays)
    assert (len(standing.holidays), words["open"], words["repaired"], words["closed"]) == (confirmed, is_open, repaired, closed)
    assert len([i for i in standing.indications if i.false is not None]) == false
    assert standing.assessment.value == "does_not_meet"


def test_the_decision_on_d12_is_in_doubt_after_the_failed_check_only(story) -> None:
    for time, doubtful in (("2025-06-03T20:00", ["D12"]), ("2025-06-04T20:00", [])):
        assert [i.number for i in stand(story, time).indications if i.false is not None and i.in_doubt] == doubtful


def test_the_floor_clause_cannot_be_told_until_it_is_decided(story) -> None:
    for time, finding in (("2025-06-04T20:00", "cannot_tell"), ("2025-06-05T20:00", "met")):
        found = [f.finding.value for f in stand(story, time).findings if f.rule.clause == "7.3" and f.about == "F"]
        assert found == [finding]


def test_at_the_end_only_the_thickness_clause_is_not_met(story) -> None:
    standing = stand(story, "2025-06-17T20:00")
    assert {f.rule.clause for f in standing.findings if f.finding.value != "met"} == {"6.2"}
    assert standing.sum_m2("on_instruction_m2") == pytest.approx(567.0, abs=0.05)
