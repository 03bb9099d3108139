"""Run the steps on the connection that ``opening.py`` hands over, all in one transaction."""

from alembic import context

from capacity.store.tables import metadata

connection = context.config.attributes["connection"]
context.configure(
    connection=connection, target_metadata=metadata, transactional_ddl=True, render_as_batch=True
)
with context.begin_transaction():
    context.run_migrations()
