"""Tables of the store, and how to connect to it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy import event

from wholefilm.base.errors import BadInput

metadata = sa.MetaData()
job = sa.Table(
    "job",
    metadata,
    sa.Column("id", sa.String(36), primary_key=True),
    sa.Column("position", sa.BigInteger, nullable=False),
)
entry = sa.Table(
    "entry",
    metadata,
    sa.Column("job", sa.String(36), sa.ForeignKey("job.id"), primary_key=True),
    sa.Column("position", sa.BigInteger, primary_key=True),
    sa.Column("id", sa.String(36), nullable=False),
    sa.Column("device", sa.String(36), nullable=False),
    sa.Column("seq", sa.BigInteger, nullable=False),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("at", sa.Text, nullable=False),
    sa.Column("hash", sa.String(64), nullable=False),
    sa.Column("bytes", sa.LargeBinary, nullable=False),
    sa.Column("received", sa.Text, nullable=False),
    sa.UniqueConstraint("job", "id", name="entry_id"),
    sa.UniqueConstraint("job", "device", "seq", name="entry_device_seq"),
)
aside = sa.Table(
    "aside",
    metadata,
    sa.Column("job", sa.String(36), sa.ForeignKey("job.id"), primary_key=True),
    sa.Column("hash", sa.String(64), primary_key=True),
    sa.Column("id", sa.String(36), nullable=False),
    sa.Column("device", sa.String(36), nullable=False),
    sa.Column("seq", sa.BigInteger, nullable=False),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("at", sa.Text, nullable=False),
    sa.Column("bytes", sa.LargeBinary, nullable=False),
    sa.Column("received", sa.Text, nullable=False),
)
summary = sa.Table(
    "summary",
    metadata,
    sa.Column("job", sa.String(36), sa.ForeignKey("job.id"), primary_key=True),
    sa.Column("position", sa.BigInteger, nullable=False),
    sa.Column("json", sa.LargeBinary, nullable=False),
)

_PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "recursive_triggers=ON", "foreign_keys=ON", "busy_timeout=60000")


def sqlite_file(url: sa.URL) -> Path | None:
    """File of an SQLite database; None for another database."""
    return Path(url.database or "") if url.get_backend_name() == "sqlite" else None


def connect(url: str) -> sa.Engine:
    """Engine of an SQLite file or a PostgreSQL database.

    Parameters
    ----------
    url : str
        ``sqlite:////folder/file.db`` or ``postgresql+psycopg://user@host/name``.

    Returns
    -------
    sqlalchemy.Engine

    Raises
    ------
    BadInput
        If the address is neither.
    """
    allowed = "sqlite:///FILE or postgresql+psycopg://USER@HOST/NAME"
    try:
        address = sa.make_url(url)
    except sa.exc.ArgumentError as error:
        raise BadInput("database", url, allowed) from error
    name = address.get_backend_name()
    shown = address.render_as_string(hide_password=True)
    if name == "postgresql":
        address = address.set(drivername="postgresql+psycopg")
        try:
            return sa.create_engine(address, pool_size=8, max_overflow=56, pool_pre_ping=True, isolation_level="READ COMMITTED")
        except ModuleNotFoundError as error:
            raise BadInput("database", shown, f"a database whose driver is installed ({error.name} is not)") from error
    if name != "sqlite" or address.database in (None, "", ":memory:") or str(address.database).startswith("file:"):
        raise BadInput("database", shown, allowed)
    engine = sa.create_engine(address, pool_size=8, max_overflow=56, connect_args={"timeout": 60})
    event.listen(engine, "connect", _on_connect)
    event.listen(engine, "begin", _on_begin)
    return engine


def _on_connect(connection: Any, _: Any) -> None:
    connection.isolation_level = None  # transactions are begun below, not by the driver
    cursor = connection.cursor()
    cursor.execute(f"PRAGMA {_PRAGMAS[-1]}")
    for pragma in _PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _on_begin(connection: sa.Connection) -> None:
    connection.exec_driver_sql("BEGIN IMMEDIATE" if connection.get_execution_options().get("writes") else "BEGIN")
