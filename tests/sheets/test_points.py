"""The contract side: hold and witness points, words in writing, non-conformances with how they were closed."""

from __future__ import annotations

from builder import PEOPLE, Book, at
from told import stand

from wholefilm.sheets.requirements import requirements_sheet


def test_hold_and_witness_points_of_the_tank() -> None:
    """The story: three releases by the owner's QA, F-1 witnessed with notice of 30 May."""
    rows = requirements_sheet(stand("north-basin")).points
    assert [(r.what, r.point, r.notice, r.witness, r.released, r.by) for r in rows] == [
        ("hold", "before test", "", "", "2025-06-02 07:40", "QA for the owner"),
        ("witness", "first panel", "2025-05-30 09:00", "came, 2025-06-02 07:44", "", "QA for the owner"),
        ("hold", "before repair", "", "", "2025-06-05 07:30", "QA for the owner"),
        ("hold", "after retest", "", "", "2025-06-16 11:15", "QA for the owner"),
    ]
    assert all(r.entry for r in rows)


def test_a_witness_who_did_not_come_or_waived_and_a_hold_still_to_come() -> None:
    book = Book().usual(holds=("before test", "after retest"))
    release = book.write("hold.released", "3 07:20", who="qa", point="before test", about=["F", "S1"], by=PEOPLE["qa"])
    for when, came in (("3 07:25", "no_show"), ("3 07:26", "waived")):
        book.write("witness.noted", when, point="first panel", about=["F-1"], notice_at=at("2 09:00"), came=came)
    rows = requirements_sheet(book.stand()).points
    assert [(r.what, r.point, r.witness, r.released) for r in rows] == [
        ("hold", "before test", "", "2025-03-03 07:20"),
        ("witness", "first panel", "did not come, 2025-03-03 07:25", ""),
        ("witness", "first panel", "waived, 2025-03-03 07:26", ""),
        ("hold", "after retest", "", "not released"),
    ]
    assert rows[0].entry == release


def test_a_nonconformance_tells_containment_disposition_who_authorised_it_and_the_evidence() -> None:
    """The story of the store: NCR-02 along the saw cut, closed by the engineer's concession."""
    sheet = requirements_sheet(stand("acid-store"))
    row = next(r for r in sheet.nonconformances if r.number == "NCR-02")
    assert (row.requirement, row.state, row.disposition, row.by) == ("6.2", "closed 2025-08-13 09:40", "accepted by concession", "engineer")
    assert row.containment == "no further patch: the movement joint has no detail"
    assert row.evidence == "letter on NCR-02, closing"
    conceded = [(w.what, w.by) for w in sheet.words if w.what.startswith("concession")]
    assert conceded == [("concession on 5.1", "engineer"), ("concession on 6.2", "engineer")]


def test_an_open_nonconformance_says_open() -> None:
    book = Book().usual()
    raised = book.write(
        "nonconformance.raised", "3 10:00", number="NCR-01", requirement="6.2", finding="thin", extent="F-1", containment="marked"
    )
    (row,) = requirements_sheet(book.stand()).nonconformances
    assert (row.state, row.disposition, row.by, row.evidence, row.entry) == ("open", "", "", "", raised)
