"""`readings`: a file of thickness readings is looked at whole before anything of it is stored."""

from __future__ import annotations

import pytest

from cli import small_tank as tank
from cli.desk import Desk

GOOD = "test_area,class,dft_um\nS1,flat,410\nS1,weld,395.5\nS1,flat,402\n"


def words(desk: Desk, content: str | bytes, *more: str) -> tuple[str, ...]:
    """The words of a `readings` command on a file with this content."""
    file = desk.folder / "readings.csv"
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
        (GOOD.replace("395.5", "thin"), (), "line 3, value: 'thin um' is not accepted"),
        (GOOD.replace("weld", "wield"), (), "line 3, class: 'wield' is not accepted. Allowed: flat, weld, edge, corner, pit"),
        (GOOD.replace("S1,flat,402", "S1,flat"), (), "line 4: 'S1,flat' is not accepted. Allowed: 3 cells, as in the header"),
        (GOOD.replace("S1,flat,410", ",flat,410"), (), "line 2, test_area: '' is not accepted"),
        (GOOD.replace("410", "-4"), (), "line 2, value: '-4' is not accepted. Allowed: zero or more"),
        (GOOD.replace("dft_um", "dft"), (), "--column: 'test_area, class, dft' is not accepted. Allowed: a column for value"),
        (GOOD.replace("dft_um", "value"), (), "--unit: 'nothing' is not accepted. Allowed: the unit of the values: um, mil or mm"),
        (
            GOOD,
            ("--column", "value=none"),
            "--column: 'value=none' is not accepted. Allowed: a header of the file: test_area, class, dft_um",
        ),
        (GOOD, ("--column", "thickness=dft_um"), "--column: 'thickness=dft_um' is not accepted. Allowed: OURS=HEADER with OURS one of"),
        (GOOD, ("--unit", "kV"), "line 2, value: '410 kV' is not accepted"),
        ("", (), "--column: '' is not accepted"),
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
