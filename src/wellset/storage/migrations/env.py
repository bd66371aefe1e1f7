"""Runs the numbered steps over the connection it is given."""

from __future__ import annotations

from alembic import context

from wellset.storage.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
