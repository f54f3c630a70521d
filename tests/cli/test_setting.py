"""From cited rules to a printed voltage sheet: side by side, asked in writing, chosen on the dated answer. Own rules are invented."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

import pytest

from cli import small_tank as tank
from cli.desk import Desk

BY = ("--by", tank.INSPECTOR)
OWN = """
id = "OWN-1"
title = "Test voltages of my own copy"
document = "Owner's standard 12"
editions = ["2020"]
method = "spark"
thickness_basis = "maximum"
entered = {page = "7", who = "A. Reader", when = "2025-05-20"}
[form]
form = "table"
rows = [
  {from = "200 um", to = "420 um", volts = "1.5 kV", grade = "entered"},
  {from = "421 um", to = "800 um", volts = "2.5 kV", grade = "entered"},
]
"""
SITE = json.dumps({"site": {w.partition("=")[0][5:]: w.partition("=")[2] for w in tank.SHEET if w.startswith("site.")}})
REST = ("method=spark, continuous DC", "reason=the answer names it", "electrode=brush 0.3 m", "valid_until=the film changes")


def own(desk: Desk, text: str = OWN) -> str:
    path = desk.folder / "own.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def read(desk: Desk, um: str) -> None:
    tank.tell(desk, "thickness.read", "place=shell, arc 1.00 m, 0.50 m", "class=flat", f"values={um}", "gauge=G1", at="05:30")


def answered(desk: Desk, number: str = "Q-01") -> None:
    tank.tell(desk, "question.answered", f"question={number}", "from=engineer", f"dated={tank.DAY} 06:20", "text=2.5 kV by OWN-1",
              "evidence=letter", at="06:30")  # fmt: skip


def text_of(pdf: Path) -> str:
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True)
    return re.sub(r"\s+", " ", done.stdout)


def pages(pdf: Path) -> int:
    said = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
    return int(re.search(r"Pages:\s+(\d+)", said)[1])  # type: ignore[index]


def test_a_rule_of_the_own_copy_stands_beside_those_of_the_shelf(opened: Desk) -> None:
    read(opened, "450 um")
    assert "it may be chosen" in opened.good("rules", "enter", tank.NAME, own(opened), *BY, "--clause", "5.2").out
    assert "is shown for comparison until" in opened.good("rules", "cite", tank.NAME, "SP0490/um:2007", *BY).out
    sheet = opened.good("setting", "show", tank.NAME, "S1", "--json").json
    rows = {(r["id"], r["thickness_um"]): r for r in sheet["rules"]}
    assert rows["OWN-1", 450]["voltage_v"] == 2500
    assert rows["OWN-1", 450]["choosable"]
    assert rows["OWN-1", 450]["grade"] == "entered"
    assert rows["SP0490/um", 450]["voltage_v"] == pytest.approx(2210, abs=1)  # 104.2 x sqrt(450), from memory
    assert not rows["SP0490/um", 450]["choosable"]
    confirm = ("--page", "4", "--read-by", "A. Reader", "--read-on", "2025-05-20")
    assert "it may be chosen" in opened.good("rules", "cite", tank.NAME, "SP0490/um:2007", *confirm, *BY).out
    again = opened.good("setting", "show", tank.NAME, "S1", "--json").json
    assert next(r["choosable"] for r in again["rules"] if r["id"] == "SP0490/um")
    assert "In force: no voltage sheet" in opened.good("setting", "show", tank.NAME, "S1").out
    assert opened.run("assess", tank.NAME, "--json").json["assessment"] == "cannot_tell"  # a rule that is compared bars nothing


def test_a_question_its_answer_and_the_sheet(opened: Desk) -> None:
    read(opened, "450 um")
    opened.good("rules", "enter", tank.NAME, own(opened), *BY)
    page = opened.folder / "q.pdf"
    said = opened.good("setting", "ask", tank.NAME, "-o", str(page), *BY).out
    assert "recorded: question Q-01" in said
    words = text_of(page)
    assert "Question Q-01: which method, which voltage" in words
    assert "To: coating maker's adviser, engineer." in words
    assert "Owner's standard 12 2020 (OWN-1)" in words
    assert "2.50 kV" in words
    assert "Which method is to be used" in words
    assert pages(page) == 1
    refused = opened.run("setting", "choose", tank.NAME, "Q-01", "setting=2.5 kV", *REST, "--rule", "OWN-1", *BY)
    assert refused.code == 2
    assert "a question with an answer" in refused.err
    answered(opened)
    refused = opened.run("setting", "choose", tank.NAME, "Q-01", "setting=2.5 kV", *REST, "--rule", "OWN-1", *BY)
    assert refused.code == 2
    assert "site: the site's own answers to the cautions are not entered" in refused.err
    site = opened.folder / "site.json"
    site.write_text(SITE, encoding="utf-8")
    opened.good("setting", "choose", tank.NAME, "Q-01", "setting=2.5 kV", *REST, "--rule", "OWN-1", "--body", str(site), *BY)
    sheet = opened.run("job", "show", tank.NAME, "--sheet", "voltage", "--json").json
    row = sheet["sheets"][0]
    assert row["setting"] == "2.5 kV"
    assert row["basis"].endswith("450 um to 450 um")
    assert row["agreed_by"].startswith("engineer")
    assert row["source"] == "Owner's standard 12 2020 [entered]"
    assert "row 421 um to 800 um: 2.5 kV [entered]" in row["rule"]
    assert "answers Q-01" in row["further"]
    assert {s["by"] for s in sheet["site"]} == {"P. Sand, permit office"}
    assert len(sheet["site"]) == 8
    assert {b["rule"] for b in sheet["beside"]} == {"OWN-1 (2020)"}
    wall = opened.folder / "wall.pdf"
    opened.good("setting", "print", tank.NAME, "S1", "-o", str(wall))
    words = text_of(wall)
    assert pages(wall) == 1
    for part in ("Voltage sheet: S1, final", "2.5 kV", "The site's own answers, by P. Sand", "A spark lights gas", "Second person"):
        assert part in words
    first = wall.read_bytes()
    opened.good("setting", "print", tank.NAME, "S1", "-o", str(wall))
    assert wall.read_bytes() == first  # the same record, the same bytes


def test_without_a_rule_the_answer_itself_is_the_source(opened: Desk) -> None:
    opened.good("setting", "ask", tank.NAME, "S1", "-o", str(opened.folder / "q.pdf"), *BY)
    answered(opened)
    site = opened.folder / "site.json"
    site.write_text(SITE, encoding="utf-8")
    words = ("setting=2.5 kV", "basis.low=300 um", "basis.high=500 um", *REST)
    opened.good("setting", "choose", tank.NAME, "Q-01", *words, "--body", str(site), *BY)
    row = opened.run("job", "show", tank.NAME, "--sheet", "voltage", "--json").json["sheets"][0]
    assert row["source"].startswith("answer to Q-01 by engineer")
    assert "[entered]" in row["source"]


def test_voltage_areas_of_the_readings(opened: Desk) -> None:
    for um in ("410 um", "450 um", "1600 um"):
        read(opened, um)
    sheet = opened.good("setting", "areas", tank.NAME, "--rule", "RULE-100V-PER-MIL", "--within", "10 %", "--json").json
    assert sheet["unserved"] == 0
    assert [s["name"] for s in sheet["settings"]] == ["V1", "V2"]
    place = sheet["places"][0]
    assert place["readings"] == 3
    assert place.get("low_v") is None
    assert place["settings"] == ["V1", "V2"]
    out = opened.good("setting", "areas", tank.NAME, "--rule", "RULE-100V-PER-MIL", "--within", "10 %").out
    assert "A proposal for the people who decide, and no setting" in out
    model = (
        "--strength",
        "20 kV/mm",
        "--strength-at",
        "1 mm",
        "--exponent",
        "0.2",
        "--share",
        "50 %",
        "--strength-source",
        "data sheet 3, p. 2",
    )
    assert "model: floor by an even gap of air" in opened.good("setting", "areas", tank.NAME, *model).out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("rules", "cite", "NAME", "SP0490/um"), "RULE: 'SP0490/um' is not accepted. Allowed: SP0490/um:EDITION, one of 2007"),
        (("rules", "cite", "NAME", "SP0490/um:1999"), "edition: '1999'"),
        (("rules", "cite", "NAME", "SP0491:2007"), "SP0490"),
        (("rules", "cite", "NAME", "SP0490/um:2007", "--page", "4"), "--read-by"),
        (("rules", "cite", "NAME", "SP0490/um:2007", "--page", "4", "--read-by", "A", "--read-on", "2025-02-30"), "2025-02-30"),
        (("rules", "enter", "NAME", "nowhere.toml"), "FILE: 'nowhere.toml'"),
        (("setting", "show", "NAME", "S9"), "AREA: 'S9' is not accepted. Allowed: one of S1"),
        (("setting", "ask", "NAME", "S9", "-o", "q.pdf"), "AREA: 'S9'"),
        (("setting", "ask", "NAME", "S1", "-o", "q.txt"), "a name that ends in .pdf"),
        (("setting", "choose", "NAME", "Q-07", "setting=3 kV"), "a question about a voltage: none yet"),
        (("setting", "print", "NAME", "S1", "-o", "q.pdf"), "a test area with a voltage sheet: none yet"),
        (("setting", "areas", "NAME"), "a rule with --within"),
        (("setting", "areas", "NAME", "--rule", "SP0490/um"), "--within"),
        (("setting", "areas", "NAME", "--rule", "SP0490/um", "--within", "10"), "--within"),
        (("setting", "areas", "NAME", "--rule", "SP0490/um", "--within", "80 %"), "0 % to 50 %"),
        (("setting", "areas", "NAME", "--rule", "SP0490/um", "--within", "10 %"), "a job with readings of film thickness"),
    ],
)
def test_bad_input_names_itself_and_stores_nothing(opened: Desk, words: tuple[str, ...], says: str) -> None:
    given = [tank.NAME if w == "NAME" else w for w in words]
    if words[1] in ("cite", "enter", "ask", "choose"):
        given += BY
    before = opened.good("export", tank.NAME, "-o", str(opened.folder / "a.jsonl")) and (opened.folder / "a.jsonl").read_bytes()
    done = opened.run(*given)
    assert done.code == 2
    assert says in done.err
    opened.good("export", tank.NAME, "-o", str(opened.folder / "b.jsonl"))
    assert (opened.folder / "b.jsonl").read_bytes() == before


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (('grade = "entered"}', 'grade = "seen"}'), "entered, on every figure"),
        (('volts = "1.5 kV"', 'volts = "1500"'), "volts"),
        (('volts = "2.5 kV"', 'volts = "1.0 kV"'), "not under the row before"),
        (('from = "421 um"', 'from = "400 um"'), "rows in order of thickness that do not overlap"),
        (('entered = {page = "7", who = "A. Reader", when = "2025-05-20"}\n', ""), "page, who and when"),
        (('id = "OWN-1"', 'id = "SP0274/um"'), "an id that no shipped rule has"),
        (("[form]", "[form"), "a TOML file in UTF-8"),
        (('volts = "1.5 kV"', 'volts = "1.5 V/mil"'), "volts"),
        (('volts = "1.5 kV"', 'volts = "1e400 kV"'), "volts"),
    ],
)
def test_an_own_rule_that_makes_no_sense_is_refused(opened: Desk, change: tuple[str, str], says: str) -> None:
    path = own(opened, OWN.replace(*change))
    done = opened.run("rules", "enter", tank.NAME, path, *BY)
    assert done.code == 2
    assert says in done.err


def test_a_rule_that_bears_the_name_of_the_shelf_and_differs_is_refused(opened: Desk) -> None:
    from wholefilm.rules import rule
    from wholefilm.rules.bodies import as_body

    body = as_body(rule("SP0490/um"), "2007")
    body["rule"]["form"]["branches"][0]["k"] = "90"
    path = opened.folder / "forged.json"
    noted = {"topic": "voltage", "document": "NACE SP0490", "edition": "2007", "grade": "seen", "says": "x", "rule": body}
    path.write_text(json.dumps(noted), encoding="utf-8")
    done = opened.run("record", tank.NAME, "requirement.noted", "--body", str(path), *BY)
    assert done.code == 2
    assert "the rule as it stands on the shelf" in done.err


def test_a_question_is_asked_for_a_stage_and_in_the_air_of_the_site(opened: Desk) -> None:
    read(opened, "450 um")
    opened.good("rules", "enter", tank.NAME, own(opened), *BY)
    page = opened.folder / "q.pdf"
    opened.good("setting", "ask", tank.NAME, "S1", "-o", str(page), "--stage", "coat_1", "--altitude", "2000 m", *BY)
    words = text_of(page)
    assert "S1, stage coat_1" in words
    assert "2000 m" in words
    assert opened.good("setting", "show", tank.NAME, "S1", "--stage", "coat_1", "--json").json["stage"] == "coat_1"


def test_a_question_is_printed_again_as_it_was_asked(opened: Desk) -> None:
    read(opened, "450 um")
    opened.good("rules", "enter", tank.NAME, own(opened), *BY)
    first, again = opened.folder / "q.pdf", opened.folder / "again.pdf"
    opened.good("setting", "ask", tank.NAME, "S1", "-o", str(first), *BY)
    read(opened, "700 um")  # what is read later stands on no page that was sent before
    opened.good("setting", "print", tank.NAME, "Q-01", "-o", str(again))
    assert again.read_bytes() == first.read_bytes()


def test_a_confirmation_is_of_one_edition(opened: Desk) -> None:
    read(opened, "800 um")
    confirm = ("--page", "4", "--read-by", "A. Reader", "--read-on", "2025-05-20")
    opened.good("rules", "cite", tank.NAME, "SP0274/um:2011", *confirm, *BY)
    opened.good("rules", "cite", tank.NAME, "SP0274/um:2004", *BY)
    rules = opened.good("setting", "show", tank.NAME, "S1", "--json").json["rules"]
    assert {(r["edition"], r["choosable"]) for r in rules if r["basis"] == "maximum"} == {("2011", True), ("2004", False)}


@pytest.mark.parametrize(("text", "says"), [("{", "JSON in braces"), ("[1]", "JSON in braces"), ('{"setting": 3}', "setting")])
def test_a_body_that_cannot_be_read_is_refused(opened: Desk, text: str, says: str) -> None:
    opened.good("setting", "ask", tank.NAME, "S1", "-o", str(opened.folder / "q.pdf"), *BY)
    answered(opened)
    path = opened.folder / "body.json"
    path.write_text(text, encoding="utf-8")
    done = opened.run("setting", "choose", tank.NAME, "Q-01", *REST, "--body", str(path), *BY)
    assert done.code == 2
    assert says in done.err
