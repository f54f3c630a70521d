"""`--received-by`: how a job stood on what this database had received by a time, whatever came later."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.desk import Desk, here
from wholefilm.ledger.jobfile import read_path, write_path
from wholefilm.ledger.store import Store

EARLY, LATE = "2025-06-10T08:00:00.000+02:00", "2025-06-20T08:00:00.000+02:00"


@pytest.fixture
def in_two_goes(north: Desk, desk: Desk) -> Desk:
    """The demo's first device received on 10 June, all others on 20 June."""
    entries = read_path(north.folder / "north-basin.jsonl").entries
    first = [e for e in entries if e.device == entries[0].device]
    store = Store.open(desk.url)
    try:
        store.append(first, EARLY)
        store.append([e for e in entries if e.device != entries[0].device], LATE)
    finally:
        store.close()
    return desk


def test_what_came_later_is_left_out(in_two_goes: Desk) -> None:
    whole = in_two_goes.run("assess", "north-basin", "--json").json
    early = in_two_goes.run("assess", "north-basin", "--received-by", "2025-06-15 12:00", "--json").json
    assert (len(whole["heads"]), len(early["heads"])) == (5, 1)
    assert early["area"]["tested_m2"] == 0
    assert early["exceptions"][0]["says"].startswith("The record is not intact: device ")
    assert in_two_goes.run("assess", "north-basin", "--received-by", LATE, "--json").json == whole


def test_nothing_had_come_yet(in_two_goes: Desk) -> None:
    done = in_two_goes.run("job", "show", "north-basin", "--received-by", "2025-06-01")
    assert done.code == 3
    assert "On what this database had received by 2025-06-01." in done.out


def test_it_is_said_and_goes_with_as_of(in_two_goes: Desk) -> None:
    done = in_two_goes.run("assess", "north-basin", "--received-by", "2025-06-15", "--as-of", "2025-06-01 12:00")
    assert "As it stood on 2025-06-01 12:00." in done.out
    assert "On what this database had received by 2025-06-15." in done.out


def test_the_report_holds_only_what_had_come(in_two_goes: Desk) -> None:
    out = in_two_goes.folder / "early.pdf"
    in_two_goes.good("report", "north-basin", "-o", str(out), "--received-by", "2025-06-15")
    verified = here("verify", str(out))
    assert "is not here, though it was seen by" in verified.out


def test_a_file_does_not_tell_when_its_entries_came(north: Desk) -> None:
    done = here("assess", str(north.folder / "north-basin.jsonl"), "--received-by", "2025-06-15")
    assert done.code == 2
    assert done.err.startswith("--received-by: '2025-06-15' is not accepted. Allowed: left out for a file")


def test_a_time_that_cannot_be_read(in_two_goes: Desk) -> None:
    assert in_two_goes.refused("assess", "north-basin", "--received-by", "soon").err.startswith("--received-by: 'soon' is not accepted")


def test_a_file_with_its_end_cut_off_says_so_beside_what_it_tells(north: Desk, tmp_path: Path) -> None:
    """Only the last line knows of the entries that are gone."""
    lines = (north.folder / "north-basin.jsonl").read_bytes().splitlines(keepends=True)
    cut = tmp_path / "cut.jsonl"
    cut.write_bytes(b"".join([*lines[:299], lines[-1]]))
    for words in (("assess", str(cut)), ("job", "show", str(cut)), ("report", str(cut), "-o", str(tmp_path / "cut.pdf"))):
        assert f"{cut} is not intact: 6 places. See them: wholefilm verify {cut}" in here(*words).err
    write_path(tmp_path / "whole.jsonl", read_path(cut).entries)
    assert here("assess", str(tmp_path / "whole.jsonl")).err == ""
