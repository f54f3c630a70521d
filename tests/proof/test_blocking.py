"""Further things worth blocking, forced into a record past every form: none counts, each is seen."""

from __future__ import annotations

import pytest
from builder import PEOPLE, Book, at, findings, good, last_test, not_good, whats


@pytest.mark.parametrize(("end", "word"), [("20 23:59", "awaiting its end check"), ("21 00:00", "not valid")])
def test_a_spark_test_after_the_permission_of_the_site_ends(end: str, word: str) -> None:
    book = Book().usual()
    book.check("20 22:00")
    book.test("F-1", "20 23:00", end)
    assert last_test(book.stand(), "F-1").word.value == word


def test_a_holiday_without_a_readable_place_bars_meets_and_is_counted() -> None:
    book = good()
    book.holiday("A2", "6 11:00", place={"on": "floor", "x": "9 m", "y": "0 m"})
    standing = book.stand()
    not_good(standing)
    assert len(standing.holidays) == 2
    assert "unreadable_place" in whats(standing, True)


@pytest.mark.parametrize(("due", "word"), [("3 08:10", "awaiting its end check"), ("3 08:09", "not valid")])
def test_an_instrument_past_its_due_date(due: str, word: str) -> None:
    book = Book(ready=True).usual()
    book.write("instrument.added", "2 08:00", instrument="T1", what="spark tester", range="15 kV", due=at(due))
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    assert last_test(book.stand(), "F-1").word.value == word


@pytest.mark.parametrize(
    ("seen", "word"), [({"dry": False}, "not valid"), ({"old_water": True}, "not valid"), ({}, "awaiting its end check")]
)
def test_a_surface_last_seen_wet_or_dirty(seen: dict[str, bool], word: str) -> None:
    book = Book().usual()
    body = {"panels": ["F"], "dry": True, "clean": True, "overspray": False, "old_water": False}
    book.write("surface.inspected", "07:20", **{**body, **seen})
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    assert last_test(book.stand(), "F-1").word.value == word


def test_no_ground_proof_on_the_day() -> None:
    book = Book().usual()
    book.grounded.add(3)
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    assert last_test(book.stand(), "F-1").why == "no ground proof on 2025-03-03 before this test"


@pytest.mark.parametrize("point", ["before test", "before repair"])
def test_work_past_a_hold_point_is_not_met(point: str) -> None:
    book = Book().usual(holds=(point,))
    if point == "before test":
        book.write("hold.released", "3 08:00", point=point, about=["F"], by=PEOPLE["qa"])
    book.closed()
    standing = book.stand()
    not_good(standing)
    assert findings(standing, "9.1") == ["not_met"]
    if point == "before test":
        assert [last_test(standing, p).word.value for p in ("F-1", "S1-1")] == ["checked before and after", "not valid"]


def test_a_thickness_not_met_before_the_test_counts_for_nothing() -> None:
    book = Book().usual()
    book.require("6.2", {"form": "thickness_range", "min": "600 um", "max": "1000 um", "classes": ["flat"]}, applies_to=["F"])
    place = {"on": "floor", "x": "1 m", "y": "1 m"}
    book.write("thickness.read", "3 07:00", place=place, values=["1001 um"], gauge="G1", **{"class": "flat"})
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    standing = book.stand()
    assert last_test(standing, "F-1").word.value == "not valid"
    assert findings(standing, "6.2") == ["not_met"]
