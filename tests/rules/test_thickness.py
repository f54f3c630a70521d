"""Rules for film thickness as data: read strictly, nothing without grade, figures typed a second time here."""

from __future__ import annotations

from typing import Any

import pytest

from wholefilm.base.errors import BadInput, NotFound, UnknownEdition
from wholefilm.base.sources import Grade
from wholefilm.rules.thickness import (
    Nominal,
    ShareAndFloor,
    SpotsAndAreas,
    load_thickness,
    read_thickness_rule,
    thickness_rule,
)


def test_what_is_on_the_shelf() -> None:
    assert set(load_thickness()) == {
        "AS-3894.3", "IMO-A798", "IMO-PSPC", "ISO-19840", "SHARE-FLOOR", "SSPC-PA2/mil", "SSPC-PA2/um", "SSPC-PA9",
    }  # fmt: skip


LEVELS = {  # level: spot least, spot most, area least, area most, grade; PA 2 2012 and later, restated for 3, else memory
    1: ("100 %", "100 %", "100 %", "100 %", "memory"),
    2: ("100 %", "120 %", "100 %", "100 %", "memory"),
    3: ("80 %", "120 %", "100 %", "100 %", "restated"),
    4: ("80 %", "150 %", "100 %", "100 %", "memory"),
    5: ("80 %", "none", "100 %", "none", "memory"),
}


@pytest.mark.parametrize("rule", ["SSPC-PA2/um", "SSPC-PA2/mil"])
def test_levels_of_pa_2(rule: str) -> None:
    found = thickness_rule(rule)
    for number, (*limits, grade) in LEVELS.items():
        for edition in ("2012", "2015", "2017", "2018"):
            level = found.level(edition, number)
            assert [level.spot_min, level.spot_max, level.area_min, level.area_max] == limits
            assert level.grade == grade
    assert found.level("2015", None).level == 3
    old = found.level("2004", None)
    assert (old.spot_min, old.spot_max, old.area_min, old.area_max, old.grade) == ("80 %", "120 %", "100 %", "100 %", "restated")
    for edition, number in (("2004", 3), ("2015", 0), ("2015", 6)):
        with pytest.raises(BadInput):
            found.level(edition, number)


def test_levels_of_pa_9() -> None:
    """Restated: 75 and 125 %, four levels, the second not read."""
    found = thickness_rule("SSPC-PA9")
    three, four, two = (found.level("2015", n) for n in (3, 4, 2))
    assert (three.spot_min, three.spot_max) == ("75 %", "125 %")
    assert (four.spot_min, four.spot_max) == ("75 %", "none")
    assert (two.spot_min, two.grade) == ("", None)
    assert found.level("2015", None).level == 3
    assert found.unread == ("level 2",)


def test_spots_and_areas_of_both() -> None:
    """Three readings a spot (PA 2 2012 3.1, 3.2; PA 9 2015, seen), five spots an area, single value 20 % (restated)."""
    for rule in ("SSPC-PA2/um", "SSPC-PA2/mil", "SSPC-PA9"):
        accept = thickness_rule(rule).accept
        assert isinstance(accept, SpotsAndAreas)
        assert (accept.readings_a_spot.value, accept.readings_a_spot.grade) == (3, Grade.SEEN)
        assert (accept.spots_an_area.value, accept.spots_an_area.grade) == (5, Grade.RESTATED)
    accept = thickness_rule("SSPC-PA2/um").accept
    assert isinstance(accept, SpotsAndAreas)
    assert accept.single_value is not None
    assert accept.single_value.value == "20 %"


def test_figures_of_nominal_rules() -> None:
    iso, pspc, a798 = (thickness_rule(x).accept for x in ("ISO-19840", "IMO-PSPC", "IMO-A798"))
    assert isinstance(iso, Nominal)
    assert isinstance(pspc, ShareAndFloor)
    assert isinstance(a798, ShareAndFloor)
    assert [f.value for f in (iso.mean, iso.floor, iso.low_share)] == ["100 %", "80 %", "20 %"]
    assert {k: (f.value, f.grade) for k, f in iso.corrections.items()} == {
        "fine": ("10 um", Grade.MEMORY), "medium": ("25 um", Grade.MEMORY), "coarse": ("40 um", Grade.MEMORY),
        "unknown": ("25 um", Grade.MEMORY),
    }  # fmt: skip
    assert iso.strict is None
    assert pspc.strict is None
    assert a798.strict is not None
    assert a798.strict.value is False
    for accept, figure, grade in ((pspc, "90 %", Grade.RESTATED), (a798, "80 %", Grade.SEEN)):
        for part in (accept.share, accept.floor):
            assert part is not None
            assert (part.value, part.grade) == (figure, grade)


