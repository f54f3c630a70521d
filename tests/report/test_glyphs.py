"""Which letters the report can set, and how wide they run."""

from __future__ import annotations

import importlib.util
import unicodedata
from pathlib import Path

import pytest
import typst

from wholefilm.report.glyphs import FONTS, breakable, families, legible, shortened, width_mm

TOOL = Path(__file__).resolve().parents[2] / "tools" / "font_coverage.py"


def set_words(words: str, weight: str) -> bytes:
    named = ", ".join(f'"{f}"' for f in families())
    source = (
        f'#set document(title: "t")\n#set text(font: ({named}), lang: "en", fallback: false, weight: "{weight}")\n#text(sys.inputs.words)\n'
    )
    pdf: bytes = typst.compile(
        source.encode(), font_paths=[str(FONTS)], ignore_system_fonts=True, pdf_standards=["a-3a"], sys_inputs={"words": words}
    )
    return pdf


def test_coverage_is_that_of_the_fonts() -> None:
    spec = importlib.util.spec_from_file_location("font_coverage", TOOL)
    assert spec is not None
    assert spec.loader is not None
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)
    assert tool.coverage(FONTS) == (FONTS / "coverage.json").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("plain", "plain"),
        ("800 µm ≥ 5 °C", "800 µm ≥ 5 °C"),
        ("र", "[U+0930]"),
        ("a\u202eb", "a[U+202E]b"),
        ("a\ufeffb\u200bc", "a[U+FEFF]b[U+200B]c"),
        ("e\u0301", "é"),
        ("王\u0301", "王[U+0301]"),
        ("\u0301x", "[U+0301]x"),
        ("a\tb\r\nc", "a b\nc"),
        ("\ud800", "[U+D800]"),
        ("\U0001f9e0", "[U+1F9E0]"),
    ],
)
def test_legible(given: str, said: str) -> None:
    assert legible(given) == said


@pytest.mark.parametrize("weight", ["regular", "semibold", "bold"])
def test_whatever_is_called_legible_can_be_set(weight: str) -> None:
    """In PDF/A the engine refuses a missing glyph, so that setting is the proof. Every fifth character of the first two planes."""
    chars = [chr(c) for c in range(0x20, 0x20000, 5) if not 0xD800 <= c <= 0xDFFF]
    marks = [base + chr(m) for m in range(0x300, 0x370) for base in ("a", "ж", "王")]
    words = legible(" ".join(chars + marks))
    assert set_words(words, weight).startswith(b"%PDF-")


def test_widths_run_as_the_engine_sets_them() -> None:
    """The engine's own measure of two lines, typed from `measure(text(size: 9pt, ..))` of Typst 0.15.1."""
    source = """#set page(width: auto, height: auto, margin: 0pt)
#set text(font: "Atkinson Hyperlegible Next", size: 9pt, weight: "semibold", number-width: "tabular", fallback: false)
#text(sys.inputs.words)"""
    import io

    from pypdf import PdfReader

    for words in ("2025-06-02 07:30", "checked before and after", "QC inspector and operator"):
        pdf = typst.compile(source.encode(), font_paths=[str(FONTS)], ignore_system_fonts=True, sys_inputs={"words": words})
        engine_mm = float(PdfReader(io.BytesIO(pdf)).pages[0].mediabox.width) / 72 * 25.4
        assert width_mm(words, 9.0) == pytest.approx(engine_mm, rel=0.04)


def test_long_words_may_break_and_lose_nothing() -> None:
    broken = breakable("short " + "y" * 200, 20.0, 9.0)
    assert broken.replace("\u200b", "") == "short " + "y" * 200
    assert max(width_mm(w, 9.0) for w in broken.replace("\u200b", " ").split()) <= 20.0


def test_a_running_title_stays_on_its_line() -> None:
    assert shortened("a title", 50.0, 9.0) == "a title"
    cut = shortened("many words " * 40, 50.0, 9.0)
    assert cut.endswith(" ...")
    assert width_mm(cut, 9.0) <= 50.0


def test_marks_are_composed() -> None:
    assert unicodedata.is_normalized("NFC", legible("u\u0308o\u0308"))
