"""What only a file can suffer: lost power, a full or read-only disk, a lock that another holds."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import event

from ledger.book import START, Book, at
from wholefilm.ledger import tables
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.errors import NotRead, NotStored
from wholefilm.ledger.store import Store

NOW = at(START)
FRAME, HEADER = 24 + 4096, 32  # SQLite file format, section 4.1 "WAL File Format": 32 bytes, then frames of 24 bytes and a page


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "book.db"


@pytest.fixture
def store(file: Path) -> Iterator[Store]:
    opened = Store.open(f"sqlite:///{file}")
    yield opened
    opened.close()


def test_pragmas_stand_on_every_connection(store: Store) -> None:
    connections = [store._engine.connect() for _ in range(12)]  # more than the pool keeps
    for connection in connections:
        names = ("journal_mode", "synchronous", "recursive_triggers", "foreign_keys")
        values = [connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in names]
        assert values == ["wal", 2, 1, 1]  # 2 = FULL
        connection.close()


def test_power_lost_leaves_a_prefix_of_the_book(store: Store, file: Path, tmp_path: Path) -> None:
    """The file and its log cut at every frame and inside frames: it opens, holds a prefix of what was written, and is sound."""
    store.close()
    connection = sqlite3.connect(file)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    book, written = Book().fill(40), Store.open(f"sqlite:///{file}")
    for entry in book.entries:
        written.append([entry], NOW)
    wal = file.with_name("book.db-wal").read_bytes()
    copy = tmp_path / "copy"
    copy.mkdir()
    main = file.read_bytes()
    written.close()
    frames = (len(wal) - HEADER) // FRAME
    assert frames > 41
    chance = random.Random(2)
    cuts = [HEADER + FRAME * n for n in range(frames + 1)] + [chance.randrange(len(wal)) for _ in range(40)]
    held = set()
    for cut in sorted(cuts):
        (copy / "book.db").write_bytes(main)
        (copy / "book.db-wal").write_bytes(wal[:cut])
        (copy / "book.db-shm").unlink(missing_ok=True)
        opened = Store.open(f"sqlite:///{copy / 'book.db'}")
        there = opened.entries(book.job)
        assert [e.raw for e in there] == [e.raw for e in book.entries[: len(there)]]
        assert opened.position(book.job) == len(there)
        assert not there or check_chains(there, whole=True) == []
        opened.close()
        sound = sqlite3.connect(copy / "book.db")
        assert sound.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        sound.close()
        held.add(len(there))
    assert held == set(range(42))


def test_a_full_disk_refuses_with_a_message_and_keeps_what_was_there(store: Store) -> None:
    book = Book().fill(3)
    store.append(book.entries, NOW)
    big = [book.write(book.devices[0], {"t": "x" * 60000}) for _ in range(40)]

    def limit(connection: object, *_: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]  # type: ignore[attr-defined]
        connection.execute(f"PRAGMA max_page_count={pages + 20}")  # type: ignore[attr-defined]

    event.listen(store._engine, "checkout", limit)
    with pytest.raises(NotStored, match=r"40 entries.*full"):
        store.append(big, NOW)
    event.remove(store._engine, "checkout", limit)
    assert (store.position(book.job), len(store.entries(book.job))) == (4, 4)


def test_a_lock_that_another_holds_refuses_with_a_message(store: Store, file: Path) -> None:
    book = Book()
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    event.listen(store._engine, "checkout", lambda connection, *_: connection.execute("PRAGMA busy_timeout=50"))
    with pytest.raises(NotStored, match="locked"):
        store.append(book.entries, NOW)
    other.execute("ROLLBACK")
    other.close()
    assert store.append(book.entries, NOW)[0].state == "stored"


def test_a_read_only_database_refuses_with_a_message(store: Store) -> None:
    book = Book()
    event.listen(store._engine, "checkout", lambda connection, *_: connection.execute("PRAGMA query_only=ON"))
    with pytest.raises(NotStored, match="readonly"):
        store.append(book.entries, NOW)
    assert store.jobs() == []


def test_a_folder_that_is_not_there_and_a_file_that_is_no_database(tmp_path: Path) -> None:
    with pytest.raises(NotStored, match="unable to open"):
        Store.open(f"sqlite:///{tmp_path / 'none' / 'book.db'}")
    (tmp_path / "text.db").write_text("this is a text, not a database. " * 40)
    with pytest.raises(NotStored, match="not a database"):
        Store.open(f"sqlite:///{tmp_path / 'text.db'}")


def test_a_damaged_page_is_said_when_it_is_read(store: Store, file: Path) -> None:
    book = Book().fill(400, heads=False)
    store.append(book.entries, NOW)
    store.close()
    connection = sqlite3.connect(file)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entry'").fetchone()[0]
    connection.close()
    with open(file, "r+b") as page:
        page.seek((root - 1) * 4096)
        page.write(b"\xff" * 4096)
    reopened = Store.open(f"sqlite:///{file}")
    with pytest.raises(NotRead, match="malformed"):
        reopened.entries(book.job)
    reopened.close()


def test_a_copy_of_an_open_database_with_its_log_holds_all_that_was_acknowledged(store: Store, file: Path, tmp_path: Path) -> None:
    """File and log copied between two writes, the database still open."""
    book = Book().fill(60)
    for n, entry in enumerate(book.entries):
        store.append([entry], NOW)
        if n % 10 == 9:
            target = tmp_path / f"copy{n}"
            target.mkdir()
            for name in ("book.db", "book.db-wal"):
                if os.path.exists(file.with_name(name)):
                    shutil.copy(file.with_name(name), target / name)
            opened = Store.open(f"sqlite:///{target / 'book.db'}")
            assert [e.raw for e in opened.entries(book.job)] == [e.raw for e in book.entries[: n + 1]]
            opened.close()


def test_tables_are_where_sqlite_says(file: Path, store: Store) -> None:
    assert tables.sqlite_file(store._engine.url) == file
