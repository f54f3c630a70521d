"""The fonts that come along are found by the PDF engine, cover what a report prints, and lie beside their licences."""

from __future__ import annotations

from pathlib import Path

import pytest
import typst

FONTS = Path(__file__).resolve().parent.parent / "src" / "wholefilm" / "report" / "fonts"
FAMILIES = '("Atkinson Hyperlegible Next", "DejaVu Sans", "Droid Sans Fallback")'
LIMIT_BYTES = 8_000_000


def compile_text(text: str, families: str = FAMILIES) -> bytes:
    source = f'#set document(title: "t")\n#set text(font: {families}, lang: "en", fallback: false)\n{text}\n'
    pdf: bytes = typst.compile(source.encode(), font_paths=[str(FONTS)], ignore_system_fonts=True, pdf_standards=["a-3a"])
    return pdf


def test_families_and_styles() -> None:
    found = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)]).fonts()
    assert {(font.family, font.weight, font.style) for font in found} == {
        ("Atkinson Hyperlegible Next", 400, "normal"),
        ("Atkinson Hyperlegible Next", 400, "italic"),
        ("Atkinson Hyperlegible Next", 600, "normal"),
        ("Atkinson Hyperlegible Next", 700, "normal"),
        ("Atkinson Hyperlegible Mono", 400, "normal"),
        ("Atkinson Hyperlegible Mono", 700, "normal"),
        ("DejaVu Sans", 400, "normal"),
        ("DejaVu Sans", 700, "normal"),
        ("Droid Sans Fallback", 400, "normal"),
    }


@pytest.mark.parametrize(
    "text",
    [
        "800 µm and 800 μm",
        "3 °C, 25 m², ±5 %, 2 × 3, 0.5–0.7, Ω ≥ ≤ ≈ → ↑",
        "△ ○ ● ◐ ◯ ▲ ✕ ½ ⌀ ′ ″",
        "Łódź Ağrı Čapek Őry Țepeș Þór",
        "Ελένη Иванов Єва",
        "王小明 陳劉",
        "김철수 각",
        "田中 さくら カ",
        "محمد דוד",
        "Արամ გიორგი",
    ],
)
def test_every_glyph_is_there(text: str) -> None:
    """In PDF/A the engine refuses a page with a missing glyph."""
    assert compile_text(text).startswith(b"%PDF-")


def test_a_script_without_glyphs_is_an_error() -> None:
    with pytest.raises(typst.TypstError, match="could not be displayed"):
        compile_text("राम")


def test_licences_lie_beside_and_the_folder_is_small() -> None:
    for font in FONTS.glob("*.ttf"):
        licence = {"Atkinson": "OFL-AtkinsonHyperlegible", "DejaVuSa": "LICENSE-DejaVu", "DroidSan": "LICENSE-DroidSansFallback"}[
            font.name[:8]
        ]
        assert any(path.name.startswith(licence) for path in FONTS.glob("*.txt"))
        assert f"`{font.name}`" in (FONTS / "README.md").read_text(encoding="utf-8") or font.name.startswith("AtkinsonHyperlegible")
    assert sum(path.stat().st_size for path in FONTS.iterdir()) < LIMIT_BYTES
