"""Five mistakes that must never be recorded as good, forced into a record past every form: none counts, each is seen."""

from __future__ import annotations

from typing import Any

import pytest
from builder import PEOPLE, Book, at, findings, good, last_test, not_good, whats

from wholefilm.proof.states import Standing

TOLD = {"from": "engineer"}


def test_the_job_without_a_mistake_meets() -> None:
    standing = good().stand()
    assert standing.assessment.value == "meets"
    assert whats(standing) == set()
    assert standing.missing == []


# 1. A test without a passed check before, or called proved without one after.


def test_1_a_test_without_a_passed_check_before() -> None:
    book = Book().usual()
    book.test_all()
    book.check("3 12:00", occasion="after")
    standing = book.stand()
    not_good(standing)
    assert standing.sum_m2("checked_m2") == 0
    assert "end_check_missing" in whats(standing, True)


def test_1_called_checked_without_a_check_after() -> None:
    book = Book().usual()
    book.look("3 07:20")
    book.check("3 07:30")
    book.test_all()
    book.write("assessment.made", "3 13:00", assessment="meets", digest="a" * 64, program="x")
    standing = book.stand()
    not_good(standing)
    assert (standing.sum_m2("checked_m2"), standing.assessment.value) == (0, "cannot_tell")
    assert (findings(standing, "8.1"), whats(standing)) == (["cannot_tell"], {"assessed_otherwise"})


# 2. Accepted with area untested, or a holiday open or repaired and not retested.


def holding() -> Book:
    return Book().usual(holds=("after retest",))


def release(book: Book, when: str, who: str = "qa", about: tuple[str, ...] = ("F", "S1")) -> None:
    book.write("hold.released", when, point="after retest", about=list(about), by=PEOPLE[who])


def test_2_a_hold_released_after_all_is_closed_is_met() -> None:
    book = holding().closed()
    release(book, "6 12:00")
    standing = book.stand()
    assert (findings(standing, "9.1"), standing.assessment.value) == (["met"], "meets")


@pytest.mark.parametrize("when", ["3 11:00", "3 13:00", "4 10:00", "6 10:20"])
def test_2_a_hold_released_early_is_not_met_even_when_all_is_closed_later(when: str) -> None:
    book = holding().closed()
    release(book, when)
    standing = book.stand()
    not_good(standing)
    assert findings(standing, "9.1") == ["not_met"]


def test_2_a_hold_released_again_when_all_is_closed_is_met() -> None:
    book = holding().closed()
    release(book, "4 10:00")
    release(book, "6 12:00")
    assert findings(book.stand(), "9.1") == ["met"]


def test_2_released_with_a_panel_untested() -> None:
    book = holding()
    book.check("3 07:30")
    book.test_all(panels=("F-1", "F-2", "F-3"))
    book.check("3 12:00", occasion="after")
    release(book, "3 13:00")
    standing = book.stand()
    not_good(standing)
    assert findings(standing, "9.1") == ["not_met"]


def test_2_released_by_the_one_who_did_the_work_cannot_tell() -> None:
    book = holding().closed()
    release(book, "6 12:00", who="qc")
    standing = book.stand()
    assert (findings(standing, "9.1"), standing.assessment.value) == (["cannot_tell"], "cannot_tell")


@pytest.mark.parametrize("until", ["open", "repaired"])
def test_2_signed_with_a_holiday_open_or_not_retested(until: str) -> None:
    book = Book().usual()
    book.check("3 07:30")
    book.test_all()
    found = book.holiday("A1", "3 08:05")
    book.check("3 12:00", occasion="after")
    repair = book.plan("R-01", [found])
    if until == "repaired":
        book.mend(repair)
    sign(book, "6 12:00")
    standing = book.stand()
    not_good(standing)
    assert [h.word.value for h in standing.holidays] == [until]
    assert standing.assessment.value == ("does_not_meet" if until == "open" else "cannot_tell")
    assert "signed_without_reservations" in whats(standing)


