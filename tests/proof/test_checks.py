"""What a check closes, sentence by sentence, each as a small scenario. The rules are the project's own reading of common practice
(field check before and after use, as found); no published standard stands behind them and none is claimed.
"""

from __future__ import annotations

import pytest
from builder import QUADRANT, Book, findings, last_test, whats

CHECKED, AWAITING, DOUBT, NOT_VALID = "checked before and after", "awaiting its end check", "in doubt", "not valid"


def word(book: Book, panel: str = "F-1") -> str:
    return last_test(book.stand(), panel).word.value


def cause(book: Book, panel: str = "F-1") -> str:
    bracket = last_test(book.stand(), panel).bracket
    assert bracket is not None
    return bracket.cause


def swept(*, before: str = "07:30", begin: str = "08:00", end: str = "08:20") -> Book:
    book = Book().usual()
    if before:
        book.check(before)
    book.test("F-1", begin, end)
    return book


def test_a_test_waits_until_a_passed_check_as_found() -> None:
    book = swept()
    assert word(book) == AWAITING
    standing = book.stand()
    assert standing.sum_m2("awaiting_m2") == pytest.approx(QUADRANT)
    assert standing.assessment.value == "cannot_tell"
    book.check("12:00", occasion="after")
    assert word(book) == CHECKED
    assert book.stand().sum_m2("checked_m2") == pytest.approx(QUADRANT)


def test_a_mid_check_closes_what_was_before_and_opens_what_comes_after() -> None:
    book = swept()
    book.check("10:00", occasion="mid")
    book.test("F-2", "10:10", "10:30")
    assert (word(book, "F-1"), word(book, "F-2")) == (CHECKED, AWAITING)
    book.check("12:00", "2.50 kV", "after")
    assert (word(book, "F-1"), word(book, "F-2")) == (CHECKED, DOUBT)


@pytest.mark.parametrize(
    ("mid", "after", "expected"),
    [
        ("3.00 kV", "3.00 kV", CHECKED),
        ("2.50 kV", "3.00 kV", DOUBT),
        ("3.00 kV", "2.50 kV", DOUBT),
        ("3.00 kV", None, AWAITING),
        ("no alarm", "3.00 kV", DOUBT),
    ],
)
def test_a_test_that_spans_a_check_needs_both_neighbours(mid: str, after: str | None, expected: str) -> None:
    book = Book().usual()
    book.check("07:30")
    book.check("08:10", mid, "mid")
    if after:
        book.check("09:00", after, "after")
    book.test("F-1", "08:00", "08:20")
    assert word(book) == expected


def test_a_spanned_reading_as_left_closes_nothing_before_it() -> None:
    book = Book().usual()
    book.check("07:30")
    book.check("08:10", "3.00 kV", "mid", as_found=False)
    book.check("09:00", occasion="after")
    book.test("F-1", "08:00", "08:20")
    assert word(book) == DOUBT


def test_the_first_reading_of_a_day_opens_and_closes_nothing() -> None:
    book = swept()
    book.check("4 07:30", occasion="before")
    assert (word(book), cause(book)) == (DOUBT, "missing_after")
    book.test("F-2", "4 08:00", "4 08:20")
    book.check("4 09:00", occasion="after")
    assert (word(book, "F-1"), word(book, "F-2")) == (DOUBT, CHECKED)


@pytest.mark.parametrize("occasion", ["before", "mid", "change"])
def test_the_first_reading_of_another_day_closes_nothing_whatever_it_calls_itself(occasion: str) -> None:
    book = swept()
    book.check("4 07:30", occasion=occasion)
    assert word(book) == DOUBT


def test_the_first_reading_of_a_day_is_asked_for_each_electrode_by_itself() -> None:
    book = swept()
    book.check("4 07:30", occasion="before", electrode="brush 1.0")
    book.check("4 07:35", occasion="change")
    assert word(book) == DOUBT


def test_a_reading_before_a_shift_closes_nothing_of_the_same_day() -> None:
    book = swept()
    book.check("13:00", occasion="before")
    assert (word(book), cause(book)) == (DOUBT, "missing_after")


def test_an_end_check_opens_no_other_day() -> None:
    book = swept()
    book.check("21:00", occasion="after")
    book.test("F-2", "4 08:00", "4 08:20")
    book.check("4 12:00", occasion="after")
    assert (word(book, "F-1"), word(book, "F-2"), cause(book, "F-2")) == (CHECKED, DOUBT, "missing_before")


def test_a_morning_check_opens_no_other_day_but_a_night_shift_runs_over_midnight() -> None:
    book = Book().usual()
    book.check("07:30")
    book.test("F-1", "4 08:00", "4 08:20")
    book.check("4 12:00", occasion="after")
    assert (word(book), cause(book)) == (DOUBT, "missing_before")
    night = Book().usual()
    night.check("3 22:00")
    night.test("F-1", "4 00:30", "4 00:50")
    night.check("4 06:00", occasion="after")
    assert word(night) == CHECKED


