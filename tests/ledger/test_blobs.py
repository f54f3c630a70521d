"""Photos and files beside the book."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.ledger.blobs import Blobs, BlobStore, MemoryBlobs
from wholefilm.ledger.errors import NotStored

# FIPS 180-4 examples of NIST ("abc" and the empty text), typed from memory
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
EMPTY = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"


@pytest.fixture(params=["folder", "memory"])
def blobs(request: pytest.FixtureRequest, tmp_path: Path) -> BlobStore:
    return Blobs(tmp_path / "deep" / "blobs") if request.param == "folder" else MemoryBlobs()


def test_contract(blobs: BlobStore) -> None:
    assert blobs.get(ABC) is None
    assert not blobs.has(ABC)
    assert blobs.put(b"abc") == blobs.put(b"abc") == ABC
    assert blobs.put(b"") == EMPTY
    assert (blobs.get(ABC), blobs.get(EMPTY), blobs.has(ABC)) == (b"abc", b"", True)
    for wrong in ("", "../x", ABC.upper(), ABC[:-1]):
        with pytest.raises(BadInput, match="sha256"):
            blobs.get(wrong)
        with pytest.raises(BadInput, match="sha256"):
            blobs.has(wrong)


def test_bytes_found_damaged_are_written_again(tmp_path: Path) -> None:
    blobs = Blobs(tmp_path)
    blobs.put(b"abc")
    blobs.path(ABC).write_bytes(b"ab")
    assert blobs.put(b"abc") == ABC
    assert blobs.get(ABC) == b"abc"


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_disk_that_refuses_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    blobs = Blobs(tmp_path)
    blobs.put(b"other")

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / ABC[:2]).mkdir()
    monkeypatch.setattr(os, step, refuse)
    with pytest.raises(NotStored, match="No space left"):
        blobs.put(b"abc")
    monkeypatch.undo()
    assert blobs.get(ABC) is None
    assert list((tmp_path / ABC[:2]).iterdir()) == []
    assert blobs.put(b"abc") == ABC


def test_a_disk_that_lies_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("wholefilm.ledger.blobs.write_whole", lambda path, content: path.write_bytes(content[:-1]))
    with pytest.raises(NotStored, match="does not give back"):
        Blobs(tmp_path).put(b"abc")


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(NotStored):
        Blobs(tmp_path / "file" / "blobs").put(b"abc")
