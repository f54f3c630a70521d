"""Reports of odd jobs: nothing in it, a part of it, hostile words, letters without glyphs, photos that are none, many photos."""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Mapping

import msgspec
import pytest
from made_report import PROGRAM, reader, sheets_of, text_of
from PIL import Image

from wholefilm.demo import north_basin
from wholefilm.ledger.order import as_of
from wholefilm.report.book import ReportSheets
from wholefilm.report.pdf import Limits, make_pdf, read_attached
from wholefilm.sheets.days import PhotoRow
from wholefilm.sheets.people import PersonRow

replace = msgspec.structs.replace


def made(sheets: ReportSheets, photos: Mapping[str, bytes] | None = None, limits: Limits | None = None) -> list[bytes]:
    return make_pdf(sheets, b"{}\n", photos or {}, last_at_ms=0, program=PROGRAM, limits=limits)


@pytest.fixture(scope="module")
def empty() -> ReportSheets:
    return sheets_of([], {})


def people(*names: str) -> list[PersonRow]:
    return [PersonRow(roles=f"role {n}", name=name, qualification="", valid_until="") for n, name in enumerate(names)]


def photo_rows(shas: list[str]) -> list[PhotoRow]:
    return [
        PhotoRow(when="2025-06-02 09:00", about=f"P-{n}", what="photo", blob=sha[:16], here="here", sha=sha) for n, sha in enumerate(shas)
    ]


def test_a_job_with_nothing_in_it(empty: ReportSheets) -> None:
    (pdf,) = made(empty)
    text = text_of(pdf)
    for words in ("A record without its first entry", "Nobody has signed this record", "None entered: nothing can be assessed", "Cautions"):
        assert words in text
    assert "meets the limits entered" not in text.replace("whether it meets the limits entered", "")


@pytest.mark.parametrize(
    ("time", "words"),
    [
        ("2025-06-03T20:00:00.000+02:00", ["In doubt", "Missing", "not yet decided", "16:55", "2.46 kV"]),
        ("2025-06-02T06:00:00.000+02:00", ["not yet tested", "Nothing tested yet", "Not signed"]),
    ],
)
def test_a_job_on_its_way(time: str, words: list[str]) -> None:
    demo = north_basin.build()
    (pdf,) = made(sheets_of(as_of(demo.entries, time=time), demo.blobs))
    text = text_of(pdf).lower()
    assert all(w.lower() in text for w in words)


def test_the_part_of_one_device() -> None:
    demo = north_basin.build()
    device = demo.entries[-1].device
    entries = [e for e in demo.entries if e.device == device and e.kind != "job.opened"]
    assert 0 < len(entries) < len(demo.entries)
    assert len(reader(made(sheets_of(entries, {}))[0]).pages) >= 4


HOSTILE = [
    '#import "@preview/cetz:0.3.0": *',
    '#read("/etc/passwd")',
    "*bold* _slant_ `raw` $x^2$ @ref <label>",
    "<script>alert(1)</script>",
    "= Heading // comment /* more */ \\u{41} ~ -- --- ...",
    "]}) #panic() \"quoted\" 'single'",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_print_as_they_are(empty: ReportSheets, words: str) -> None:
    sheets = replace(empty, job=replace(empty.job, title=words, contract=words), people=replace(empty.people, people=people(words)))
    text = text_of(made(sheets)[0])
    assert text.count(words) >= 3


def test_names_in_many_scripts_come_out(empty: ReportSheets) -> None:
    names = ["Łukasz Ağrı", "Ελένη Παπαδοπούλου", "Иван Єва", "王小明", "김철수", "田中 さくら", "Արամ", "გიორგი"]
    text = text_of(made(replace(empty, people=replace(empty.people, people=people(*names, "محمد", "דוד"))))[0])
    assert all(name in text for name in names)
    assert "[U+" not in text


def test_a_letter_that_no_font_has_is_shown_by_its_number(empty: ReportSheets) -> None:
    """U+0930 is DEVANAGARI LETTER RA, U+202E RIGHT-TO-LEFT OVERRIDE, U+1F9E0 BRAIN (The Unicode Standard, code charts)."""
    sheets = replace(
        empty, job=replace(empty.job, title="Ram र, \u202eevil, \x00, \U0001f9e0"), people=replace(empty.people, people=people("ए"))
    )
    text = text_of(made(sheets)[0])
    assert "Ram [U+0930], [U+202E]evil, [U+0000], [U+1F9E0]" in text
    assert "[U+090F]" in text


def test_long_words_and_long_texts_stay_on_the_page(empty: ReportSheets) -> None:
    long = people("x" * 3000, "word " * 4000)
    pages = reader(made(replace(empty, people=replace(empty.people, people=long)))[0]).pages
    text = "".join(p.extract_text() for p in pages)
    assert len(re.findall("x", text.replace("\u200b", ""))) >= 3000
    assert text.count("word") >= 4000


def picture(n: int) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (24 + n, 24), (n, 120, 90)).save(out, "PNG")
    return out.getvalue()


def test_160_photos_make_two_volumes(empty: ReportSheets) -> None:
    photos = {hashlib.sha256(data).hexdigest(): data for data in map(picture, range(160))}
    volumes = made(replace(empty, days=replace(empty.days, photos=photo_rows(list(photos)))), photos)
    assert [sum(len(p.images) for p in reader(v).pages) for v in volumes] == [150, 10]
    assert all(len(reader(v).pages) <= 150 for v in volumes)
    assert "volume 2 of 2" in text_of(volumes[1])
    assert read_attached(volumes[0]).job_file == b"{}\n"
    assert not reader(volumes[1]).attachments


def test_volumes_stay_under_their_pages_and_lose_nothing(demo: tuple[ReportSheets, bytes, Mapping[str, bytes], list[bytes]]) -> None:
    sheets, job_file, blobs, _ = demo
    volumes = make_pdf(sheets, job_file, blobs, last_at_ms=0, program=PROGRAM, limits=Limits(pages=9, photos=2))
    assert len(volumes) >= 3
    assert all(len(reader(v).pages) <= 9 for v in volumes)
    text = " ".join(map(text_of, volumes))
    numbers = [f"{letter}{n}" for letter, last in (("B", 29), ("D", 16)) for n in range(1, last + 1)]
    assert all(re.search(rf"\b{n}\b", text) for n in numbers)
    assert f"volume 1 of {len(volumes)}" in text


def test_photos_are_made_small_and_lose_their_place(empty: ReportSheets) -> None:
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "where it was taken"
    Image.effect_noise((1600, 1200), 60).convert("RGB").save(out, "JPEG", exif=exif)
    sha = "a" * 64
    (pdf,) = made(replace(empty, days=replace(empty.days, photos=photo_rows([sha]))), {sha: out.getvalue()})
    (image,) = [i for p in reader(pdf).pages for i in p.images]
    assert image.image is not None
    assert image.image.size == (640, 480)
    assert b"where it was taken" not in pdf


@pytest.mark.parametrize(("photos", "words"), [({}, "the picture is not here"), ({"b" * 64: b"no picture"}, "cannot be read as a picture")])
def test_a_photo_that_cannot_be_shown_is_said_to_be(empty: ReportSheets, photos: dict[str, bytes], words: str) -> None:
    text = text_of(made(replace(empty, days=replace(empty.days, photos=photo_rows(["b" * 64]))), photos)[0])
    assert words in text
    assert "P-0" in text
