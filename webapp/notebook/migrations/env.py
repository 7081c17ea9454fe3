"""Runs the migrations on the connection that it is given, inside that connection's transaction."""

from alembic import context

from webapp.notebook.schema import REVISION_TABLE, tables

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=tables,
    version_table=REVISION_TABLE,
    transactional_ddl=True,
)
context.run_migrations()
