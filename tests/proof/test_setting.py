"""A voltage sheet is for one system, one film and one state of the surface. Common practice; the words of the reasons are ours."""

from __future__ import annotations

from typing import Any

import pytest
from builder import Book, last_test
from test_needs import begun

COAT = {"test_areas": ["F"], "coat": "coat 2", "batch": "B2", "applicator": "crew 1"}


def says(book: Book) -> str:
    return "; ".join(u.says for u in last_test(book.stand(), "F-1").unmet)


def test_a_coat_after_the_sheet_needs_another_sheet() -> None:
    book = Book().usual()
    book.write("coat.applied", "2 10:00", **COAT)
    begun(book)
    assert "not for this: coat 2 was applied" in says(book)
    assert last_test(book.stand(), "F-1").word.value != "checked before and after"
    book = Book().usual()
    book.write("coat.applied", "1 07:06", **COAT)  # before the sheet: it was set for this film
    assert says(begun(book)) == ""


def test_another_area_s_coat_is_not_this_film() -> None:
    book = Book().usual()
    book.write("coat.applied", "2 10:00", **{**COAT, "test_areas": ["S1"]})
    assert says(begun(book)) == ""


def test_another_system_needs_another_sheet() -> None:
    book = Book().usual()
    layers = [{"name": "another coating", "conductive": "no"}]
    book.write("system.set", "2 10:00", version=2, test_areas=["F", "S1"], layers=layers, immersed="never")
    assert "another coating system was set" in says(begun(book))


@pytest.mark.parametrize(
    ("surface", "dry", "refused"), [("dry", True, False), ("wet", False, False), ("wet", True, True), ("dry", False, True)]
)
def test_a_sheet_for_a_dry_film_is_not_for_a_wet_one(surface: str, dry: bool, refused: bool) -> None:
    book = Book(ready=True).usual()
    book.sheet(surface=surface)
    book.entries[-1] = _third(book)
    seen: dict[str, Any] = {"panels": ["F", "S1"], "dry": dry, "clean": True, "overspray": False, "old_water": False, "solvent": False}
    book.write("surface.inspected", "3 07:00", version=2, **seen)
    assert ("it was set for a" in says(begun(book))) is refused


def _third(book: Book) -> Any:
    """The last entry as one of version 3."""
    last = book.entries[-1]
    body = dict(last.body)
    book.unwrite()
    book.write("voltage.set", "1 07:09", version=3, **body)
    return book.entries[-1]
