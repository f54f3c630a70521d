"""Remarks: they stand among the exceptions and bar nothing."""

from __future__ import annotations

import pytest
from builder import PEOPLE, QUADRANT, Book, at, whats

from wholefilm.base.errors import BadInput
from wholefilm.proof.requirements import read_rule
from wholefilm.proof.states import Line


def lines(book: Book, what: str) -> list[Line]:
    found = [x for x in book.stand().lines if x.what == what]
    assert not any(x.bars for x in found)
    return found


@pytest.mark.parametrize(("most", "over"), [("10 m2/h", True), ("19 m2/h", False), ("107 ft2/h", True)])
def test_a_rate_over_the_ceiling_of_the_contract(most: str, over: bool) -> None:
    """F-1 has pi m2 and took 10 min: 18.85 m2/h (by hand: 3.1416 x 6). 107 ft2/h = 9.94 m2/h (1 ft = 0.3048 m)."""
    assert pytest.approx(18.85, abs=0.005) == QUADRANT * 6
    book = Book().usual()
    assert "rate_over" not in whats(book.stand())
    book.require("7.5", {"form": "rate", "most": most})
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    assert [x.detail for x in lines(book, "rate_over")] == (["F-1 19 m2/h"] if over else [])


def test_without_a_ceiling_entered_no_rate_is_compared() -> None:
    book = Book().usual()
    book.check("3 07:30")
    book.test("S1-1", "08:00", "08:01")  # 377 m2/h
    assert not {"rate_over", "rate_untold"} & whats(book.stand())


def test_a_test_that_took_no_time() -> None:
    book = Book().usual()
    book.require("7.5", {"form": "rate", "most": "40 m2/h"})
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:00")
    assert [x.detail for x in lines(book, "rate_untold")] == ["F-1"]


def test_a_tolerance_that_the_contract_does_not_have() -> None:
    book = Book()
    book.require("7.2", {"form": "limits", "limits": [{"form": "none_open"}]})
    book.check("3 07:30", tolerance_source="the tester's handbook")
    assert [x.says for x in lines(book, "tolerance_not_contract")] == [
        "Tolerance 5 %, taken from the tester's handbook, stands in no requirement entered"
    ]
    book.require("8.1", {"form": "check_interval", "tolerance": "5 %"})
    assert lines(book, "tolerance_not_contract") == []


def test_an_operator_of_whom_nothing_is_stated() -> None:
    book = Book().usual()
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10", setup={"operator": "applicator"})
    assert [x.says for x in lines(book, "operator_unqualified")] == ["No qualification is stated of the operator: applicator"]
    book.write("person.joined", "1 08:00", person=PEOPLE["applicator"], roles=["applicator"], card="1" * 64, qualification="trained")
    assert lines(book, "operator_unqualified") == []


@pytest.mark.parametrize(("occasion", "seen"), [("after", True), ("mid", True), ("change", False), ("before", False)])
def test_a_reading_marked_as_left_where_one_as_found_is_due(occasion: str, seen: bool) -> None:
    book = Book().usual()
    book.check("3 12:00", occasion=occasion, as_found=False)
    assert bool(lines(book, "as_left_at_end")) is seen
    book = Book().usual()
    book.check("3 11:55", "2.50 kV", occasion=occasion)
    book.check("3 12:00", occasion=occasion, as_found=False)
    assert lines(book, "as_left_at_end") == []


def test_words_of_a_role_that_the_contract_does_not_name() -> None:
    book = Book().usual(holds=("before test",))
    book.require("1.3", {"form": "roles", "decides": ["Engineer"], "releases": ["QA"], "concedes": ["engineer"]})
    noted = book.require("5.1", {"form": "rate", "most": "40 m2/h"})
    rule = {"form": "rate", "most": "50 m2/h"}
    book.write("requirement.decided", "2 08:00", topic="rate", noted=noted, rule=rule, decided_by=PEOPLE["engineer"], reason="x")
    book.write("hold.released", "2 08:00", point="before test", about=["F"], by=PEOPLE["qa"])
    assert lines(book, "other_role") == []
    book.write("requirement.decided", "2 08:00", topic="rate", noted=noted, rule=rule, decided_by=PEOPLE["applicator"], reason="x")
    book.write("hold.released", "2 08:00", point="before test", about=["S1"], by=PEOPLE["applicator"])
    concession = {"dated": at("2 08:00"), "requirement": "6.2", "about": ["F"], "text": "as it is", "evidence": "mail"}
    book.write("concession.given", "2 08:10", **concession, **{"from": PEOPLE["qa"]})
    assert [x.says for x in lines(book, "other_role")] == [
        "Decided by applicator: rate", "Hold point released by applicator: before test", "Conceded by qa: 6.2",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        ({"form": "permissions", "topics": []}, "topics"),
        ({"form": "permissions", "topics": ["weather"]}, "topics"),
        ({"form": "permissions", "topics": ["gas"], "not_older_than": "4"}, "not_older_than"),
        ({"form": "permissions", "topics": ["gas"], "not_older_than": "0 h"}, "not_older_than"),
        ({"form": "permissions", "topics": ["gas"], "for": "sponge"}, "for"),
        ({"form": "people"}, "rule"),
        ({"form": "rate", "most": "40 m2"}, "most"),
        ({"form": "roles"}, "rule"),
        ({"form": "roles", "decides": []}, "decides"),
    ],
)
def test_a_form_that_asks_for_nothing_or_cannot_be_read(rule: dict[str, object], field: str) -> None:
    with pytest.raises(BadInput, match=field):
        read_rule(rule)


def test_a_test_that_began_while_a_need_could_not_be_told() -> None:
    """Nobody looked at F-1 before its test: it is not refused, and a reader is told."""
    book = Book().usual()
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    found = lines(book, "started_untold")
    assert [x.says for x in found] == [
        f"Tested while the record did not tell: {title}; F-1" for title in ("surface", "dry film", "no solvent beside")
    ]
    assert found[0].detail == "nobody noted how the surface of F-1 looks"
    book = Book().usual()
    book.look("3 07:20")
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    assert lines(book, "started_untold") == []
