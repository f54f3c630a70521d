"""The job file: what was written is what is read, and whoever touches it is found out."""

from __future__ import annotations

import hashlib
import json
import random
import re
import subprocess
import zipfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.book import Book
from ledger.test_chain import changed
from wholefilm.base.errors import BadInput
from wholefilm.ledger.bundle import pack, unpack
from wholefilm.ledger.chain import Break
from wholefilm.ledger.entry import Entry
from wholefilm.ledger.errors import NotStored
from wholefilm.ledger.jobfile import examine, read_jobfile, read_path, verify, verify_path, write_jobfile, write_path


@pytest.fixture(scope="module")
def book() -> Book:
    return Book(7, devices=3).fill(14)


@pytest.fixture(scope="module")
def data(book: Book) -> bytes:
    return write_jobfile(random.Random(1).sample(book.entries, len(book.entries)))


def names(breaks: list[Break], n: int, entry: Entry | None) -> bool:
    """Whether a break names line n, or device and number of the entry that stood there."""
    for found in breaks:
        text = str(found)
        if re.search(rf"\bline {n}\b", text) or (entry is None and ("last line" in text or "the last" in text)):
            return True
        if entry is not None and entry.device in text and re.search(rf"\bseq {entry.seq}\b", text):
            return True
        if entry is not None and entry.kind == "job.opened" and "opened the job" in text:
            return True
    return False


def test_round_trip_and_last_line(book: Book, data: bytes) -> None:
    entries, trailer = read_jobfile(data)
    assert [e.raw for e in entries] == [e.raw for e in book.entries]
    assert verify(data) == []
    last = json.loads(data.splitlines()[-1])
    assert last == trailer
    assert (last["entries"], last["format"], last["blobs"]) == (15, 1, 3)  # 14 and the opening; every fifth of 14 names a photo
    assert last["heads"] == {device: list(head) for device, head in book.last.items()}
    assert last["first"][book.devices[0]] == [1, book.entries[0].hash]
    assert write_jobfile(entries) == data


def test_hashes_are_those_of_coreutils(data: bytes, tmp_path: Path) -> None:
    """The last entry of a device, hashed by a program that is not ours, is the head that the last line states."""
    last = json.loads(data.splitlines()[-1])
    raw = data.splitlines()[-2]
    (tmp_path / "line").write_bytes(raw)
    done = subprocess.run(["sha256sum", tmp_path / "line"], capture_output=True, check=True, timeout=30)
    told = json.loads(raw)
    assert last["heads"][told["device"]] == [told["seq"], done.stdout.decode().split()[0]]


def test_a_part_is_whole_in_itself() -> None:
    book = Book(7).fill(40)
    device = book.devices[1]
    part = [e for e in book.entries if e.device == device][1:]
    found, breaks = examine(write_jobfile(part))
    assert (found.whole, breaks) == (False, [])
    assert verify(write_jobfile([part[0], *part[2:]])) != []


def test_every_byte_flipped_is_named(book: Book, data: bytes) -> None:
    line = 1
    for place, byte in enumerate(data):
        entry = book.entries[line - 1] if line <= len(book.entries) else None
        for flip in (0x01, 0x20 if place % 2 else 0x80):
            damaged = data[:place] + bytes([byte ^ flip]) + data[place + 1 :]
            assert names(verify(damaged), line, entry), (place, line, flip, verify(damaged))
        if byte == 0x0A:
            line += 1


def test_every_entry_removed_is_named(book: Book, data: bytes) -> None:
    lines = data.splitlines(keepends=True)
    for n, gone in enumerate(book.entries):
        breaks = verify(b"".join(lines[:n] + lines[n + 1 :]))
        assert names(breaks, 0, gone), gone.place
    assert "cut" in str(verify(b"".join(lines[:-1])))


