"""The loader: what it refuses, by file and field; names; how long it takes."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from wholefilm.base.errors import BadInput, NotFound, UnknownEdition
from wholefilm.base.quantity import quantity
from wholefilm.rules import evaluate, load, rule
from wholefilm.rules.loader import DATA, read_folder

GOOD = """
document = "D 1"
title = "A document"
[[rule]]
id = "D1/mil"
editions = ["2001"]
method = "spark"
thickness_range = { at_least = "20 mil", at_most = "40 mil", grade = "seen" }
[rule.form]
form = "power"
unit = "mil"
exponent = "0.5"
branches = [{ k = "1250", grade = "seen" }]
"""


def read(folder: Path, text: str) -> None:
    (folder / "d1.toml").write_text(text, encoding="utf-8")
    read_folder(folder, "rule")


def test_the_good_one_is_read(tmp_path: Path) -> None:
    read(tmp_path, GOOD)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('method = "spark"', 'method = "spark"\nvoltage = "3 kV"', "voltage"),
        ('k = "1250", grade = "seen"', 'k = "1250", grade = "seen", unit = "V"', "unit"),
        ('k = "1250", grade = "seen"', 'k = "1250"', "grade"),
        ('at_most = "40 mil", grade = "seen"', 'at_most = "40 mil"', "grade"),
        ('k = "1250", grade = "seen"', 'k = "1250", grade = "sure"', "sure"),
        ('k = "1250"', "k = 1250", "text"),
        ('k = "1250"', 'k = "-1250"', "k"),
        ('editions = ["2001"]', "", "editions"),
        ('editions = ["2001"]', 'editions = ["2001", "2001"]', "editions"),
        ('method = "spark"', 'method = "dry"', "method"),
        ('method = "spark"', "", "method"),
        ('at_least = "20 mil"', 'at_least = "20"', "thickness_range"),
        ('at_least = "20 mil"', 'at_least = "40 mil"', "thickness_range"),
        ('at_least = "20 mil"', 'at_least = "1.2 mm"', "thickness_range"),
        ('at_least = "20 mil"', 'at_least = "20 mil", over = "20 mil"', "at_least and over"),
        ('at_least = "20 mil", at_most = "40 mil", ', "", "no bound"),
        ('unit = "mil"', 'unit = "V"', "unit"),
        ('exponent = "0.5"', 'exponent = "half"', "exponent"),
        ('form = "power"', 'form = "root"', "root"),
        ('id = "D1/mil"', 'id = "D1 mil"', "id"),
        ("[[rule]]", "[[rules]]", "rule"),
        ('title = "A document"', 'title = "A document', "TOML"),
        (
            '{ k = "1250", grade = "seen" }',
            '{ k = "1", at_most = "40 mil", grade = "seen" }, { k = "2", at_least = "40 mil", grade = "seen" }',
            "overlap",
        ),
        ('{ k = "1250", grade = "seen" }', "", "branches"),
    ],
)
def test_a_bad_document_is_refused_by_file_and_field(tmp_path: Path, old: str, new: str, says: str) -> None:
    assert old in GOOD
    with pytest.raises(BadInput) as refused:
        read(tmp_path, GOOD.replace(old, new))
    assert "d1.toml" in refused.value.field
    assert says in str(refused.value)


TABLE = """
document = "D 2"
title = "A table"
[[rule]]
id = "D2"
editions = ["2001"]
method = "spark"
[rule.form]
form = "table"
rows = [{ from = "8 mil", to = "11 mil", volts = "1500 V", grade = "seen" },
        { from = "12 mil", to = "15 mil", volts = "2000 V", grade = "seen" }]
"""


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('to = "11 mil"', 'to = "12 mil"'),
        ('to = "11 mil"', 'to = "7 mil"'),
        ("2000 V", "1400 V"),
        ("2000 V", "2000"),
        (', grade = "seen" }]', " }]"),
    ],
)
def test_a_bad_table_is_refused(tmp_path: Path, old: str, new: str) -> None:
    read(tmp_path, TABLE)
    with pytest.raises(BadInput, match=r"d1\.toml: D2: form"):
        read(tmp_path, TABLE.replace(old, new))


def test_an_id_that_stands_twice_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(GOOD, encoding="utf-8")
    with pytest.raises(BadInput, match=r"a\.toml already"):
        read(tmp_path, GOOD)


def test_an_edition_is_asked_for_and_must_be_known() -> None:
    for edition in ("2012", "", "sp0274-2011"):
        with pytest.raises(UnknownEdition, match="1974, 2004, 2011"):
            evaluate(rule("SP0274/mil"), edition, quantity("30 mil", "length"))
    with pytest.raises(UnknownEdition, match="name the edition"):
        evaluate(rule("DIN-30670"), " ", quantity("3 mm", "length"))
    assert any("no edition" in w for w in evaluate(rule("DIN-30670"), "1991", quantity("3 mm", "length")).warnings)


def test_an_unknown_rule_names_its_neighbours() -> None:
    with pytest.raises(NotFound, match="SP0274/mil, SP0274/um, SP0274/mm, SP0274/table"):
        rule("sp0274")
    with pytest.raises(NotFound, match="72 ids of `wholefilm rules list`"):
        rule("")


def test_loading_is_lazy() -> None:
    """Importing reads no file; how long all of them take stands in the bench."""
    code = "import wholefilm.rules; from wholefilm.rules import loader; print(loader.load.cache_info().currsize)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=dict(os.environ))
    assert run.stdout.split() == ["0"]


def test_one_file_holds_related_rules_and_every_file_is_read() -> None:
    assert len(list(DATA.glob("*.toml"))) >= 20
    assert len(load()) >= 69


def test_every_figure_is_printed_with_its_grade() -> None:
    for one in load().values():
        rows = one.describe()
        labels = {label for label, _ in rows}
        assert {"id", "document", "editions", "method", "to choose it"} <= labels
        for label, text in rows:
            if label in ("formula", "slope", "row", "voltage", "cap", "base", "class", "span", "allowed at most", "written for"):
                assert re.search(r"\[(seen|restated|memory|derived|entered)\]", text), (one.id, label, text)
