"""Coats and cure of the invented tank: the row that the release names, the steel beside it, the coat that came later."""

from __future__ import annotations

from typing import Any

import pytest
from builder import PEOPLE, Book, at

from wholefilm.proof.states import Standing
from wholefilm.sheets.cure import CureRow, cure_sheet


def coated(surface: str = "12 degC", row: str = "10", release: bool = True) -> Book:
    """Coat 2 on F ends on day 3 at 08:00; row 10 asks for 48 h at 10 degC; steel is read on day 4."""
    book = Book().usual()
    rows = [
        {"row": "10", "what": "lining", "steel": "10 degC", "wait": "48 h", "for": "test"},
        {"row": "10r", "what": "next coat", "steel": "10 degC", "wait": "16 h", "longest": "7 d", "for": "recoat"},
    ]
    book.write("system.set", "3 06:00", version=2, test_areas=["F", "S1"], layers=[], cure_table=rows, immersed="never")
    coat: dict[str, Any] = {"test_areas": ["F"], "coat": "coat 2", "batch": "b2", "applicator": "foreman", "thinner": "5 %"}
    book.write("coat.applied", "3 08:00", version=2, **coat)
    book.write("climate.read", "4 08:00", place="F, near the drain", air="15 degC", surface=surface, instrument="H1", rh="60 %")
    if release:
        book.write("cure.released", "5 08:00", about=["F"], table_row=row, last_coat_at=at("3 08:00"), steel="12 degC", by=PEOPLE["qa"])
    return book


def row_of(standing: Standing, about: str) -> CureRow:
    return next(r for r in cure_sheet(standing).cure if r.about == about)


def test_the_makers_row_gives_the_time_and_a_name_releases() -> None:
    got = row_of(coated().stand(), "F")
    assert (got.coat, got.last_coat, got.row, got.wait) == ("coat 2", "2025-03-03 08:00", "10", "48 h at 10 degC")
    assert (got.earliest, got.latest_recoat, got.finding) == ("2025-03-05 08:00", "row 10r (10 degC): 2025-03-10 08:00", "met")
    assert got.lowest_steel == "12 degC (F, near the drain, 2025-03-04 08:00)"
    assert got.released.endswith("2025-03-05 08:00")


@pytest.mark.parametrize(
    ("book", "finding", "because"),
    [
        (coated("9 degC"), "not met", "the steel was at 9 degC (F, near the drain, 2025-03-04 08:00), colder than the row"),
        (coated(row="15"), "cannot tell", "has no row 15"),
        (coated(release=False), "cannot tell", "not released; the maker's table as entered has rows 10, 10r"),
    ],
)
def test_what_the_row_does_not_say_is_not_guessed(book: Book, finding: str, because: str) -> None:
    got = row_of(book.stand(), "F")
    assert got.finding == finding
    assert because in got.because


def test_a_coat_recorded_after_the_one_released_is_seen() -> None:
    book = coated()
    book.write("coat.applied", "5 09:00", test_areas=["F"], coat="stripe", batch="b3", applicator="foreman")
    got = row_of(book.stand(), "F")
    assert (got.coat, got.finding) == ("stripe", "not met")
    assert "a later coat is recorded" in got.because


def test_a_repair_has_its_own_row_and_a_cold_place_elsewhere_does_not_count_where_the_area_was_read() -> None:
    book = coated()
    book.write("climate.read", "4 09:00", place="roof", air="5 degC", surface="2 degC", instrument="H1", rh="60 %")
    repair = book.plan("R-01", [book.holiday("A1", "5 10:00")], "5 11:00")
    book.mend(repair, "5 12:00")
    standing = book.stand()
    assert row_of(standing, "F").finding == "met"
    got = row_of(standing, "R-01")
    assert (got.coat, got.last_coat, got.kind) == ("repair 1", "2025-03-05 12:00", "repair")
    assert got.earliest == "2025-03-07 12:00"


@pytest.mark.parametrize(("surface", "bars"), [("12 degC", []), ("9 degC", [True])])
def test_steel_colder_than_the_row_bars_a_test_that_waited_long_enough(surface: str, bars: list[bool]) -> None:
    book = coated(surface)
    book.check("5 09:00")
    book.test("F-1", "5 09:10", "5 09:20")
    book.check("5 12:00", occasion="after")
    assert [line.bars for line in book.stand().lines if line.what == "cure_not_told"] == bars
