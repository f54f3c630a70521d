"""Leach vessel: the figures of its story, typed by hand. The story and its figures are inventions for data."""

from __future__ import annotations

from collections import Counter

import pytest
from told import barring, demo, holds, stand, unmet

from wholefilm.film.readings import read_columns
from wholefilm.film.statistics import thickness_statistics

NAME = "leach-vessel"
# "torispherical heads 5.70 m2 each, shell 36.2, nozzle necks 1.1; 48.7 m2". After the mid check of d8: SH-5, SH-6, TH and necks:
# 2 x 6.03 + 5.70 + 1.11 = 18.88 m2 (by hand).
TIMES = [
    ("2025-09-01T20:00", "cannot_tell", (0, 0, 0, 0, 48.71), (0, 0, 0, 0, 0)),
    ("2025-09-08T17:00", "does_not_meet", (48.71, 29.83, 18.88, 0, 0), (9, 9, 0, 0, 0)),
    ("2025-09-08T20:00", "does_not_meet", (48.71, 29.83, 18.88, 0, 0), (9, 9, 0, 0, 0)),
    ("2025-09-09T20:00", "does_not_meet", (48.71, 48.71, 0, 0, 0), (9, 9, 0, 0, 0)),
    ("2025-09-10T20:00", "cannot_tell", (48.71, 48.71, 0, 0, 0), (9, 0, 9, 0, 0)),
    ("2025-09-12T12:45", "does_not_meet", (48.71, 48.71, 0, 0, 0), (9, 2, 0, 7, 0)),
    ("2025-09-15T13:40", "meets", (48.71, 48.71, 0, 0, 0), (9, 0, 0, 9, 0)),
    ("", "meets", (48.71, 48.71, 0, 0, 0), (9, 0, 0, 9, 0)),
]


@pytest.mark.parametrize(("time", "word", "areas", "holidays"), TIMES, ids=[t[0] or "end" for t in TIMES])
def test_how_the_job_stands(time: str, word: str, areas: tuple[float, ...], holidays: tuple[int, ...]) -> None:
    standing = stand(NAME, time)
    holds(standing, areas, holidays)  # type: ignore[arg-type]
    assert standing.assessment.value == word


def test_areas() -> None:
    """Story: 2 x 5.70 + 36.19 + 1.11 = 48.71; lifts of 1.6 split at the laps, 6.03 each."""
    by_area = Counter[str]()
    for p in stand(NAME).panels:
        by_area[p.test_area] += p.total_m2  # type: ignore[assignment]
    assert by_area["TH"] == pytest.approx(5.70, abs=0.005)
    assert by_area["SH"] == pytest.approx(36.19, abs=0.005)
    assert sum(by_area.values()) == pytest.approx(48.71, abs=0.006)


def test_a_check_that_is_high_doubts_no_holiday_and_asks_for_burns() -> None:
    """Story: 10 mm on a 9 mm setting = +11 %: FAIL HIGH; no holidays doubted, all swept sheet inspected for burn tracks; 1 found."""
    evening, next_day = stand(NAME, "2025-09-08T20:00"), stand(NAME, "2025-09-09T20:00")
    failed = next(x for x in evening.lines if x.what == "check_failed")
    assert failed.says == "End check of AC-01 as found 10 mm on 9 mm set (+11.1 %)"
    assert "look for burns" in failed.detail
    assert not any(p.in_doubt_m2 for p in evening.panels)
    assert {p.name for p in evening.panels if p.awaiting_m2} == {"SH-5", "SH-6", "TH", "N1", "N2", "N3", "N4", "N5", "N6", "N7", "N8", "MW"}
    assert (next_day.burns, next_day.burns_closed) == (1, 0)
    assert (stand(NAME).burns, stand(NAME).burns_closed) == (1, 1)


def test_two_stages_and_what_was_found_at_each() -> None:
    """Story: before cure 14 found (8 lap, 4 flare, 2 heads), overlaid, no retest at that stage; after cure 9 final."""
    standing = stand(NAME)
    assert Counter(h.fact.body.note for h in standing.earlier) == {"lap": 8, "flare": 4, "head": 2}
    assert Counter(h.fact.body.note for h in standing.holidays) == {"lap": 5, "flare": 2, "knuckle": 1, "void": 1}
    assert {(s.body.stage, s.body.setting) for s in standing.job.all("voltage.set")} == {("before_cure", "6 mm"), ("after_cure", "9 mm")}
    apart = next(x for x in standing.lines if x.what == "earlier_stage")
    assert (apart.says, apart.bars) == ("14 holidays found at stage before_cure, counted apart", False)
    assert next(x for x in stand(NAME, "2025-09-01T20:00").lines if x.what == "earlier_stage").bars
    assert "exposure_without_consent" not in {x.what for x in standing.lines}


def test_repairs_and_the_collar() -> None:
    """Story: repairs 7, they cover 9 + 1; N4 flare collar fails retest (1 indication at 05:10), collar replaced, passes."""
    standing = stand(NAME)
    assert Counter(r.fact.body.class_ for r in standing.repairs) == {"lap patch": 3, "patch": 2, "flare": 1, "burn": 1}
    assert sum(len(r.covers) for r in standing.repairs) == 10
    flare = next(r for r in standing.repairs if r.fact.body.class_ == "flare")
    assert [(t.passed, len(t.indications)) for t in flare.retests] == [(False, 1), (True, 0)]
    assert all([t.passed for t in r.retests] == [True] for r in standing.repairs if r is not flare)


@pytest.mark.parametrize(
    ("class_", "mean", "sd", "low", "high", "count"), [("flat", 6100, 350, 5200, 7000, 30), ("edge", 4600, 500, None, None, 18)]
)
def test_readings_of_the_lining(class_: str, mean: float, sd: float, low: float | None, high: float | None, count: int) -> None:
    """Story: thickness 6.1/0.35/5.2/7.0/30; flare edges 4.6/0.5, without ends or number: 18 readings were made up for these."""
    one = demo(NAME)
    loaded = next(e for e in one.entries if e.kind == "readings.loaded")
    spots = read_columns(one.blobs[str(loaded.body["blob"])], dict(loaded.body["columns"]), dict(loaded.body["units"]))
    found = thickness_statistics([um for um, c in zip(spots.values_um, spots.class_, strict=True) if c == class_])
    assert found.n == count
    assert found.mean_um == pytest.approx(mean, abs=5)
    assert found.sd_um == pytest.approx(sd, abs=5)
    if low is not None:
        assert (found.min_um, found.max_um) == (low, high)


def test_it_ends_with_meets_and_the_line_of_the_high_check() -> None:
    standing = stand(NAME)
    assert (unmet(standing), barring(standing)) == (set(), set())
    high = next(x for x in standing.lines if x.what == "check_failed")
    assert (high.bars, high.detail) == (False, "2025-09-08 17:10 · burns looked for")
    assert [e.body["assessment"] for e in demo(NAME).entries if e.kind == "assessment.made"] == ["meets", "meets"]
