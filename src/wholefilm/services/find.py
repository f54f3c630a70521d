"""JOB on a command line: the path of a job file, or the name of a job in the database."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.job.facts import BlobView
from wholefilm.ledger.blobs import Blobs, MemoryBlobs
from wholefilm.ledger.entry import Entry
from wholefilm.ledger.jobfile import read_path
from wholefilm.ledger.order import Ordered

from .sound import Sound

if TYPE_CHECKING:
    from wholefilm.ledger.store import JobRow, Store


class Found(msgspec.Struct):
    """The entries of a job, what is kept aside, its blobs, where it was found, and in how many places a file is not intact."""

    entries: list[Entry]
    aside: list[Entry]
    blobs: Sound
    where: str
    version: str
    ordered: Ordered | None = None
    broken: int = 0


def is_path(job: str) -> bool:
    """Whether JOB means a file: it ends like one."""
    return job.endswith((".jsonl", ".zip"))


def find_file(path: Path) -> Found:
    """A job in a file; photos and readings inside it, or in ``blobs/`` beside it.

    Raises
    ------
    BadInput
        If there is no such file or it is not readable.
    """
    file = read_path(path)
    blobs: BlobView
    if file.blobs:
        memory = MemoryBlobs()
        for content in file.blobs.values():
            memory.put(content)
        blobs = memory
    else:
        blobs = Blobs(path.parent / "blobs")
    return Found(file.entries, file.aside, Sound(blobs), str(path), "", file.ordered, len(file.breaks))


def name_of(row: JobRow) -> str:
    """Name of a job in a store, its id where job.opened is not there."""
    if row.opened is None:
        return row.id
    return str(json.loads(row.opened)["body"].get("name", row.id))


def row_of(store: Store, name: str) -> JobRow:
    """The row of a job by name or id.

    Raises
    ------
    NotFound
        If there is none; BadInput if two jobs bear the name.
    """
    rows = [(name_of(r), r) for r in store.jobs()]
    mine = [r for n, r in rows if name in (n, r.id)]
    if not mine:
        known = ", ".join(sorted(n for n, _ in rows)) or "none yet"
        raise NotFound("JOB", name, f"the path of a job file (.jsonl, .zip) or a job of the database: {known}")
    if len(mine) > 1:
        raise BadInput("JOB", name, "an id, since two jobs bear that name: " + ", ".join(r.id for r in mine))
    return mine[0]


def find_stored(store: Store, name: str) -> Found:
    """A job of the database, by name or id."""
    row = row_of(store, name)
    return Found(store.entries(row.id), store.aside(row.id), Sound(store.blobs), name, f"{row.id}:{row.position}")
