"""Whether the schema of a database is the one that this program knows, and the way there."""

from __future__ import annotations

from pathlib import Path

import sqlalchemy as sa

from wholefilm.base.errors import BadInput

HEAD = "0001"
_KNOWN = ("0001",)
_LOCK = 7_032_411  # any fixed number: two programs that open a new PostgreSQL database at once


def version_of(connection: sa.Connection) -> str | None:
    """Version of the schema as the database states it; None for a database without one."""
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(sa.text("SELECT version_num FROM alembic_version")).scalar()


def bring_up(engine: sa.Engine) -> None:
    """Bring a database to the schema that this program knows, in one transaction; nothing to do costs one query.

    Raises
    ------
    BadInput
        If the database was made by a later program, or belongs to something else.
    """
    with engine.connect() as connection:
        if version_of(connection) == HEAD:
            return
    with engine.connect().execution_options(writes=True) as connection, connection.begin():
        if connection.dialect.name == "postgresql":
            connection.execute(sa.text("SELECT pg_advisory_xact_lock(:key)"), {"key": _LOCK})
        version = version_of(connection)
        if version == HEAD:
            return
        if version is not None and version not in _KNOWN:
            raise BadInput("database", f"schema {version}", f"a schema that this program knows: {', '.join(_KNOWN)}; use a later program")
        if version is None and sa.inspect(connection).has_table("entry"):
            raise BadInput("database", "a table 'entry' without a schema version", "a database of this program, or an empty one")
        _migrate(connection)


def _migrate(connection: sa.Connection) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations").replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
