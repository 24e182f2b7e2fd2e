"""How Alembic runs a step: on the connection and in the transaction that it is given."""

from alembic import context

from storage.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,
    transactional_ddl=True,
)
context.run_migrations()
