"""`assess`, `job`, `map`, `rules`: what they print, as JSON and for a reader, now and as of a time."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from cli import small_tank as tank
from cli.desk import Desk, here, installed

SHEETS = ("job", "requirements", "voltage", "readings", "climate", "checks", "test", "holidays", "repairs", "assessment", "people", "days")
AREAS = (
    "total_m2", "tested_m2", "checked_m2", "awaiting_m2", "in_doubt_m2", "on_instruction_m2", "not_reached_m2", "not_in_scope_m2",
    "not_yet_tested_m2",
)  # fmt: skip


def test_assess_json_has_its_keys(north: Desk) -> None:
    done = north.run("assess", "north-basin", "--json")
    sheet = done.json
    assert {"job", "as_of", "heads", "assessment", "area", "holidays", "findings", "exceptions", "missing"} <= set(sheet)
    assert tuple(sheet["area"]) == AREAS
    area = sheet["area"]
    # meanings of the sums: tested = checked + awaiting + in doubt; total = tested + not reached + not in scope + not yet tested
    assert area["tested_m2"] == pytest.approx(area["checked_m2"] + area["awaiting_m2"] + area["in_doubt_m2"], abs=0.002)
    rest = area["not_reached_m2"] + area["not_in_scope_m2"] + area["not_yet_tested_m2"]
    assert area["total_m2"] == pytest.approx(area["tested_m2"] + rest, abs=0.002)
    assert {"confirmed", "open", "repaired", "closed", "undecided", "false_indications"} <= set(sheet["holidays"])
    for finding in sheet["findings"]:
        assert {"about", "rule", "value", "limit", "finding", "because"} <= set(finding)
        assert set(finding["rule"]) == {"document", "edition", "clause", "grade"}
        assert finding["finding"] in ("met", "not_met", "cannot_tell")
    for seq, digest in sheet["heads"].values():
        assert isinstance(seq, int)
        assert len(digest) == 64
    assert done.code == {"meets": 0, "does_not_meet": 1, "cannot_tell": 3}[sheet["assessment"]]
    assert north.run("assess", "north-basin").code == done.code


def test_a_file_and_the_database_say_the_same(north: Desk) -> None:
    file = str(north.folder / "north-basin.jsonl")
    assert here("assess", file, "--json").out == north.run("assess", "north-basin", "--json").out
    for sheet in SHEETS:
        one, other = (
            here("job", "show", file, "--sheet", sheet, "--json"),
            north.run("job", "show", "north-basin", "--sheet", sheet, "--json"),
        )
        assert one.out == other.out
        assert one.json


@pytest.mark.parametrize("sheet", SHEETS)
def test_each_sheet_prints(north: Desk, sheet: str) -> None:
    done = north.run("job", "show", "north-basin", "--sheet", sheet)
    assert len(done.out.splitlines()) > 4
    assert done.err == ""
    for word in ("safe", "Traceback", "blob", "None\n", "{'", "Outcome."):
        assert word not in done.out, word


def test_job_list_and_show(north: Desk) -> None:
    lines = north.good("job", "list").out.splitlines()
    assert len(lines) == 1
    assert lines[0].startswith("north-basin ")
    assert "does not meet" in lines[0]
    rows = north.good("job", "list", "--json").json
    assert [(r["name"], r["assessment"]) for r in rows] == [("north-basin", "does_not_meet")]
    first = north.run("job", "show", "north-basin").out
    assert "North basin raw-water tank" in first
    assert "  1  " in first
    done = north.refused("job", "show", "north-basin", "--sheet", "all")
    assert done.err.startswith("--sheet: 'all' is not accepted. Allowed: job, requirements, voltage")


def test_an_empty_database_says_how_to_begin(desk: Desk) -> None:
    assert "wholefilm job new" in desk.good("job", "list").out
    assert desk.good("job", "list", "--json").json == []


# Figures of the story of the demo job: 575.5 m2 tested, of which 169.6 m2 on the third day before its end check failed at 16:55.
@pytest.mark.parametrize(
    ("time", "awaiting", "doubt"),
    [
        ("2025-06-03 16:50", 169.6, 0.0),
        ("2025-06-03 20:00", 0.0, 169.6),
        ("2025-06-03T20:00", 0.0, 169.6),
        ("2025-06-03", 0.0, 169.6),
        ("2025-06-03T18:00:00.000+00:00", 0.0, 169.6),
        ("2025-06-03T14:50:00.000+00:00", 169.6, 0.0),  # 16:50 in Berlin
    ],
)
def test_as_of_a_time(north: Desk, time: str, awaiting: float, doubt: float) -> None:
    area = north.run("assess", "north-basin", "--as-of", time, "--json").json["area"]
    assert (area["awaiting_m2"], area["in_doubt_m2"]) == (pytest.approx(awaiting, abs=0.051), pytest.approx(doubt, abs=0.051))


def test_as_of_an_entry(north: Desk) -> None:
    lines = (north.folder / "north-basin.jsonl").read_text(encoding="utf-8").splitlines()
    signed = next(line for line in lines if '"kind":"assessment.made"' in line)
    ident = signed.split('"id":"')[1][:36]
    done = north.run("assess", "north-basin", "--as-of", ident, "--json")
    assert done.json["as_of"] == signed.split('"at":"')[1][:29]


@pytest.mark.parametrize("time", ["yesterday", "2025-13-01", "2025-06-03 25:00", "03.06.2025", "01902f3e-0000-7000-8000-000000000000"])
def test_a_bad_time_is_refused(north: Desk, time: str) -> None:
    done = north.refused("assess", "north-basin", "--as-of", time)
    assert "is not accepted. Allowed: " in done.err
    assert time in done.err


def test_maps_are_drawings(north: Desk, tmp_path: Path) -> None:
    done = north.good("map", "north-basin", "T1", "-o", str(tmp_path / "t1.svg"))
    files = [line.removeprefix("written: ") for line in done.out.splitlines()]
    assert len(files) == 4  # shell, floor, roof, column
    for file in files:
        root = ET.parse(file).getroot()
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        assert root.get("viewBox")
    one = north.good("map", "north-basin", "T1/floor", "-o", str(tmp_path / "floor.svg"), "--paper", "tank")
    assert one.out.splitlines() == [f"written: {tmp_path / 'floor.svg'}"]
    for words, says in (
        (("T2", "-o", "x.svg"), "ITEM: 'T2' is not accepted. Allowed: T1"),
        (("T1/attic", "-o", "x.svg"), "PART: 'attic' is not accepted. Allowed: "),
        (("T1", "-o", "x.png"), "-o: 'x.png' is not accepted. Allowed: a name that ends in .svg"),
        (("T1", "-o", "x.svg", "--paper", "red"), "--paper: 'red' is not accepted. Allowed: book, sun or tank"),
    ):
        assert north.refused("map", "north-basin", *words).err.startswith(says)


def test_rules_list_and_show() -> None:
    listed = here("rules", "list")
    assert listed.code == 0
    assert here("rules").out == listed.out
    assert "None is preferred" not in listed.out
    assert "Confirm every figure against the edition that your contract names." in listed.out
    rows = here("rules", "list", "--json").json
    assert len(rows) > 50
    assert {"id", "title", "grade", "editions"} == set(rows[0])
    some = here("rules", "list", "--word", "d5162", "--json").json
    assert 0 < len(some) < len(rows)
    for row in rows[:: len(rows) // 12]:
        shown = here("rules", "show", row["id"])
        assert shown.code == 0
        assert re.search(r"\[(seen|restated|memory|derived)\]", shown.out) or row["grade"] in ("limits", "no figure"), shown.out
        assert len(here("rules", "show", row["id"], "--json").json) == len(shown.out.splitlines())
    done = here("rules", "show", "D9999/um")
    assert done.code == 2
    assert "'D9999/um' is not accepted" in done.err


def test_where_the_database_is(opened: Desk, tmp_path: Path) -> None:
    """--database before WHOLEFILM_DATABASE before the user's data folder; WHOLEFILM_BLOBS for photos and cards."""
    listed = installed("job", "list", env={"WHOLEFILM_DATABASE": str(opened.file)})
    assert listed.out.startswith(tank.NAME)
    other = tmp_path / "other.db"
    assert installed("job", "list", "--database", str(other), env={"WHOLEFILM_DATABASE": opened.url}).out.startswith("No job in sqlite:///")
    home = {"XDG_DATA_HOME": str(tmp_path / "share")}
    words = ("job", "new", "a", "--title", "t", "--contract", "c", "--person", "p", "--role", "r")
    assert installed(*words, env=home).code == 0
    assert (tmp_path / "share" / "wholefilm" / "wholefilm.db").is_file()
    cards = {"WHOLEFILM_DATABASE": str(tmp_path / "b.db"), "WHOLEFILM_BLOBS": str(tmp_path / "cards")}
    assert installed(*words, env=cards).code == 0
    assert len([p for p in (tmp_path / "cards").rglob("*") if p.is_file()]) == 1
    assert "p" in installed("job", "show", "a", "--sheet", "people", env=cards).out
    for bad in ("job.txt", "mysql://host/name", "sqlite"):
        done = installed("job", "list", "--database", bad)
        assert done.code == 2, done.err
        assert bad in done.err
