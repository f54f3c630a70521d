"""The report as a file: archival and tagged, with the record inside, the same bytes for the same record."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
from pathlib import Path

import made_report
import pytest
from made_report import reader
from pypdf import PdfWriter

from wholefilm.base.errors import BadInput
from wholefilm.report.attached import file_name
from wholefilm.report.book import ReportSheets
from wholefilm.report.pdf import read_attached


def test_two_processes_make_the_same_bytes(pdf: bytes) -> None:
    words = [sys.executable, str(Path(made_report.__file__))]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stdout.split() == [hashlib.sha256(pdf).hexdigest()]


def test_the_file_says_what_it_conforms_to(pdf: bytes) -> None:
    """ISO 19005-3 (PDF/A-3, level A) and ISO 14289-1 (PDF/UA-1) identify themselves in the XMP metadata."""
    xmp = reader(pdf).xmp_metadata
    assert xmp is not None
    said = xmp.stream.get_data().decode("utf-8")
    assert "<pdfaid:part>3</pdfaid:part>" in said
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in said
    assert "<pdfuaid:part>1</pdfuaid:part>" in said


def test_tags_language_title_and_time(pdf: bytes) -> None:
    """ISO 14289-1 asks for a structure tree, a language, and a title that is displayed."""
    book = reader(pdf)
    root = book.trailer["/Root"]
    assert "/StructTreeRoot" in root
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert book.metadata is not None
    assert book.metadata.title == "North basin raw-water tank, interior lining, record of a holiday test"
    # 10:05 at +02:00
    assert book.metadata.creation_date is not None
    assert book.metadata.creation_date.strftime("%Y-%m-%d %H:%M") == "2025-06-17 08:05"


def test_only_the_fonts_that_come_along_and_all_embedded(pdf: bytes) -> None:
    names = set()
    for page in reader(pdf).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            names.add(str(inner["/BaseFont"]).split("+")[1].split("-")[0])
            assert any(key in inner["/FontDescriptor"] for key in ("/FontFile2", "/FontFile3"))
    assert names <= {"AtkinsonHyperlegibleNext", "AtkinsonHyperlegibleMono", "DejaVuSans", "DroidSansFallback"}


def test_every_figure_has_words_for_who_cannot_see_it(pdf: bytes, sheets: ReportSheets) -> None:
    found: list[str] = []

    def walk(node: object) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for kid in node:
                walk(kid)
        elif isinstance(node, dict):
            if node.get("/S") == "/Figure":
                found.append(str(node.get("/Alt", "")))
            walk(node.get("/K", []))

    walk(reader(pdf).trailer["/Root"]["/StructTreeRoot"]["/K"])
    for part in sheets.maps.maps:
        assert any(part.title in alt for alt in found)
    assert sum(alt.startswith("Photo of ") for alt in found) == 4


def test_the_record_lies_inside_byte_for_byte(demo: tuple[ReportSheets, bytes, object, list[bytes]]) -> None:
    sheets, job_file, _, volumes = demo
    inside = read_attached(volumes[0])
    assert inside.job_file == job_file
    assert inside.manifest["sheets"] == sheets.digests()
    assert inside.manifest["heads"] == json.loads(job_file.splitlines()[-1])["heads"]
    assert inside.manifest["program"] == made_report.PROGRAM
    assert inside.manifest["as_of"].startswith("2025-06-17T10:05")
    assert set(inside.manifest["sheets"]) == {
        "job", "requirements", "voltage", "checks", "doubt", "panels", "holidays", "repairs", "assessment", "readings", "climate", "cure",
        "people", "days", "maps",
    }  # fmt: skip


def test_attachments_say_what_they_are(pdf: bytes, sheets: ReportSheets) -> None:
    """ISO 19005-3, 6.8: an embedded file has a MIME type and a relationship and is named by the catalog's AF entry."""
    specs = [s.get_object() for s in reader(pdf).trailer["/Root"]["/AF"]]
    said = {str(s["/UF"]): (str(s["/AFRelationship"]), str(s["/EF"]["/F"]["/Subtype"])) for s in specs}
    assert said == {file_name(sheets.job.job): ("/Source", "/application/x-ndjson"), "digests.json": ("/Data", "/application/json")}


def test_a_pdf_without_a_record_is_refused() -> None:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    path = made_report.io.BytesIO()
    writer.write(path)
    with pytest.raises(BadInput, match="nothing attached"):
        read_attached(path.getvalue())


@pytest.mark.parametrize("data", [b"", b"no PDF", b"%PDF-1.7\n%%EOF"])
def test_bytes_that_are_no_pdf_are_refused(data: bytes) -> None:
    with pytest.raises(BadInput, match="report"):
        read_attached(data)


@pytest.mark.parametrize(("job", "name"), [("north-basin", "north-basin.jsonl"), ("../a b/Ü", "a-b.jsonl"), ("", "job.jsonl")])
def test_the_name_of_the_record_is_plain(job: str, name: str) -> None:
    assert file_name(job) == name
