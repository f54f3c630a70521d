"""`load`, `export`, `verify`: the same job by file, in parts, in any order, damaged and swapped."""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from itertools import pairwise
from pathlib import Path

import pytest

from cli import small_tank as tank
from cli.desk import Desk, here
from wholefilm.ledger.entry import make_entry
from wholefilm.ledger.jobfile import read_path, write_path

NAMES = ("at", "body", "by", "device", "id", "job", "kind", "prev", "seq", "session", "tick", "version", "heads")


@pytest.fixture
def file(north: Desk, desk: Desk) -> Path:
    """A copy of the demo's job file with its blobs beside it."""
    shutil.copytree(north.folder / "blobs", desk.folder / "blobs")
    return Path(shutil.copy(north.folder / "north-basin.jsonl", desk.folder))


def count(desk: Desk) -> int:
    """Rows of entries that are stored."""
    return sum(1 for row in desk.kept()[0] if row.startswith('INSERT INTO "entry"'))


def test_loading_twice_changes_nothing(desk: Desk, file: Path) -> None:
    first = desk.good("load", str(file))
    assert "401 entries stored, 0 known before; 13 photos and files stored" in first.out
    kept = desk.kept()
    again = desk.good("load", str(file), str(file))
    assert again.out.count("0 entries stored, 401 known before; 0 photos and files stored") == 2
    assert desk.kept() == kept


def test_parts_in_any_order_make_the_same_job(desk: Desk, file: Path, north: Desk) -> None:
    entries = read_path(file).entries
    parts = []
    for n, device in enumerate(sorted({e.device for e in entries})):
        parts.append(desk.folder / f"part-{n}.jsonl")
        write_path(parts[-1], [e for e in entries if e.device == device])
    desk.good("load", *map(str, reversed(parts)))
    desk.good("export", "north-basin", "-o", str(desk.folder / "again.jsonl"))
    assert (desk.folder / "again.jsonl").read_bytes() == file.read_bytes()
    assert desk.run("assess", "north-basin", "--json").json == north.run("assess", "north-basin", "--json").json


def test_a_part_alone_cannot_be_told(desk: Desk, file: Path) -> None:
    entries = read_path(file).entries
    part = desk.folder / "part.jsonl"
    write_path(part, [e for e in entries if e.device != entries[0].device])
    done = desk.run("assess", str(part))
    assert done.code in (1, 3)
    assert "job.opened is not here" in done.out
    assert "a part of a job" in desk.good("verify", str(part)).out


def test_other_bytes_under_one_number_are_kept_aside_and_said(desk: Desk, file: Path) -> None:
    desk.good("load", str(file))
    last = read_path(file).entries[-1]
    other = make_entry(**({name: getattr(last, name) for name in NAMES} | {"tick": last.tick + 5}))
    forged = desk.folder / "other.jsonl"
    write_path(forged, [other])
    done = desk.good("load", str(forged))
    assert "0 entries stored, 0 known before, 1 kept aside until a person settles them" in done.out
    sheet = desk.run("assess", "north-basin", "--json").json
    assert [x["bars"] for x in sheet["exceptions"] if x["what"] == "fork"] == [True]
    verified = desk.run("verify", "north-basin")
    assert verified.code == 1
    assert "not intact: " in verified.out
    assert (
        f"Two different entries claim to be entry {last.seq} of device A (signature of the QC inspector, 2025-06-17 10:05)" in verified.out
    )
    assert f"[id {last.id}, hash {other.hash}]" in verified.out


@pytest.mark.parametrize("cut", [1, 400, 40_000])
def test_a_cut_file_is_refused_and_nothing_is_stored(desk: Desk, file: Path, cut: int) -> None:
    file.write_bytes(file.read_bytes()[:-cut])
    desk.run("job", "list")  # the database is there, and empty
    done = desk.refused("load", str(file))
    assert "line" in done.err
    assert "the file is cut" in done.err or "is damaged" in done.err


@pytest.mark.parametrize("content", [b"", b"not a job\n", b"{}\n", b"\x00\xff" * 50])
def test_what_is_no_job_file_is_refused(desk: Desk, content: bytes) -> None:
    file = desk.folder / "x.jsonl"
    file.write_bytes(content)
    desk.run("job", "list")
    desk.refused("load", str(file))
    assert here("assess", str(file)).code == 2
    assert here("verify", str(file)).code == 1


def test_a_file_that_is_not_there(desk: Desk) -> None:
    desk.run("job", "list")
    for words in (("load",), ("assess",), ("verify",), ("job", "show")):
        done = desk.refused(*words, "none.jsonl")
        assert "none.jsonl" in done.err


