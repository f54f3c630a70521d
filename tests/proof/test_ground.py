"""Ground by point and bay: what hangs on a point found open is untestable until a new one is proved. Invented bays, small tank."""

from __future__ import annotations

from builder import Book, last_test, whats

from wholefilm.instruments.ground import grounded
from wholefilm.proof.assessment import Ground
from wholefilm.proof.falls import Falls, ground_proofs
from wholefilm.sheets.checks import checks_sheet

BAYS = ["S1-3", "S1-4"]


def look(book: Book, when: str, point: str, found: str, serves: list[str], **more: str) -> str:
    body = {"point": point, "to": "T4", "instrument": "M1", "found": found, "serves": serves}
    return book.write("ground.checked", when, version=2, **{**body, **more})


def cut() -> Book:
    """T1 serves the near panels and is proved; T3 serves the far ones and is open."""
    book = Book().usual()
    book.check("3 07:00")
    look(book, "3 07:10", "T1", "continuous", ["F", "S1-1", "S1-2"], value="0.4 ohm")
    look(book, "3 07:15", "T3", "open", BAYS, value="20 Mohm")
    book.grounded.add(3)
    return book


def test_the_far_bays_are_not_testable_until_a_new_tab_is_proved() -> None:
    book = cut()
    book.test("F-1", "3 08:00", "3 08:08")
    book.test("S1-3", "3 08:10", "3 08:18")
    look(book, "3 09:00", "T3b", "continuous", BAYS, value="0.6 ohm")
    book.test("S1-4", "3 09:10", "3 09:18")
    book.check("3 12:00", occasion="after")
    standing = book.stand()
    words = {p: last_test(standing, p).word.value for p in ("F-1", "S1-3", "S1-4")}
    assert words == {"F-1": "checked before and after", "S1-3": "not valid", "S1-4": "checked before and after"}
    assert "T3" in last_test(standing, "S1-3").why
    assert "test_not_valid" in whats(standing, True)


def test_what_the_record_says_of_each_point() -> None:
    book = cut()
    job = book.fold()
    proofs = ground_proofs(job, Falls(job, Ground(job).testers))
    noon = proofs[-1].at + 1
    assert grounded(proofs, noon, "F-1", "F", "tank").met
    assert not grounded(proofs, noon, "S1-3", "S1", "tank").met
    rows = checks_sheet(book.stand()).grounds
    assert [(r.point, r.found, r.proof, r.serves) for r in rows] == [
        ("T1", "continuous", "0.4 ohm", ["F", "S1-1", "S1-2"]),
        ("T3", "open", "20 Mohm", BAYS),
    ]


def test_a_proof_by_a_tester_that_failed_is_in_doubt_and_grounds_nothing() -> None:
    book = Book().usual()
    book.check("3 07:00")
    look(book, "3 07:10", "T1", "continuous", ["F"], instrument="T1", proof="spark")
    book.grounded.add(3)
    book.check("3 12:00", "2.00 kV", "after")
    job = book.fold()
    proofs = ground_proofs(job, Falls(job, Ground(job).testers))
    assert not grounded(proofs, proofs[-1].at + 1, "F-1", "F", "tank").met
    assert checks_sheet(book.stand()).grounds[0].remark.startswith("in doubt: end check")
