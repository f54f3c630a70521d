"""Run the steps on the connection, and inside the transaction, that the store has begun."""

from __future__ import annotations

from alembic import context

context.configure(connection=context.config.attributes["connection"])
context.run_migrations()