@pytest.mark.parametrize("what", ["battery", "charged", "adjusted", "repaired"])
def test_a_change_before_the_end_check_closes_nothing_backward(what: str) -> None:
    book = swept()
    book.change("11:50", what)
    book.check("12:00", occasion="after")
    assert (word(book), cause(book)) == (DOUBT, "missing_after")


@pytest.mark.parametrize("what", ["electrode", "extension", "lead", "dropped"])
def test_other_changes_after_a_test_leave_the_end_check_as_found(what: str) -> None:
    book = swept()
    book.change("11:50", what)
    book.check("12:00", occasion="after")
    assert word(book) == CHECKED


@pytest.mark.parametrize("what", ["electrode", "extension", "lead", "battery", "charged", "adjusted", "repaired", "dropped"])
def test_every_change_and_a_drop_ask_for_a_check(what: str) -> None:
    book = Book().usual()
    book.check("07:30")
    book.change("07:50", what)
    book.test("F-1", "08:00", "08:20")
    book.check("12:00", occasion="after")
    assert (word(book), cause(book)) == (DOUBT, "changed_before")


def test_a_change_during_a_test_puts_it_in_doubt() -> None:
    book = Book().usual()
    book.check("07:30")
    book.change("08:10", "battery")
    book.test("F-1", "08:00", "08:20")
    book.check("12:00", occasion="after")
    assert word(book) == DOUBT


def test_as_left_closes_nothing_backward_and_opens_forward() -> None:
    book = swept()
    book.check("12:00", occasion="after", as_found=False)
    assert (word(book), cause(book)) == (DOUBT, "missing_after")
    book.test("F-2", "12:10", "12:20")
    book.check("13:00", occasion="after")
    assert (word(book, "F-1"), word(book, "F-2")) == (DOUBT, CHECKED)


def test_low_as_found_then_as_left_helps_only_forward() -> None:
    book = swept()
    book.check("12:00", "2.46 kV", "after")
    book.change("12:05", "battery")
    book.check("12:10", "3.01 kV", "change", as_found=False)
    book.test("F-2", "12:20", "12:30")
    book.check("13:00", occasion="after")
    assert (word(book, "F-1"), cause(book, "F-1"), word(book, "F-2")) == (DOUBT, "low", CHECKED)


@pytest.mark.parametrize("other", [{"electrode": "brush 1.0"}, {"lead": "10 m"}, {"set": "2.5 kV", "read": "2.5 kV"}, {"instrument": "T2"}])
def test_another_tester_electrode_lead_or_setting_neither_closes_nor_opens(other: dict[str, str]) -> None:
    book = swept()
    book.check("12:00", occasion="after", **other)
    assert word(book) == AWAITING
    book = Book().usual()
    book.check("07:30", **other)
    book.test("F-1", "08:00", "08:20")
    book.check("12:00", occasion="after")
    assert (word(book), cause(book)) == (DOUBT, "missing_before")


def test_the_same_setting_in_another_unit_closes() -> None:
    book = swept()
    book.check("12:00", "3010 V", "after", set="3000 V")
    assert word(book) == CHECKED


@pytest.mark.parametrize(("end", "expected"), [("12:30", CHECKED), ("12:31", DOUBT)])
def test_the_contracts_interval_counts_from_reading_to_reading(end: str, expected: str) -> None:
    book = Book().usual(longest="5 h")
    book.check("07:30")
    book.test("F-1", "08:00", "08:20")
    book.check(end, occasion="after")
    assert word(book) == expected


def test_the_interval_holds_between_readings_that_a_test_spans() -> None:
    book = Book().usual(longest="2 h")
    book.check("07:30")
    book.check("10:00", occasion="mid")
    book.check("11:00", occasion="after")
    book.test("F-1", "08:00", "10:30")
    assert (word(book), cause(book)) == (DOUBT, "interval")


def test_no_check_before_puts_in_doubt_though_one_after_passed() -> None:
    book = swept(before="")
    book.check("12:00", occasion="after")
    assert (word(book), cause(book)) == (DOUBT, "missing_before")
    assert book.stand().assessment.value == "does_not_meet"


@pytest.mark.parametrize("read", ["2.50 kV", "3.50 kV", "no alarm"])
def test_a_failed_check_before_opens_nothing(read: str) -> None:
    book = Book().usual()
    book.check("07:30", read)
    book.test("F-1", "08:00", "08:20")
    book.check("12:00", occasion="after")
    assert (word(book), cause(book)) == (DOUBT, "failed_before")


@pytest.mark.parametrize("read", ["2.84 kV", "0.01 kV", "no alarm"])
def test_failed_low_puts_in_doubt_everything_since_the_last_passed_check(read: str) -> None:
    book = swept()
    book.check("10:00", occasion="mid")
    for n in (2, 3, 4):
        book.test(f"F-{n}", f"1{n - 2}:10", f"1{n - 2}:30")
    book.check("13:00", read, "after")
    standing = book.stand()
    assert [last_test(standing, f"F-{n}").word.value for n in (1, 2, 3, 4)] == [CHECKED, DOUBT, DOUBT, DOUBT]
    assert standing.sum_m2("in_doubt_m2") == pytest.approx(3 * QUADRANT)
    assert "check_failed" in whats(standing, True)
    assert findings(standing, "8.1") == ["not_met"]


