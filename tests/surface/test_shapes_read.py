"""Bodies of pipes, cans, floors and vessels: what is refused and how; long strings; the command's service."""

import subprocess
import sys
import time
from typing import Any

import pytest
from surface_shapes import cans, floor, item, joints, vessel

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.services.surface import shapes, work_out
from wholefilm.surface import read_item

BOW = [["0 m", "0 m"], ["1 m", "1 m"], ["1 m", "0 m"], ["0 m", "2 m"]]
CUT_OUT = [["1 m", "1 m"], ["2 m", "1 m"], ["2 m", "2 m"]]


@pytest.mark.parametrize(
    ("body", "field", "allowed"),
    [
        (joints(groups=[]), "dimensions.groups", "1 to 5000 joints"),
        (joints(groups=[{"name": "a", "first": "J-1", "last": "K-9"}]), "dimensions.groups[1].last", "another number at its end"),
        (joints(groups=[{"name": "a", "first": "J-9", "last": "J-1"}]), "dimensions.groups[1].last", "a number after"),
        (joints(groups=[{"name": "a", "first": "J-1", "last": "J-9"}] * 2), "dimensions.groups[2].name", "no other group"),
        (
            joints(groups=[{"name": "a", "first": "J-1", "last": "J-9"}, {"name": "b", "first": "J-9"}]),
            "dimensions.groups[2].first",
            "named once",
        ),
        (joints(band="0 m"), "dimensions.band", "above 0"),
        (joints(spacing="0.2 m"), "dimensions.spacing", "at least the band"),
        (joints(first_kp="3.1"), "dimensions.first_kp", "'KP 12.345'"),
        ({**cans(), "test_areas": [{"on": "cans", "each": "yes"}]}, "test_areas[1].each", "true or false"),
        ({**cans(), "test_areas": [{"name": "P-01", "on": "P-01", "each": True}]}, "test_areas[1].each", "only for a group"),
        ({**cans(), "test_areas": [{"name": "A", "on": "tins"}]}, "test_areas[1].on", "P-01"),
        (floor(bays={"columns": 0, "rows": 4}), "dimensions.bays.columns", "1 to 26"),
        (floor(bays={"columns": ["3 m", "4 m"], "rows": 4}), "dimensions.bays.columns", "add up to 18.000 m"),
        (floor(joints=[{"name": "SJ", "x": "19 m"}]), "dimensions.joints[1].x", "0.00 m to 18.00 m"),
        (floor(joints=[{"name": "SJ"}]), "dimensions.joints[1].x", "one of 'x'"),
        (
            floor(plinths=[{"name": "P", "at": ["17 m", "4 m"], "length": "2 m", "width": "1 m", "height": "0.3 m"}]),
            "dimensions.plinths[1].at",
            "lies on the floor",
        ),
        (
            floor(plinths=[{"name": "P", "at": ["16 m", "1 m"], "length": "1 m", "width": "1 m", "height": "0.3 m"}]),
            "dimensions.plinths[1].at",
            "overlaps no other",
        ),
        (floor(corners=CUT_OUT), "dimensions.length", "not beside 'corners'"),
        (
            item(
                "floor",
                {"corners": [["0 m", "0 m"], ["1 m", "1 m"], ["1 m", "0 m"], ["0 m", "2 m"]]},
                [{"name": "F", "on": "floor"}],
                "bays",
            ),
            "dimensions.corners",
            "does not cross itself",
        ),
        (vessel(lifts=["1 m", "2 m"]), "dimensions.lifts", "add up to the shell, 4.800 m"),
        (vessel(laps=["90 deg", "90 deg"]), "dimensions.laps", "angles that differ"),
        (vessel(top_head={"kind": "flat"}), "dimensions.top_head.kind", "torispherical, din28011"),
        (vessel(top_head={"kind": "din28011", "crown": "2 m"}), "dimensions.top_head.crown", "only for a torispherical head"),
        (vessel(top_head={"kind": "torispherical", "crown": "1 m", "knuckle": "0.2 m"}), "dimensions.top_head.crown", "more than half"),
        (vessel(top_head={"kind": "torispherical", "crown": "2 m", "knuckle": "1.3 m"}), "dimensions.top_head.knuckle", "less than half"),
        (vessel(top_head={"kind": "cone"}), "dimensions.top_head.height", "one of 'height' and 'slope'"),
    ],
)
def test_bad_bodies(body: dict[str, Any], field: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_item(body)
    assert caught.value.field == field
    assert allowed in caught.value.allowed


@pytest.mark.parametrize(
    ("body", "line", "field", "allowed"),
    [
        (joints(), "J-004, 260 mm, 06:00", "place.along", "-250 mm to 250 mm on J-004"),
        (joints(), "J-004, 20 mm, 13:00", "place.clock", "00:00 to 12:00"),
        (joints(), "J-104, 20 mm, 01:00", "on", "J-048"),
        (joints(), "KP 9.999, 20 mm, 01:00", "on", "J-048"),
        (joints(), "KP 3.106, 20 mm, 01:00", "on", "J-048"),
        (cans(), "P-05, 2600 mm, 45 deg", "place.along", "0 mm to 2500 mm"),
        (floor(), "floor, x 18.20 m, y 1.00 m", "place.x", "x 0.00 m to 18.00 m"),
        (floor(), "SU, x 5.00 m, y 5.00 m, -0.10 m", "place.x", "within 50 mm of the SU"),
        (floor(), "SU, arc 1.00 m, 0.10 m", "place.z", "-0.90 m to 0.00 m"),
        (vessel(), "top head, 10 deg, 1.30 m from centre", "place.from_centre", "0 to 1.20 m"),
        (vessel(), "top head, 10 deg, 1.50 m from pole", "place.along", "0 to 1.37 m"),
        (vessel(), "N4, 250 mm, 01:00", "place.along", "0 mm to 200 mm"),
    ],
)
def test_bad_places(body: dict[str, Any], line: str, field: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_item(body).read_text(line)
    assert caught.value.field == field
    assert allowed in caught.value.allowed


def test_a_string_of_5000_joints_is_quick() -> None:
    """Read in under 2 s on a busy machine (0.1 s on a free one); a place is found by its joint's name and by its kilometre point."""
    start = time.perf_counter()
    surface = read_item(joints(last="J-5000"))
    assert time.perf_counter() - start < 2
    assert len(surface.panels) == 5000
    assert surface.total_m2 == pytest.approx(4790.93, abs=0.01)  # 5000 x 0.5 x pi x 0.610
    start = time.perf_counter()
    for n in range(1, 1001):
        assert surface.read_text(f"J-{5 * n:03d}, -40 mm, 06:00").panel == f"J-{5 * n:03d}"
    assert time.perf_counter() - start < 2
    assert surface.read_text("KP 64.088, 0 mm, 12:00").panel == "J-5000"  # 3.100 + 4999 x 0.0122 = 64.0878
    with pytest.raises(NotFound) as caught:
        surface.part("J-6000")
    assert len(str(caught.value)) < 300


def test_each_joint_a_test_area() -> None:
    surface = read_item({**joints(), "test_areas": [{"on": "joints", "each": True}]})
    assert len(surface.test_areas) == 48
    assert surface.area("J-019").area_m2 == surface.panel("J-019").area_m2


def test_listed_panels_on_other_shapes() -> None:
    """A floor in two listed halves, kerb and can in two: 99 m2, 13.05 m2 and 7.85 m2 each."""
    halves = [{"name": "W", "test_area": "F", "x": ["0 m", "9 m"]}, {"name": "E", "test_area": "F", "x": ["9 m", "18 m"]}]
    kerbs = [{"name": "KW", "test_area": "K", "arc": ["0 m", "29 m"]}, {"name": "KE", "test_area": "K", "arc": ["29 m", "58 m"]}]
    body = {
        **floor(plinths=[], sumps=[]),
        "test_areas": [{"name": "F", "on": "floor"}, {"name": "K", "on": "kerb"}],
        "panels": halves + kerbs,
    }
    assert [round(p.area_m2, 2) for p in read_item(body).panels] == [99.0, 99.0, 13.05, 13.05]
    with pytest.raises(BadInput, match="do not overlap"):
        read_item({**body, "panels": [{**halves[0], "x": ["1 m", "10 m"]}, halves[1], *kerbs]})
    with pytest.raises(BadInput, match="'x', 'y' for a panel on the floor"):
        read_item({**body, "panels": [{**halves[0], "at": ["0 deg", "10 deg"]}, halves[1], *kerbs]})
    two = [{"name": f"C{k}", "test_area": "C", "on": "P-01", "along": [f"{a} m", f"{a + 1.25} m"]} for k, a in enumerate((0, 1.25))]
    one_can = {**cans(), "test_areas": [{"name": "C", "on": "P-01"}], "panels": two}
    assert [round(p.area_m2, 2) for p in read_item(one_can).panels] == [7.85, 7.85]


@pytest.mark.parametrize(
    ("words", "field", "allowed"),
    [
        (["box"], "SHAPE", "one of pipe"),
        (["pipe", "diameter"], "KEY=VALUE", "an equals sign"),
        (["pipe", "diameter=1 m", "diameter=2 m"], "diameter", "each key once"),
        (["pipe", "diameter=1 m"], "length", "pipe needs diameter, length"),
        (["pipe", "diameter=1", "length=1 m"], "diameter", "with its unit"),
        (["pipe", "width=1 m"], "width", "diameter, length"),
        (["torispherical", "diameter=2.4 m", "crown=1 m", "knuckle=0.2 m"], "crown", "more than half"),
        (["vessel", "diameter=2 m", "shell=2 m", "head=box"], "head", "torispherical"),
        (["can", "diameter=2 m", "length=2 m", "cans=0"], "cans", "1 to 5000"),
        (["floor", "length=2 m", "width=2 m", "kerb=0 m"], "kerb", "above 0"),
        (["polygon", "corners=1 m"], "corners", "0 m, 0 m; 4 m, 0 m"),
        (["elbow", "diameter=1 m", "bend_radius=0.2 m", "angle=90 deg"], "bend_radius", "at least half"),
        (["flange_face", "outside=1 m", "bore=0.5 m", "bolts=4"], "bolt_hole", "both or neither"),
        (["i_section", "height=1 m", "width=0.1 m", "web=0.2 m", "root=0.1 m", "length=1 m"], "web", "at most the width"),
        (["hollow_section", "height=1 m", "width=0.1 m", "corner=0.2 m", "length=1 m"], "corner", "at most half"),
    ],
)
def test_bad_words(words: list[str], field: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        work_out(words[0], words[1:])
    assert caught.value.field == field
    assert allowed in caught.value.allowed


def test_the_answer() -> None:
    """5.70 m2, the area of a head by formula; the map of equal areas is a disc of sqrt(4 A / pi) = 2.6945 m."""
    answer = work_out("torispherical", ["diameter=2.4 m", "crown=2.4 m", "knuckle=0.24 m"])
    assert round(answer.area_m2, 2) == 5.70
    assert [(p.name, round(p.area_m2, 2)) for p in answer.parts] == [("head", 5.70)]
    assert answer.map is not None
    assert (answer.map.width_m, answer.map.height_m) == pytest.approx((2.6945, 2.6945), abs=5e-5)
    assert work_out("vessel", ["diameter=2.4 m", "shell=4.8 m", "head=din28013"]).formula.grade == "memory"
    assert work_out("elbow", ["diameter=0.3 m", "bend_radius=0.45 m", "angle=90 deg"]).map is None
    floor_map = work_out("floor", ["length=18 m", "width=11 m", "kerb=0.45 m"]).map
    assert floor_map is not None
    assert (floor_map.width_m, floor_map.height_m) == pytest.approx((18, 11))


def test_every_example_works_as_it_is_listed() -> None:
    for line in shapes():
        words = [w.replace('"', "") for w in line.example.split('" ')]
        first, _, rest = words[0].partition(" ")
        assert work_out(first, [rest, *words[1:]]).area_m2 > 0


def test_the_command_loads_no_geometry_library() -> None:
    code = (
        "import sys; from wholefilm.services.surface import work_out; work_out('ellipsoidal', ['diameter=2 m']);"
        "print([m for m in ('numpy', 'shapely', 'scipy') if m in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
