"""Jobs, entries, what is kept aside, summaries; triggers that refuse change and removal."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables and their triggers."""
    op.create_table(
        "job",
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("position", sa.BigInteger, nullable=False),
    )
    text, number = sa.Text(), sa.BigInteger()
    told: list[tuple[str, Any]] = [("id", sa.String(36)), ("device", sa.String(36)), ("seq", number), ("kind", text), ("at", text)]
    kept: list[tuple[str, Any]] = [("bytes", sa.LargeBinary()), ("received", text)]
    op.create_table(
        "entry",
        sa.Column("job", sa.String(36), sa.ForeignKey("job.id"), primary_key=True),
        sa.Column("position", sa.BigInteger, primary_key=True),
        *(sa.Column(name, form, nullable=False) for name, form in [*told, ("hash", sa.String(64)), *kept]),
        sa.UniqueConstraint("job", "id", name="entry_id"),
        sa.UniqueConstraint("job", "device", "seq", name="entry_device_seq"),
    )
    op.create_table(
        "aside",
        sa.Column("job", sa.String(36), sa.ForeignKey("job.id"), primary_key=True),
        sa.Column("hash", sa.String(64), primary_key=True),
        *(sa.Column(name, form, nullable=False) for name, form in [*told, *kept]),
    )
    op.create_table(
        "summary",
        sa.Column("job", sa.String(36), sa.ForeignKey("job.id"), primary_key=True),
        sa.Column("position", sa.BigInteger, nullable=False),
        sa.Column("json", sa.LargeBinary, nullable=False),
    )
    if op.get_bind().dialect.name == "postgresql":
        _refuse_postgresql()
    else:
        _refuse_sqlite()


def _refuse_sqlite() -> None:
    for table in ("entry", "aside"):
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table}: nothing is changed or removed'); END"
            )
    op.execute("CREATE TRIGGER job_delete BEFORE DELETE ON job BEGIN SELECT RAISE(ABORT, 'job: nothing is removed'); END")
    op.execute(
        "CREATE TRIGGER job_update BEFORE UPDATE ON job WHEN NEW.id <> OLD.id OR NEW.position < OLD.position "
        "BEGIN SELECT RAISE(ABORT, 'job: a position only grows'); END"
    )


def _refuse_postgresql() -> None:
    op.execute(
        "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION '%: nothing is changed or removed', TG_TABLE_NAME; END $$"
    )
    op.execute(
        "CREATE FUNCTION refuse_shrink() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        "IF NEW.id <> OLD.id OR NEW.position < OLD.position THEN RAISE EXCEPTION 'job: a position only grows'; END IF; RETURN NEW; END $$"
    )
    for table in ("entry", "aside"):
        op.execute(f"CREATE TRIGGER {table}_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION refuse_change()")
        op.execute(f"CREATE TRIGGER {table}_truncate BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()")
    op.execute("CREATE TRIGGER job_delete BEFORE DELETE ON job FOR EACH ROW EXECUTE FUNCTION refuse_change()")
    op.execute("CREATE TRIGGER job_truncate BEFORE TRUNCATE ON job FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()")
    op.execute("CREATE TRIGGER job_update BEFORE UPDATE ON job FOR EACH ROW EXECUTE FUNCTION refuse_shrink()")
