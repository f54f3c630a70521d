"""What a reader finds on the pages of the demo job's report. Expected words and figures are typed from the demo's story."""

from __future__ import annotations

import itertools
import re

import pytest
from made_report import pages_of, reader

# Every number chalked beside a confirmed holiday in the demo's story: 27 of device B, 15 of device D, typed by hand.
HOLIDAYS = [f"B{n}" for n in (*range(1, 17), *range(19, 30))] + [f"D{n}" for n in (*range(1, 12), *range(13, 17))]
CHAPTERS = [
    "Requirements and who decided",
    "Voltage sheets",
    "Checks",
    "Panels and maps",
    "Holidays and false indications",
    "Repairs and retests",
    "Assessment",
    "Film thickness",
    "Climate",
    "People and devices",
    "Instruments",
    "Daily reports and signatures",
    "Photos",
    "Cautions",
    "What this report is not",
    "Sources",
]


def test_the_cover_says_first_what_matters(pdf: bytes) -> None:
    cover = " ".join(reader(pdf).pages[0].extract_text().split())
    for words in (
        "North basin raw-water tank, interior lining",
        "Does not meet the limits entered: 2 reasons in the margin",
        "Tested on written instruction: all but C",
        "575.5",
        "Reservations",
        "6.2 is not met",
        "Signed by",
        "QC inspector (Ada Example), 2025-06-17 10:05",
        "Cautions in brief",
        "What this is not",
    ):
        assert words in cover


def test_chapters_stand_in_their_order_in_the_bookmarks(pdf: bytes) -> None:
    titles = [item.title for item in reader(pdf).outline if not isinstance(item, list)]
    assert [t for t in titles if t in CHAPTERS] == CHAPTERS


@pytest.mark.parametrize("clause", ["6.2", "7.1", "7.2", "7.3", "8.1", "8.2", "9.1"])
def test_each_clause_and_its_finding(text: str, clause: str) -> None:
    assert f"NB-07 rev B {clause}" in text


def test_each_holiday_number_is_printed(pdf: bytes) -> None:
    assert len(HOLIDAYS) == 42
    pages = [p.extract_text() for p in reader(pdf).pages]
    start = next(n for n, p in enumerate(pages) if "Holidays and false indications" in p and n > 1)
    words = set(re.findall(r"\b[A-Z]\d+\b", " ".join(pages[start : start + 3])))
    assert set(HOLIDAYS) <= words


def test_a_failed_retest_stays_beside_the_passed_one(pdf: bytes) -> None:
    mine = [line for page in pages_of(pdf) for line in page.lines if re.match(r"R-01 [12] 2025", line)]
    assert len(mine) == 2
    assert "failed" in mine[0]
    assert "passed" in mine[1]


def test_concession_and_nonconformance_stand_beside_the_finding(text: str) -> None:
    assert "NCR-01" in text
    assert re.search(r"NB-07 rev B 6\.2 .{0,140}not met .{0,80}conceded by engineer, 2025-06-17", text)


def test_sums_are_said(text: str) -> None:
    """Common practice: areas and marks must reconcile; the figures are those of the demo's story."""
    assert "45 marks = 42 holidays + 3 false" in text
    assert "total = tested + not reached + not in scope + not yet tested 575.53 100.0" in text
    assert "42 = 0 open + 0 repaired, retest due + 42 closed" in text


def test_head_and_foot_of_every_page(pdf: bytes, sheets: object) -> None:
    pages = [" ".join(p.extract_text().split()) for p in reader(pdf).pages]
    for n, page in enumerate(pages, 1):
        assert f"page {n} of {len(pages)}" in page
        assert "As it stood on 2025-06-17 10:05" in page
        assert f"Record {sheets.head_digest()[:16]}" in page  # type: ignore[attr-defined]


def test_headings_of_a_long_table_repeat(pdf: bytes) -> None:
    pages = [" ".join(p.extract_text().split()) for p in reader(pdf).pages]
    assert sum("Panel From To" in p for p in pages) >= 2


def test_no_word_runs_off_the_page_and_no_type_is_too_small(pdf: bytes) -> None:
    for page in pages_of(pdf):
        assert all(c["x1"] <= page.width - 30 and c["x0"] >= 30 for c in page.chars)
        assert all(c["top"] >= 30 and c["bottom"] <= page.height - 25 for c in page.chars)
        assert min(c["size"] for c in page.chars) >= 8.4


def test_cells_do_not_run_into_each_other(pdf: bytes) -> None:
    """Letters of one line never lie on each other: a cell that overflows would print over its neighbour."""
    plain = [page for page in pages_of(pdf) if not page.drawn]
    assert len(plain) >= 10
    for page in plain:
        rows: dict[float, list[tuple[float, float]]] = {}
        for c in page.chars:
            if c["text"].strip():
                rows.setdefault(round(c["bottom"], 1), []).append((c["x0"], c["x1"]))
        for spans in rows.values():
            spans.sort()
            assert all(b[0] > a[1] - 1.6 for a, b in itertools.pairwise(spans))


def test_words_that_a_report_never_says(text: str) -> None:
    assert not re.search(r"\bsafe\b", text, re.IGNORECASE)
    assert not re.search(r"100\s*%\s*holiday", text, re.IGNORECASE)
    assert not re.search(r"holiday[- ]free", text, re.IGNORECASE)


def test_sources_carry_edition_and_grade(text: str) -> None:
    sources = text[text.rindex("Documents Document Edition Grade") :]
    assert "NB-07 rev B entered" in sources
    assert "WMO-No. 8 Annex 4.B" in sources
    for grade in ("seen", "restated", "memory", "derived", "entered"):
        assert grade in sources


def test_each_photo_has_its_caption(pdf: bytes, text: str) -> None:
    for about in ("B1", "B8", "D12", "R-01"):
        assert re.search(rf"\b{about} · photo, ", text)
    assert sum(len(page.images) for page in reader(pdf).pages) == 4
