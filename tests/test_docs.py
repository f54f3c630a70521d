"""Documentation is tested: each command, entry kind, rule and setting stands in docs/."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import typer
from typer.main import get_command

HERE = Path(__file__).resolve().parent.parent
DOCS = HERE / "docs"
RULE_ID = re.compile(r'^\s*id\s*=\s*"([^"]+)"', re.MULTILINE)
SETTING = re.compile(r"\bWHOLEFILM_[A-Z0-9_]+\b")


def documented() -> str:
    """All text of docs/."""
    return "\n".join(path.read_text(encoding="utf-8") for path in sorted(DOCS.rglob("*.md")))


def commands(app: typer.Typer) -> Iterator[str]:
    """Each command of the program with the words that lead to it, groups left out."""

    def walk(command: object, words: list[str]) -> Iterator[str]:
        below = getattr(command, "commands", None)
        if below is None:
            yield " ".join(words)
            return
        for name, inner in sorted(below.items()):
            yield from walk(inner, [*words, name])

    yield from walk(get_command(app), ["wholefilm"])


def missing(names: set[str], text: str) -> list[str]:
    """Names that do not stand in the text between backquotes; a command may be followed by its arguments."""
    return sorted(name for name in names if not re.search(rf"`{re.escape(name)}(?=[`\s])", text))


def test_each_command_stands_in_the_docs() -> None:
    from wholefilm.cli.main import app

    names = set(commands(app))
    assert len(names) > 5
    assert not missing(names, documented())


def test_each_entry_kind_stands_in_the_docs() -> None:
    from wholefilm.job.kinds import KINDS

    assert {"job.opened", "panel.tested", "holiday.confirmed"} <= set(KINDS)
    assert not missing(set(KINDS), documented())


def test_each_rule_stands_in_the_docs() -> None:
    files = sorted((HERE / "src" / "wholefilm" / "rules" / "data").rglob("*.toml"))
    ids = {found for path in files for found in RULE_ID.findall(path.read_text(encoding="utf-8"))}
    assert ids, "no rule found in src/wholefilm/rules/data"
    assert not missing(ids, documented())


def test_each_setting_stands_in_the_docs() -> None:
    code = [path for folder in ("src", "tools", "tests") for path in (HERE / folder).rglob("*.py") if path != Path(__file__).resolve()]
    names = {found for path in code for found in SETTING.findall(path.read_text(encoding="utf-8"))}
    assert {"WHOLEFILM_TEST_POSTGRES", "WHOLEFILM_TEST_CHROMIUM"} <= names
    assert not missing(names, documented())


@pytest.mark.parametrize("path", [HERE / "README.md", HERE / "CONTRIBUTING.md", *sorted(DOCS.rglob("*.md"))], ids=lambda p: p.name)
def test_links_between_documents_lead_somewhere(path: Path) -> None:
    links = re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8"))
    local = [link for link in links if not re.match(r"[a-z]+:", link)]
    broken = [link for link in local if not (path.parent / link).exists()]
    assert not broken, f"{path.name}: {broken}"


def test_missing_sees_a_gap() -> None:
    assert missing({"wholefilm assess", "wholefilm as"}, "Say `wholefilm assess JOB` to know.") == ["wholefilm as"]
