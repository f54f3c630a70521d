"""The same entries, whatever the files, their order and the store, give the same sheets to the byte."""

from __future__ import annotations

import random
from pathlib import Path

import msgspec
import pytest
from test_total import SHEETS

from wholefilm.demo import DEMOS
from wholefilm.job.facts import BlobView
from wholefilm.job.fold import fold
from wholefilm.ledger.blobs import Blobs as Folder
from wholefilm.ledger.entry import Entry
from wholefilm.ledger.jobfile import write_path
from wholefilm.ledger.store import Store
from wholefilm.proof.assessment import assess
from wholefilm.services.load import load

DEMO = DEMOS["north-basin"]()


class Blobs:
    """Bytes beside the demo."""

    def has(self, sha: str) -> bool:
        return sha in DEMO.blobs

    def get(self, sha: str) -> bytes | None:
        return DEMO.blobs.get(sha)


def pages(entries: list[Entry], blobs: BlobView) -> dict[str, bytes]:
    standing = assess(fold(entries, blobs))
    return {name: msgspec.json.encode(make(standing)) for name, make in SHEETS}


@pytest.fixture(scope="module")
def expected() -> dict[str, bytes]:
    return pages(DEMO.entries, Blobs())


def by_device() -> list[list[Entry]]:
    queues: dict[str, list[Entry]] = {}
    for entry in DEMO.entries:
        queues.setdefault(entry.device, []).append(entry)
    return list(queues.values())


def test_the_demo_was_written_on_five_devices() -> None:
    assert len(by_device()) == 5


@pytest.mark.parametrize("seed", range(4))
def test_shuffled_and_twice_over(seed: int, expected: dict[str, bytes]) -> None:
    mixed = [*DEMO.entries, *DEMO.entries]
    random.Random(seed).shuffle(mixed)
    assert pages(mixed, Blobs()) == expected


def test_five_device_files_loaded_twice_the_opening_one_last(store_url: str, tmp_path: Path, expected: dict[str, bytes]) -> None:
    store = Store.open(store_url, tmp_path / "kept")
    beside = Folder(tmp_path / "from site" / "blobs")
    for data in DEMO.blobs.values():
        beside.put(data)
    queues = by_device()
    opening = next(q for q in queues if any(e.kind == "job.opened" for e in q))
    queues.sort(key=lambda q: (q is opening, random.Random(q[0].device).random()))
    files = []
    for n, queue in enumerate(queues):
        path = tmp_path / "from site" / f"device{n}.jsonl"
        write_path(path, queue)
        files.append(path)
    first = [load(store, path) for path in files]
    assert sum(x.stored for x in first) == len(DEMO.entries)
    again = [load(store, path) for path in files]
    assert sum(x.stored for x in again) == 0
    assert sum(x.known for x in again) == len(DEMO.entries)
    kept = store.entries(DEMO.entries[0].job)
    assert len(kept) == len(DEMO.entries)
    assert pages(kept, store.blobs) == expected
    store.close()
