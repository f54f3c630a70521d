"""Each of these exceptions has its line, says whether it bars, and names the entries it is about. Invented jobs on the small tank."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from builder import DEVICES, ITEM, PEOPLE, Book, at, whats

from wholefilm.proof.states import Line

FLOOR = {"on": "floor", "x": "0.5 m", "y": "0.5 m"}


def _lines(book: Book, what: str) -> list[Line]:
    return [x for x in book.stand().lines if x.what == what]


def _tested() -> Book:
    book = Book().usual()
    book.check("3 07:30")
    book.test_all()
    return book


def _unknown_panel(book: Book) -> str:
    return book.test("X-9", "3 10:00", "3 10:05")


def _decided_twice(book: Book) -> str:
    raised = book.holiday("A1", "3 10:00", confirm=False)
    book.write("holiday.confirmed", "3 10:01", indication=raised, place=FLOOR, **{"class": "flat"})
    return book.write("holiday.confirmed", "3 10:02", indication=raised, place=FLOOR, **{"class": "flat"})


def _retest_due(book: Book) -> str:
    found = book.holiday("A1", "3 10:00")
    book.mend(book.plan("R-01", [found]))
    return found


def _open(book: Book) -> str:
    return book.holiday("A1", "3 10:00")


def _undecided(book: Book) -> str:
    return book.holiday("A1", "3 10:00", confirm=False)


def _retest_order(book: Book) -> str:
    repair = book.plan("R-01", [book.holiday("A1", "3 10:00")])
    book.mend(repair)
    book.check("6 09:30")
    return book.retest(repair, "6 10:00", "6 10:05", nth=2)


def _of_no_retest(book: Book) -> str:
    repair = book.plan("R-01", [book.holiday("A1", "3 10:00")])
    return book.write("indication.raised", "4 10:02", number="A2", panel="F-1", retest=repair)


def _item_twice(book: Book) -> str:
    return book.write("item.added", "3 10:00", **ITEM)


def _unreadable_item(book: Book) -> str:
    return book.write("item.added", "3 10:00", **(ITEM | {"item": "other", "dimensions": {"diameter": "four"}}))


def _not_assessed(book: Book) -> str:
    return book.require("6.2", {"form": "thickness_range", "min": "600 um", "max": "1000 um", "classes": ["flat"]}, grade="memory")


def _question(book: Book) -> str:
    return book.write("question.raised", "3 10:00", number="Q-02", to=["engineer"], about="7.1", text="Which course?")


def _nonconformance(book: Book) -> str:
    return book.write(
        "nonconformance.raised", "3 10:00", number="NCR-01", requirement="6.2", finding="thin", extent="F-1", containment="marked"
    )


def _skew(book: Book) -> str:
    return book.write("clock.compared", "3 10:00", device=DEVICES["B"], offset_ms=60_000, round_trip_ms=40)


def _not_reached(book: Book) -> str:
    return book.write("area.not_reached", "3 10:00", panel="F-1", piece={"says": "prop", "area": "0.1 m2"}, reason="prop stays")


def _number_twice(book: Book) -> str:
    book.holiday("A1", "3 10:00")
    return book.holiday("A1", "3 10:10", confirm=False)


def _marks(book: Book) -> str:
    return book.write("day.closed", "3 18:00", date="2025-03-03", narrative="swept", marks_counted=2)


def _late(book: Book) -> str:
    return book.write("delay.noted", "4 10:01", reason="no light", happened="3 09:00..3 09:30")


def _later(book: Book) -> str:
    return book.write("delay.noted", "3 10:00", reason="no light", happened="3 11:00..3 11:30")


SHOWN: list[tuple[str, bool, Callable[[Book], str]]] = [
    ("unknown_panel", True, _unknown_panel),
    ("decided_twice", False, _decided_twice),
    ("open_holidays", True, _open),
    ("undecided", True, _undecided),
    ("retest_due", True, _retest_due),
    ("retest_order", True, _retest_order),
    ("indication_of_no_retest", True, _of_no_retest),
    ("item_twice", True, _item_twice),
    ("unreadable_item", True, _unreadable_item),
    ("not_assessed", True, _not_assessed),
    ("question_open", False, _question),
    ("nonconformance_open", False, _nonconformance),
    ("clock_skew", False, _skew),
    ("not_reached", False, _not_reached),
    ("number_twice", True, _number_twice),
    ("marks_differ", True, _marks),
    ("entered_late", False, _late),
    ("happened_later", False, _later),
]


@pytest.mark.parametrize(("what", "bars", "happens"), SHOWN, ids=[s[0] for s in SHOWN])
def test_a_line_names_its_entry(what: str, bars: bool, happens: Callable[[Book], str]) -> None:
    """Before it happens there is no such line; after it one that names the entry."""
    book = _tested()
    assert what not in whats(book.stand())
    entry = happens(book)
    (line,) = _lines(book, what)
    assert line.bars is bars
    assert entry in line.entries


def test_a_question_answered_and_a_nonconformance_closed_have_no_line() -> None:
    book = _tested()
    question, raised = _question(book), _nonconformance(book)
    book.write("question.answered", "3 10:10", question=question, dated=at("3 10:05"), text="all", evidence="mail", **{"from": "engineer"})
    book.write(
        "nonconformance.closed", "3 10:20", nonconformance=raised, disposition="done again", authorised_by=PEOPLE["qa"], evidence="photo"
    )
    assert not {"question_open", "nonconformance_open"} & whats(book.stand())


@pytest.mark.parametrize("kind", ["instrument.checked", "retest.done", "holiday.confirmed", "indication.raised"])
def test_a_withdrawn_failure_stays_with_a_line(kind: str) -> None:
    """A failed check, a failed retest, a holiday and an indication go only with another person's word, and never from this page."""
    book = Book().usual()
    book.check("3 07:30")
    book.test_all()
    found = book.holiday("A1", "3 08:05")
    book.check("3 12:00", "2.40 kV", "after")
    repair = book.plan("R-01", [found])
    book.mend(repair)
    book.check("6 09:30")
    raised = book.write("indication.raised", "6 10:02", number="A2", panel="F-1", retest=repair)
    book.retest(repair, "6 10:00", "6 10:05", indications=[raised])
    of = next(e.id for e in reversed(book.entries) if e.kind == kind and (kind != "instrument.checked" or e.body["read"] == "2.40 kV"))
    gone = book.write("entry.withdrawn", "6 11:00", of=of, reason="slip")
    assert "failure_withdrawn" not in whats(book.stand())
    assert "waits_for_agreement" in whats(book.stand(), True)
    book.write("entry.agreed", "6 11:10", of=gone, who="qa")
    (line,) = _lines(book, "failure_withdrawn")
    assert (line.detail, line.entries, line.bars) == ("agreed by another person", [of, gone], False)


