"""Acid store: the figures of its story, typed by hand. The story and its figures are inventions for data."""

from __future__ import annotations

from collections import Counter

import pytest
from told import barring, demo, holds, in_doubt, stand, unmet

from wholefilm.film.readings import read_columns
from wholefilm.film.statistics import thickness_statistics
from wholefilm.sheets.assessment import assessment_sheet

NAME = "acid-store"
# "d1 66.0 + plinths 5.8 = 71.8; d2 A1-C4 99.0; d3 A1-C4 again, E3-F4 33.0, kerb 26.1, sump 4.3 = 63.4; sum 234.2".
# "Found d1 21 (7 + 9 + 5), d2 7, d3 3. d2 evening: tested 170.8, in doubt 99.0, not yet 63.4, confirmed 28."
TIMES = [
    ("2025-08-04T20:00", (71.8, 71.8, 0, 0, 162.4), (21, 21, 0, 0, 0)),
    ("2025-08-05T16:20", (170.8, 71.8, 99.0, 0, 63.4), (28, 28, 0, 0, 0)),
    ("2025-08-05T20:00", (170.8, 71.8, 0, 99.0, 63.4), (28, 28, 0, 0, 0)),
    ("2025-08-06T20:00", (234.2, 234.2, 0, 0, 0), (31, 31, 0, 0, 6)),
    ("2025-08-07T20:00", (234.2, 234.2, 0, 0, 0), (31, 0, 31, 0, 6)),
    ("2025-08-11T20:00", (234.2, 234.2, 0, 0, 0), (31, 9, 0, 22, 6)),
    ("", (234.2, 234.2, 0, 0, 0), (31, 9, 0, 22, 6)),
]
A_TO_C = [f"{column}{row}" for column in "ABC" for row in (1, 2, 3, 4)]


@pytest.mark.parametrize(("time", "areas", "holidays"), TIMES, ids=[t[0] or "end" for t in TIMES])
def test_how_the_job_stands(time: str, areas: tuple[float, ...], holidays: tuple[int, ...]) -> None:
    standing = stand(NAME, time)
    holds(standing, areas, holidays)  # type: ignore[arg-type]
    assert standing.assessment.value == "does_not_meet"


def test_an_open_lead_at_the_end_check_puts_the_shift_in_doubt() -> None:
    """Story: after-shift no alarm on the known hole, ground lead open: FAIL; A1-C4 (99 m2) void, re-swept, nothing new."""
    standing = stand(NAME, "2025-08-05T20:00")
    assert in_doubt(standing) == A_TO_C
    failed = next(x for x in standing.lines if x.what == "check_failed")
    assert failed.says == "End check of HV-02 as found no alarm on 12.0 kV set (no alarm)"
    assert in_doubt(stand(NAME, "2025-08-06T20:00")) == []
    late = [h.number for h in stand(NAME).holidays if h.fact.when[:10] == "2025-08-06" and h.panel in A_TO_C]
    assert late == []


def test_the_dead_tab_makes_its_bays_untestable_until_a_new_one_is_proved() -> None:
    """Story: T3 NE no continuity: bays E3-F4 untestable until a new tab set (T3b, day 3)."""
    standing = stand(NAME)
    tested = {p.name: p.tests[0].fact.when[:10] for p in standing.panels if p.tests}
    assert {tested[b] for b in ("E3", "E4", "F3", "F4")} == {"2025-08-06"}
    assert {tested[b] for b in ("E1", "E2", "F1", "F2")} == {"2025-08-04"}


def test_holidays_by_pattern() -> None:
    """Story: 31 = outgassing 14, joint line 9, plinth top edges 5, sump corner 3; 6 false along wet walls."""
    standing = stand(NAME)
    assert Counter(h.fact.body.note for h in standing.holidays) == {"outgassing": 14, "joint": 9, "plinth edge": 5, "sump corner": 3}
    assert Counter(h.panel[0] for h in standing.holidays if h.fact.body.note in ("outgassing", "joint")) == {"C": 7, "D": 16}
    false = [i for i in standing.indications if i.false is not None]
    assert {i.panel for i in false} == {"SU"}
    assert not any(i.in_doubt for i in false)