def test_every_tail_cut_is_named(data: bytes) -> None:
    for length in range(len(data)):
        breaks = verify(data[:length])
        assert any("cut" in b.what or "empty" in b.what or "damaged" in b.what for b in breaks), length
        with pytest.raises(BadInput, match="line"):
            read_jobfile(data[:length])


def test_every_two_lines_swapped_is_named(book: Book, data: bytes) -> None:
    lines = data.splitlines(keepends=True)
    for a in range(len(lines)):
        for b in range(a + 1, len(lines)):
            swapped = list(lines)
            swapped[a], swapped[b] = swapped[b], swapped[a]
            assert names(verify(b"".join(swapped)), a + 1, None), (a, b)


def test_a_line_twice_and_a_line_of_another_job_are_named(book: Book, data: bytes) -> None:
    lines = data.splitlines(keepends=True)
    assert names(verify(b"".join([*lines[:5], lines[3], *lines[5:]])), 6, None)
    stranger = Book(8).fill(2).entries[2]
    breaks = verify(b"".join([*lines[:5], stranger.raw + b"\n", *lines[5:]]))
    assert any("another job" in b.what for b in breaks)
    with pytest.raises(BadInput, match="exactly one job"):
        write_jobfile([*book.entries, stranger])
    with pytest.raises(BadInput, match="no entry"):
        write_jobfile([])


def test_a_forged_entry_with_a_new_last_line_breaks_the_chain(book: Book) -> None:
    """Whoever rewrites one entry and the last line, but not what follows, is found by the next entry of the device."""
    for n, true in enumerate(book.entries[1:-1], 1):
        forged = changed(true, body={"note": "no holiday here"})
        breaks = verify(write_jobfile([*book.entries[:n], forged, *book.entries[n + 1 :]]))
        if true.seq < book.last[true.device][0] or any((e.heads or {}).get(true.device) == (true.seq, true.hash) for e in book.entries):
            assert names(breaks, 0, true), true.place


def test_a_fork_survives_the_file_and_the_first_still_stands(book: Book) -> None:
    stands = book.entries[-1]
    for note in "abcdef":  # some of these have a smaller hash than the one that stands
        other = changed(stands, body={"note": note})
        written = write_jobfile(book.entries, aside=[other])
        found, breaks = examine(written)
        assert [e.hash for e in found.aside] == [e.hash for e in found.ordered.aside] == [other.hash]
        assert found.ordered.entries[-1].hash == stands.hash
        assert [b.where for b in breaks] == [other.place]


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_verify_and_unpack_never_raise(noise: bytes) -> None:
    assert verify(noise) != []
    assert verify(noise + b'\n{"blobs":0,"entries":1,"first":{},"format":1,"heads":{}}\n') != []
    assert unpack(noise)[2] != []


@pytest.mark.parametrize(
    "last",
    [b'{"blobs":0,"entries":0,"first":[],"format":1,"heads":{}}', b'{"blobs":0,"entries":0,"first":{"x":1},"format":1,"heads":{}}',
     b'{"blobs":0,"entries":0,"first":{},"format":2,"heads":{}}', b'{"blobs":0,"entries":0.0,"first":{},"format":1,"heads":{}}',
     b'{"blobs":true,"entries":0,"first":{},"format":1,"heads":{}}', b'{ "blobs":0,"entries":0,"first":{},"format":1,"heads":{}}',
     b'{"blobs":"\\ud800","entries":0,"first":{},"format":1,"heads":{}}', b"[" * 5000],
)  # fmt: skip
def test_a_last_line_of_wrong_form_is_named(last: bytes) -> None:
    breaks = verify(last + b"\n")
    assert breaks[0].where == "line 1, the last"


