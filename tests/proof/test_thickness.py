"""Film thickness of a job against whichever rule it names: readings by file and by hand, how many are due, what is printed."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from proof.builder import PEOPLE, Book, findings
from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Finding
from wholefilm.proof.requirements import FORMS, read_rule
from wholefilm.sheets.readings import ThicknessRow, readings_sheet

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "requirements.md"
SPOTS: dict[str, Any] = {
    "form": "spot_and_area", "classes": ["flat"], "min": "600 um", "max": "1000 um", "spot_min": "80 %", "spot_max": "120 %",
    "area_min": "100 %", "area_max": "100 %", "readings_a_spot": 3, "spots_an_area": 5,
}  # fmt: skip
NOMINAL: dict[str, Any] = {"form": "nominal_share", "classes": ["flat"], "nominal": "700 um", "floor": "80 %", "low_share": "20 %"}
SHARE: dict[str, Any] = {"form": "share_floor", "classes": ["flat"], "nominal": "700 um", "share": "90 %", "floor": "90 %"}


def book(rule: dict[str, Any], **more: Any) -> Book:
    """A job with one clause about film thickness, for test area F."""
    made = Book(ready=False)
    made.require("3.1", rule, applies_to=["F"], **more)
    return made


def load(made: Book, rows: list[tuple[float, str]], class_: str = "flat") -> str:
    """A file of readings of test area F: value [um] and name of spot."""
    text = "area,class,dft,spot\n" + "".join(f"F,{class_},{value},{spot}\n" for value, spot in rows)
    columns = {"test_area": "area", "class": "class", "value": "dft", "spot": "spot"}
    blob = made.keep(text.encode())
    return made.write("readings.loaded", "2 08:00", blob=blob, columns=columns, units={"value": "um"}, rows=len(rows), about="gauge")


def hand(made: Book, *values: str, x: str = "0.5 m", **more: Any) -> str:
    """A spot read by hand on the floor."""
    place = {"on": "floor", "x": x, "y": "0.5 m"}
    return made.write("thickness.read", "2 09:00", place=place, values=list(values), gauge="G1", **{"class": "flat"}, **more)


def finding(made: Book) -> Finding:
    return next(f for f in made.stand().findings if f.rule.clause == "3.1")


def row(made: Book) -> ThicknessRow:
    return readings_sheet(made.stand()).thickness[0]


def test_spots_are_made_of_readings_by_their_names() -> None:
    """A reading of 400 um in a spot with a mean of 700 um is not judged (PA 2 3.2: single readings are not restricted)."""
    rows = [(400.0, "1"), (850.0, "1"), (850.0, "1")] + [(700.0, str(n // 3 + 2)) for n in range(12)]
    made = book(SPOTS)
    load(made, rows)
    got = finding(made)
    assert (got.finding.value, got.limit) == (
        "met", "spots at least 480 um and at most 1200 um, mean of an area at least 600 um and at most 1000 um, on flat",
    )  # fmt: skip
    short = book(SPOTS)
    load(short, rows[:-1])
    assert finding(short).finding.value == "cannot_tell"
    assert "1 spot with fewer than 3 readings" in finding(short).because


def test_spots_read_by_hand_are_spots() -> None:
    made = book(SPOTS)
    for n in range(5):
        hand(made, "650 um", "660 um", "670 um", x=f"0.{n + 1} m")
    assert finding(made).finding.value == "met"
    assert "15 readings, 5 spots, 1 area" in finding(made).value


def test_how_many_are_due_follows_from_the_size_of_the_test_area() -> None:
    """The row for the size of F is typed so that it asks for 9 more than there are; without it the readings are enough."""
    due = {"form": "readings", "grade": "entered", "rows": [{"up_to": "1000 m2", "readings": 14}]}
    made = book(NOMINAL | {"due": due})
    load(made, [(750.0, "")] * 5)
    assert finding(made).finding.value == "cannot_tell"
    assert "5 of 14 readings" in finding(made).because
    assert (row(made).due, row(made).rule, row(made).finding) == ("14 readings", "SM-1 3.1", "cannot tell")
    enough = book(NOMINAL)
    load(enough, [(750.0, "")] * 5)
    assert finding(enough).finding.value == "met"
    assert (row(enough).mean_um, row(enough).sd_um, row(enough).spots, row(enough).finding) == ("750", "0", 5, "met")


def test_a_disputed_share_is_cannot_tell_until_the_requirement_decides() -> None:
    """2 of 20 low at 90/10 (PSPC-01 of the case table, scaled)."""
    rows = [(690.0, ""), (690.0, "")] + [(750.0, "")] * 18
    for strict, outcome in ((None, "cannot_tell"), (True, "not_met"), (False, "met")):
        made = book(SHARE | ({} if strict is None else {"strict": strict}))
        load(made, rows)
        assert finding(made).finding.value == outcome


def test_a_rule_from_memory_is_held_against_nothing_until_confirmed() -> None:
    made = Book(ready=False)
    noted = made.require("3.1", SHARE, grade="memory", applies_to=["F"])
    load(made, [(750.0, "")] * 5)
    assert finding(made).finding.value == "cannot_tell"
    assert "confirmed from an own copy" in finding(made).because
    confirmed = {"page": "7", "who": "Ada", "when": "2025-03-01"}
    made.write(
        "requirement.decided", "2 10:00", topic="thickness", noted=noted, rule=SHARE, decided_by=PEOPLE["qa"], reason="own copy read",
        confirmed=confirmed,
    )  # fmt: skip
    assert finding(made).finding.value == "met"


def test_a_reading_corrected_when_made_is_not_corrected_again() -> None:
    made = book(NOMINAL | {"correction": "25 um"})
    for n in range(5):
        hand(made, "750 um", x=f"0.{n + 1} m", correction="25 um")
    assert finding(made).finding.value == "cannot_tell"
    assert "never both" in finding(made).because
    once = book(NOMINAL | {"correction": "25 um"})
    for n in range(5):
        hand(once, "725 um", x=f"0.{n + 1} m")
    assert finding(once).finding.value == "met"


def test_rows_set_aside_and_other_classes_do_not_count() -> None:
    made = book(NOMINAL)
    loaded = load(made, [(750.0, "")] * 5 + [(100.0, "")])
    load(made, [(100.0, "")], class_="edge")
    assert finding(made).finding.value == "not_met"
    made.write("rows.set_aside", "2 11:00", of=loaded, rows=[7], reason="probe on the seam")
    assert finding(made).finding.value == "met"


def test_one_test_area_may_have_its_own_rule() -> None:
    made = Book(ready=False)
    made.require("3.1", SHARE, applies_to=["F"])
    made.require("3.2", NOMINAL | {"nominal": "900 um"}, applies_to=["S1"])
    load(made, [(750.0, "")] * 5)
    standing = made.stand()
    assert findings(standing, "3.1") == ["met"]
    assert findings(standing, "3.2") == ["cannot_tell"]
    assert readings_sheet(standing).thickness[0].rule == "SM-1 3.1"


def test_uncertainty_reaches_the_finding_as_a_flag() -> None:
    made = book(NOMINAL | {"gauge_uncertainty": "3 %"})
    load(made, [(710.0, "")] * 5)
    assert (finding(made).finding.value, finding(made).inside_uncertainty) == ("met", True)


def test_a_test_before_the_film_was_read_was_not_ready() -> None:
    made = Book().usual()
    made.require("3.1", SHARE, applies_to=["F"])
    made.check("3 07:30")
    made.test("F-1", "3 08:00", "3 08:20")
    needs = [u for p in made.stand().panels for t in p.tests for u in t.unmet if u.need == "thickness"]
    assert [u.says for u in needs] == ["film thickness of F: no reading of these classes"]


@pytest.mark.parametrize("text", re.findall(r"```json\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL))
def test_the_examples_of_the_documentation_are_read(text: str) -> None:
    for one in re.split(r"\n(?=\{)", text.strip()):
        assert isinstance(read_rule(json.loads(one)), FORMS)


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        (SPOTS | {"spot_min": "80"}, "rule.spot_min"),
        (SPOTS | {"single": "800 um"}, "rule.single"),
        ({k: v for k, v in SPOTS.items() if k != "spot_min"}, "rule"),
        (NOMINAL | {"correction": "25 um", "base_metal": "5 um"}, "rule.correction"),
        (NOMINAL | {"colour": "red"}, "rule"),
        (SHARE | {"share": "0 %"}, "rule.share"),
        (SHARE | {"due": {"form": "rate", "one_per": "5 m2"}}, "rule"),
        (SHARE | {"strict": "yes"}, "rule"),
        ({"form": "thickness_range", "classes": ["flat"], "min": "9 um", "max": "3 um"}, "rule.max"),
    ],
)
def test_a_rule_that_makes_no_sense_is_refused_by_field(rule: dict[str, Any], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_rule(rule)
    assert caught.value.field.startswith(field)


def test_each_class_is_told_by_itself_where_a_rule_judges_several_together() -> None:
    """Flat film between the bounds and one weld spot under them: the flat readings alone do not fail."""
    made = book({"form": "thickness_range", "classes": ["flat", "weld"], "min": "600 um", "max": "1000 um"})
    load(made, [(700.0, "")] * 3)
    load(made, [(700.0, ""), (550.0, "")], class_="weld")
    flat, weld = readings_sheet(made.stand()).thickness
    assert flat.finding == "met on flat; not met on flat and weld together"
    assert weld.finding == "not met on weld; not met on flat and weld together"
    assert flat.because == "flat: all 3 spots inside; flat and weld together: 1 under 600 um"
    one = book({"form": "thickness_range", "classes": ["flat", "weld"], "min": "600 um", "max": "1000 um"})
    load(one, [(700.0, "")] * 3)
    assert row(one).finding == "met"


@pytest.mark.parametrize(("told", "expected"), [(True, "not_met"), (False, "met")])
def test_measured_areas_are_told_by_a_column_and_not_by_order(told: bool, expected: str) -> None:
    """Spots of A (640 um) and B (580 um) read in turn. By hand: B alone has a mean of 580 um, under 600 um.

    In the order of the file, five by five: (3 x 640 + 2 x 580) / 5 = 616 um and (3 x 580 + 2 x 640) / 5 = 604 um.
    """
    made = book(SPOTS | {"readings_a_spot": 1})
    text = "area,class,dft,part\n" + "F,flat,640,A\nF,flat,580,B\n" * 5
    columns = {"test_area": "area", "class": "class", "value": "dft"} | ({"measured_area": "part"} if told else {})
    blob = made.keep(text.encode())
    made.write("readings.loaded", "2 08:00", blob=blob, columns=columns, units={"value": "um"}, rows=10, about="gauge")
    got = finding(made)
    assert got.finding.value == expected
    assert ("area B 580 um" in got.because) is told