def test_made_holidays_are_numbered_repaired_retested_and_counted_apart() -> None:
    """Story: found on made holidays, one in each ground zone: 9.5 kV (T1), 10.0 (T2), 11.5 (T4); agreed 12.0 kV."""
    standing = stand(NAME)
    made = standing.job.all("made_holiday.made")
    assert [(f.body.number, f.body.zone, f.body.found_voltage) for f in made] == [
        ("G1", "T1", "9.5 kV"),
        ("G2", "T2", "10.0 kV"),
        ("G3", "T4", "11.5 kV"),
    ]
    assert (standing.made, standing.made_closed) == (3, 3)
    assert len(standing.holidays) == 31
    assert {f.body.setting for f in standing.job.all("voltage.set")} == {"12.0 kV"}


def test_repairs_and_the_strip_that_stays_open() -> None:
    """Story: 20 = joint 1 (9), outgassing 13, plinth 4 (5), sump 2 (3); joint strip fails retest (3 indications)."""
    standing = stand(NAME)
    kinds = Counter(r.fact.body.class_ for r in standing.repairs)
    assert kinds == {"joint strip": 1, "spot": 13, "plinth edge": 4, "sump corner": 2, "made holiday": 3}
    covers = {r.fact.body.class_: 0 for r in standing.repairs}
    for r in standing.repairs:
        covers[r.fact.body.class_] += len(r.covers)
    assert covers == {"joint strip": 9, "spot": 14, "plinth edge": 5, "sump corner": 3, "made holiday": 3}
    strip = next(r for r in standing.repairs if r.fact.body.class_ == "joint strip")
    assert [(t.passed, len(t.indications)) for t in strip.retests] == [(False, 3)]
    assert {h.number for h in standing.holidays if h.word.value == "open"} == {
        h.number for h in standing.holidays if h.fact.body.note == "joint"
    }


def test_places_beside_the_saw_cut_belong_to_column_d() -> None:
    """Story: x 11.98 to 12.03; the saw cut belongs to column D."""
    joint = [h for h in stand(NAME).holidays if h.fact.body.note == "joint"]
    assert Counter(h.panel for h in joint) == {"D1": 2, "D2": 4, "D3": 3}
    assert not {x.what for x in stand(NAME).lines} & {"panel_differs", "unreadable_place"}


@pytest.mark.parametrize(
    ("area", "mean", "sd", "low", "high", "count"),
    # bays 3.05/0.34/2.35/3.92/60; kerb 2.88/0.41/2.10/3.70/20; plinth edges 1.92/0.37/1.20/2.60/16 [mm]
    [("floor", 3050, 340, 2350, 3920, 60), ("kerb", 2880, 410, 2100, 3700, 20), ("plinths", 1920, 370, 1200, 2600, 16)],
)
def test_readings_of_the_film(area: str, mean: float, sd: float, low: float, high: float, count: int) -> None:
    one = demo(NAME)
    loaded = next(e for e in one.entries if e.kind == "readings.loaded")
    spots = read_columns(one.blobs[str(loaded.body["blob"])], dict(loaded.body["columns"]), dict(loaded.body["units"]))
    found = thickness_statistics([um for um, a in zip(spots.values_um, spots.test_area, strict=True) if a == area])
    assert (found.n, found.min_um, found.max_um) == (count, low, high)
    assert found.mean_um == pytest.approx(mean, abs=5)
    assert found.sd_um == pytest.approx(sd, abs=5)


def test_it_ends_not_met_on_film_and_joint_both_conceded() -> None:
    """Story: end 22 closed, 9 open, NCR-02, concession: does not meet, conceded."""
    standing = stand(NAME)
    assert unmet(standing) == {"5.1", "6.2"}
    assert barring(standing) == {"on_instruction", "clause_not_met", "open_holidays", "same_person"}  # the operator assessed too
    rows = [f for f in assessment_sheet(standing).findings if f.finding == "not_met"]
    assert rows
    assert all(f.conceded == "conceded by engineer, 2025-08-13" for f in rows)
    assert standing.sum_m2("on_instruction_m2") == pytest.approx(229.9, abs=0.05)
    assert [f.body.number for f in standing.job.all("nonconformance.raised")] == ["NCR-01", "NCR-02"]
