"""A record that is not intact says so before anything else; what a signature covers stands beside it."""

from __future__ import annotations

from builder import DEVICES, PEOPLE, Book, good

from wholefilm.job.fold import fold
from wholefilm.ledger.entry import make_entry
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing
from wholefilm.report.book import report_sheets
from wholefilm.report.cover import cover
from wholefilm.report.sums import record_table
from wholefilm.sheets.assessment import assessment_sheet, digest
from wholefilm.sheets.days import days_sheet
from wholefilm.sheets.job import job_sheet

FIELDS = ("at", "body", "by", "device", "id", "job", "kind", "prev", "seq", "session", "tick", "version", "heads")


def signed(book: Book, when: str = "7 10:00", stated: str = "") -> Book:
    """Sign for the assessment sheet as it stands, by hand: with the digest stated, else with its own."""
    book.write(
        "signed", when, heads=True, scope=["F"], statement="done", reservations=["none stays open"], role="QC inspector",
        digest=stated or digest(assessment_sheet(book.stand())), program="wholefilm 0.1 test",
    )  # fmt: skip
    return book


def without(book: Book, kind: str) -> Standing:
    """The standing without the last entry of a kind."""
    gone = next(e for e in reversed(book.entries) if e.kind == kind)
    return assess(fold([e for e in book.entries if e is not gone], book))


def test_a_hole_in_the_record_is_the_first_line_of_margin_and_exceptions() -> None:
    standing = without(good(), "repair.planned")
    sheet = job_sheet(standing)
    assert len(sheet.margin) > 1  # other lines bar too
    assert sheet.margin[0].says.startswith("The record is not intact: device A: entry ")
    assert sheet.record == "The record inside is not intact: 1 place, first in the margin."
    exceptions = assessment_sheet(standing).exceptions
    assert (exceptions[0].what, exceptions[0].bars) == ("gap", True)


def test_the_cover_of_a_report_says_so() -> None:
    broken, whole = report_sheets(without(good(), "repair.planned")), report_sheets(good().stand())
    assert cover(broken).sentence.startswith("The record inside is not intact: 1 place, first in the margin. ")
    assert whole.job.record == ""
    assert cover(whole).sentence == whole.job.sentence


def test_a_failed_reading_made_good_is_found_by_the_entry_after_it() -> None:
    book = good()
    n = next(n for n, e in enumerate(book.entries) if e.kind == "instrument.checked")
    true = book.entries[n]
    forged = make_entry(**({x: getattr(true, x) for x in FIELDS} | {"body": true.body | {"read": "3.01 kV"}}))
    standing = assess(fold([*book.entries[:n], forged, *book.entries[n + 1 :]], book))
    assert standing.assessment.value != "meets"
    assert standing.lines[0].what == "broken_chain"
    assert standing.lines[0].says.startswith("The record is not intact: device A: entry ")


def test_an_explained_gap_does_not_call_the_record_broken() -> None:
    """A lost device, done again by a named person, is a line and no more."""
    book = good()
    book.write("device.joined", "2 08:00", device=DEVICES["B"], letter="B", holder="QA")
    book.write("device.lost", "7 08:00", device=DEVICES["B"], last_seen="2025-03-03T05:00:00.000+01:00", redone_by="QC")
    standing = book.stand()
    (line,) = [x for x in standing.lines if x.what == "gap"]
    assert (line.bars, line.says.startswith("The record")) == (False, False)
    assert job_sheet(standing).record == ""


def test_what_a_signature_covers_is_made_again_and_counted_on() -> None:
    book = signed(good())
    (row,) = days_sheet(book.stand()).signatures
    assert (row.covers, row.since, len(row.sha)) == ("the assessment sheet as it stood then; no entries since", 0, 64)
    book.write("delay.noted", "7 11:00", reason="rain")
    assert days_sheet(book.stand()).signatures[0].covers == "the assessment sheet as it stood then; 1 entry since"
    book.write("delay.noted", "7 12:00", reason="rain")
    assert days_sheet(book.stand()).signatures[0].covers == "the assessment sheet as it stood then; 2 entries since"


def test_a_signature_for_another_sheet_says_so() -> None:
    (row,) = days_sheet(signed(good(), stated="0" * 64).stand()).signatures
    assert row.covers.startswith("another sheet than the assessment sheet of that time, made again (signed with wholefilm 0.1 test; ")


def test_a_signature_that_states_no_heads_cannot_be_held_against_a_sheet() -> None:
    book = good()
    book.write("signed", "7 10:00", scope=["F"], statement="x", reservations=["y"], role="QA", digest="0" * 64, program="x", who="qa")
    (row,) = days_sheet(book.stand()).signatures
    assert row.covers == "it does not tell what its signer had seen; no entries since"


def test_the_digest_signed_stands_beside_those_of_the_report() -> None:
    sheets = report_sheets(signed(good()).stand())
    table = record_table(sheets, "wholefilm 0.1 test")
    last = table.cells[-1]
    assert last == [
        "signed by QC inspector, 2025-03-07 10:00: the assessment sheet as it stood then; no entries since",
        sheets.days.signatures[0].sha,
    ]
    assert PEOPLE["qc"] not in str(table.cells)
