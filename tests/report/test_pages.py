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
        "Does not meet the limits entered: 3 reasons in the margin",
        "Tested on written instruction: all but C",
        "575.5",
        "Reservations",
        "6.2 is not met",
        "Signed by",
        "QC inspector (Ada Example, demo certificate 1, invented), 2025-06-17 10:05",
        "of 2025-06-17 stands beside it. All panels",
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


def test_local_film_outside_the_basis_is_said(text: str) -> None:
    """The story: the basis is 600 to 1000 µm; the rim of M2 read 330 to 410 µm (B8 to B13), the feather of R-01 430 µm; one coat only."""
    assert "Local film outside the thickness basis of the voltage sheet (under 600 µm: B8–B13)." in text
    assert "Local film outside the thickness basis of the voltage sheet (under 600 µm: R-01, retest 1)." in text
    listed = text[text.index("Local film outside the thickness basis In every row") :]
    for row in ("B8 S1 410 µm", "B10 S1 330 µm", "B13 S1 405 µm", "R-01, retest 1 S2 430 µm"):
        assert row in listed
    assert "600 µm to 1000 µm" in listed


def test_the_waits_of_the_makers_table_stand_as_entered(text: str) -> None:
    """The story: 10 days at 10 °C before the spark test, 96 h before a retest of a repair; shorter at 15 °C."""
    told = text[text.index("The coating maker's table, as entered") :]
    for row in ("10 °C 10 d", "15 °C 7 d", "10 °C 96 h", "15 °C 72 h"):
        assert row in told


def test_a_place_where_a_long_word_may_break_is_not_printed(text: str) -> None:
    """U+200B is ZERO WIDTH SPACE (The Unicode Standard): digests break at it and show all their 64 figures."""
    assert "[U+200B]" not in text
    told = text[text.index("SHA-256 of the record and of each sheet") :].replace(" ", "")
    assert len(re.findall(r"(?:job|voltage|maps)[0-9a-f]{64}(?![0-9a-f])", told.replace("sheet:", "|"))) == 3


def test_the_instruction_names_every_panel(text: str) -> None:
    """The engineer's word of 30 May names 32 panels, all but the column's; none is cut off."""
    start = text.index("Instructions, concessions, delays")
    told = text[start : text.index("concession on", start)]
    names = [f"F-{n}" for n in range(1, 5)] + [f"S{c}-{n}" for c in range(1, 5) for n in range(1, 7)] + [f"R-{n}" for n in range(1, 5)]
    assert len(names) == 32
    assert re.findall(r"\b(?:[FR]|S\d)-\d\b", told) == names
    assert "..." not in told


def test_sentences_are_joined_without_doubled_marks(text: str) -> None:
    assert not re.search(r"\.\s*;", text)
    assert not re.search(r"(?<!\.)\.\.(?!\.)", text)


def test_units_are_spelt_one_way(text: str) -> None:
    """Signs of print on every page: µm, m², °C, Ω, °; typed spellings only in the record inside."""
    assert re.findall(r".{0,20}\d\s?(?:um|m2|degC|ohm|deg)\b", text) == []
    for unit in ("600 to 1000 µm", "200 m²", "15.0 °C", "0.8 Ω"):
        assert unit in text


def test_the_key_stands_before_the_maps(pdf: bytes) -> None:
    pages = [" ".join(p.extract_text().split()) for p in reader(pdf).pages]
    key = next(n for n, p in enumerate(pages) if "What the maps' hatches and signs mean" in p)
    first = next(n for n, p in enumerate(pages) if "Shell, developed, seen from inside" in p and "Film thickness" not in p)
    assert (key, pages[key].index("What the maps'")) < (first, pages[first].index("Shell, developed"))
    assert "indication of a retest, its repair done again" in pages[key]


def test_what_is_not_met_or_failed_is_bold(pdf: bytes) -> None:
    """Words carry it and weight shows it: letters of "failed, low" and "not met" are set in the bold cut."""
    found = {"failed": set(), "not met": set()}  # type: ignore[var-annotated]
    for page in pages_of(pdf):
        line = "".join(c["text"] for c in page.chars)
        for words, fonts in found.items():
            for at in (m.start() for m in re.finditer(rf"{words}(?=,? ?(?:low|[A-Z0-9]))", line)):
                fonts |= {c["fontname"].split("+")[1] for c in page.chars[at : at + len(words)] if c["text"].strip()}
    for words, fonts in found.items():
        assert any("Bold" in f for f in fonts), (words, fonts)


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