def sign(book: Book, when: str, **more: Any) -> str:
    body = {"scope": ["F", "S1"], "statement": "tested", "reservations": [], "role": "QC", "digest": "b" * 64, "program": "x"}
    return book.write("signed", when, heads=True, **{**body, **more})


def test_2_a_signature_on_a_job_that_meets_leaves_no_line() -> None:
    book = good()
    sign(book, "6 12:00")
    assert whats(book.stand()) == set()


# 3. A voltage without rule, thickness basis or agreement, or the sheet of another area, stage or system.


def with_sheet(**wrong: Any) -> Standing:
    book = Book(ready=False).usual()
    Book.sheet, kept = (lambda self, **other: ""), Book.sheet  # type: ignore[method-assign,assignment]
    try:
        book.get_ready()
    finally:
        Book.sheet = kept  # type: ignore[method-assign]
    if wrong.pop("written", True):
        book.sheet(**wrong)
    book.check("3 07:30")
    book.test_all()
    book.check("3 12:00", occasion="after")
    return book.stand()


def test_3_the_sheet_that_lacks_nothing_meets() -> None:
    assert with_sheet().assessment.value == "meets"


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"written": False}, "no voltage sheet"),
        ({"rule": {"form": "user_enters", "volt": "3.0 kV"}}, "names no document and grade"),
        ({"rule": {"source": {"document": "X", "edition": "1", "grade": "guess"}}}, "names no document and grade"),
        ({"rule": {"source": {"document": "X", "edition": "1", "grade": "memory"}}}, "nobody confirmed it"),
        ({"rule": {"source": {"document": "X", "edition": "1", "grade": "restated"}}}, "nobody confirmed it"),
        ({"basis": {"what": "nominal"}}, "basis has no figure"),
        ({"agreed_by": [PEOPLE["qc"]]}, "no answer or instruction in writing"),
        ({"system": PEOPLE["qc"]}, "another coating system"),
        ({"test_areas": ["S1"]}, "no voltage sheet for F"),
        ({"stage": "coat_1"}, "no voltage sheet"),
        ({"setting": "2.5 kV"}, "set 3.0 kV; the voltage sheet of F says 2.5 kV"),
    ],
)
def test_3_a_voltage_that_lacks_something_counts_for_nothing(wrong: dict[str, Any], says: str) -> None:
    standing = with_sheet(**wrong)
    not_good(standing)
    test = last_test(standing, "F-1")
    assert test.word.value == "not valid"
    assert says in "; ".join(u.says for u in test.unmet)
    assert standing.sum_m2("tested_m2") == (0 if wrong != {"test_areas": ["S1"]} else pytest.approx(8 * 3.141592653589793))
    assert "test_not_valid" in whats(standing, True)


def test_3_a_sheet_set_after_the_test_does_not_count_for_it() -> None:
    book = Book(ready=False).usual()
    book.get_ready()
    book.sheet(setting="2.0 kV", happened="2 07:00")
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    book.sheet(happened="3 09:00")
    assert last_test(book.stand(), "F-1").word.value == "not valid"


# 4. A retest before the cure, before the repair, or by taking away the failed attempt.


def mended() -> Book:
    book = Book().usual()
    book.check("3 07:30")
    book.test_all()
    book.found = book.holiday("A1", "3 08:05")
    book.check("3 12:00", occasion="after")
    book.repair = book.plan("R-01", [book.found])
    return book


@pytest.mark.parametrize(("begin", "end", "word"), [("6 08:59", "6 09:01", "repaired"), ("6 09:00", "6 09:01", "closed")])
def test_4_a_retest_a_minute_before_the_cure_is_due_does_not_count(begin: str, end: str, word: str) -> None:
    book = mended()
    book.mend(book.repair, "4 09:00")  # row 10: 48 h; due on day 6 at 09:00
    book.check("6 08:30")
    book.retest(book.repair, begin, end)
    book.check("6 10:30", occasion="after")
    standing = book.stand()
    assert [h.word.value for h in standing.holidays] == [word]
    assert ("retest_not_counted" in whats(standing, True)) is (word == "repaired")
    if word == "repaired":
        not_good(standing)