@pytest.mark.parametrize(("read", "passed"), [("2.85 kV", True), ("3.15 kV", True), ("2.8499 kV", False), ("3.1501 kV", False)])
def test_five_percent_of_three_kilovolt_is_150_volt_either_way(read: str, passed: bool) -> None:
    book = swept()
    book.check("12:00", read, "after")
    assert (word(book) == CHECKED) is passed


def test_the_stricter_of_the_contracts_and_the_entrys_tolerance_counts() -> None:
    book = swept()
    book.check("12:00", "2.70 kV", "after", tolerance="50 %")
    assert word(book) == DOUBT
    book = swept()
    book.check("12:00", "2.95 kV", "after", tolerance="1 %")
    assert word(book) == DOUBT


def test_failed_high_waits_until_its_panels_are_looked_over_for_burns() -> None:
    book = swept()
    book.test("F-2", "08:30", "08:40")
    book.check("12:00", "3.60 kV", "after")
    assert (word(book, "F-1"), cause(book, "F-1")) == (AWAITING, "high")
    book.write("burn.inspected", "12:30", panels=["F-1"], found=[])
    standing = book.stand()
    assert [last_test(standing, p).word.value for p in ("F-1", "F-2")] == [CHECKED, AWAITING]
    assert "check_failed" in whats(standing)


def test_a_burn_inspection_before_the_test_looks_for_nothing_of_it() -> None:
    book = Book().usual()
    book.check("07:30")
    book.write("burn.inspected", "07:40", panels=["F-1"], found=[])
    book.test("F-1", "08:00", "08:20")
    book.check("12:00", "3.60 kV", "after")
    assert word(book) == AWAITING


def test_each_burn_needs_its_repair_and_is_counted_apart() -> None:
    book = Book().usual().closed()
    assert book.stand().assessment.value == "meets"
    place = {"on": "floor", "x": "-0.5 m", "y": "0.5 m"}
    burn = book.write("burn.inspected", "6 11:00", panels=["F-4"], found=[{"number": "A9", "place": place}])
    standing = book.stand()
    assert (standing.burns, standing.burns_closed, len(standing.holidays), standing.assessment.value) == (1, 0, 1, "cannot_tell")
    repair = book.plan("R-02", [burn], "6 12:00", [{"shape": "disc", "at": place, "radius": "0.1 m"}])
    book.mend(repair, "6 13:00")
    book.check("8 15:30")
    book.retest(repair, "8 16:00", "8 16:05", outline=[{"shape": "panel", "panel": "F-4"}])
    book.check("8 17:00", occasion="after")
    standing = book.stand()
    assert (standing.burns, standing.burns_closed, standing.assessment.value) == (1, 1, "meets")


def test_a_high_end_check_holds_retests_until_their_panels_are_looked_over() -> None:
    book = Book().usual().closed()
    book.unwrite()  # the passed end check of the retest
    book.check("6 10:30", "3.60 kV", "after")
    assert [h.word.value for h in book.stand().holidays] == ["repaired"]
    book.write("burn.inspected", "6 11:00", panels=["F-1"], found=[])
    assert [h.word.value for h in book.stand().holidays] == ["closed"]


def test_a_retest_falls_with_its_end_check_and_can_be_made_again_on_the_same_repair() -> None:
    book = Book().usual().closed()
    book.unwrite()
    book.check("6 10:30", "2.40 kV", "after")
    standing = book.stand()
    assert [h.word.value for h in standing.holidays] == ["repaired"]
    assert standing.assessment.value == "does_not_meet"  # clause 8.1: a retest that counts on is in doubt
    book.check("7 09:30")
    book.retest(book.repair, "7 10:00", "7 10:05", nth=2)
    book.check("7 10:30", occasion="after")
    standing = book.stand()
    assert [h.word.value for h in standing.holidays] == ["closed"]
    assert standing.assessment.value == "meets"


def test_a_false_decision_falls_with_the_tester_and_found_holidays_stay_found() -> None:
    book = Book().usual()
    book.check("07:30")
    book.test("F-1", "08:00", "08:20")
    book.holiday("A1", "08:05")
    raised = book.holiday("A2", "08:10", confirm=False)
    book.write("indication.false", "08:12", indication=raised, reason="damp", tried="dried, swept again")
    assert [i.in_doubt for i in book.stand().indications] == [False, False]
    book.check("12:00", "2.40 kV", "after")
    standing = book.stand()
    assert [(i.number, i.decided, i.in_doubt) for i in standing.indications] == [("A1", "holiday", False), ("A2", "false", True)]
    assert len(standing.holidays) == 1
    assert "false_in_doubt" in whats(standing, True)


def test_confirmed_and_later_decided_false_counts_as_a_holiday() -> None:
    book = Book().usual()
    book.check("07:30")
    book.test("F-1", "08:00", "08:20")
    book.holiday("A1", "08:05")
    raised = next(e.id for e in book.entries if e.kind == "indication.raised")
    book.write("indication.false", "08:30", indication=raised, reason="gone", tried="again")
    assert [(h.number, h.word.value) for h in book.stand().holidays] == [("A1", "open")]
