"""Limits about pieces that are done again, and about repairs that fail."""

from __future__ import annotations

from typing import Any

import pytest
from builder import Book, findings


def _sleeve(**more: Any) -> Book:
    """A job whose clause wants a piece with more than two holidays done again, shaped like a gas owner's clause for sleeves."""
    book = Book()
    limits = [{"form": "per_piece", "at_most": 2, "piece": "sleeve", **more}]
    book.require("7.3", {"form": "limits", "limits": limits, "follows": "sleeve stripped and replaced"}, applies_to=["F"])
    book.check("3 07:30")
    book.test_all()
    book.found = [book.holiday(f"A{k + 1}", "3 08:05", "F-1", {"on": "floor", "x": f"0.{k + 2} m", "y": "0.5 m"}) for k in range(3)]
    book.check("3 12:00", occasion="after")
    return book


def _closed(book: Book, class_: str) -> Book:
    outline = [{"shape": "panel", "panel": "F-1"}]
    body = {"number": "R-01", "holidays": book.found, "procedure": "P1", "outline": outline, "class": class_}
    repair = book.write("repair.planned", "4 08:00", **body)
    book.mend(repair)
    book.check("6 09:30")
    book.retest(repair, "6 10:00", "6 10:05")
    book.check("6 10:30", occasion="after")
    return book


def test_a_piece_over_its_limit_is_named_and_stays_so_when_it_is_only_patched() -> None:
    standing = _closed(_sleeve(redone_by="new sleeve"), "patch").stand()
    assert findings(standing, "7.3") == ["not_met"]
    assert standing.readings[0].value == "F-1: 3, new sleeve and its retest due"
    assert "the clause says: sleeve stripped and replaced; decision: the person whom the contract names" in standing.findings[0].because


def test_a_piece_done_again_is_read_in_both_ways_until_decided() -> None:
    """More than two holidays in a sleeve: strip. After the strip the clause can mean the piece as it stands or all that was found."""
    book = _closed(_sleeve(redone_by="new sleeve"), "new sleeve")
    standing = book.stand()
    assert [(r.value, r.finding) for r in standing.readings] == [
        ("F-1: 3 found, new sleeve, retest passed", "met"),
        ("F-1: 3", "not_met"),
    ]
    assert findings(standing, "7.3") == ["cannot_tell"]


@pytest.mark.parametrize(("counts", "expected"), [("as_it_stands", "met"), ("all_found", "not_met")])
def test_a_clause_can_say_which_of_the_two_it_means(counts: str, expected: str) -> None:
    book = _closed(_sleeve(redone_by="new sleeve", counts=counts), "new sleeve")
    assert findings(book.stand(), "7.3") == [expected]


def test_what_is_found_on_the_new_piece_counts_again() -> None:
    book = _closed(_sleeve(redone_by="new sleeve", counts="as_it_stands"), "new sleeve")
    for k in range(3):
        book.holiday(f"A{k + 7}", "6 11:05", "F-1", {"on": "floor", "x": f"0.{k + 2} m", "y": "0.9 m"})
    standing = book.stand()
    assert findings(standing, "7.3") == ["not_met"]
    assert standing.readings[0].value == "F-1: 3, new sleeve and its retest due"


def test_before_the_new_sleeve_passed_it_is_not_met() -> None:
    assert findings(_sleeve(redone_by="new sleeve").stand(), "7.3") == ["not_met"]


@pytest.mark.parametrize(("by", "expected"), [("panel", "met"), ("test_area", "not_met"), ("item", "not_met")])
def test_what_a_piece_is(by: str, expected: str) -> None:
    book = Book()
    limit = {"form": "per_piece", "at_most": 1, "piece": "can", "by": by}
    book.require("7.3", {"form": "limits", "limits": [limit]}, applies_to=["F"])
    book.holiday("A1", "08:05", "F-1", {"on": "floor", "x": "0.5 m", "y": "0.5 m"})
    book.holiday("A2", "08:05", "F-2", {"on": "floor", "x": "0.5 m", "y": "-0.5 m"})
    assert findings(book.stand(), "7.3") == [expected]


@pytest.mark.parametrize(("at_most", "expected"), [(0, "not_met"), (1, "met")])
def test_repairs_that_fail_their_retest(at_most: int, expected: str) -> None:
    """One repair fails once and passes then: none after repair is not met, a second failure would be needed for the other."""
    book = Book()
    limits = [{"form": "failed_retests", "at_most": at_most}]
    book.require("7.4", {"form": "limits", "limits": limits, "follows": "strip"}, applies_to=["F"])
    book.closed()
    assert findings(book.stand(), "7.4") == ["met"]
    repair = book.plan("R-02", [book.holiday("A2", "3 08:06", "F-2", {"on": "floor", "x": "0.5 m", "y": "-0.5 m"})])
    book.mend(repair, "4 09:10")
    book.check("7 09:30")
    raised = book.write("indication.raised", "7 10:02", number="A3", panel="F-2", retest=repair)
    book.retest(repair, "7 10:00", "7 10:05", indications=[raised], outline=[{"shape": "panel", "panel": "F-2"}])
    standing = book.stand()
    assert findings(standing, "7.4") == [expected]
    assert standing.readings[-1].value == ("R-02: 1" if expected == "not_met" else "1 at most of one repair")
