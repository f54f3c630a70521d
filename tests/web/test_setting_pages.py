"""The voltage of a test area as a page, the pages to print, and the page for a film that is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

if TYPE_CHECKING:
    from playwright.sync_api import Page

AREA = "/jobs/north-basin/setting/S1"
SIX = "min=600+um&nominal=800+um&max=1000+um&" + "&".join(
    f"rule={r}" for r in ("RULE-100V-PER-MIL", "SAIC-H-2031-B5/linear", "SP0490/mm", "SP0274/mm", "G62-pre-2023-B/mm", "SP0188-2006/mil")
)


def test_the_page_of_an_area_and_its_data(client: TestClient) -> None:
    text = client.get(AREA).text
    for words in ("Voltage of S1, stage final", "no voltage rule is cited in this job", "Print: Voltage sheet of S1", "Planning note"):
        assert words in text
    data = client.get(f"{AREA}.json").json()
    assert data["test_area"] == "S1"
    assert {f["basis"] for f in data["film"]} == {"nominal", "minimum", "mean", "maximum"}
    assert [row["state"] for row in data["in_force"]] == ["in force"]
    high = client.get(f"{AREA}.json?altitude=2000 m&temperature=20 degC").json()
    assert high["note"]["floor_v"]["uniform"] < data["note"]["floor_v"]["uniform"]


def test_the_sheet_to_print_is_a_pdf(client: TestClient) -> None:
    done = client.get(f"{AREA}.pdf")
    assert done.headers["content-type"] == "application/pdf"
    assert done.content.startswith(b"%PDF-")
    assert client.get("/jobs/north-basin/setting/S9.pdf").status_code == 404
    assert client.get("/jobs/north-basin/setting/S9").status_code == 404
    assert client.get(f"{AREA}?pressure=955").status_code == 400


def test_one_tank_six_rules_as_a_page(client: TestClient) -> None:
    """The same table as by the command: SP0490 refuses over 760 um."""
    text = client.get(f"/voltage?{SIX}").text
    plain = text.replace('<span class="nb">', "").replace("</span>", "")
    for volts in ("3.15 kV", "3.94 kV", "5.00 kV", "2.95 kV", "7.84 kV", "3.00 kV"):
        assert volts in plain
    assert "None of these is preferred" in plain
    assert "outside what it was written for: SP0490/mm" in plain


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ("max=500", "unit"), ("max=-3+um", "max"), ("max=1e400+um", "max"), ("max=500+V/mil", "max"), ("max=3+m", "50 mm"),
        ("max=0+um", "more than 0"), ("max=nan+um", "max"), ("max=800+um&rule=NOBODY", "rule"), ("max=800+um&pressure=1", "pressure"),
        ("substrate=metal", "at least one thickness"),
        ("min=900+um&max=800+um", "at most the maximum"), ("max=800+um&immersed=perhaps", "yes or no"),
    ],
)  # fmt: skip
def test_a_wrong_value_keeps_what_was_typed(client: TestClient, query: str, says: str) -> None:
    done = client.get(f"/voltage?{query}&conductive=zinc")
    assert done.status_code in (404, 422)
    assert says in done.text
    assert 'value="zinc"' in done.text
    assert 'role="alert"' in done.text


def test_an_empty_page_asks_and_refuses_nothing(client: TestClient) -> None:
    done = client.get("/voltage")
    assert done.status_code == 200
    assert 'role="alert"' not in done.text


@pytest.mark.parametrize("width", [390, 820, 1440])
@pytest.mark.parametrize("address", [AREA, f"/voltage?{SIX}"])
def test_the_page_never_scrolls_sideways(page: Page, site: str, address: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(site + address)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
