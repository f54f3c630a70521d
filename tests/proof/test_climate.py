"""Climate requirements held against tests, coats and releases; the climate sheet of a job."""

from __future__ import annotations

from typing import Any

import pytest
from builder import PEOPLE, Book, findings

from wholefilm.base.findings import Finding
from wholefilm.proof.states import Standing
from wholefilm.sheets.climate import climate_sheet

OWN = {"form": "climate", "applies_to": "test", "limits": [{"of": "spread", "at_least": "3 K"}], "every": "4 h"}


def reading(book: Book, when: str, surface: str = "15 degC", place: str = "at the work", **more: Any) -> str:
    """20 degC and 50 %: dew point 9.26 degC; 15 degC of steel is 5.7 K over it."""
    body = {"place": place, "air": "20 degC", "rh": "50 %", "surface": surface, "instrument": "C1"} | more
    return book.write("climate.read", when, **body)


def job_tested(rule: dict[str, Any] | None = None, *, readings: tuple[str, ...] = ("3 07:50",), **more: Any) -> Book:
    """All panels tested on day 3, 08:00 to 09:18, with readings at some times."""
    book = Book()
    book.require("8.9", rule or OWN, **more)
    book.check("3 07:30")
    for when in readings:
        reading(book, when)
    book.test_all()
    book.check("3 12:00", occasion="after")
    return book


def one(standing: Standing) -> Finding:
    found = [f for f in standing.findings if f.rule.clause == "8.9"]
    assert len(found) == 1
    return found[0]


def test_read_in_time_and_within_the_limit() -> None:
    found = one(job_tested().stand())
    assert (found.finding.value, found.about) == ("met", "climate of the test")
    assert found.limit == "surface over dew point at least 3 K; read every 4 h"
    assert found.value == "1 reading for 8 tests"


def test_a_reading_that_does_not_meet_is_named_with_value_and_limit() -> None:
    book = job_tested(readings=())
    reading(book, "3 12:10", surface="12 degC", happened="3 07:50")
    found = one(book.stand())
    assert found.finding.value == "not_met"
    assert "2025-03-03 07:50, at the work: 2.74 K, surface over dew point at least 3 K (not met)" in found.because
    line = next(x for x in book.stand().lines if x.what == "clause_not_met" and "8.9" in x.says)
    assert line.entries == [r.fact.id for r in book.stand().requirements if r.clause == "8.9"] != []


def test_a_reading_during_the_test_counts_too() -> None:
    book = job_tested()
    reading(book, "3 12:10", surface="12 degC", happened="3 08:05")
    assert one(book.stand()).finding.value == "not_met"


def test_no_reading_within_the_interval_names_the_tests() -> None:
    found = one(job_tested(readings=("3 04:08",)).stand())  # F-1 ends at 08:08, the last moment of four hours; F-2 begins at 08:10
    assert found.finding.value == "not_met"
    assert "no reading within 4 h before or during: F-2, F-3, F-4, S1-1, S1-2, S1-3 and 1 more" in found.because
    assert one(job_tested(readings=()).stand()).finding.value == "not_met"


@pytest.mark.parametrize(("begun", "word"), [("3 05:10", "met"), ("3 05:09", "not_met")])
def test_the_interval_runs_to_the_end_of_the_test(begun: str, word: str) -> None:
    """The last test ends at 09:18 and began at 09:10: a reading at 05:10 is 4 h before its begin and 4 h 8 min before its end."""
    rule = OWN | {"every": "248 min"}
    assert one(job_tested(rule, readings=(begun,)).stand()).finding.value == word


def test_without_an_interval_the_reading_is_of_the_same_day() -> None:
    rule = {k: v for k, v in OWN.items() if k != "every"}
    assert one(job_tested(rule, readings=("3 00:10",)).stand()).finding.value == "met"
    found = one(job_tested(rule, readings=("2 23:50",)).stand())
    assert found.finding.value == "cannot_tell"
    assert "no reading of the same day before: F-1" in found.because


