"""The search about a nonconforming spot. SSPC-PA 2, 2012, 8.2.4: 1.5 m steps and two conforming spots end a line (read); eight
directions and the radius of 1.5 m from memory. Places by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from desk import installed

WORDS = ("--rule", "SSPC-PA2/um", "--edition", "2012", "--from", "2.0 m, 3.0 m", "--min", "600 um")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "spots.csv"
    path.write_text("x,y,value\n")
    return path


def test_at_first_each_direction_asks_for_a_spot_1_5_m_out(file: Path) -> None:
    done = installed("extent", str(file), *WORDS, "--json")
    assert done.code == 3
    spots = done.json["spots"]
    assert [s["state"] for s in spots] == ["next"] * 8
    assert (spots[0]["first"], spots[0]["second"]) == pytest.approx((3.5, 3.0))
    assert (spots[2]["first"], spots[2]["second"]) == pytest.approx((2.0, 4.5))


def test_a_line_ends_after_two_conforming_spots_and_one_before_a_bad_spot_is_suspect(file: Path) -> None:
    file.write_text("x,y,value\n3.5,3.0,640\n5.0,3.0,590\n6.5,3.0,600\n8.0,3.0,700\n2.0,4.5,\n")
    done = installed("extent", str(file), *WORDS, "--json")
    first = [s["state"] for s in done.json["spots"] if s["direction"] == 0]
    assert first == ["suspect", "nonconforming", "conforming", "conforming"]
    assert [s["state"] for s in done.json["spots"] if s["direction"] == 2] == ["not_measurable"]
    assert done.json["nonconforming"] == [[2.0, 3.0], pytest.approx([5.0, 3.0])]
    said = installed("extent", str(file), *WORDS).out
    assert "measure next at 6 places; inspect 1 again after the repair." in said
    assert "for comparison until you confirm it" in said


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--rule", "ISO-19840", "--from", "2 m, 3 m", "--min", "600 um"), "SSPC-PA2/um"),
        (("--rule", "SSPC-PA2/um", "--edition", "2012", "--from", "2 m", "--min", "600 um"), "two lengths on the map"),
        (("--rule", "SSPC-PA2/um", "--edition", "2012", "--from", "2 m, 3 m"), "--min"),
    ],
)
def test_what_is_missing_is_named(file: Path, words: tuple[str, ...], says: str) -> None:
    done = installed("extent", str(file), *words)
    assert done.code == 2
    assert says in done.err


def test_a_start_that_was_read_inside_the_limits_is_refused(file: Path) -> None:
    file.write_text("x,y,value\n2.0,3.0,700\n")
    done = installed("extent", str(file), *WORDS)
    assert done.code == 2
    assert "where 700 um was read" in done.err
    file.write_text("x,y,value\n2.0,3.0,590\n")
    assert installed("extent", str(file), *WORDS, "--json").json["nonconforming"] == [[2.0, 3.0]]
