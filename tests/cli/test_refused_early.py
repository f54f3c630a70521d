"""What would only be found out later is refused, or said, when it comes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cli import small_tank as tank
from cli.desk import Desk, here


def test_an_item_that_cannot_be_drawn_and_one_entered_twice(opened: Desk) -> None:
    body = opened.folder / "item2.json"
    body.write_text(json.dumps(tank.ITEM | {"item": "T8", "dimensions": tank.ITEM["dimensions"] | {"diameter": "3"}}))
    bad = tank.refuse(opened, "item.added", "--body", str(body))
    assert "dimensions.diameter: '3' is not accepted" in bad.err
    body.write_text(json.dumps(tank.ITEM))
    assert "a name that no item of this job has" in tank.refuse(opened, "item.added", "--body", str(body)).err


def test_an_indication_on_no_panel_or_at_no_place(opened: Desk) -> None:
    assert "Z-9 is no panel of an item of this job; panels are S1-1" in tank.refuse(opened, "indication.raised", "panel=Z-9").err
    far = ("place.on=shell", "place.at=10 deg", "place.z=5 m")
    assert "the place lies on no panel" in tank.refuse(opened, "indication.raised", "panel=S1-1", *far).err


def test_a_place_may_be_typed_as_one_line(opened: Desk) -> None:
    tank.tell(opened, "indication.raised", "panel=S1-1", "place=course 1, 40 deg, 0.40 m")
    assert "place" in tank.refuse(opened, "indication.raised", "panel=S1-1", "place=somewhere on the left").err


def test_a_signature_carries_the_digest_of_the_sheet_as_it_stands(opened: Desk) -> None:
    words = ("scope=S1", "statement=seen", "role=QA", "reservations=nothing is tested yet")
    assert "leave it out" in tank.refuse(opened, "signed", *words, "digest=" + "0" * 64, by="QA").err
    assert "a signature names its reservations" in tank.refuse(opened, "signed", *words[:3], "reservations=none", by="QA").err
    tank.tell(opened, "signed", *words, by="QA")
    assert ": the assessment sheet as it stood then; no entries since [SHA-256 " in opened.run("verify", tank.NAME).out
    told = opened.run("assess", tank.NAME, "--json").json["exceptions"]
    assert [x["detail"] for x in told if x["what"] == "signed_with_work_open"] == ["not checked before and after: S1-1"]


@pytest.mark.parametrize("stated", ["meets", "does_not_meet"])
def test_an_assessment_is_stated_as_it_stands(opened: Desk, stated: str) -> None:
    """Nothing is tested: it cannot be told."""
    assert "cannot_tell, as the assessment sheet stands now" in tank.refuse(opened, "assessment.made", f"assessment={stated}", by="QA").err


def test_a_file_that_was_changed_is_stored_and_said(north: Desk, desk: Desk) -> None:
    text = (north.folder / "north-basin.jsonl").read_text(encoding="utf-8")
    assert text.count('"read":"2.46 kV"') == 1
    changed = Path(desk.folder / "changed.jsonl")
    changed.write_text(text.replace('"read":"2.46 kV"', '"read":"2.96 kV"'), encoding="utf-8")
    done = desk.run("load", str(changed))
    assert done.code == 1
    assert "not intact: Entry 134 of device B (check of HV-01, 2025-06-03 16:55) is not what the entry after it, " in done.out
    assert "was changed or is not whole" in done.out


def test_tested_none_open_is_said_only_of_the_whole(north: Desk) -> None:
    """On day 1 the floor is tested; of the whole job it is not said. At the end it is."""
    file = str(north.folder / "north-basin.jsonl")
    assert "tested, none open" not in here("job", "show", file, "--as-of", "2025-06-02 07:40").out
    assert "tested, none open" in here("job", "show", file).out


def test_the_database_may_stand_before_the_command(opened: Desk, tmp_path: Path) -> None:
    done = here("--database", opened.url, "job", "list")
    assert (done.code, done.out.split()[0]) == (0, tank.NAME)
    other = f"sqlite:///{tmp_path / 'other.db'}"
    assert here("--database", other, "job", "list", "--database", opened.url).out.split()[0] == tank.NAME  # the one after it goes first
    assert "No job in sqlite:///" in here("--database", other, "job", "list").out


def test_a_name_of_a_job_is_told_in_words(desk: Desk) -> None:
    done = desk.run("job", "new", "My Job", "--title", "T", "--contract", "C", "--person", "P", "--role", "QC")
    assert done.err == "NAME: 'My Job' is not accepted. Allowed: lower-case letters, digits and hyphens, 63 at most, such as day-tank\n"


def test_a_person_who_joins_brings_a_card(opened: Desk) -> None:
    assert "card.name=..." in tank.refuse(opened, "person.joined", "roles=QA").err


def test_cards_that_were_withheld_are_named(north: Desk, tmp_path: Path) -> None:
    """The file lies beside its photos without one of them: verify counts it, and says which."""
    gone = tmp_path / "north-basin.jsonl"
    gone.write_bytes((north.folder / "north-basin.jsonl").read_bytes())
    (tmp_path / "blobs").mkdir()
    done = here("verify", str(gone))
    counted = next(x for x in done.out.splitlines() if "lie beside it, unchanged" in x)
    assert counted.split()[:2] == ["0", "of"]
    assert done.out.count("  not here: ") == min(12, int(counted.split()[2]))
    assert not any("signature" in line or "assessment" in line for line in done.out.splitlines() if "not here: " in line)


def test_a_digest_of_a_sheet_is_no_file_that_is_missing(north: Desk) -> None:
    """All photos, files and cards of the demo lie beside its file."""
    counted = next(x for x in here("verify", str(north.folder / "north-basin.jsonl")).out.splitlines() if "lie beside it, unchanged" in x)
    assert counted.split()[0] == counted.split()[2]