def test_a_reading_at_another_panel_does_not_count() -> None:
    book = job_tested(readings=())
    reading(book, "3 12:10", place="F", happened="3 07:50")
    found = one(book.stand())
    assert found.finding.value == "not_met"
    assert "S1-1" in found.because
    assert "F-1" not in found.because
    reading(book, "3 12:11", place="S1", happened="3 07:51")
    assert one(book.stand()).finding.value == "met"


def test_only_the_test_areas_that_it_is_for() -> None:
    book = job_tested(readings=(), applies_to=["F"])
    reading(book, "3 12:10", place="F", happened="3 07:50")
    assert one(book.stand()).finding.value == "met"


def test_nothing_tested_yet() -> None:
    book = Book()
    book.require("8.9", OWN)
    assert (one(book.stand()).finding.value, one(book.stand()).because) == ("cannot_tell", "nothing tested yet")


def test_a_retest_is_a_test() -> None:
    book = Book().usual().closed()
    book.require("8.9", OWN)
    reading(book, "7 08:00", happened="3 07:55")
    found = one(book.stand())
    assert found.finding.value == "not_met"
    assert "R-01 retest 1" in found.because
    reading(book, "7 08:01", happened="6 09:55")
    assert one(book.stand()).finding.value == "met"


def test_a_reading_that_cannot_be_worked_out_is_cannot_tell() -> None:
    book = job_tested(readings=())
    reading(book, "3 12:10", air="75 degC", happened="3 07:50")
    found = one(book.stand())
    assert found.finding.value == "cannot_tell"
    assert "-45 to 60 degC" in found.because


def test_a_restated_rule_of_a_document_waits_for_confirmation() -> None:
    rule = {"form": "climate", "applies_to": "test", "rule": "ISO-8502-4/spread", "edition": "2017"}
    book = job_tested(rule)
    found = one(book.stand())
    assert found.finding.value == "cannot_tell"
    assert "graded restated: shown for comparison until confirmed" in found.because
    noted = next(r.fact.id for r in book.stand().requirements)
    book.write(
        "requirement.decided", "3 12:30", topic="8.9", noted=noted, rule=rule, decided_by=PEOPLE["qc"],
        reason="own copy", confirmed={"page": "3", "who": "QC", "when": "2025-03-03"},
    )  # fmt: skip
    assert one(book.stand()).finding.value == "met"


def test_and_rising_asks_for_an_earlier_reading_of_the_day() -> None:
    rule = {"form": "climate", "applies_to": "test", "rule": "MIL-HDBK-1110/spread", "edition": "text as read, date not shown"}
    assert one(job_tested(rule).stand()).finding.value == "cannot_tell"
    book = job_tested(rule, readings=())
    reading(book, "3 12:10", happened="3 07:00", surface="14 degC")
    reading(book, "3 12:11", happened="3 07:50", surface="15 degC")
    assert one(book.stand()).finding.value == "met"


def test_applied_to_coats_and_to_cure() -> None:
    book = Book()
    book.require("8.9", OWN | {"applies_to": "application"})
    assert one(book.stand()).because == "no coat recorded yet"
    book.write("coat.applied", "2 09:00", test_areas=["F"], coat="coat 1", batch="b1", applicator="foreman")
    assert one(book.stand()).finding.value == "not_met"
    reading(book, "2 09:05", happened="2 08:55")
    assert one(book.stand()).finding.value == "met"
    other = Book()
    other.require("8.9", {k: v for k, v in OWN.items() if k != "every"} | {"applies_to": "cure"})
    reading(other, "2 09:00")
    other.write(
        "cure.released",
        "4 09:00",
        about=["F"],
        table_row="10",
        last_coat_at="2025-03-02T09:30:00.000+01:00",
        steel="10 degC",
        by=PEOPLE["qc"],
    )
    assert one(other.stand()).finding.value == "met"
    reading(other, "4 10:00", happened="3 09:00", surface="10 degC")
    assert one(other.stand()).finding.value == "not_met"


