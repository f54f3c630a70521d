"""`wholefilm voltage`: one tank under several rules by one command, its keys, what it refuses, what it loads."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest

from cli.desk import here

SIX = (
    "voltage", "--nominal", "800 um", "--max", "1000 um", "--rule", "RULE-100V-PER-MIL", "--rule", "SAIC-H-2031-B5/linear",
    "--rule", "SAIC-H-2031-B5/flat", "--rule", "G62-pre-2023-B/mm", "--rule", "SP0490/um", "--rule", "SP0274/mil",
    "--rule", "SP0188-2006/mil",
)  # fmt: skip


def _at(sheet: dict[str, Any]) -> dict[tuple[str, str], float | None]:
    return {(r["id"], r["basis"]): r["voltage_v"] for r in sheet["rules"]}


def test_one_tank_six_rules_by_one_command() -> None:
    """600 to 1000 um, nominal 800 um. Figures worked by hand from the documents' own forms; grades stand in the rows."""
    done = here(*SIX, "--json")
    assert done.code == 0
    at = _at(done.json)
    assert at["RULE-100V-PER-MIL", "nominal"] == pytest.approx(3150, abs=1)
    assert at["RULE-100V-PER-MIL", "maximum"] == pytest.approx(3937, abs=1)
    assert at["SAIC-H-2031-B5/linear", "maximum"] == 5000
    assert at["SAIC-H-2031-B5/flat", "nominal"] is None
    assert at["G62-pre-2023-B/mm", "nominal"] == pytest.approx(2946, abs=1)
    assert at["G62-pre-2023-B/mm", "maximum"] == pytest.approx(7843, abs=1)
    assert at["SP0490/um", "nominal"] is None
    assert at["SP0274/mil", "maximum"] == pytest.approx(7843, abs=1)
    assert at["SP0188-2006/mil", "maximum"] == 3000


def test_the_keys_are_kept() -> None:
    sheet = here(*SIX, "--json").json
    for row in sheet["rules"]:
        keys = {"id", "document", "edition", "clause", "grade", "basis", "thickness_um", "voltage_v", "refused", "choosable", "warnings"}
        assert keys <= set(row)
    assert {"floor_v", "jump_gap_mm"} <= set(sheet["note"])
    assert {"uniform", "low", "tip"} == set(sheet["note"]["floor_v"])
    assert sheet["methods"][0]["method"] == "spark"
    assert any("pacemaker" in c for c in sheet["cautions"])
    assert sheet["note"]["floor_v"]["uniform"] == pytest.approx(4606, abs=1)


def test_it_prefers_none_and_says_so() -> None:
    printed = here(*SIX).out
    assert "None of these is preferred, and this list sets no voltage." in printed
    assert "Model, for planning only" in printed
    assert printed.index("Methods, a question and not an answer") < printed.index("Model, for planning only") < printed.index("Cautions")
    for word in ("recommend", "best", "safe", "should be set"):
        assert word not in printed.lower()


def test_the_typed_text_stays() -> None:
    row = here("voltage", "--thickness", "31,5 mil", "--rule", "SP0274/um", "--json").json["rules"][0]
    assert row["thickness"] == "31,5 mil"
    assert row["thickness_um"] == pytest.approx(800.1)


def test_an_edition_is_named_after_a_colon() -> None:
    row = here("voltage", "--thickness", "800 um", "--rule", "SP0274/mil:2011", "--json").json["rules"][0]
    assert row["edition"] == "2011"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "--thickness"),
        (("--thickness", "-5 um"), "--thickness"),
        (("--thickness", "0 um"), "more than 0"),
        (("--thickness", "nan um"), "--thickness"),
        (("--thickness", "1e400 um"), "--thickness"),
        (("--thickness", "500"), "unit"),
        (("--thickness", "500 V/um"), "length"),
        (("--thickness", "3 m"), "at most 50 mm"),
        (("--thickness", "800 um", "--rule", "SP0275"), "SP0274"),
        (("--thickness", "800 um", "--rule", "SP0274/mil:1999"), "1974"),
        (("--min", "900 um", "--max", "800 um"), "--min"),
        (("--thickness", "800 um", "--substrate", "wood"), "metal or concrete"),
        (("--thickness", "800 um", "--immersed", "perhaps"), "yes or no"),
        (("--thickness", "800 um", "--pressure", "950 hPa", "--altitude", "500 m"), "one of --pressure and --altitude"),
        (("--thickness", "800 um", "--pressure", "3 hPa"), "pressure"),
        (("--thickness", "800 um", "--altitude", "99 km"), "altitude"),
        (("--thickness", "800 um", "--voltage", "500 V/mil"), "--voltage"),
        (("--thickness", "800 um", "--voltage", "0 V"), "more than 0"),
        (("--thickness", "800 um", "--strength", "16 kV/mm"), "none has a default"),
        (
            (
                "--thickness", "800 um", "--strength", "16 kV/mm", "--strength-at", "1 mm", "--exponent", "2", "--share", "50 %",
                "--strength-source", "data sheet, page 2",
            ),
            "exponent",
        ),
    ],
)  # fmt: skip
def test_bad_input_is_refused(words: tuple[str, ...], says: str) -> None:
    done = here("voltage", *words)
    assert done.code == 2
    assert says in done.err
    assert done.out == ""


def test_volts_per_mil_cannot_pass_for_volts_per_micrometre() -> None:
    """500 V/mil is 19.685 kV/mm; 500 V/um would be 500 kV/mm."""
    more = ("--strength-at", "1 mm", "--exponent", "0", "--share", "100 %", "--strength-source", "data sheet, page 2", "--json")
    mil = here("voltage", "--thickness", "1 mm", "--strength", "500 V/mil", *more).json["note"]
    um = here("voltage", "--thickness", "1 mm", "--strength", "500 V/um", *more).json["note"]
    assert mil["ceiling_v"] == 19685
    assert um["ceiling_v"] == 500000


def test_a_ceiling_stands_only_on_all_five_figures() -> None:
    sheet = here(
        "voltage", "--min", "0.3 mm", "--max", "0.5 mm", "--strength", "15 kV/mm", "--strength-at", "1 mm", "--exponent", "0", "--share",
        "50 %", "--strength-source", "data sheet, page 2", "--voltage", "2.5 kV", "--json",
    ).json  # fmt: skip
    assert sheet["note"]["ceiling_v"] == 2250
    assert "ceiling_v" not in here(*SIX, "--json").json["note"]


def test_thin_air() -> None:
    note = here("voltage", "--thickness", "0.5 mm", "--altitude", "2000 m", "--voltage", "2.5 kV", "--json").json["note"]
    assert note["jump_gap_mm"]["2500"] == pytest.approx(0.56, abs=0.005)
    assert "relative density 0.785" in note["air"]


def test_it_loads_nothing_heavy() -> None:
    """The start-up budget: no numpy, scipy, geometry or database on this path."""
    code = (
        "import sys\nfrom wholefilm.cli.main import run\nsys.argv = ['wholefilm', 'voltage', '--thickness', '812 um']\n"
        "try:\n    run()\nexcept SystemExit:\n    pass\n"
        "print([m for m in ('numpy', 'scipy', 'shapely', 'sqlalchemy', 'fastapi') if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stderr.strip() == "[]"