def test_zip_round_trip_and_swapped_photos(tmp_path: Path) -> None:
    book, photos = Book(9), [b"photo one", b"photo two" * 5000]
    shas = [hashlib.sha256(photo).hexdigest() for photo in photos]
    for sha in shas:
        book.write(book.devices[0], {"blob": sha})
    path = tmp_path / "tank.zip"
    write_path(path, book.entries, dict(zip(shas, photos, strict=True)))
    found = read_path(path)
    assert (found.blobs[shas[1]], found.trailer["blobs"], found.whole) == (photos[1], 2, True)
    assert verify_path(path) == []
    lines = write_jobfile(book.entries)
    with zipfile.ZipFile(path) as archive:  # the standard library reads it too, CRC and all
        assert archive.testzip() is None
        assert archive.read("job.jsonl") == lines
    path.write_bytes(pack(lines, {shas[0]: photos[1], shas[1]: photos[0]}))
    assert [b.where for b in verify_path(path)] == [f"blobs/{sha}" for sha in sorted(shas)]
    path.write_bytes(pack(lines, {shas[0]: photos[0][:-1]}))
    assert [b.where for b in verify_path(path)] == [f"blobs/{shas[0]}"]
    path.write_bytes(pack(lines, {"../../evil": b"x"}))
    assert "does not belong here" in verify_path(path)[0].what
    path.write_bytes(b"PK no archive")
    assert verify_path(path)[0].where == "archive"
    with pytest.raises(BadInput, match="archive"):
        read_path(path)


def test_every_byte_of_a_stored_photo_flipped_is_named(tmp_path: Path) -> None:
    book, photo = Book(9), bytes(range(200))
    sha = hashlib.sha256(photo).hexdigest()
    book.write(book.devices[0], {"blob": sha})
    archive = pack(write_jobfile(book.entries), {sha: photo})
    start = archive.index(photo)
    for place in range(start, start + len(photo)):
        lines, blobs, breaks = unpack(archive[:place] + bytes([archive[place] ^ 1]) + archive[place + 1 :])
        assert any(f"blobs/{sha}" in b.where for b in breaks + verify(lines, blobs))


def test_names_and_disks_that_do_not_do(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(BadInput, match=r"\.jsonl or \.zip"):
        write_path(tmp_path / "tank.txt", book.entries)
    with pytest.raises(BadInput, match=r"ends in \.zip"):
        write_path(tmp_path / "tank.jsonl", book.entries, {"a" * 64: b""})
    with pytest.raises(BadInput, match="can be read"):
        read_path(tmp_path / "nothing.jsonl")
    write_path(tmp_path / "tank.jsonl", book.entries[:3])
    before = (tmp_path / "tank.jsonl").read_bytes()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("wholefilm.ledger.files.os.fsync", full)
    with pytest.raises(NotStored, match="No space left"):
        write_path(tmp_path / "tank.jsonl", book.entries)
    assert (tmp_path / "tank.jsonl").read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["tank.jsonl"]


def test_gaps_of_a_whole_job_do_not_stop_reading(book: Book, tmp_path: Path) -> None:
    write_path(tmp_path / "gap.jsonl", book.entries[:4] + book.entries[6:])
    assert len(read_path(tmp_path / "gap.jsonl").ordered.entries) == len(book.entries) - 2
    assert verify_path(tmp_path / "gap.jsonl") != []


def test_reading_a_file_refuses_what_cannot_be_read_and_names_it(book: Book, data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "tank.jsonl"
    path.write_bytes(data.replace(b'"number":"B3"', b'"number":3.5'))
    with pytest.raises(BadInput, match=r"line 5, body.number: '3.5' .*without fraction"):
        read_path(path)
    path.write_bytes(data[:-40])
    with pytest.raises(BadInput, match=r"cut|damaged"):
        read_path(path)
    path.write_bytes(b'{"blobs":0,"entries":0,"first":{},"format":1,"heads":{}}\n')
    assert verify_path(path) == [Break("line 1", "the file holds no entry")]
    with pytest.raises(BadInput, match="exactly one job"):
        read_path(path)
    stranger = Book(8).fill(1).entries
    path.write_bytes(data.replace(b'{"blobs":', stranger[0].raw + b'\n{"blobs":'))
    with pytest.raises(BadInput, match="exactly one job"):
        read_path(path)
