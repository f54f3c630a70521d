"""Load job files into the database. Loading twice changes nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import msgspec

from wholefilm.ledger.blobs import Blobs, MemoryBlobs
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.jobfile import read_path
from wholefilm.ledger.store import Store

from .now import written_now
from .places import Places
from .sound import Sound

AT_ONCE = 2000


class Loaded(msgspec.Struct, frozen=True):
    """What became of one file: entries stored, known before, kept aside; blobs stored; where the file is not intact."""

    file: str
    job: str
    stored: int
    known: int
    aside: int
    blobs: int
    broken: list[str]


def load(store: Store, path: Path, progress: Callable[[int, int], None] | None = None) -> Loaded:
    """Load one job file, a whole job or a part; photos from inside it or from ``blobs/`` beside it.

    Parameters
    ----------
    store : Store
    path : Path
    progress : callable, optional
        Called with entries done and entries in all.

    Raises
    ------
    BadInput
        If the file cannot be read whole; nothing is stored then.
    """
    file = read_path(path)
    entries = [*file.ordered.entries, *file.aside]
    blobs = 0
    inside, beside, kept = MemoryBlobs(), Sound(Blobs(path.parent / "blobs")), Sound(store.blobs)
    for content in file.blobs.values():
        inside.put(content)
    wanted = {sha for e in entries for sha in e.blobs}
    for sha in sorted(wanted):
        found = inside.get(sha) or beside.get(sha)
        if found is not None and not kept.has(sha):
            store.blobs.put(found)
            blobs += 1
    counts = {"stored": 0, "known": 0, "aside": 0}
    received = written_now()
    for start in range(0, len(entries), AT_ONCE):
        for receipt in store.append(entries[start : start + AT_ONCE], received):
            counts[receipt.state] += 1
        if progress:
            progress(min(len(entries), start + AT_ONCE), len(entries))
    job = file.ordered.entries[0].job if file.ordered.entries else ""
    broken = Places(entries).say(check_chains(entries, False))  # what other devices hold may still come
    return Loaded(str(path), job, counts["stored"], counts["known"], counts["aside"], blobs, broken)