def test_4_a_retest_without_a_cure_release_does_not_count() -> None:
    book = mended()
    book.mend(book.repair, release="none")
    book.check("6 09:30")
    book.retest(book.repair, "6 10:00", "6 10:05")
    book.check("6 10:30", occasion="after")
    not_good(book.stand())
    assert [h.word.value for h in book.stand().holidays] == ["repaired"]


def test_4_a_release_of_the_first_repair_does_not_cover_the_second() -> None:
    book = mended()
    book.mend(book.repair)
    book.check("6 09:30")
    raised = book.write("indication.raised", "6 10:02", number="A2", panel="F-1", retest=book.repair)
    book.retest(book.repair, "6 10:00", "6 10:05", indications=[raised])
    book.mend(book.repair, "6 11:00", nth=2, release="none")
    book.retest(book.repair, "6 12:00", "6 12:05", nth=2)
    book.check("6 12:30", occasion="after")
    standing = book.stand()
    not_good(standing)
    assert [h.word.value for h in standing.holidays] == ["repaired"]


def test_4_a_retest_before_the_repair_does_not_count() -> None:
    book = mended()
    book.check("4 07:30")
    book.retest(book.repair, "4 08:00", "4 08:05")
    book.mend(book.repair, "4 09:00")
    book.check("4 10:00", occasion="after")
    standing = book.stand()
    not_good(standing)
    assert [h.word.value for h in standing.holidays] == ["repaired"]
    assert "retest_not_counted" in whats(standing, True)


def failed_once() -> tuple[Book, str, str]:
    book = mended()
    book.mend(book.repair)
    book.check("6 09:30")
    raised = book.write("indication.raised", "6 10:02", number="A2", panel="F-1", retest=book.repair)
    retest = book.retest(book.repair, "6 10:00", "6 10:05", indications=[raised])
    return book, raised, retest


def test_4_a_pass_after_a_fail_without_a_new_repair_leaves_the_holiday_open() -> None:
    book, _, _ = failed_once()
    book.retest(book.repair, "6 10:10", "6 10:15", nth=2)
    book.check("6 10:30", occasion="after")
    standing = book.stand()
    assert [h.word.value for h in standing.holidays] == ["open"]
    assert standing.assessment.value == "does_not_meet"
    assert [x.word.value for x in standing.repairs[0].retests] == ["checked before and after", "not valid"]


@pytest.mark.parametrize("who", ["qc", "qa"])
def test_4_the_failed_retest_goes_only_with_another_persons_word(who: str) -> None:
    book, raised, retest = failed_once()
    for of in (retest, raised):
        gone = book.write("entry.withdrawn", "6 10:07", of=of, reason="slip")
        book.write("entry.agreed", "6 10:08", of=gone, who=who)
    book.retest(book.repair, "6 10:10", "6 10:15", nth=1)
    book.check("6 10:30", occasion="after")
    standing = book.stand()
    if who == "qc":  # the same person
        not_good(standing)
        assert [h.word.value for h in standing.holidays] == ["open"]
        assert "waits_for_agreement" in whats(standing, True)
    else:
        assert [h.word.value for h in standing.holidays] == ["closed"]
        assert "failure_withdrawn" in whats(standing)


@pytest.mark.parametrize("field", ["indications", "happened", "repair"])
def test_4_no_correction_hides_a_failed_retest(field: str) -> None:
    book, _, retest = failed_once()
    old = dict(next(e.body for e in book.entries if e.id == retest))
    new = {"indications": [], "happened": {"from": at("4 08:00")}, "repair": PEOPLE["qa"]}[field]
    book.write("entry.corrected", "6 10:20", of=retest, over=retest, body={**old, field: new}, reason="slip")
    book.mend(book.repair, "6 11:00", nth=2)
    standing = book.stand()
    not_good(standing)
    assert [x.passed for x in standing.repairs[0].retests] == [False]
    assert "waits_for_agreement" in whats(standing, True)


