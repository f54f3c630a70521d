"""The tutorial shows what the commands print, line for line, run in their order in an empty folder."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).resolve().parent.parent.parent


def _tool() -> Any:
    spec = importlib.util.spec_from_file_location("tutorial", HERE / "tools" / "tutorial.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


TOOL = _tool()


@pytest.fixture
def tool() -> Any:
    return TOOL


@pytest.mark.parametrize("page", TOOL.PAGES, ids=lambda page: page.stem)
def test_a_page_shows_what_the_commands_print(tool: Any, tmp_path: Path, page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    commands = [found["command"] for found in tool.BLOCK.finditer(text)]
    assert len(commands) == text.count("```console") >= 3
    made = tool.document(text, tool.runner(tmp_path))
    assert made.splitlines() == text.splitlines(), f"look at what changed, then run: python tools/tutorial.py {page}"


def test_the_tutorial_goes_through_the_whole_job(tool: Any) -> None:
    commands = [found["command"] for found in tool.BLOCK.finditer(tool.PLACE.read_text(encoding="utf-8"))]
    assert len(commands) >= 11
    for word in ("demo", "ready", "assess", "job show", "map", "report", "verify"):
        assert any(c.startswith(f"wholefilm {word}") for c in commands), word


def test_every_demo_job_has_a_page(tool: Any) -> None:
    from wholefilm.demo import DEMOS

    pages = {page.stem: page for page in tool.PAGES}
    assert set(DEMOS) <= set(pages)
    for name in DEMOS:
        assert f"$ wholefilm demo {name}\n" in pages[name].read_text(encoding="utf-8")


def test_lines_left_out_are_marked(tool: Any) -> None:
    lines = ["a", "b", "c", "d", "e"]
    assert tool.chosen(lines, "") == lines
    assert tool.chosen(lines, " 1-2 4") == ["a", "b", "...", "d", "..."]
    assert tool.chosen(lines, " 2-5") == ["...", "b", "c", "d", "e"]
    with pytest.raises(ValueError, match="line 6"):
        tool.chosen(lines, " 5-6")


def test_a_command_that_is_refused_is_no_tutorial(tool: Any, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="left with 2"):
        tool.document("```console\n$ wholefilm verify none.jsonl\n```", tool.runner(tmp_path))
    with pytest.raises(ValueError, match="commands of wholefilm only"):
        tool.document("```console\n$ ls\n```", tool.runner(tmp_path))
