"""The needs that are data, on plain maps: the same case files can be run by any other program. Expected words are typed by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from builder import Book

from wholefilm.base.times import utc_ms
from wholefilm.job.kinds import KINDS
from wholefilm.proof.matcher import is_asked, match
from wholefilm.proof.needs_book import needs

FOLDER = Path(__file__).parent / "cases" / "needs"
FILES = sorted(FOLDER.glob("*.json"))


def cases() -> list[Any]:
    found = []
    for file in FILES:
        told = json.loads(file.read_text(encoding="utf-8"))
        for case in told["cases"]:
            question = {**told["question"], **({"asked": case["asked"]} if "asked" in case else {})}
            found.append(pytest.param(case, question, id=f"{file.stem}: {case['need']}: {case['says']}"))
    return found


@pytest.mark.parametrize(("case", "question"), cases())
def test_case(case: dict[str, Any], question: dict[str, Any]) -> None:
    question = {**question, "start": utc_ms(question["start"]), "end": utc_ms(question["end"])}
    need = next(plain for _, plain in needs() if plain["need"] == case["need"] and is_asked(plain, question))
    entries: dict[str, list[dict[str, Any]]] = {}
    for entry in case["entries"]:
        entries.setdefault(entry["kind"], []).append({**entry, "start": utc_ms(entry["when"])})
    said = match(need, entries, question)
    until = utc_ms(case["until"]) if case["until"] else None
    assert (said["result"], said["why"], said["until"]) == (case["result"], case["why"], until)


def test_every_topic_and_every_simple_need_has_a_kind_and_a_sentence() -> None:
    """What a need looks at is a kind, and a field of that kind, that entries can have."""
    for need, _ in needs():
        assert need.title
        assert need.supply
        if need.function:
            continue
        fields = KINDS[need.kind][max(KINDS[need.kind])].__struct_fields__
        named = {need.about, need.until, *need.where, *need.where_is, *need.match, *need.is_, *need.stated} - {""}
        assert named <= set(fields), (need.need, named - set(fields))
        assert set(need.words) <= set(need.is_)
        assert need.say


def test_a_need_named_by_a_requirement_is_asked_for_a_sponge_too() -> None:
    """`for: any` in a requirement asks for the permission also where no spark is made."""
    permission = next(plain for _, plain in needs() if plain["need"] == "permission")
    assert [is_asked(permission, {"spark": s, "asked": a}) for s, a in ((True, {}), (False, {}), (False, {"permission": ""}))] == [
        True, False, True,
    ]  # fmt: skip


def test_each_need_stands_in_the_docs() -> None:
    text = (Path(__file__).resolve().parents[2] / "docs" / "reference" / "needs.md").read_text(encoding="utf-8")
    assert [n.need for n, _ in needs() if f"| `{n.need}` |" not in text] == []


def test_the_job_used_here_is_ready() -> None:
    """The builder's own job meets every need, so that a single need taken away is what the other tests see."""
    book = Book().usual()
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    panel = next(p for p in book.stand().panels if p.name == "F-1")
    assert panel.tests[0].unmet == []
