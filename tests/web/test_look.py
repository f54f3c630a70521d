"""Contrast of the three papers, and the pages in a real browser: at a desk, on a phone, by keyboard.

Contrast: relative luminance and ratio as WCAG 2.2 defines them (from memory), 4.5 to 1 for text (1.4.3), 3 to 1 for what
carries meaning (1.4.11). Targets: 44 px at the desk, 56 px on a phone are this project's own, above WCAG's 24 px.
"""

from __future__ import annotations

import re
from importlib.resources import files
from typing import TYPE_CHECKING

import pytest

from wholefilm.drawing.papers import PAPERS

if TYPE_CHECKING:
    from playwright.sync_api import Page

DAY2 = "/jobs/north-basin?as_of=2025-06-03T20:00"
HOLIDAYS = "/jobs/north-basin/holidays?as_of=2025-06-03T20:00"
TOKENS = (files("wholefilm.web") / "static" / "tokens.css").read_text(encoding="utf-8")


def tokens(paper: str) -> dict[str, str]:
    """Tokens of a paper; the sun and the tank take from the book what they do not say."""
    found: dict[str, str] = {}
    for selector in [":root", f'[data-paper="{paper}"]']:
        block = re.search(re.escape(selector) + r" \{([^}]*)\}", TOKENS)
        if block:
            found |= dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{3,6})", block[1]))
    return found


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    digits = "".join(c * 2 for c in digits) if len(digits) == 3 else digits
    parts = [int(digits[k : k + 2], 16) / 255 for k in (0, 2, 4)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def ratio(a: str, b: str) -> float:
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_ratio_of_black_and_white_is_21() -> None:
    """WCAG 2.2: contrast ratios run from 1 to 21; #767676 on white is the usual example of just over 4.5 (from memory)."""
    assert ratio("#000", "#ffffff") == pytest.approx(21.0)
    assert ratio("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("paper", ["book", "sun", "tank"])
def test_contrast(paper: str) -> None:
    t = tokens(paper)
    for word in ("ink", "ink-2", "margin", "accent", "doubt"):
        assert ratio(t[word], t["paper"]) >= 4.5, word
    assert ratio(t["accent-ink"], t["accent"]) >= 4.5
    for word in ("hatch", "focus"):
        assert ratio(t[word], t["paper"]) >= 3.0, word
    assert ratio(tokens("sun")["ink"], tokens("sun")["paper"]) >= 20


@pytest.mark.parametrize("paper", ["book", "sun", "tank"])
def test_drawings_and_pages_share_their_colours(paper: str) -> None:
    t = tokens(paper)
    for name, colour in PAPERS[paper].items():
        assert ratio(colour, t[name]) == pytest.approx(1.0), name


@pytest.mark.parametrize(
    "slug", ["", "/requirements", "/voltage", "/readings", "/checks", "/test", "/holidays", "/repairs", "/assessment", "/report"]
)
@pytest.mark.parametrize("width", [360, 768, 1440])
def test_the_page_never_scrolls_sideways(page: Page, site: str, slug: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(f"{site}/jobs/north-basin{slug}?as_of=2025-06-03T20:00")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize(("width", "least"), [(1440, 44), (390, 56)])
@pytest.mark.parametrize("address", ["/", DAY2, "/jobs/north-basin/report", "/jobs/none", HOLIDAYS])
def test_targets(page: Page, site: str, address: str, width: int, least: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(site + address)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    small = page.evaluate(
        """least => [...document.querySelectorAll('a, button, select, input:not([type=hidden]), summary')]
        .filter(e => !e.classList.contains('skip') && e.getClientRects().length)
        .map(e => [e.textContent.trim(), Math.round(e.getBoundingClientRect().height)]).filter(x => x[1] < least)""",
        least,
    )
    assert small == []


@pytest.mark.parametrize("width", [1440, 390])
def test_the_tab_key_reaches_everything_that_can_be_pressed(page: Page, site: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(site + DAY2)
    wanted = page.evaluate(
        """() => [...document.querySelectorAll('a, button, input:not([type=hidden]), summary')]
        .filter(e => e.getClientRects().length && (e.tagName === 'SUMMARY' || !e.closest('details:not([open])'))).length"""
    )
    assert wanted > 5
    page.evaluate("window.reached = new Set()")
    for step in range(wanted + 20):
        page.keyboard.press("Tab")
        name = page.evaluate("reached.add(document.activeElement) && document.activeElement.className")
        if step == 0:
            assert name == "skip"
            assert page.evaluate("document.activeElement.getBoundingClientRect().top") >= 0
    found = page.evaluate("[...reached].filter(e => e.matches('a, button, input, summary')).length")
    assert found >= wanted
    page.goto(site + DAY2)
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"


def test_papers_switch_without_a_script(page: Page, site: str) -> None:
    page.goto(site + DAY2)
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(251, 249, 243)"
    page.get_by_role("button", name="Tank").click()
    assert page.url == site + DAY2
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(16, 20, 24)"
    page.get_by_role("button", name="Sun").click()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.get_by_role("button", name="Sun").get_attribute("aria-pressed") == "true"


def test_the_chosen_time_stays(page: Page, site: str) -> None:
    page.goto(f"{site}/jobs/north-basin")
    page.locator("details.asof summary").click()
    page.fill("#as_of", "2025-06-03T20:00")
    page.get_by_role("button", name="Apply").click()
    assert "40 holidays open" in page.content()
    page.locator("nav.screens a", has_text="Holidays").click()
    assert "as_of=2025-06-03T20%3A00" in page.url


def test_a_reader_on_a_phone_chooses_rows(page: Page, site: str) -> None:
    """Day 2: 40 holidays, 11 on S3. The page for the choice is less than half as long."""
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(site + HOLIDAYS)
    long = page.evaluate("document.querySelector('#rows1').getBoundingClientRect().height")
    page.locator("#rows1").get_by_label("Test area").select_option("S3")
    page.locator("#rows1").get_by_role("button", name="Show").click()
    assert page.url.endswith("#rows1")
    assert page.locator("#rows1 tbody tr").count() == 11
    assert page.evaluate("document.querySelector('#rows1').getBoundingClientRect().height") < long / 2
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.get_by_role("link", name="All 40").click()
    assert page.locator("#rows1 tbody tr").count() == 40


@pytest.mark.parametrize(("width", "rows"), [(1440, 1), (390, 2)])
def test_margin_and_map_by_width(page: Page, site: str, width: int, rows: int) -> None:
    """At the desk the margin stands left of the page; on a phone between head and page, and the shell in two rows."""
    page.set_viewport_size({"width": width, "height": 900})
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.goto(site + DAY2)
    margin, main = (page.locator(s).bounding_box() for s in (".margin", "main"))
    assert margin is not None
    assert main is not None
    assert (margin["x"] + margin["width"] <= main["x"] + 1) if rows == 1 else (margin["y"] + margin["height"] <= main["y"] + 1)
    shown = page.locator(".wf-map:visible")
    assert shown.count() == 4
    assert shown.first.locator(".wf-frame").count() == rows
    assert page.evaluate("document.fonts.load('16px \"Atkinson Hyperlegible Next\"').then(faces => faces.length)") > 0
    assert complaints == []
