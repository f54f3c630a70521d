"""Penstock: the figures of its story, typed by hand. The story and its figures are inventions for data."""

from __future__ import annotations

from collections import Counter

import msgspec
import pytest
from told import barring, demo, holds, in_doubt, stand, unmet

from wholefilm.film.readings import read_columns
from wholefilm.film.statistics import thickness_statistics
from wholefilm.proof.states import Standing

NAME = "penstock"
# "12 cans D 2.0 x 2.5, interior 15.7 m2 each, 188.5 m2". Found 9 + 24 + 19 + 4 = 56; d3 evening 52 and 62.8 m2 in doubt.
TIMES = [
    ("2025-10-06T20:00", (62.8, 62.8, 0, 0, 125.7), (9, 9, 0, 0, 0)),
    ("2025-10-07T20:00", (125.7, 125.7, 0, 0, 62.8), (33, 33, 0, 0, 2)),
    ("2025-10-08T16:00", (188.5, 125.7, 62.8, 0, 0), (52, 52, 0, 0, 2)),
    ("2025-10-08T20:00", (188.5, 125.7, 0, 62.8, 0), (52, 52, 0, 0, 2)),
    ("2025-10-09T20:00", (188.5, 188.5, 0, 0, 0), (56, 56, 0, 0, 2)),
    ("2025-10-10T20:00", (188.5, 188.5, 0, 0, 0), (56, 0, 56, 0, 2)),
    ("2025-10-15T15:45", (188.5, 188.5, 0, 0, 0), (56, 6, 0, 50, 2)),
    ("2025-10-21T12:00", (188.5, 188.5, 0, 0, 0), (56, 0, 0, 56, 2)),
    ("", (188.5, 188.5, 0, 0, 0), (56, 0, 0, 56, 2)),
]
# "Counts total (edge/weld/random/peak)": 1: 2 (1/0/1/0); 2: 4; 3: 3; 4: 0; 5: 11; 6: 5; 7: 1; 8: 7; 9: 3; 10: 13; 11: 2; 12: 5.
TOTALS = {
    "P-01": 2, "P-02": 4, "P-03": 3, "P-05": 11, "P-06": 5, "P-07": 1, "P-08": 7, "P-09": 3, "P-10": 13, "P-11": 2, "P-12": 5,
}  # fmt: skip


@pytest.mark.parametrize(("time", "areas", "holidays"), TIMES, ids=[t[0] or "end" for t in TIMES])
def test_how_the_job_stands(time: str, areas: tuple[float, ...], holidays: tuple[int, ...]) -> None:
    standing = stand(NAME, time)
    holds(standing, areas, holidays)  # type: ignore[arg-type]
    assert standing.assessment.value == "does_not_meet"


def test_the_deaf_tester_puts_the_cans_of_its_shift_in_doubt() -> None:
    """Story: d3 after-shift alarms only below 41 kohm: FAIL (insensitive) -> P-09..P-12 in doubt, re-swept."""
    standing = stand(NAME, "2025-10-08T20:00")
    assert in_doubt(standing) == ["P-09", "P-10", "P-11", "P-12"]
    failed = next(line for line in standing.lines if line.what == "check_failed")
    assert failed.says == "End check of LV-01 as found 41 kohm on 80 kohm set (-48.8 %)"
    assert failed.bars
    assert in_doubt(stand(NAME, "2025-10-09T20:00")) == []


def test_four_of_p_10_were_found_only_by_the_second_sweep() -> None:
    by_day = Counter((h.panel, h.fact.when[:10]) for h in stand(NAME).holidays)
    assert (by_day["P-10", "2025-10-08"], by_day["P-10", "2025-10-09"]) == (9, 4)
    assert sum(n for (_, day), n in by_day.items() if day == "2025-10-09") == 4