def test_export_and_load_again_give_the_same_bytes(desk: Desk, file: Path) -> None:
    desk.good("load", str(file))
    one = desk.folder / "one.zip"
    assert "written: " in desk.good("export", "north-basin", "-o", str(one)).out
    with zipfile.ZipFile(one) as inside:
        assert inside.read("job.jsonl") == file.read_bytes()
        assert len([n for n in inside.namelist() if n.startswith("blobs/")]) == 13
    assert here("verify", str(one)).code == 0
    (desk.folder / "other").mkdir()
    other = Desk(desk.folder / "other")
    assert "13 photos and files stored" in other.good("load", str(one)).out
    two = other.folder / "two.zip"
    other.good("export", "north-basin", "-o", str(two))
    assert two.read_bytes() == one.read_bytes()
    assert "--as: 'docx' is not accepted. Allowed: jsonl" in other.run("export", "north-basin", "-o", "x.jsonl", "--as", "docx").err
    done = other.refused("export", "north-basin", "-o", str(other.folder / "job.pdf"))
    assert "a name that ends in .jsonl" in done.err
    assert not (other.folder / "job.pdf").exists()


def test_every_change_of_a_byte_is_found_and_its_place_is_named(file: Path) -> None:
    assert here("verify", str(file)).code == 0
    data = file.read_bytes()
    places, last = range(20, len(data), len(data) // 12), data.count(b"\n") - 1
    assert all(b > a for a, b in pairwise(places))
    for place in places:
        changed = bytearray(data)
        changed[place] ^= 1
        file.write_bytes(bytes(changed))
        done = here("verify", str(file))
        assert done.code == 1, place
        line = data[:place].count(b"\n")
        seq = re.search(rb'"seq":(\d+)', data.splitlines()[line])
        where = [f"Line {line + 1} of", "the last of", "last line"] if line == last else [f"Line {line + 1} of"]
        where += [f"ntry {int(seq[1])} of device "] if seq else []
        assert any(w in done.out for w in where), (where, done.out)
        assert done.out.endswith(("places not intact\n", "1 place not intact\n"))


def test_a_line_taken_out_is_found(file: Path) -> None:
    lines = file.read_bytes().splitlines(keepends=True)
    file.write_bytes(b"".join([*lines[:200], *lines[201:]]))
    gone = json.loads(lines[200])
    done = here("verify", str(file))
    assert done.code == 1
    assert re.search(
        rf"not intact: A line was taken out after entry {gone['seq'] - 1} of device [A-E] \(.+\): entry {gone['seq']} is", done.out
    )


def test_a_swapped_photo_is_found_and_never_used(desk: Desk, file: Path, north: Desk) -> None:
    """Other bytes under the name of the thickness readings: they are not read in their place."""
    readings = next(e for e in read_path(file).entries if e.kind == "readings.loaded").body["blob"]
    swapped = desk.folder / "blobs" / readings
    swapped.write_bytes(b"test_area,class,dft_um\nF,flat,800\n")
    done = here("verify", str(file))
    assert done.code == 1
    assert "not intact: Other bytes than were recorded lie here for: readings: dry film thickness" in done.out
    assert f"[blobs/{readings}]" in done.out
    sheet = here("assess", str(file), "--json").json
    assert [x["bars"] for x in sheet["exceptions"] if x["what"] == "bytes_missing"] == [True]
    assert {f["finding"] for f in sheet["findings"] if f["rule"]["clause"] == "6.2"} <= {"cannot_tell", "not_met"}
    assert "12 photos and files stored" in desk.good("load", str(file)).out
    inside = desk.file.with_name("job.db.blobs") / readings
    assert not inside.exists()
    shutil.copytree(north.folder / "blobs", desk.folder / "blobs", dirs_exist_ok=True)
    assert "1 photos and files stored" in desk.good("load", str(file)).out.replace("1 photo ", "1 photos ")
    assert desk.run("verify", "north-basin").code == 0
    inside.write_bytes(b"x")
    assert f"blobs/{readings}" in desk.run("verify", "north-basin").out


def test_a_file_can_be_read_and_not_written(file: Path) -> None:
    before = file.read_bytes()
    done = here("record", str(file), "delay.noted", "reason=rain", "--by", "QA")
    assert done.code == 2
    assert "a job file is read-only" in done.err
    assert file.read_bytes() == before


def test_a_small_job_travels(opened: Desk) -> None:
    """Export, load elsewhere, go on there as another device, bring the part home."""
    out = opened.folder / "out.zip"
    opened.good("export", tank.NAME, "-o", str(out))
    (opened.folder / "field").mkdir()
    field = Desk(opened.folder / "field")
    field.good("load", str(out))
    tank.tell(field, "device.joined", "letter=K", "holder=inspector")
    assert "K1" in tank.tell(field, "indication.raised", f"panel={tank.PANEL}").out
    assert "B1" in tank.tell(opened, "indication.raised", f"panel={tank.PANEL}").out
    back = opened.folder / "back.jsonl"
    field.good("export", tank.NAME, "-o", str(back))
    assert "2 entries stored" in opened.good("load", str(back)).out
    sheet = opened.run("assess", tank.NAME, "--json").json
    assert sheet["holidays"]["undecided"] == 2
    assert len(sheet["heads"]) == 2
    assert opened.run("verify", tank.NAME).code == 0
