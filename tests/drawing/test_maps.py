"""Maps: what is drawn for what is recorded. Counts are typed from the story of the demo job, a scenario of our own."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from itertools import combinations

import pytest
import typst

from wholefilm.base.errors import BadInput
from wholefilm.drawing.boxes import Box, Taken
from wholefilm.drawing.labels import mark_boxes, place_labels
from wholefilm.drawing.maps import describe, draw_part, legend, part_plate, swatch
from wholefilm.drawing.numbers import range_label
from wholefilm.drawing.papers import PAPERS
from wholefilm.drawing.plate import furniture
from wholefilm.proof.states import Standing
from wholefilm.sheets.maps import MapMark, PartMap, maps_sheet

DAY2 = "2025-06-03T20:00"
SVG = "{http://www.w3.org/2000/svg}"
SIZES = [(1000.0, 1), (350.0, 2), (620.0, 1)]


def count(svgs: list[str], word: str) -> int:
    return sum(len(re.findall(rf'class="[^"]*\b{word}(?![\w-])', svg)) for svg in svgs)


def test_day_two_holds_40_rings_3_crosses_33_panels_12_in_doubt(standing_at: Callable[[str], Standing]) -> None:
    """24 shell panels, 4 of the floor, 4 of the roof, 1 column; S3 and S4 (12 panels) fell with the end check of 16:55."""
    svgs = [draw_part(m) for m in maps_sheet(standing_at(DAY2)).maps]
    assert len(svgs) == 4
    assert count(svgs, "wf-mark-holiday") == 40
    assert count(svgs, "wf-mark-false") == 3
    assert count(svgs, "wf-panel") == 33
    assert count(svgs, "wf-doubt") == 12
    assert count(svgs, "wf-checked") == 21
    assert count(svgs, "wf-mark-closed") == count(svgs, "wf-mark-repaired") == 0


def test_at_the_end_42_discs_and_3_crosses(standing_at: Callable[[str], Standing]) -> None:
    svgs = [draw_part(m) for m in maps_sheet(standing_at("")).maps]
    assert (count(svgs, "wf-mark-closed"), count(svgs, "wf-mark-false"), count(svgs, "wf-mark-holiday")) == (42, 3, 0)
    assert (count(svgs, "wf-panel"), count(svgs, "wf-doubt")) == (33, 0)


@pytest.mark.parametrize(("time", "kind"), [("2025-06-10T12:00", "indication"), ("2025-06-10T20:00", "retest"), ("", "retest")])
def test_indications_of_the_failed_retest_stay_on_the_map(standing_at: Callable[[str], Standing], time: str, kind: str) -> None:
    """The story: R-01 sparked twice at its first retest on 10 June, D17 on S2-3 and D18 on S2-4; prepared and coated again by 18:00."""
    shell = maps_sheet(standing_at(time)).maps[0]
    assert [(m.number, m.kind) for m in shell.marks if m.number in ("D17", "D18")] == [("D17", kind), ("D18", kind)]
    assert count([draw_part(shell)], f"wf-mark-{kind}") == 2
    said = " ".join(label.words for label in place_labels(shell, part_plate(shell, 1000, 1), Taken()))
    assert "D17" in said
    assert "D18" in said
    if kind == "retest":
        assert "2 retest indications" in describe(shell)
        assert ("retest", "filled triangle: indication of a retest; its repair was done again") in legend([shell])


@pytest.mark.parametrize(("width", "rows"), [(1000.0, 1), (690.0, 2), (350.0, 2)])
def test_every_opening_has_its_name_beside_it_or_a_leader(standing_at: Callable[[str], Standing], width: float, rows: int) -> None:
    """N2 stands among B14, B15 and B16; crowded names come last, with a leader."""
    shell = maps_sheet(standing_at("")).maps[0]
    plate, taken = part_plate(shell, width, rows), Taken()
    furniture(shell, plate, taken)
    names = {label.words for label in place_labels(shell, plate, taken) if label.kind == "name"}
    assert {"M1", "M2", "N1", "N2", "N3", "N4"} <= names


def test_day_one_leaves_the_shell_above_course_one_bare(standing_at: Callable[[str], Standing]) -> None:
    """11 tests on day 1: floor 4, S1 6, column 1. The other 22 panels are bare paper."""
    svgs = [draw_part(m) for m in maps_sheet(standing_at("2025-06-02T20:00")).maps]
    assert (count(svgs, "wf-checked"), count(svgs, "wf-not_yet")) == (11, 22)


@pytest.mark.parametrize(("width", "rows"), SIZES)
@pytest.mark.parametrize("paper", list(PAPERS))
def test_same_bytes_and_whole_xml(standing_at: Callable[[str], Standing], paper: str, width: float, rows: int) -> None:
    for part in maps_sheet(standing_at(DAY2)).maps:
        first, second = (draw_part(part, paper=paper, width=width, rows=rows) for _ in range(2))
        assert first.encode() == second.encode()
        root = ET.fromstring(first)
        assert root.get("role") == "img"
        assert root.get("aria-label")
        assert root.find(f"{SVG}title") is not None
        assert root.find(f"{SVG}desc") is not None
        assert not re.search(r"\b(nan|NaN|inf|None)\b", first)
        assert "var(" not in first
        assert PAPERS[paper]["ink"] in first


@pytest.mark.parametrize(("width", "rows"), SIZES)
@pytest.mark.parametrize("time", ["2025-06-02T20:00", DAY2, "2025-06-05T20:00", ""])
def test_no_label_meets_a_label_or_a_mark(standing_at: Callable[[str], Standing], time: str, width: float, rows: int) -> None:
    for part in maps_sheet(standing_at(time)).maps:
        plate, taken = part_plate(part, width, rows), Taken()
        furniture(part, plate, taken)
        placed = place_labels(part, plate, taken)
        sheet = Box(0.0, 0.0, plate.width, plate.height)
        assert all(label.box.within(sheet) for label in placed)
        assert not [(a.words, b.words) for a, b in combinations(placed, 2) if a.box.meets(b.box)]
        marks = mark_boxes(part, plate)
        assert not [label.words for label in placed if any(label.box.meets(m) for m in marks)]


@pytest.mark.parametrize(("width", "rows"), [(1000.0, 1), (350.0, 2)])
def test_every_mark_on_the_shell_has_its_number(standing_at: Callable[[str], Standing], width: float, rows: int) -> None:
    """33 holidays lie on the shell at the end of day 2: 9 on S1, 11 on S2, 11 on S3, 2 on S4; with 3 false ones 36."""
    shell = maps_sheet(standing_at(DAY2)).maps[0]
    plate = part_plate(shell, width, rows)
    said = [label.words for label in place_labels(shell, plate, Taken()) if label.kind == "label"]
    numbers: set[str] = set()
    for words in said:
        for piece in words.split(", "):
            ends = re.findall(r"([A-Z])(\d+)", piece)
            numbers |= {f"{ends[0][0]}{k}" for k in range(int(ends[0][1]), int(ends[-1][1]) + 1)}
    assert len(numbers) == 36
    assert {"B8", "B29", "D1", "D11", "D12", "D13", "D14", "B17", "B18"} <= numbers


def test_a_panel_through_zero_is_named_once_at_its_middle(standing_at: Callable[[str], Standing]) -> None:
    """S1-6 runs from 315 deg to 15 deg, so its middle lies at 345 deg; S4-1 from 340 to 40, at 10 deg."""
    shell = maps_sheet(standing_at(DAY2)).maps[0]
    plate = part_plate(shell, 1000, 1)
    placed = {label.words: label for label in place_labels(shell, plate, Taken(), marks=False) if label.kind == "name"}
    for name, degrees in (("S1-6", 345), ("S4-1", 10)):
        box = placed[name].box
        middle = plate.at(degrees / 360 * 37.699, 1.0)[0]
        assert abs((box.x0 + box.x1) / 2 - middle) < 30
    svg = draw_part(shell)
    assert svg.count(">S1-6</text>") == 1
    drawn = re.search(r'd="([^"]+)"><title>S1-6', svg)
    assert drawn is not None
    assert drawn[1].count("M") == 2


def test_every_state_is_told_by_hatch_and_shape(every_state: PartMap) -> None:
    svg = draw_part(every_state)
    for state in ("checked", "awaiting", "doubt"):
        assert re.search(rf'fill="url\(#[\w-]+-{state}\)"', svg)
    for word in ("wf-not_reached", "wf-not_in_scope", "wf-not_yet"):
        assert count([svg], word) == 1
    for kind in ("indication", "holiday", "repaired", "closed", "false", "retest"):
        assert count([svg], f"wf-mark-{kind}") == 1
    assert "not reached" in svg
    assert "no &lt;scaffold&gt; &amp; rope" in svg
    assert "<developed>" not in svg
    assert [key for key, _ in legend([every_state])] == [
        "checked", "awaiting", "doubt", "not_reached", "not_in_scope", "not_yet",
        "indication", "holiday", "repaired", "closed", "false", "retest", "repair",
    ]  # fmt: skip
    assert "1 panel not reached" in describe(every_state)
    assert "1 false indication" in describe(every_state)
    for key, _ in legend([every_state]):
        ET.fromstring(swatch(key))


def test_two_rows_split_at_180_degrees(every_state: PartMap) -> None:
    svg = draw_part(every_state, width=350, rows=2)
    assert svg.count(">180°</text>") == 2
    assert svg.count('class="wf-frame"') == 2


def test_on_a_page_colours_come_from_the_page(every_state: PartMap) -> None:
    svg = draw_part(every_state, standalone=False)
    assert "<style" not in svg
    assert not re.search(r"#[0-9a-f]{6}\b", re.sub(r"url\(#[^)]*\)|id=\"[^\"]*\"", "", svg))


def test_ids_of_two_drawings_differ(every_state: PartMap) -> None:
    ids = [re.findall(r'id="([^"]+)"', draw_part(every_state, width=w, rows=r)) for w, r in ((1000, 1), (350, 2))]
    assert ids[0]
    assert not set(ids[0]) & set(ids[1])


def test_nothing_entered_yet() -> None:
    part = PartMap("I1", "floor", "disc", "Floor", 0.0, 0.0, 1.0, 0.0, 1.0, [], [], [], [], [])
    assert "nothing recorded" in draw_part(part)


def test_ten_thousand_marks_stay_quick_and_clear(every_state: PartMap) -> None:
    marks = [MapMark("holiday", f"Z{k}", (k * 7919 % 20000) / 1000, (k * 104729 % 4000) / 1000) for k in range(10_000)]
    import msgspec

    svg = draw_part(msgspec.structs.replace(every_state, marks=marks))
    assert count([svg], "wf-mark-holiday") == 10_000


def test_the_pdf_engine_draws_it(standing_at: Callable[[str], Standing], tmp_path: object) -> None:
    """Hatch and ink reach the page: the rendered picture has the hatch colour of the paper and its ink."""
    import io
    from pathlib import Path

    from PIL import Image

    assert isinstance(tmp_path, Path)
    (tmp_path / "map.svg").write_text(draw_part(maps_sheet(standing_at(DAY2)).maps[0]), encoding="utf-8")
    (tmp_path / "t.typ").write_text('#set page(width: auto, height: auto, margin: 0pt)\n#image("map.svg")', encoding="utf-8")
    picture = Image.open(io.BytesIO(typst.compile(str(tmp_path / "t.typ"), format="png", ppi=144.0))).convert("RGB")
    pixels = picture.getcolors(1 << 24) or []
    dark = sum(n for n, c in pixels if isinstance(c, tuple) and sum(c) < 150)
    amber = sum(n for n, c in pixels if isinstance(c, tuple) and c[0] > c[2] + 60)
    assert dark > 2000
    assert amber > 2000


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (["B19", "B20", "B21", "B22"], "B19–B22"),
        (["B18", "B17"], "B17, B18"),
        (["B9", "B10", "B11"], "B9–B11"),
        (["B1", "B3", "B5", "B7", "B9"], "B1, B3 + 3 more"),
        (["B2", "D1", "B1", "B3"], "B1–B3, D1"),
        (["x"], "x"),
        ([], ""),
    ],
)
def test_range_label(given: list[str], words: str) -> None:
    assert range_label(given) == words


@pytest.mark.parametrize(("field", "value"), [("paper", "blue"), ("width", 3.0), ("rows", 9)])
def test_what_is_not_allowed_is_named(every_state: PartMap, field: str, value: object) -> None:
    with pytest.raises(BadInput) as told:
        draw_part(every_state, **{field: value})  # type: ignore[arg-type]
    assert told.value.field == field
    assert told.value.allowed
