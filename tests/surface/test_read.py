"""Bodies of items: what is read, what is refused and how."""

import copy
import subprocess
import sys
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from surface_tank import tank

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.surface import Surface, read_item

Body = Callable[..., dict[str, Any]]


def changed(path: str, value: object) -> dict[str, Any]:
    """The tank with one field replaced; None drops it."""
    body = copy.deepcopy(tank())
    *way, last = path.split("/")
    at: Any = body
    for step in way:
        at = at[int(step)] if step.isdigit() else at[step]
    key: Any = int(last) if last.isdigit() else last
    if value is None:
        del at[key]
    else:
        at[key] = value
    return body


@pytest.mark.parametrize(
    ("path", "value", "field", "shown", "allowed"),
    [
        ("shape", "bottle", "shape", "bottle", "one of tank"),
        ("shape", None, "shape", "nothing", "a text"),
        ("colour", "red", "colour", "red", "one of the fields"),
        ("dimensions/diameter", "12", "dimensions.diameter", "12", "with its unit"),
        ("dimensions/diameter", 12, "dimensions.diameter", "12", "a text with a number"),
        ("dimensions/diameter", "0 m", "dimensions.diameter", "0 m", "above 0"),
        ("dimensions/diameter", "9" * 400 + " m", "dimensions.diameter", "999", "at most 30 digits"),
        ("dimensions/diameter", None, "dimensions.diameter", "nothing", "unit of length"),
        ("dimensions/depth", "1 m", "dimensions.depth", "1 m", "diameter, courses"),
        ("dimensions/courses", [], "dimensions.courses", "[]", "at least one course"),
        ("dimensions/courses/1/name", "S1", "dimensions.courses", "S1", "a name of its own"),
        ("dimensions/courses/1/seams", "6", "dimensions.courses[2].seams", "6", "whole number from 0 to 400"),
        ("dimensions/courses/1/first_seam", "400 deg", "dimensions.courses[2].first_seam", "400 deg", "0 to 360 deg"),
        ("dimensions/roof/slope", "steep", "dimensions.roof.slope", "steep", "such as '1:6'"),
        ("dimensions/roof/slope", "1:0", "dimensions.roof.slope", "1:0", "such as '1:6'"),
        ("dimensions/columns/0/at", ["7 m", "0 m"], "dimensions.columns[1].at", "7 m", "within 5.85 m"),
        ("features/0/on", "wall", "features[1].on", "wall", "shell, floor, roof, column C"),
        ("features/2/pad_radius", "0.05 m", "features[3].pad_radius", "0.05 m", "more than"),
        ("features/2/z", None, "features[3].z", "nothing", "height of the centre"),
        ("features/1/name", "M1", "seams and features", "M1", "used once"),
        ("features/1/name", "G1", "seams and features", "G1", "used once"),
        ("features/1/name", "a, b", "features[2].name", "a, b", "letters, digits"),
        ("test_areas", [], "test_areas", "[]", "at least one"),
        ("test_areas/1/course", "S9", "test_areas[2].course", "S9", "S1, S2, S3, S4"),
        ("test_areas/0/course", "S1", "test_areas[1].course", "S1", "only a shell"),
        ("test_areas/1/name", "F", "test_areas", "F", "used once"),
        ("test_areas/1/course", None, "panels", "S2-1", "used once"),
        ("panels/rule", "by eye", "panels.rule", "by eye", "seams, courses and quadrants"),
        ("panels", "all", "panels", "all", "a list"),
        ("openings_deducted", None, "openings_deducted", "nothing", "true or false"),
        ("openings_deducted", "no", "openings_deducted", "no", "true or false"),
    ],
)
def test_bad_bodies(path: str, value: object, field: str, shown: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_item(changed(path, value))
    assert caught.value.field == field
    assert shown in str(caught.value.value)
    assert allowed in caught.value.allowed


def listed(**first: Any) -> dict[str, Any]:
    """The tank's floor alone, in two listed halves."""
    halves = [{"name": "FE", "test_area": "F", "at": ["0 deg", "180 deg"]}, {"name": "FW", "test_area": "F", "at": ["180 deg", "0 deg"]}]
    halves[0].update(first)
    return tank(test_areas=[{"name": "F", "on": "floor"}], panels=halves)


def test_listed_panels() -> None:
    surface = read_item(listed())
    assert [(p.name, round(p.area_m2, 2)) for p in surface.panels] == [("FE", 56.55), ("FW", 56.55)]
    assert surface.panel_at("floor", 1, 0) == "FE"
    assert surface.panel_at("floor", -1, 0) == "FW"
    assert surface.panel_at("floor", 0, 1) == "FE"
    with pytest.raises(BadInput, match="a place in one of the panels"):
        surface.read_place({"on": "shell", "at": "1 deg", "z": "1 m"})


@pytest.mark.parametrize(
    ("first", "allowed"),
    [
        ({"at": ["0 deg", "170 deg"]}, "fill the test area"),
        ({"at": ["10 deg", "190 deg"]}, "do not overlap"),
        ({"test_area": "G"}, "one of F"),
        ({"name": "FW"}, "used once"),
        ({"at": ["0 deg"]}, "two values"),
        ({"z": ["0 m", "1 m"]}, "'from_centre' for a panel on the floor"),
        ({"from_centre": ["0 m", "7 m"]}, "within 0.00 m to 6.00 m"),
    ],
)
def test_bad_listed_panels(first: dict[str, Any], allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_item(listed(**first))
    assert allowed in caught.value.allowed


def test_courses_of_other_heights_and_seams(body: Body) -> None:
    """Two courses, 2 m with one seam and 3 m with none: the upper panel goes all round. Areas by hand: 10 pi and 15 pi m2."""
    dimensions = {
        "diameter": "5 m",
        "courses": [{"name": "A", "height": "2 m", "first_seam": "90 deg", "seams": 1}, {"name": "B", "height": "3 m", "seams": 0}],
    }
    surface = read_item(body(dimensions=dimensions, features=[], test_areas=[{"name": "shell", "on": "shell"}]))
    assert [(p.name, round(p.area_m2, 2)) for p in surface.panels] == [("A-1", 31.42), ("B-1", 47.12)]
    assert [s.name for s in surface.seams] == ["V1-1", "G1"]
    assert surface.say_near("shell", 1.0, 4.0) is None


def test_openings_deducted(body: Body) -> None:
    """M2 lies in S1-3: 14.13717 - pi 0.3^2 (and 0.03 % for the curve) = 13.85434. N2: pi 0.1^2 = 0.03142 off S1-4."""
    surface = read_item(body(openings_deducted=True))
    assert surface.panel("S1-3").area_m2 == pytest.approx(13.85434, abs=1e-4)
    assert surface.panel("S1-4").area_m2 == pytest.approx(14.13717 - 0.03142, abs=1e-4)
    assert surface.total_m2 == pytest.approx(575.5290 - 2 * 0.28283 - 0.03142, abs=1e-3)
    across = changed("features/1/at", "195 deg")
    with pytest.raises(BadInput, match="within one panel"):
        read_item({**across, "openings_deducted": True})


def test_area_takes_either(surface: Surface) -> None:
    assert surface.area("S3").area_m2 == pytest.approx(84.823, abs=1e-3)
    assert surface.area("S3-4").area_m2 == pytest.approx(14.137, abs=1e-3)
    assert [p.name for p in surface.panels_of("R")] == ["R-1", "R-2", "R-3", "R-4"]
    for ask in (surface.area, surface.panel, surface.part):
        with pytest.raises(NotFound):
            ask("S9-9")


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=5),
        lambda s: st.lists(s, max_size=3) | st.dictionaries(st.text(max_size=5), s, max_size=3),
    ),
    st.sampled_from(
        [
            "dimensions",
            "features",
            "test_areas",
            "panels",
            "item",
            "datum",
            "dimensions/courses",
            "dimensions/roof",
            "dimensions/columns",
            "features/0",
            "dimensions/courses/0",
            "test_areas/0",
        ]
    ),
)
def test_anything_else_is_bad_input(value: object, path: str) -> None:
    """No JSON in any field ends otherwise than in a surface or in BadInput."""
    try:
        read_item(changed(path, value))
    except BadInput:
        return


def test_import_is_light() -> None:
    """The room loads neither numpy nor shapely until a footprint is asked for."""
    code = "import sys, wholefilm.surface; print([m for m in ('numpy', 'shapely', 'scipy') if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"


def test_numbers_in_names_sort_by_value() -> None:
    """Listed from last to first: on the line between P-9 and P-10, P-9 has it, though text would sort P-10 first."""
    halves = [{"name": "P-10", "test_area": "F", "at": ["0 deg", "180 deg"]}, {"name": "P-9", "test_area": "F", "at": ["180 deg", "0 deg"]}]
    surface = read_item(tank(test_areas=[{"name": "F", "on": "floor"}], panels=halves))
    assert surface.panels_holding("floor", 0, 1) == ["P-9", "P-10"]
    assert surface.panel_at("floor", 0, 1) == "P-9"
