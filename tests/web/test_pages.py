"""Every page answers, says what it must, escapes what it is given, and leads nowhere outside."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from importlib.resources import files

import pytest
from fastapi.testclient import TestClient

from wholefilm.drawing.papers import page_style
from wholefilm.sheets.rows import Column, Table
from wholefilm.web.app import create_app
from wholefilm.web.pages.jobs import local
from wholefilm.web.pages.report import file_name
from wholefilm.web.paging import pages_of

SLUGS = [
    "",
    "/requirements",
    "/voltage",
    "/readings",
    "/climate",
    "/checks",
    "/doubt",
    "/cure",
    "/test",
    "/holidays",
    "/repairs",
    "/assessment",
    "/statistics",
    "/people",
    "/days",
    "/report",
]
TIMES = ["2025-06-01T12:00", "2025-06-02T20:00", "2025-06-03T20:00", "2025-06-05T20:00", ""]
DAY2 = "?as_of=2025-06-03T20:00"
STATIC = files("wholefilm.web") / "static"


EMPTY = ("meta", "link", "input", "br", "img")


class Reader(HTMLParser):
    """Notes every element with its attributes, and whether elements close in order."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, tag
        assert self.open.pop() == tag


def read(text: str) -> Reader:
    reader = Reader()
    reader.feed(text)
    assert reader.open == []
    return reader


@pytest.mark.parametrize("time", TIMES)
@pytest.mark.parametrize("slug", SLUGS)
def test_every_page_at_every_time(client: TestClient, slug: str, time: str) -> None:
    query = f"?as_of={time}" if time else ""
    answer = client.get(f"/jobs/north-basin{slug}{query}")
    assert answer.status_code == 200
    reader = read(answer.text)
    assert sum(1 for tag, _ in reader.found if tag == "h1") == 1
    ids = [a["id"] for _, a in reader.found if "id" in a]
    assert len(ids) == len(set(ids))
    for tag, attributes in reader.found:
        assert not [name for name in attributes if name.startswith("on") or name == "style"]
        assert tag not in ("script", "style", "iframe")
        for name in ("href", "src", "action"):
            value = attributes.get(name)
            assert value is None or value.startswith(("/", "#")), value
            assert value is None or not value.startswith("//")
        if tag == "table":
            assert attributes.get("role") == "table"
    if time:
        screens = [a["href"] for t, a in reader.found if t == "a" and str(a.get("href", "")).startswith("/jobs/north-basin")]
        assert sum(1 for link in screens if link and f"as_of={time.replace(':', '%3A')}" in link) >= 12


@pytest.mark.parametrize("slug", SLUGS)
def test_a_job_with_nothing_in_it(client: TestClient, slug: str) -> None:
    answer = client.get(f"/jobs/empty{slug}")
    assert answer.status_code == 200
    read(answer.text)


def test_first_page_on_day_two(client: TestClient) -> None:
    """The story of the demo: five reasons in the margin; 40 holidays; 12 panels in doubt."""
    text = client.get(f"/jobs/north-basin{DAY2}").text
    assert "Does not meet the limits entered: 5 reasons in the margin" in text
    assert "40 holidays open" in text
    assert text.index("In the margin") < text.index("Test areas") < text.index("Shell, developed") < text.index("What is missing")
    for words in ("High voltage", "Ignition source", "Confined space", "Static charge", "Heart devices", "Local codes", "accepts nothing"):
        assert words in text
    assert not re.search(r"\bsafe\b", text, re.IGNORECASE)
    assert text.count('class="wf-map"') == 8


@pytest.mark.parametrize(
    "slug", ["job", "maps", "requirements", "voltage", "readings", "climate", "checks", "test", "holidays", "repairs", "assessment"]
)
def test_sheets_as_data(client: TestClient, slug: str) -> None:
    answer = client.get(f"/jobs/north-basin/{slug}.json{DAY2}")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/json"
    assert isinstance(answer.json(), dict)


def test_assessment_as_data(client: TestClient) -> None:
    said = client.get(f"/jobs/north-basin/assessment.json{DAY2}").json()
    assert said["assessment"] == "does_not_meet"
    assert (said["holidays"]["confirmed"], said["holidays"]["false_indications"]) == (40, 3)


@pytest.mark.parametrize(
    ("address", "status", "field", "value"),
    [
        ("/jobs/other", 404, "job", "other"),
        ("/jobs/north-basin/other", 404, "page", "other"),
        ("/jobs/north-basin/other.json", 404, "sheet", "other"),
        ("/jobs/north-basin?as_of=yesterday", 400, "as of", "yesterday"),
        ("/jobs/north-basin/holidays?rows1=9", 400, "rows1", "9"),
        ("/jobs/north-basin/holidays?rows1=-1", 400, "rows1", "-1"),
        ("/jobs/north-basin/holidays?rows1=²", 400, "rows1", "²"),
        ("/jobs/north-basin/files/zz", 404, "file", "zz"),
        ("/nowhere", 404, "address", "GET /nowhere"),
        ("/docs", 404, "address", "GET /docs"),
        ("/openapi.json", 404, "address", "GET /openapi.json"),
    ],
)
def test_what_is_refused_names_field_value_and_what_is_allowed(
    client: TestClient, address: str, status: int, field: str, value: str
) -> None:
    answer = client.get(address)
    assert answer.status_code == status
    if address.endswith(".json"):
        said = answer.json()
        assert (said["field"], said["value"]) == (field, value)
        assert said["allowed"]
    else:
        assert f"<dt>Field</dt><dd>{field}</dd><dt>Given</dt><dd>{value}</dd><dt>Allowed</dt><dd>" in answer.text
        assert 'data-paper="book"' in answer.text