def test_a_bad_rule_is_never_held() -> None:
    book = job_tested({"form": "climate", "applies_to": "test"})
    assert findings(book.stand(), "8.9") == ["cannot_tell"]


def test_the_sheet() -> None:
    sheet = climate_sheet(job_tested().stand())
    assert (sheet.applies_to_test, sheet.next_due) == ("yes, clause 8.9", "2025-03-03 11:50")
    row = sheet.readings[0]
    assert (row.dew_point, row.spread, row.surface_rh, row.uncertainty) == ("9.3 degC", "5.7 K", "69 %", "not stated")
    assert row.contract == "clause 8.9 (test): met"
    assert [(h.value, h.limit, h.finding_says) for h in sheet.held] == [("5.74 K", "surface over dew point at least 3 K", "met")]
    assert sheet.held[0].source == "SM-1 rev A 8.9 [seen]"
    assert len(row.rules) == len(sheet.shelf) == 10
    assert sheet.dew_point_source.endswith("[restated]")


def test_the_sheet_where_no_clause_says_so() -> None:
    book = Book()
    reading(book, "3 08:00", air="2 degC", rh="60 %", surface="-1 degC")
    sheet = climate_sheet(book.stand())
    assert (sheet.applies_to_test, sheet.next_due, sheet.asked, sheet.held) == ("no, no clause says so", "", [], [])
    assert sheet.readings[0].dew_point == "-5.0 degC, frost point -4.4 degC"
    assert "frost point" in sheet.dew_point_source
    assert climate_sheet(Book().stand()).shelf == []


def test_a_wet_bulb_below_freezing_without_its_wick_is_shown_as_not_worked_out() -> None:
    book = Book()
    book.write("climate.read", "3 08:00", place="p", air="-3 degC", wet_bulb="-4 degC", surface="-2 degC", instrument="C1")
    row = climate_sheet(book.stand()).readings[0]
    assert row.dew_point == ""
    assert "whether the wick was frozen" in row.note
    assert row.rules == []


def test_an_uncertainty_stated_in_the_entry_is_inside_or_not_and_never_turns_the_finding() -> None:
    """30 degC, 60 %, steel 24.5 degC: 3.11 K; an ordinary hygrometer of 3 % moves the dew point by some 0.9 K."""
    book = job_tested(readings=())
    reading(
        book, "3 12:10", happened="3 07:50", air="30 degC", rh="60 %", surface="24.5 degC", rh_uncertainty="3 %", air_uncertainty="0.5 K",
        version=2,
    )  # fmt: skip
    found = one(book.stand())
    assert (found.finding.value, found.inside_uncertainty, found.value) == ("met", True, "1 reading for 8 tests, 1 inside uncertainty")
    row = climate_sheet(book.stand()).readings[0]
    assert row.contract == "clause 8.9 (test): met, inside uncertainty"
    assert row.uncertainty == "0.9 K without surface"


def test_a_psychrometer_of_a_class_and_a_reading_with_both() -> None:
    book = Book()
    wet = {"place": "p", "air": "20 degC", "wet_bulb": "15 degC", "surface": "20 degC", "instrument": "C1"}
    book.write("climate.read", "3 08:00", version=2, psychrometer="ams", psychrometer_class="sling", **wet)
    book.write("climate.read", "3 09:00", version=1, rh="50 %", **wet)
    sling, both = climate_sheet(book.stand()).readings
    assert sling.dew_point == "11.6 degC"  # 11.58 with 6.60e-4
    assert "method B, sling" in sling.note
    assert sling.uncertainty.endswith("K without surface")
    assert both.dew_point == "9.3 degC"  # of 50 %: 9.26
    assert "the humidity is used" in both.note
