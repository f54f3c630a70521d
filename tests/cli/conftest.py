"""Desks and the demo job for the tests of the command line."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from cli import small_tank
from cli.desk import Desk
from wholefilm.demo import DEMOS
from wholefilm.ledger.blobs import Blobs
from wholefilm.ledger.jobfile import write_path


@pytest.fixture
def desk() -> Iterator[Desk]:
    """A database of this test's own, with nothing in it; in memory where the system can, since every entry waits for its disk."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield Desk(Path(folder))


@pytest.fixture
def opened(desk: Desk) -> Desk:
    """The small job, opened, with its contract and its item."""
    small_tank.open_job(desk)
    return desk


@pytest.fixture(scope="session")
def north(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """The demo job north-basin: its job file with blobs beside it, loaded into a database. Tests only read it."""
    desk = Desk(tmp_path_factory.mktemp("north"))
    demo = DEMOS["north-basin"]()
    write_path(desk.folder / "north-basin.jsonl", demo.entries)
    beside = Blobs(desk.folder / "blobs")
    for content in demo.blobs.values():
        beside.put(content)
    desk.good("load", str(desk.folder / "north-basin.jsonl"))
    return desk
