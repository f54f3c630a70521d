"""The table of docs/clauses.md says what the program says: each row against the demo job at its time."""

from __future__ import annotations

from pathlib import Path

import pytest
from told import stand

from wholefilm.demo import DEMOS

PAGE = Path(__file__).resolve().parent.parent.parent / "docs" / "clauses.md"
ROWS = [
    [cell.strip() for cell in line.strip().strip("|").split("|")]
    for line in PAGE.read_text(encoding="utf-8").splitlines()
    if line.startswith("| ") and not line.startswith(("| job", "|---"))
]


def test_every_demo_job_has_rows() -> None:
    assert {row[0] for row in ROWS} == set(DEMOS)
    assert len(ROWS) >= 25


@pytest.mark.parametrize("row", ROWS, ids=[f"{r[0]} {r[1].split(':')[0]} {r[2]} {r[4]}" for r in ROWS])
def test_a_row_is_what_the_program_says(row: list[str]) -> None:
    name, short, time, about, read_as, found, finding = row
    clause = short.split(":")[0].split(" ")[0]
    standing = stand(name, time)
    if read_as == "as it says":
        said = [(f.value, f.finding.value) for f in standing.findings if (f.rule.clause, f.about) == (clause, about)]
    else:
        said = [(r.value, r.finding) for r in standing.readings if (r.clause, r.about, r.reading) == (clause, about, read_as)]
    assert (found, finding.replace(" ", "_")) in said
