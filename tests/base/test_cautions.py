"""One wording of each caution wherever it is said, no figure in it, and nothing called safe."""

from __future__ import annotations

import re
from pathlib import Path

from wholefilm.base import cautions
from wholefilm.report.words import CAUTIONS

README = Path(__file__).resolve().parents[2] / "README.md"


def test_heart_devices_in_the_same_words_everywhere() -> None:
    readme = " ".join(README.read_text(encoding="utf-8").split())
    for said in (readme, " ".join(CAUTIONS), " ".join(cautions.BEFORE_A_TEST)):
        assert cautions.HEART_DEVICES in said
        assert cautions.IGNITION in said


def test_no_figure_and_no_promise() -> None:
    for words in cautions.BEFORE_A_TEST:
        assert not re.search(r"\d", words)
        assert not re.search(r"\bsafe", words, re.IGNORECASE)
