"""The reference page says of every rule and clause what the data say: id, editions, grade, whether it may be chosen as it stands."""

from __future__ import annotations

from pathlib import Path

from wholefilm.rules import load, load_limits

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "rules.md"


def rows() -> dict[str, list[list[str]]]:
    """Cells of the tables' rows by the id in their first cell; an id may stand in the table of rules and in that of limits."""
    found: dict[str, list[list[str]]] = {}
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        if line.startswith("| `"):
            cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
            if len(cells) == 7:  # rules and clauses; the table of forms is narrower
                found.setdefault(cells[0].strip("`"), []).append(cells)
    return found


def test_the_page_lists_every_rule_as_it_is() -> None:
    page = rows()
    for one in load().values():
        wanted = ["; ".join(one.editions) or "none read", one.grade.value if one.grade else "no figure"]
        assert any(cells[2:4] == wanted for cells in page.get(one.id, [])), one.id


def test_the_page_lists_every_clause_as_it_is() -> None:
    page = rows()
    for one in load_limits().values():
        assert any(cells[2:4] == ["; ".join(one.editions), one.grade.value] for cells in page.get(one.id, [])), one.id


def test_the_page_lists_nothing_else() -> None:
    assert set(rows()) == {*load(), *load_limits()}