def test_4_an_indication_under_a_repair_fails_its_retest_even_if_the_retest_does_not_list_it() -> None:
    for when in ("6 10:03", "6 10:20"):
        book = mended()
        book.mend(book.repair)
        book.check("6 09:30")
        book.retest(book.repair, "6 10:00", "6 10:05")
        book.write("indication.raised", when, number="A2", panel="F-1", retest=book.repair)
        book.check("6 10:30", occasion="after")
        assert [h.word.value for h in book.stand().holidays] == ["open"]


def test_4_an_indication_under_no_repair_of_the_job_counts_as_one_of_its_panel() -> None:
    book = good()
    place = {"on": "floor", "x": "0.2 m", "y": "0.2 m"}
    raised = book.write("indication.raised", "6 11:00", number="A2", panel="F-1", place=place, retest=PEOPLE["qa"])
    book.write("holiday.confirmed", "6 11:01", indication=raised, place=place, **{"class": "flat"})
    standing = book.stand()
    assert [(h.number, h.word.value) for h in standing.holidays] == [("A1", "closed"), ("A2", "open")]
    assert "refers_to_absent" in whats(standing, True)


# 5. A signed record edited without trace.


@pytest.mark.parametrize("device", ["A", "B"])
def test_5_a_correction_after_a_signature_is_seen_whatever_its_clock_says(device: str) -> None:
    book = good()
    book.write("device.joined", "6 11:00", device=book_device("B"), letter="B", holder="QA")
    sign(book, "6 12:00")
    thickness = next(e for e in book.entries if e.kind == "retest.done")
    body = {**thickness.body, "local_thickness": "900 um"}
    written = "6 12:30" if device == "A" else "5 08:00"  # B's clock runs a day late
    book.write("entry.corrected", written, on=device, of=thickness.id, over=thickness.id, body=body, reason="typed wrong", who="qa")
    standing = book.stand()
    not_good(standing)
    assert "changed_after_signing" in whats(standing, True)


def book_device(letter: str) -> str:
    from builder import DEVICES

    return DEVICES[letter]


def test_5_a_correction_before_the_signature_is_no_edit_of_a_signed_record() -> None:
    book = good()
    retest = next(e for e in book.entries if e.kind == "retest.done")
    book.write("entry.corrected", "6 11:00", of=retest.id, over=retest.id, body={**retest.body, "local_thickness": "900 um"}, reason="x")
    sign(book, "6 12:00")
    assert "changed_after_signing" not in whats(book.stand())


def test_5_a_signature_itself_cannot_be_withdrawn() -> None:
    book = good()
    signed = sign(book, "6 12:00")
    book.write("entry.withdrawn", "6 12:10", of=signed, reason="second thoughts")
    standing = book.stand()
    assert [f.id for f in standing.job.all("signed")] == [signed]
    assert "cannot_be_changed" in whats(standing)


def test_5_an_entry_changed_under_its_successor_breaks_the_chain() -> None:
    book = good()
    other = Book().usual().closed()
    retest = next(n for n, e in enumerate(book.entries) if e.kind == "retest.done")
    from wholefilm.ledger.entry import make_entry

    e = other.entries[retest]
    forged = make_entry(
        at=e.at, body={**e.body, "local_thickness": "900 um"}, by=e.by, device=e.device, id=e.id, job=e.job, kind=e.kind, prev=e.prev,
        seq=e.seq, session=e.session, tick=e.tick, version=e.version,
    )  # fmt: skip
    book.entries[retest] = forged
    standing = book.stand()
    not_good(standing)
    assert "broken_chain" in whats(standing, True)
