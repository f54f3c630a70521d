"""The store: the only writer of the book. SQLite by default, PostgreSQL by address, the same promises on both."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import Any, Literal, TypeVar

import msgspec
import sqlalchemy as sa

from wholefilm.base.errors import BadInput
from wholefilm.base.times import utc_ms

from . import tables as t
from .blobs import Blobs, BlobStore
from .entry import JOB_OPENED, Entry, parse_entry
from .errors import NotRead, NotStored
from .schema import bring_up

_T = TypeVar("_T")
_AT_ONCE = 400  # values in one IN list


class Receipt(msgspec.Struct, frozen=True):
    """What became of an entry.

    Attributes
    ----------
    id, hash : str
        Of the entry that was given.
    position : int
        Its place in the job, 1, 2, 3; if kept aside, the place of the entry that stands.
    state : str
        ``stored``; ``known`` = the same bytes were there; ``aside`` = its id or (device, seq) is taken by other bytes, both are kept.
    """

    id: str
    hash: str
    position: int
    state: Literal["stored", "known", "aside"]


class JobRow(msgspec.Struct, frozen=True):
    """A job in the store: its id, the number of its entries, the bytes of the entry that opened it (None if not yet there)."""

    id: str
    position: int
    opened: bytes | None


class Store:
    """Use `Store.open`. One object serves many threads."""

    def __init__(self, engine: sa.Engine, blobs: BlobStore | None) -> None:
        self._engine = engine
        self._blobs = blobs
        # SQLite lets one writer in and has the others poll; within one process they queue here instead.
        self._turn: AbstractContextManager[object] = threading.Lock() if engine.dialect.name == "sqlite" else nullcontext()

    @classmethod
    def open(cls, url: str, blobs: Path | None = None) -> Store:
        """Open a database, and make or migrate its tables if that is due.

        Parameters
        ----------
        url : str
            ``sqlite:////folder/file.db`` or ``postgresql+psycopg://user@host/name``.
        blobs : Path, optional
            Folder of photos and files; beside an SQLite file ``FILE.blobs`` by default.

        Raises
        ------
        BadInput
            If the address is neither, or the database belongs to a later program or to something else.
        NotStored
            If the database cannot be opened.
        """
        engine = t.connect(url)
        file = t.sqlite_file(engine.url)
        if blobs is None and file is not None:
            blobs = file.with_name(file.name + ".blobs")
        try:
            bring_up(engine)
        except sa.exc.DBAPIError as error:
            engine.dispose()
            raise NotStored(engine.url.render_as_string(hide_password=True), error.orig) from error
        except BaseException:
            engine.dispose()
            raise
        return cls(engine, None if blobs is None else Blobs(blobs))

    @property
    def blobs(self) -> BlobStore:
        """Photos and files.

        Raises
        ------
        BadInput
            If the store was opened without a folder for them.
        """
        if self._blobs is None:
            raise BadInput("blobs", "none", "a folder for photos and files, named when the database is opened")
        return self._blobs

    def close(self) -> None:
        """Close every connection."""
        self._engine.dispose()

    @contextmanager
    def _reading(self) -> Iterator[sa.Connection]:
        try:
            with self._engine.connect() as connection:
                yield connection
        except (sa.exc.DBAPIError, sa.exc.TimeoutError) as error:
            raise NotRead(self._engine.url.render_as_string(hide_password=True), getattr(error, "orig", None) or error) from error

    def _write(self, what: str, act: Callable[[sa.Connection], _T]) -> _T:
        try:
            with self._turn, self._engine.connect().execution_options(writes=True) as connection, connection.begin():
                return act(connection)
        except (sa.exc.DBAPIError, sa.exc.TimeoutError) as error:
            raise NotStored(what, getattr(error, "orig", None) or error) from error

    def append(self, entries: Sequence[Entry], received: str) -> list[Receipt]:
        """Store entries: all in one transaction, in the order given, or none.

        Parameters
        ----------
        entries : sequence of Entry
            Of any jobs, in any order of arrival.
        received : str
            When they came, ``YYYY-MM-DDThh:mm:ss.sss+hh:mm``.

        Returns
        -------
        list of Receipt
            One an entry, in the order given. Given only after the transaction is on disk.

        Raises
        ------
        BadInput
            If `received` is malformed.
        NotStored
            If the disk or the database refuses.
        """
        utc_ms(received, "received")
        by_job: dict[str, list[int]] = {}
        for n, entry in enumerate(entries):
            by_job.setdefault(entry.job, []).append(n)

        def act(connection: sa.Connection) -> list[Receipt]:
            receipts: dict[int, Receipt] = {}
            for job in sorted(by_job):  # one order of locks for all writers
                numbers = by_job[job]
                given = [entries[n] for n in numbers]
                receipts.update(zip(numbers, _append(connection, job, given, received), strict=True))
            return [receipts[n] for n in range(len(entries))]

        return self._write(f"entry {entries[0].id}" if len(entries) == 1 else f"a set of {len(entries)} entries", act)

    def read_raw(self, job: str, after: int = 0, limit: int | None = None) -> list[tuple[int, bytes]]:
        """Bytes of the entries of a job behind a position, with their positions."""
        query = sa.select(t.entry.c.position, t.entry.c.bytes).where(t.entry.c.job == job, t.entry.c.position > after)
        with self._reading() as connection:
            rows = connection.execute(query.order_by(t.entry.c.position).limit(limit))
            return [(position, bytes(raw)) for position, raw in rows]

    def read(self, job: str, after: int = 0, limit: int | None = None) -> list[tuple[int, Entry]]:
        """Entries of a job behind a position, in the order in which they were stored, with their positions."""
        return [(position, parse_entry(raw, f"position {position}")) for position, raw in self.read_raw(job, after, limit)]

    def entries(self, job: str) -> list[Entry]:
        """All entries of a job that stand, in the order in which they were stored."""
        return [entry for _, entry in self.read(job)]

    def aside(self, job: str, received_by: str = "") -> list[Entry]:
        """Entries of a job that are kept aside, by hash; where a time is given, those received by then."""
        query = sa.select(t.aside.c.received, t.aside.c.bytes).where(t.aside.c.job == job).order_by(t.aside.c.hash)
        latest = utc_ms(received_by, "received by") if received_by else None
        with self._reading() as connection:
            rows = connection.execute(query)
            return [parse_entry(bytes(raw), "kept aside") for came, raw in rows if latest is None or utc_ms(came) <= latest]

    def jobs(self) -> list[JobRow]:
        """Every job, by id."""
        opened = (t.entry.c.job == t.job.c.id) & (t.entry.c.id == t.job.c.id) & (t.entry.c.kind == JOB_OPENED)
        query = sa.select(t.job.c.id, t.job.c.position, t.entry.c.bytes).select_from(t.job.outerjoin(t.entry, opened)).order_by(t.job.c.id)
        with self._reading() as connection:
            return [JobRow(job, position, None if raw is None else bytes(raw)) for job, position, raw in connection.execute(query)]

    def position(self, job: str) -> int:
        """Number of entries of a job that stand; 0 for an unknown job."""
        with self._reading() as connection:
            return connection.execute(sa.select(t.job.c.position).where(t.job.c.id == job)).scalar() or 0

    def last_of(self, job: str, device: str) -> tuple[int, str] | None:
        """Last entry of a device in a job: (seq, hash); None if it has none."""
        query = sa.select(t.entry.c.seq, t.entry.c.hash).where(t.entry.c.job == job, t.entry.c.device == device)
        with self._reading() as connection:
            row = connection.execute(query.order_by(t.entry.c.seq.desc()).limit(1)).first()
        return None if row is None else (row.seq, row.hash)

    def heads(self, job: str) -> dict[str, tuple[int, str]]:
        """Last entry of every device in a job: device -> (seq, hash)."""
        c = t.entry.c
        last = sa.select(c.device, sa.func.max(c.seq).label("seq")).where(c.job == job).group_by(c.device).subquery()
        same = (c.device == last.c.device) & (c.seq == last.c.seq)
        query = sa.select(c.device, c.seq, c.hash).join(last, same).where(c.job == job)
        with self._reading() as connection:
            return {device: (seq, digest) for device, seq, digest in connection.execute(query)}

    def received_by(self, job: str, time: str) -> list[Entry]:
        """Entries of a job that this database had received by a time, in the order in which they were stored.

        Raises
        ------
        BadInput
            If the time is malformed.
        """
        latest = utc_ms(time, "received by")
        query = sa.select(t.entry.c.received, t.entry.c.bytes).where(t.entry.c.job == job).order_by(t.entry.c.position)
        with self._reading() as connection:
            return [parse_entry(bytes(raw)) for received, raw in connection.execute(query) if utc_ms(received) <= latest]

    def put_summary(self, job: str, position: int, json: bytes) -> None:
        """Keep the summary row of a job, with the position that it was made at. An older one never replaces a newer.

        Raises
        ------
        BadInput
            If there is no such job.
        NotStored
            If the disk or the database refuses.
        """

        def act(connection: sa.Connection) -> None:
            if connection.execute(sa.select(t.job.c.id).where(t.job.c.id == job)).first() is None:
                raise BadInput("job", job, "a job in this database")
            values = {"job": job, "position": position, "json": json}
            insert = _insert(connection, t.summary).values(values)
            newer = t.summary.c.position <= position
            connection.execute(insert.on_conflict_do_update(index_elements=["job"], set_={"position": position, "json": json}, where=newer))

        self._write(f"the summary of job {job}", act)

    def summaries(self) -> dict[str, tuple[int, bytes]]:
        """Summary rows: job -> (position that it was made at, JSON)."""
        with self._reading() as connection:
            return {job: (position, bytes(json)) for job, position, json in connection.execute(sa.select(t.summary))}


def _insert(connection: sa.Connection, table: sa.Table) -> Any:
    from sqlalchemy.dialects import postgresql, sqlite

    return (postgresql if connection.dialect.name == "postgresql" else sqlite).insert(table)


def _known(connection: sa.Connection, job: str, given: list[Entry]) -> tuple[dict[str, tuple[int, str]], dict[tuple[str, int], int]]:
    """What stands already: id -> (position, hash), (device, seq) -> position."""
    ids: dict[str, tuple[int, str]] = {}
    numbers: dict[tuple[str, int], int] = {}
    c = t.entry.c
    for start in range(0, len(given), _AT_ONCE):
        piece = given[start : start + _AT_ONCE]
        wanted: sa.ColumnElement[bool] = c.id.in_([entry.id for entry in piece])
        for device in sorted({entry.device for entry in piece}):
            wanted |= (c.device == device) & c.seq.in_([entry.seq for entry in piece if entry.device == device])
        for row in connection.execute(sa.select(c.id, c.position, c.hash, c.device, c.seq).where(c.job == job, wanted)):
            ids[row.id] = (row.position, row.hash)
            numbers[(row.device, row.seq)] = row.position
    return ids, numbers


def _append(connection: sa.Connection, job: str, given: list[Entry], received: str) -> list[Receipt]:
    """Under the lock of the job's row: sort out what is known, store the rest at the next positions."""
    connection.execute(_insert(connection, t.job).values(id=job, position=0).on_conflict_do_nothing())
    position = connection.execute(sa.select(t.job.c.position).where(t.job.c.id == job).with_for_update()).scalar_one()
    ids, numbers = _known(connection, job, given)
    receipts: list[Receipt] = []
    rows: list[dict[str, Any]] = []
    forks: list[dict[str, Any]] = []
    for entry in given:
        number = (entry.device, entry.seq)
        same = ids.get(entry.id)
        row = {"job": job, "id": entry.id, "device": entry.device, "seq": entry.seq, "kind": entry.kind, "at": entry.at}
        row |= {"hash": entry.hash, "bytes": entry.raw, "received": received}
        if same is not None and same[1] == entry.hash:
            receipts.append(Receipt(entry.id, entry.hash, same[0], "known"))
        elif same is not None or number in numbers:
            forks.append(row)
            receipts.append(Receipt(entry.id, entry.hash, same[0] if same is not None else numbers[number], "aside"))
        else:
            position += 1
            ids[entry.id] = (position, entry.hash)
            numbers[number] = position
            rows.append(row | {"position": position})
            receipts.append(Receipt(entry.id, entry.hash, position, "stored"))
    if rows:
        grow = sa.update(t.job).where(t.job.c.id == job).values(position=t.job.c.position + len(rows)).returning(t.job.c.position)
        if connection.execute(grow).scalar_one() != position:
            raise AssertionError("the job's row is locked, its position cannot move")
        connection.execute(sa.insert(t.entry), rows)
    if forks:
        connection.execute(_insert(connection, t.aside).on_conflict_do_nothing(), forks)
    return receipts
