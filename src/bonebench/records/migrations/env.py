"""Alembic's entry: runs on the connection it is given, which decides about transactions and foreign keys."""

from alembic import context

from bonebench.records.tables import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata, render_as_batch=True, transactional_ddl=False, compare_type=True)
context.run_migrations()
