"""The reference documents say what the program does: exceptions, JSON keys, rule forms."""

from __future__ import annotations

import ast
import importlib.util
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from msgspec import inspect as look

from cli.desk import Desk, Done, installed
from wholefilm.base.errors import BadInput
from wholefilm.proof.requirements import FORMS, read_rule
from wholefilm.rules.limits import FORMS as LIMITS

HERE = Path(__file__).resolve().parent.parent.parent
DOCS = HERE / "docs"
REFERENCE = DOCS / "reference"


def constants(node: ast.expr) -> Iterator[str]:
    """Texts that an expression may be."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*constants(node.body), *constants(node.orelse))


def test_every_exception_stands_in_the_document_and_no_other() -> None:
    files = [p for room in ("proof", "job", "film") for p in (HERE / "src" / "wholefilm" / room).rglob("*.py")]
    codes = set()
    for path in files:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("Line", "Problem") and node.args:
                codes |= set(constants(node.args[0]))
    codes |= {"unknown_kind", "unreadable_body"}  # chosen in fold.py before the call
    listed = re.findall(r"^\| `([a-z_]+)` \|", (REFERENCE / "exceptions.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert len(codes) > 50
    assert sorted(set(listed) - {"what"}) == sorted(codes)


def tool(name: str) -> Any:
    """A script of tools/, as a module."""
    spec = importlib.util.spec_from_file_location(name, HERE / "tools" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_keys_of_json_are_up_to_date() -> None:
    module = tool("sheet_schema")
    text = (REFERENCE / "json.md").read_text(encoding="utf-8")
    assert text == module.document(), "run: python tools/sheet_schema.py"


def test_the_keys_printed_are_those_of_the_document(north: Desk) -> None:
    text = (REFERENCE / "json.md").read_text(encoding="utf-8")
    for name in ("job", "assessment", "holidays", "checks", "people"):
        section = text.split(f"\n## `{name}`\n")[1].split("\n**")[1]
        keys = re.findall(r"^\| `(\w+)` \|", section, re.MULTILINE)
        assert keys
        assert list(north.run("job", "show", "north-basin", "--sheet", name, "--json").json) == keys, name


def test_the_rule_forms_of_the_document_are_those_that_are_read() -> None:
    text = (REFERENCE / "requirements.md").read_text(encoding="utf-8")
    first, second = text.split("## Limits")
    forms = re.findall(r"^\| `([a-z_]+)` \|", first, re.MULTILINE)
    assert sorted(forms) == sorted(["form", "limits", *(str(look.type_info(f).tag) for f in FORMS)])
    limits = re.findall(r"^\| `([a-z_]+)` \|", second.split("\n## ")[0], re.MULTILINE)
    assert sorted(limits) == sorted(["form", *(str(look.type_info(f).tag) for f in LIMITS)])
    for rule in ({"form": "coverage", "share": "100 %"}, {"form": "holds", "points": ["before test"]}, {"form": "cure", "by": "x"}):
        read_rule(rule)
    with pytest.raises(BadInput, match="one of limits, thickness_range"):
        read_rule({"form": "guess"})


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Done]:
    """The demo as the installed program makes it."""
    folder = tmp_path_factory.mktemp("made")
    return folder / "demo", installed("demo", "--to", "demo", cwd=folder)


def test_the_demo_command(demo: tuple[Path, Done]) -> None:
    folder, done = demo
    assert done.code == 0, done.err
    for line in ("  42 holidays, 42 closed; 3 false indications; 19 repairs", "  not met: clause 6.2"):
        assert line in done.out.splitlines()
    assert {"demo.db", "north-basin.jsonl", "north-basin.pdf", "blobs"} <= {p.name for p in folder.iterdir()}
    assert (folder / "north-basin.pdf").read_bytes()[:5] == b"%PDF-"
    again = installed("report", str(folder / "north-basin.jsonl"), "-o", "again.pdf", cwd=folder)
    assert again.code == 0, again.err
    assert (folder / "again.pdf").read_bytes() == (folder / "north-basin.pdf").read_bytes()
    assert "a name that ends in .pdf" in installed("report", str(folder / "north-basin.jsonl"), "-o", "again.doc", cwd=folder).err


def test_a_folder_that_is_no_demo_is_never_emptied(tmp_path: Path) -> None:
    (tmp_path / "work").mkdir()
    (tmp_path / "work" / "notes.txt").write_text("mine", encoding="utf-8")
    done = installed("demo", "--to", str(tmp_path / "work"))
    assert done.code == 2
    assert "a folder that is new, empty, or holds an earlier demo" in done.err
    assert (tmp_path / "work" / "notes.txt").read_text(encoding="utf-8") == "mine"


def test_verify_a_report(demo: tuple[Path, Done]) -> None:
    folder, _ = demo
    done = installed("verify", str(folder / "north-basin.pdf"))
    assert done.code == 0, done.out + done.err
    assert "does not prove the drawn page" in done.out
    data = bytearray((folder / "north-basin.pdf").read_bytes())
    (folder / "cut.pdf").write_bytes(data[: len(data) // 2])
    assert installed("verify", str(folder / "cut.pdf")).code in (1, 2)


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("--help",), 0, "Exit codes: 0 done"),
        (("nosuch",), 2, "No such command"),
        (("record",), 2, "Missing argument"),
        (("assess",), 2, "Missing argument"),
        (("assess", "none.jsonl"), 2, "none.jsonl"),
        (("verify", "none.jsonl"), 2, "none.jsonl"),
        (("verify", "none.pdf"), 2, "none.pdf"),
        (("job", "show", "--sheet"), 2, "requires an argument"),
        (("serve", "--port", "x"), 2, "--port"),
        (("rules", "show", "nosuch"), 2, "nosuch"),
        (("export", "none.jsonl", "-o", "x.jsonl"), 2, "none.jsonl"),
        (("map", "none.jsonl", "T1", "-o", "x.svg"), 2, "none.jsonl"),
        (("report", "none.jsonl", "-o", "x.pdf"), 2, "none.jsonl"),
    ],
)
def test_exit_codes_and_streams(words: tuple[str, ...], code: int, says: str, tmp_path: Path) -> None:
    done = installed(*words, env={"WHOLEFILM_DATABASE": str(tmp_path / "x.db")}, cwd=tmp_path)
    assert done.code == code, done.out + done.err
    assert says in (done.out if code == 0 else done.err)
    assert "Traceback" not in done.err
    if code:
        assert done.out == ""


def test_an_internal_error_is_70(north: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a fault put in by this test")

    monkeypatch.setattr("wholefilm.services.view.assess", broken)
    done = north.run("assess", "north-basin")
    assert done.code == 70
    assert done.out == ""
    assert "Internal error" in done.err


def test_the_page_of_fields_is_up_to_date() -> None:
    module = tool("kind_fields")
    assert module.TARGET.read_text(encoding="utf-8") == module.page(), "run: python tools/kind_fields.py"