def test_an_edition_is_asked_for_where_they_differ_and_an_unknown_one_refused() -> None:
    pa2, iso = thickness_rule("SSPC-PA2/um"), thickness_rule("ISO-19840")
    assert pa2.groups() == [("1996", "2002", "2004"), ("2012", "2015", "2017", "2018")]
    assert (pa2.edition("2015"), iso.edition(None), iso.edition("2012")) == ("2015", "2004; 2012", "2012")
    for rule, edition in ((pa2, None), (pa2, "2022"), (iso, "1999")):
        with pytest.raises(UnknownEdition):
            rule.edition(edition)
    with pytest.raises(NotFound, match="ISO-19840"):
        thickness_rule("ISO-19841")


def test_every_rule_describes_itself_with_grades() -> None:
    for rule in load_thickness().values():
        rows = rule.describe()
        assert ("id", rule.id) in rows
        assert all(text for _, text in rows)
    said = "\n".join(f"{a}: {b}" for a, b in thickness_rule("SSPC-PA9").describe())
    assert "not read: level 2: enter it from your own copy" in said
    assert "spot min 75 %, spot max 125 %, area min not known, area max not known [restated]" in said


GOOD: dict[str, Any] = {
    "id": "x", "title": "t", "document": "d", "written_for": "w", "says": "s", "editions": ["1"],
    "accept": {"form": "share_floor", "share": {"value": "90 %", "grade": "seen"}, "floor": {"value": "90 %", "grade": "seen"}},
}  # fmt: skip
SPOTS: dict[str, Any] = {
    "form": "spot_and_area", "readings_a_spot": {"value": 3, "grade": "seen"}, "spots_an_area": {"value": 5, "grade": "seen"},
    "levels": [{"level": 1, "spot_min": "80 %", "spot_max": "none", "area_min": "100 %", "area_max": "none", "grade": "seen"}],
}  # fmt: skip


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"colour": "red"}, "colour"),
        ({"editions": []}, "editions"),
        ({"editions": ["1", "1"]}, "editions"),
        ({"accept": {"form": "unknown"}}, "x"),
        ({"accept": {"form": "share_floor", "share": {"value": "90 %"}}}, "grade"),
        ({"accept": {"form": "share_floor", "share": {"value": "90", "grade": "seen"}}}, "share"),
        ({"accept": {"form": "share_floor", "share": {"value": "90 %", "grade": "guessed"}}}, "grade"),
        ({"accept": SPOTS | {"levels": [{"level": 1, "spot_min": "80 %", "grade": "seen"}]}}, "level 1"),
        ({"accept": SPOTS | {"levels": [SPOTS["levels"][0] | {"grade": None}]}}, "level"),
        ({"accept": SPOTS | {"levels": [SPOTS["levels"][0] | {"editions": ["2"]}]}}, "editions"),
        ({"accept": SPOTS | {"levels": [SPOTS["levels"][0] | {"spot_min": "much"}]}}, "spot_min"),
        ({"due": {"form": "rate", "one_per": "5 m2"}}, "grade"),
        ({"due": {"form": "rate", "one_per": "5 m", "grade": "seen"}}, "one_per"),
        ({"due": {"form": "rate", "one_per": "0 m2", "grade": "seen"}}, "one_per"),
        ({"due": {"form": "readings", "rows": [], "grade": "seen"}}, "rows"),
        ({"due": {"form": "readings", "rows": [{"up_to": "3 m2", "readings": 5}, {"up_to": "1 m2", "readings": 9}],
                  "grade": "seen"}}, "rows"),
        ({"due": {"form": "readings", "rows": [{"up_to": "3 m2", "readings": 5}], "then_each": "1 m2", "grade": "seen"}}, "then_each"),
        ({"due": {"form": "readings", "rows": [{"up_to": "3 m2", "readings": 5, "repeats": 1}], "grade": "seen"}}, "repeats_grade"),
        ({"due": {"form": "areas", "each": "10 m2", "all_up_to": "5 m2", "areas": 3, "up_to": "100 m2", "then_each": "100 m2",
                  "grade": "seen"}}, "up_to"),
    ],
)  # fmt: skip
def test_a_rule_that_is_not_whole_is_refused_by_field(change: dict[str, Any], says: str) -> None:
    assert read_thickness_rule(GOOD).id == "x"
    assert read_thickness_rule(GOOD | {"accept": SPOTS}).id == "x"
    with pytest.raises(BadInput) as caught:
        read_thickness_rule(GOOD | change)
    assert says in str(caught.value)