def rows_of(text: str, key: str) -> int:
    """Rows of the table in the section of a key."""
    section = text.split(f'id="{key}"')[1].split("</section>")[0]
    return section.count('<tr role="row"') - 1 if "<tbody" in section else 0


def test_rows_are_chosen_by_plain_forms(client: TestClient) -> None:
    """Day 2 of the demo: 40 holidays open, 11 of them on S3; 33 panels, 12 in doubt (S3 and S4, six each)."""
    page = "/jobs/north-basin/holidays"
    text = client.get(f"{page}{DAY2}").text
    assert rows_of(text, "rows1") == 40
    assert '<select name="state1">' in text
    assert '<option value="S3">S3 (11)</option>' in text
    chosen = client.get(f"{page}{DAY2}&test_area1=S3&state1=open").text
    assert rows_of(chosen, "rows1") == 11
    assert "11 of 40: test area S3, state open" in chosen
    assert '<option value="S3" selected>' in chosen
    assert '<input type="hidden" name="as_of" value="2025-06-03T20:00">' in chosen
    assert f'href="{page}?as_of=2025-06-03T20%3A00#rows1">All 40</a>' in chosen
    panels = client.get(f"/jobs/north-basin/test{DAY2}&state1=in+doubt&test_area1=S4").text
    assert rows_of(panels, "rows1") == 6
    assert rows_of(panels, "rows2") == 33
    # The form of the second table keeps what was chosen in the first.
    assert panels.count('<input type="hidden" name="state1" value="in doubt">') == 1


def test_a_choice_that_no_row_fits_is_said_and_kept(client: TestClient) -> None:
    text = client.get(f"/jobs/north-basin/holidays{DAY2}&state1=closed").text
    assert "0 of 40: state closed" in text
    assert "no row fits the choice" in text
    assert '<option value="closed" selected>closed (0)</option>' in text
    hostile = client.get("/jobs/north-basin/holidays?state1=<script>").text
    assert "<script" not in hostile
    assert client.get(f"/jobs/north-basin/holidays?state1={'x' * 121}").status_code == 400


def test_short_tables_have_no_form(client: TestClient) -> None:
    """19 repairs and 20 retests stand on the page of repairs at the end; the first page of the job has no choice at all."""
    assert 'class="choose"' not in client.get("/jobs/north-basin/repairs").text
    assert 'class="choose"' not in client.get("/jobs/north-basin").text
    assert 'class="choose"' not in client.get("/jobs/empty/holidays").text


@pytest.mark.parametrize("slug", SLUGS)
def test_units_are_spelt_one_way_on_pages(client: TestClient, slug: str) -> None:
    text = re.sub(r"<svg.*?</svg>|<[^>]+>", "\n", client.get(f"/jobs/north-basin{slug}{DAY2}").text, flags=re.DOTALL)
    assert re.findall(r".{0,20}\d\s?(?:um|m2|degC|ohm|deg)\b", text) == []


def test_data_keeps_what_was_typed(client: TestClient) -> None:
    said = client.get("/jobs/north-basin/voltage.json").text
    assert '"600 um' in said
    assert "µm" not in said


def test_what_is_not_met_or_failed_is_set_heavier(client: TestClient) -> None:
    """By word and weight, on the table's cells; the style of `w` is bold and names no colour."""
    for slug, word in (("assessment", "not met"), ("checks", "failed, low"), ("repairs", "failed")):
        assert re.search(rf'class="[^"]*\bw"[^>]*>(?:<span>)?{word}<', client.get(f"/jobs/north-basin/{slug}").text), word
    style = re.search(r"td\.w[^{]*\{([^}]*)\}", (STATIC / "page.css").read_text(encoding="utf-8"))
    assert style is not None
    assert style[1].strip() == "font-weight: 700"


class Faulty:
    """A library with a fault that this test puts in."""

    def names(self) -> list[object]:
        raise RuntimeError("a fault put in by this test")

    def version(self, name: str) -> str:
        raise RuntimeError("a fault put in by this test")

    def view(self, name: str, as_of: str | None = None) -> object:
        raise RuntimeError("a fault put in by this test")