def _signed(book: Book, when: str, *scope: str) -> str:
    return book.write(
        "signed", when, scope=list(scope), statement="as told", reservations=[], role="QC", digest="0" * 64, program="p",
        heads=True,
    )  # fmt: skip


def _correct(book: Book, when: str, kind: str, **new: str) -> None:
    old = next(e for e in reversed(book.entries) if e.kind == kind)
    book.write("entry.corrected", when, of=old.id, over=old.id, body={**old.body, **new}, reason="typed wrong")


def test_a_correction_after_a_daily_report_bars_until_the_day_is_signed_again() -> None:
    book = Book().usual().closed()
    _signed(book, "6 18:00", "day 2025-03-06")
    _correct(book, "6 19:00", "retest.done", local_thickness="690 um")
    (line,) = _lines(book, "changed_after_signing")
    assert (line.detail, line.bars) == ("after the daily report was signed", True)
    _signed(book, "6 19:10", "day 2025-03-06")
    (line,) = _lines(book, "changed_after_signing")
    assert (line.detail, line.bars) == ("after the daily report was signed; signed again since", False)
    assert book.stand().assessment.value == "meets"


def test_a_signature_of_another_day_is_not_touched_by_a_correction() -> None:
    book = Book().usual().closed()
    _signed(book, "6 18:00", "day 2025-03-03")
    _correct(book, "6 19:00", "retest.done", local_thickness="690 um")
    assert not _lines(book, "changed_after_signing")
    _signed(book, "6 20:00", "F", "S1")
    _correct(book, "6 21:00", "repair.done", feather="60 mm")
    (line,) = _lines(book, "changed_after_signing")
    assert (line.detail, line.bars) == ("after a signature", True)
