"""`readings`: a file of thickness readings is looked at whole before anything of it is stored."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path
from typing import Any

import pytest

from cli import small_tank as tank
from cli.desk import Desk
from exchange.makers import HEADER, ROWS, by_openpyxl, by_xlsxwriter
from wholefilm.ledger.errors import NotStored
from wholefilm.ledger.jobfile import read_path
from wholefilm.ledger.store import Store

GOOD = "test_area,class,dft_um\nS1,flat,410\nS1,weld,395.5\nS1,flat,402\n"


def words(desk: Desk, content: str | bytes, *more: str, name: str = "readings.csv") -> tuple[str, ...]:
    """The words of a `readings` command on a file with this content."""
    file = desk.folder / name
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    return ("readings", tank.NAME, str(file), "--about", "gauge TG-1", "--by", tank.INSPECTOR, *more)


def thickness(desk: Desk) -> None:
    """A clause that asks for 300 to 500 um on flats and welds."""
    tank.tell(desk, "requirement.noted", "topic=thickness", "document=DT-1", "edition=rev A", "grade=entered", "clause=3.1", "says=x",
              "rule.form=thickness_range", "rule.min=300 um", "rule.max=500 um", "rule.classes=flat", "rule.classes=weld")  # fmt: skip


def finding(desk: Desk) -> dict[str, str]:
    """The finding on clause 3.1."""
    rows = desk.run("assess", tank.NAME, "--json").json["findings"]
    return next(f for f in rows if f["rule"]["clause"] == "3.1")  # type: ignore[no-any-return]


def test_a_file_is_loaded_and_judged(opened: Desk) -> None:
    thickness(opened)
    assert finding(opened)["finding"] == "cannot_tell"
    done = opened.good(*words(opened, GOOD))
    assert done.out.startswith("loaded: 3 spots, entry ")
    assert finding(opened)["finding"] == "met"
    assert finding(opened)["value"] == "396 to 410 um, 3 spots"


def test_columns_and_units_by_other_names(opened: Desk) -> None:
    """20 mil = 508 um (1 mil = 25.4 um exactly), over 500 um; 15.7 mil = 398.8 um."""
    thickness(opened)
    content = "﻿Bereich;Klasse;Wert\nS1;flat;15,7\nS1;flat;20\n"
    named = ("--column", "test_area=Bereich", "--column", "class=Klasse", "--column", "value=Wert")
    opened.good(*words(opened, content, *named, "--unit", "mil"))
    assert finding(opened)["finding"] == "not_met"
    assert "1 over 500 um" in finding(opened)["because"]


@pytest.mark.parametrize(
    ("content", "more", "says"),
    [
        (GOOD.replace("395.5", "thin"), (), "line 3, value: 'thin' is not accepted"),
        (GOOD.replace("weld", "wield"), (), "line 3, class: 'wield' is not accepted. Allowed: flat, weld, edge, corner, pit"),
        (GOOD.replace("S1,flat,402", "S1,flat"), (), "line 4: 'S1,flat' is not accepted. Allowed: 3 cells, as in the header"),
        (GOOD.replace("S1,flat,410", ",flat,410"), (), "line 2, test_area: '' is not accepted"),
        (GOOD.replace("410", "-4"), (), "line 2, value: '-4' is not accepted. Allowed: zero or more"),
        (GOOD.replace("dft_um", "dft"), (), "--column: 'test_area, class, dft' is not accepted. Allowed: a column for value"),
        (GOOD.replace("dft_um", "value"), (), "--unit: nothing is given. Needed: the unit of the values: um, mil or mm"),
        (
            GOOD,
            ("--column", "value=none"),
            "--column: 'value=none' is not accepted. Allowed: a header of the file: test_area, class, dft_um",
        ),
        (GOOD, ("--column", "thickness=dft_um"), "--column: 'thickness=dft_um' is not accepted. Allowed: OURS=HEADER with OURS one of"),
        (GOOD, ("--unit", "kV"), "--unit: 'kV' is not accepted. Allowed: a unit of length: m, cm, mm, um"),
        (GOOD, ("--unit", "first=mm"), "--unit: 'first=mm' is not accepted. Allowed: UNIT, or OURS=UNIT with OURS one of value"),
        ("", (), "FILE: '"),
        ("test_area,class,dft_um\n\n", (), "FILE: '"),
        (GOOD.replace("class", "test_area"), (), "--column: 'test_area, test_area, dft_um' is not accepted. Allowed: a column for class"),
        (GOOD.replace("dft_um", "test_area"), ("--column", "value=test_area", "--unit", "um"), "--column: 'test_area=test_area'"),
        (GOOD.replace("410", "410,"), (), "line 2: 'S1,flat,410,' is not accepted. Allowed: 3 cells, as in the header"),
        (GOOD + "S1,flat,1e5\nS1,flat,NaN\n", (), "line 5, value: '1e5' is not accepted. Allowed: a number"),
        (GOOD + "S1,flat," + "4" * 10_000 + "\n", (), "line 5, column dft_um: '444"),
        (GOOD + 'S1,flat,"1,234.5"\n', (), "line 5, value: '1,234.5' is not accepted"),
        (
            GOOD.replace("395.5", '"1,234"'),
            (),
            "line 3, value: '1,234' is not accepted. Allowed: a number that can be read in one way only",
        ),
        (GOOD + 'S1,flat,"410,5"\n', (), "line 5, value: '410,5' is not accepted. Allowed: one decimal sign in the whole file: line 3"),
        (
            GOOD.replace(",", ";").replace("395.5", "395,5"),
            ("--decimal", "point"),
            "line 3, value: '395,5' is not accepted. Allowed: a number",
        ),
        (GOOD, ("--decimal", "dot"), "--decimal: 'dot' is not accepted. Allowed: point or comma"),
        (GOOD, ("--test-area", "S1"), "--test-area: 'S1' is not accepted. Allowed: nothing, since column test_area of the file"),
        (GOOD.replace("class", "x"), ("--class", "round"), "--class: 'round' is not accepted. Allowed: flat, weld, edge, corner, pit"),
        (GOOD, ("--sheet", "A"), "--sheet: 'A' is not accepted. Allowed: nothing for a CSV file"),
        (GOOD, ("--json",), "--json: 'without --preview' is not accepted"),
        (GOOD, ("--about", " "), "--about: nothing is given. Needed: what was read"),
        (GOOD.encode() + b"S1,flat,\xff\n", (), "file: 'byte "),
        (GOOD, ("--by", "nobody"), "--by: 'nobody' is not accepted"),
    ],
)
def test_what_is_refused_names_line_and_column_and_stores_nothing(
    opened: Desk, content: str | bytes, more: tuple[str, ...], says: str
) -> None:
    assert opened.refused(*words(opened, content, *more)).err.startswith(says)


def test_a_file_that_is_not_there(opened: Desk) -> None:
    done = opened.refused("readings", tank.NAME, "none.csv", "--about", "x", "--by", tank.INSPECTOR)
    assert done.err.startswith("FILE: 'none.csv' is not accepted. Allowed: a file that can be read")


def test_two_bad_rows_are_both_told(opened: Desk) -> None:
    done = opened.refused(*words(opened, GOOD + "S1,flat,thin\n,flat,400\n"))
    assert [line.split(":")[0] for line in done.err.splitlines()] == ["line 5, value", "line 6, test_area"]


def test_a_file_of_two_gibibytes(opened: Desk) -> None:
    file = opened.folder / "huge.csv"
    file.touch()
    os.truncate(file, 2 << 30)
    done = opened.refused("readings", tank.NAME, str(file), "--about", "x", "--by", tank.INSPECTOR)
    assert "2,147,483,648 bytes" in done.err
    assert "at most 268,435,456 bytes" in done.err


def body(desk: Desk, kind: str = "readings.loaded") -> dict[str, Any]:
    """The body of the last entry of a kind."""
    file = desk.folder / "out.zip"
    file.unlink(missing_ok=True)
    desk.good("export", tank.NAME, "-o", str(file))
    return [e.body for e in read_path(file).entries if e.kind == kind][-1]


def kinds(desk: Desk) -> set[str]:
    """Kinds of the entries that are stored."""
    file = desk.folder / "kinds.zip"
    file.unlink(missing_ok=True)
    desk.good("export", tank.NAME, "-o", str(file))
    return {e.kind for e in read_path(file).entries}


def blob(desk: Desk, sha: str) -> bytes:
    return (Path(str(desk.file) + ".blobs") / sha).read_bytes()


def test_how_a_file_is_written_is_kept_and_its_bytes_as_they_came(opened: Desk) -> None:
    thickness(opened)
    content = "Klasse;Wert\nflat;15,7\n\nflat;0,6\n".encode("utf-16")
    named = ("--column", "class=Klasse", "--column", "value=Wert", "--unit", "mil", "--test-area", "S1")
    opened.good(*words(opened, content, *named))
    got = body(opened)
    assert got["columns"] == {"test_area": {"constant": "S1"}, "class": "Klasse", "value": "Wert"}
    assert got["units"] == {"value": "mil", "text": {"encoding": "utf-16", "delimiter": ";", "decimal": ","}}
    assert (got["rows"], got["blob"], blob(opened, got["blob"])) == (2, hashlib.sha256(content).hexdigest(), content)
    assert finding(opened)["value"] == "15 to 399 um, 2 spots"  # 0.6 mil = 15.24 um, 15.7 mil = 398.78 um


def test_old_western_text_is_read_when_it_is_named(opened: Desk) -> None:
    content = GOOD.replace("S1,weld", "Süd,weld").encode("cp1252")
    assert opened.refused(*words(opened, content)).err.startswith(
        "file: 'byte 36' is not accepted. Allowed: UTF-8 text; on line 3 stands 0xFC"
    )
    done = opened.good(*words(opened, content, "--encoding", "cp1252"))
    assert "note: no test area of this job: Süd; spots there count for nothing. Known: S1" in done.out
    assert body(opened)["units"]["text"]["encoding"] == "cp1252"


@pytest.mark.parametrize("make", [by_xlsxwriter, by_openpyxl])
def test_a_workbook_is_read_and_attached_as_it_came(opened: Desk, make: Any) -> None:
    thickness(opened)
    content = make([HEADER, *ROWS[:2], (), ("S1", "flat", 402)])
    opened.good(*words(opened, content, name="gauge.xlsx"))
    got, attached = body(opened), body(opened, "file.attached")
    assert (attached["name"], blob(opened, attached["blob"])) == ("gauge.xlsx", content)
    assert got["units"]["text"] == {"encoding": "utf-8", "delimiter": ",", "decimal": ".", "sheet": "Readings"}
    assert blob(opened, got["blob"]) == b"test_area,class,dft_um\nS1,flat,410\nS1,weld,395.5\n\nS1,flat,402\n"
    assert len(got["files"]) == 1
    assert finding(opened)["value"] == "396 to 410 um, 3 spots"


def error(book: Any, sheet: Any) -> None:
    sheet.write_formula("C3", "=1/0", None, "#DIV/0!")


def merged(book: Any, sheet: Any) -> None:
    sheet.merge_range("A2:A3", "S1")


def two_sheets(book: Any, sheet: Any) -> None:
    book.add_worksheet("Spare")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (error, "cell C3, value: '#DIV/0!' is not accepted. Allowed: a value, not an error\nline 3, value: '#DIV/0!'"),
        (merged, "cells A2:A3: 'merged cells' is not accepted. Allowed: one value in each cell"),
        (two_sheets, "--sheet: nothing is given. Needed: the sheet to read, since the workbook shows 2: Readings, Spare"),
    ],
)
def test_a_workbook_that_is_no_table_stores_nothing(opened: Desk, change: Any, says: str) -> None:
    done = opened.refused(*words(opened, by_xlsxwriter([HEADER, *ROWS], change), name="gauge.xlsx"))
    assert done.err.startswith(says)


def test_a_workbook_that_nobody_may_record_stores_nothing(opened: Desk) -> None:
    content = by_xlsxwriter([HEADER, *ROWS])
    for more in (("--by", "nobody"), ("--at-site", "2999-01-01 10:00"), ("--at-site", "noon")):
        opened.refused(*words(opened, content, *more, name="gauge.xlsx"))
    opened.refused(*words(opened, content, "--encoding", "cp1252", name="gauge.xlsx"))


def test_formulas_are_said(opened: Desk) -> None:
    content = by_xlsxwriter([HEADER, *ROWS], lambda _, s: s.write_formula("C3", "=395+0.5", None, 395.5))
    done = opened.good(*words(opened, content, name="gauge.xlsx"))
    assert "note: column C (value) holds formulas: their stored values are read" in done.out


def shown(desk: Desk, content: str | bytes, *more: str, code: int = 0, name: str = "readings.csv") -> Any:
    """A preview, which stores nothing."""
    before = desk.kept()
    done = desk.run(*words(desk, content, "--preview", *more, name=name))
    assert (done.code, done.err) == (code, "")
    assert desk.kept() == before
    return done


def test_a_preview_shows_columns_rows_and_sums_and_stores_nothing(opened: Desk) -> None:
    """410 and 402 on flats: mean 406, s = sqrt(2 x 4^2) = 5.66 (n - 1), typed by hand."""
    seen = shown(opened, GOOD, "--json").json
    assert seen["columns"][2] == {"ours": "value", "header": "dft_um", "unit": "um"}
    assert (seen["rows"], seen["bad"], seen["bad_rows"]) == (3, [], 0)
    assert seen["groups"][0] == {
        "test_area": "S1", "class_": "flat", "spots": 2, "mean_um": "406.0", "sd_um": "5.7", "min_um": "402.0", "max_um": "410.0",
    }  # fmt: skip
    assert [r["line"] for r in seen["first"]] == [2, 3, 4]
    out = shown(opened, GOOD).out
    assert "3 rows can be read (UTF-8, comma between cells, decimal point); nothing is stored" in out
    assert "395.5" in out


def test_a_preview_needs_no_person_and_tells_bad_rows(opened: Desk) -> None:
    file = opened.folder / "readings.csv"
    file.write_text(GOOD + "S1,flat,thin\n" * 25, encoding="utf-8")
    done = opened.run("readings", tank.NAME, str(file), "--preview")
    assert done.code == 2
    assert "25 bad rows or cells; the file would be refused:" in done.out
    assert "line 5, value: 'thin' is not accepted" in done.out
    assert "line 24, value: 'thin'" in done.out
    assert "line 25, value" not in done.out
    assert "and 5 more" in done.out


def test_a_preview_of_a_workbook_and_of_an_unknown_area(opened: Desk) -> None:
    seen = shown(opened, by_xlsxwriter([HEADER, *ROWS], error), "--json", code=2, name="gauge.xlsx").json
    assert seen["written"] == "sheet Readings"
    assert seen["bad"][0].startswith("cell C3, value: '#DIV/0!'")
    assert seen["notes"][-1].startswith("no test area of this job: S2")


def test_a_workbook_and_its_readings_are_stored_together_or_not_at_all(opened: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk refuses the second of the two entries: the first is not there either, and both come in one append when it takes them."""
    content = by_xlsxwriter([HEADER, *ROWS])
    sizes: list[int] = []

    def refuse(store: Store, entries: Any, received: str) -> Any:
        sizes.append(len(entries))
        raise NotStored("a set", "no space left on the disk")

    with monkeypatch.context() as broken:
        broken.setattr(Store, "append", refuse)
        assert opened.run(*words(opened, content, name="gauge.xlsx")).code == 70
    assert sizes == [2]
    assert not {"file.attached", "readings.loaded"} & kinds(opened)
    opened.good(*words(opened, content, name="gauge.xlsx"))
    assert {"file.attached", "readings.loaded"} <= kinds(opened)
    assert opened.run("verify", tank.NAME).code == 0


def test_the_measured_area_is_a_column_that_is_picked(opened: Desk) -> None:
    content = "test_area,class,dft_um,Field\nS1,flat,410,north\n"
    done = opened.run(*words(opened, content, "--preview", "--column", "measured_area=Field", "--json"))
    assert done.json["first"][0]["measured_area"] == "north"
    opened.good(*words(opened, content, "--column", "measured_area=Field"))
    assert body(opened)["columns"]["measured_area"] == "Field"