def test_holidays_of_each_can_and_class() -> None:
    """56 = 22 at the ends, 17 at welds, 12 scattered, 5 on peaks."""
    standing = stand(NAME)
    assert Counter(h.panel for h in standing.holidays) == TOTALS
    notes = Counter((h.class_, h.fact.body.note or "") for h in standing.holidays)
    assert notes == {("edge", ""): 22, ("weld", ""): 17, ("flat", ""): 12, ("flat", "peak of the profile"): 5}


def test_two_of_58_indications_came_over_wet_film() -> None:
    """Story: P-08 2 false indications: film wetted across the end to bare bevel."""
    standing = stand(NAME)
    own = [i for i in standing.indications if not i.retest_of]
    assert len(own) == 58
    assert [i.panel for i in own if i.false is not None] == ["P-08", "P-08"]
    assert sum(1 for i in standing.indications if i.retest_of) == 1


def test_repairs_and_the_strip_that_failed() -> None:
    """Story: Repairs 35 = 10 end strips + 8 weld strips + 12 + 5; 34 pass, P-05 weld strip passes retest 2 (1 left at 1260 mm, 45 deg)."""
    standing = stand(NAME)
    assert Counter(r.fact.body.class_ for r in standing.repairs) == {"end strip": 10, "weld strip": 8, "spot": 17}
    assert Counter((len(r.retests), r.retests[-1].passed) for r in standing.repairs) == {(1, True): 34, (2, True): 1}
    twice = next(r for r in standing.repairs if len(r.retests) == 2)
    assert (twice.fact.body.class_, twice.panels) == ("weld strip", ["P-05"])
    left = next(i for i in standing.indications if i.retest_of)
    place = msgspec.to_builtins(left.fact.body.place)
    assert (place["along"], place["at"]) == ("1260 mm", "45 deg")


@pytest.mark.parametrize(
    ("class_", "mean", "sd", "low", "high", "count"),
    # "body 285/38/205/392; weld 240/40/150/330; ends 205/35/110/280", "Spots body 96, weld 48, ends 48"
    [("flat", 285, 38, 205, 392, 96), ("weld", 240, 40, 150, 330, 48), ("edge", 205, 35, 110, 280, 48)],
)
def test_readings_of_the_film(class_: str, mean: float, sd: float, low: float, high: float, count: int) -> None:
    one = demo(NAME)
    loaded = next(e for e in one.entries if e.kind == "readings.loaded")
    spots = read_columns(one.blobs[str(loaded.body["blob"])], dict(loaded.body["columns"]), dict(loaded.body["units"]))
    found = thickness_statistics([um for um, c in zip(spots.values_um, spots.class_, strict=True) if c == class_])
    assert found.n == count
    assert (found.min_um, found.max_um) == (low, high)
    assert found.mean_um == pytest.approx(mean, abs=0.5)
    assert found.sd_um == pytest.approx(sd, abs=0.5)


def test_the_film_was_outside_before_the_test_and_the_test_was_instructed() -> None:
    """Story: thickness NCR first, then the engineer's written instruction to test."""
    wanted = ("nonconformance.raised", "instruction.received", "panel.started")
    order = [e.kind for e in demo(NAME).entries if e.kind in wanted]
    assert tuple(order[:3]) == wanted
    assert stand(NAME).sum_m2("on_instruction_m2") == pytest.approx(188.5, abs=0.05)


def test_a_second_sweep_under_100_v_asks_for_no_consent() -> None:
    standing = stand(NAME)
    assert "exposure_without_consent" not in {line.what for line in standing.lines}
    again = next(line for line in standing.lines if line.what == "second_exposure")
    assert "under 100 V" in again.says
    assert "second_exposure_due" not in {line.what for line in stand(NAME, "2025-10-08T20:00").lines}


def test_it_ends_on_thickness_alone_and_conceded() -> None:
    standing = stand(NAME)
    assert unmet(standing) == {"6.1"}
    assert barring(standing) == {"on_instruction", "clause_not_met", "same_person"}  # the operator assessed too
    assert _conceded(standing) == ["6.1"]


def _conceded(standing: Standing) -> list[str]:
    return [f.body.requirement for f in standing.job.all("concession.given")]
