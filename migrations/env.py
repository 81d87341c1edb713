"""Alembic's entry: run the migrations on the connection that ``brimline.records.migrate`` opened.

That connection is inside one explicit transaction already, with foreign keys not watched; nothing
here begins, commits or rolls back. There is no offline mode and no settings file.
"""

from __future__ import annotations

from alembic import context

from brimline.records.schema import Base

connection = context.config.attributes.get("connection")
if connection is None:
    raise SystemExit("Migrations are run by the program itself: see brimline.records.migrate.run.")

# SQLite changes a table by making a new one ("batch"); such a change drops the table's triggers,
# and whoever writes one must make them again.
context.configure(connection=connection, target_metadata=Base.metadata, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
