"""The daily report: written from the entries, marks by number, frozen by a signature, and told when it changed since."""

from __future__ import annotations

import hashlib

import pytest
from builder import Book
from told import stand

from wholefilm.base.errors import NotFound
from wholefilm.sheets.day import day_sheet, days_of
from wholefilm.sheets.days import days_sheet
from wholefilm.sheets.signed import covered


def test_the_second_day_of_the_tank_is_written_from_its_entries() -> None:
    """Figures of the story: 22 panels, 369.1 m2; 24 holidays and a false indication; marks 18 + 25 = 43."""
    day = day_sheet(stand("north-basin"), "2025-06-03")
    assert day.summary == [
        "4 checks of testers, 1 failed.",
        "22 panels tested, 369.1 m2: R-1 to S4-6 (22).",
        "25 indications: 24 holidays, 1 false; numbers B19 to D14 (25).",
    ]
    assert (day.marks_expected, day.marks_counted) == (43, 43)
    assert day.numbers[:2] == ["B1", "B2"]
    assert len(day.numbers) == 43
    whats = [h.what for h in day.happenings]
    for what in (
        "permit noted",
        "climate read",
        "instrument checked",
        "ground checked",
        "surface inspected",
        "panel tested",
        "delay noted",
    ):
        assert what in whats
    assert whats.count("panel tested") == 22


def test_a_day_of_repairs_and_one_of_retests() -> None:
    """Day 4: 19 repairs, 3 marks left (the false ones). Day 9: 19 retests, R-01 fails, done again: 3 marks."""
    mended, again = (day_sheet(stand("north-basin"), day) for day in ("2025-06-05", "2025-06-10"))
    assert "19 repairs done." in mended.summary
    assert mended.numbers == ["B17", "B18", "D12"]
    assert "19 retests, failed: R-01." in again.summary
    assert again.numbers == ["B17", "B18", "D12"]


def test_made_holidays_and_burns_have_marks_too() -> None:
    assert day_sheet(stand("acid-store"), "2025-08-04").numbers[-3:] == ["G1", "G2", "G3"]
    assert "E10" in day_sheet(stand("leach-vessel"), "2025-09-09").numbers


def _closed() -> Book:
    book = Book().usual()
    book.check("3 07:30")
    book.test("F-1", "3 08:00", "3 08:08")
    book.check("3 12:00", occasion="after")
    book.write("day.closed", "3 18:00", date="2025-03-03", narrative="F-1 swept.", marks_counted=0, heads=True)
    book.write(
        "signed", "3 18:05", scope=["day 2025-03-03"], statement="as told", reservations=[], role="QC", digest="0" * 64, program="p",
        heads=True,
    )  # fmt: skip
    return book


def test_a_signature_freezes_the_day_and_a_later_entry_is_named() -> None:
    book = _closed()
    (row,) = day_sheet(book.stand(), "2025-03-03").signed
    assert row.since == "unchanged"
    frozen = row.digest
    book.check("4 07:30")
    (row,) = day_sheet(book.stand(), "2025-03-03").signed
    assert (row.since, row.digest) == ("unchanged", frozen)  # another day's work changes nothing of it
    book.holiday("A1", "4 09:00")
    raised = book.entries[-2]
    assert raised.kind == "indication.raised"
    book.write("delay.noted", "4 10:00", reason="waited for light", happened="3 09:00..3 09:30")
    (row,) = day_sheet(book.stand(), "2025-03-03").signed
    assert row.since == "changed: delay noted"
    assert row.digest == frozen
    assert day_sheet(book.stand(), "2025-03-03").late == ["delay noted, entered 2025-03-04 10:00"]


def test_a_correction_after_signing_is_named() -> None:
    book = _closed()
    check = next(e for e in book.entries if e.kind == "instrument.checked")
    book.write(
        "entry.corrected", "4 09:00", of=check.id, over=check.id, reason="read again: 3.01 kV", body={**check.body, "read": "3.01 kV"}
    )
    (row,) = day_sheet(book.stand(), "2025-03-03").signed
    assert row.since.startswith("changed: ")
    assert row.since != "changed: "


def test_a_day_without_anything_is_refused_by_name() -> None:
    with pytest.raises(NotFound, match=r"2025-06-17|2025-06-16"):
        day_sheet(stand("north-basin"), "2025-06-14")


@pytest.mark.parametrize(("days", "says"), [(("03",), True), (("03", "04"), True), (("04",), False)])
def test_a_signature_of_days_states_the_digest_of_their_reports(days: tuple[str, ...], says: bool) -> None:
    """SHA-256 of the one report; of the digests one after the other for several; another day's digest is told."""
    book = Book().usual()
    book.check("3 07:30")
    book.test("F-1", "3 08:00", "3 08:08")
    book.check("4 07:30")
    standing = book.stand()
    each = [day_sheet(standing, f"2025-03-{d}").digest for d in days]
    stated = each[0] if len(each) == 1 else hashlib.sha256("".join(each).encode()).hexdigest()
    scope = [f"day 2025-03-{d}" for d in days] if says else ["day 2025-03-03"]
    book.write(
        "signed", "4 18:00", scope=scope, statement="as told", reservations=[], role="QC", digest=stated, program="p", heads=True,
    )  # fmt: skip
    cover = covered(book.fold(), book.fold().all("signed")[0])
    assert cover.same is says
    assert (cover.says == "the daily report as it stood then; no entries since") is says
    assert says or "another sheet than the daily report of that time" in cover.says


def test_the_list_of_days_shows_what_the_entries_say_and_the_marks_expected() -> None:
    """The story: 18 holidays and false ones by the evening of 2 June, 25 more on 3 June."""
    standing = stand("north-basin")
    rows = {r.date: r for r in days_sheet(standing).days}
    assert (rows["2025-06-03"].marks_expected, rows["2025-06-03"].marks_counted) == (43, 43)
    assert rows["2025-06-03"].entries.startswith("4 checks of testers, 1 failed. 22 panels tested, 369.1 m2")
    assert {"2025-06-02", "2025-06-03"} <= set(days_of(standing.job))