@pytest.mark.parametrize("address", ["/", "/jobs/north-basin", "/jobs/north-basin/holidays.json"])
def test_an_error_of_the_program_is_a_plain_page(address: str, caplog: pytest.LogCaptureFixture) -> None:
    client = TestClient(create_app(Faulty()), raise_server_exceptions=False)  # type: ignore[arg-type]
    answer = client.get(address)
    assert answer.status_code == 500
    for words in ("RuntimeError", "a fault put in", "Traceback"):
        assert words not in answer.text
    mark = re.search(r"\b[0-9a-f]{8}\b", answer.text)
    assert mark is not None
    told = next(r for r in caplog.records if mark[0] in r.getMessage())
    assert told.exc_info is not None
    assert "a fault put in by this test" in str(told.exc_info[1])
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    if address.endswith(".json"):
        assert answer.json()["field"] == "program"
    else:
        read(answer.text)
        assert "Nothing was changed" in answer.text
        assert 'data-paper="book"' in answer.text


def test_a_page_that_is_not_there_says_what_to_do(client: TestClient) -> None:
    assert "Look whether the address was typed whole" in client.get("/nowhere").text


def test_hostile_words_are_only_words(client: TestClient) -> None:
    for address in ("/", "/jobs/hostile", "/jobs/hostile/assessment", "/jobs/%3Cscript%3E", "/jobs/north-basin?as_of=%3Cscript%3E"):
        text = client.get(address).text
        assert "<script" not in text
        assert "&lt;script&gt;" in text
        read(text)


def test_nothing_comes_from_elsewhere() -> None:
    """No address in our own files but the name of the SVG language."""
    for folder in (STATIC, files("wholefilm.web") / "templates"):
        for file in folder.iterdir():
            if file.name.endswith((".css", ".html", ".svg")):
                text = file.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
                assert not re.search(r"https?:|//[a-z]|@import", text), file.name
                assert "<script" not in text


def test_styles_and_fonts_are_served(client: TestClient) -> None:
    css = client.get("/static/tokens.css").text
    fonts = re.findall(r'url\("([^"]+)"\)', css)
    assert len(fonts) == 10
    for font in fonts:
        assert client.get(f"/static/{font}").status_code == 200
    assert client.get("/static/map.css").text.endswith(page_style() + "\n")


@pytest.mark.parametrize("address", ["/", "/jobs/north-basin", "/jobs/x", "/static/page.css", "/jobs/north-basin/job.json"])
def test_headers(client: TestClient, address: str) -> None:
    headers = client.get(address).headers
    policy = headers["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert "script-src" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"


@pytest.mark.parametrize("paper", ["book", "sun", "tank"])
def test_paper_is_kept(client: TestClient, paper: str) -> None:
    answer = client.post("/paper", data={"paper": paper, "back": f"/jobs/north-basin/checks{DAY2}"})
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/north-basin/checks{DAY2}")
    assert f'data-paper="{paper}"' in client.get("/jobs/north-basin/checks").text


def test_paper_refused(client: TestClient) -> None:
    assert client.post("/paper", data={"paper": "blue"}).status_code == 400
    client.cookies.set("paper", '"><script>')
    assert 'data-paper="book"' in client.get("/").text


@pytest.mark.parametrize("back", ["//other.example", "/\\other.example", "https:x", "jobs", "", "/a\r\nb", "/é"])
def test_a_form_sends_nobody_elsewhere(back: str) -> None:
    assert local(back) == "/"


def test_report_record_and_photos(client: TestClient, library: object) -> None:
    answer = client.get(f"/jobs/north-basin/report.pdf{DAY2}")
    assert answer.content.startswith(b"%PDF-")
    assert answer.headers["content-disposition"] == 'attachment; filename="north-basin.pdf"'
    assert "report north-basin 2025-06-03T20:00" in library.asked  # type: ignore[attr-defined]
    assert client.get("/jobs/north-basin/record.jsonl").content == b'{"format":1}\n'
    days = client.get("/jobs/north-basin/days").text
    pictures = re.findall(r'<img src="([^"]+)" alt="([^"]+)"', days)
    assert len(pictures) == 4
    for address, words in pictures:
        assert client.get(address).headers["content-type"] in ("image/png", "image/jpeg")
        assert words
    letter = json.loads(client.get("/jobs/north-basin/days.json").text)["photos"][0]
    answer = client.get(f"/jobs/north-basin/files/{letter['sha']}")
    assert answer.headers["content-type"] == "application/octet-stream"
    assert answer.headers["content-disposition"].startswith("attachment")


def test_file_names() -> None:
    assert file_name('a/../b"c d') == "a-..-b-c-d"
    assert file_name("///") == "job"


def test_long_tables_come_in_pages_of_200() -> None:
    table = Table("T", [Column("a", "A", False)], [[str(k)] for k in range(401)])
    first, last = pages_of([table], {})[0], pages_of([table], {"rows1": "3"})[0]
    assert (first.pages, first.first, first.last, first.total, len(first.cells)) == (3, 1, 200, 401, 200)
    assert (last.first, last.last, last.cells) == (401, 401, [["400"]])
