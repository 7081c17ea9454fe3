"""Notebooks, their keys and operations, what these say of each set, and the server's generation."""

import secrets

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the first tables, and draw the server's first generation."""
    server = op.create_table("server", sa.Column("generation", sa.Text, primary_key=True))
    op.bulk_insert(server, [{"generation": secrets.token_hex(8)}])
    op.create_table(
        "notebook",
        sa.Column("id", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("created", sa.BigInteger, nullable=False),
        sa.Column("last_sequence", sa.BigInteger, nullable=False),
        sa.Column("operation_count", sa.BigInteger, nullable=False),
        sa.Column("operation_bytes", sa.BigInteger, nullable=False),
    )
    op.create_table(
        "notebook_key",
        sa.Column("hash", sa.Text, primary_key=True),
        sa.Column("notebook", sa.BigInteger, _of_notebook(), nullable=False),
        sa.Column("created", sa.BigInteger, nullable=False),
        sa.Column("replaced", sa.BigInteger),
    )
    op.create_index("ix_notebook_key_notebook", "notebook_key", ["notebook"])
    op.create_table(
        "operation",
        sa.Column("notebook", sa.BigInteger, _of_notebook(), primary_key=True),
        sa.Column("sequence", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("id", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("record", sa.Text, nullable=False),
        sa.Column("device", sa.Text, nullable=False),
        sa.Column("time", sa.BigInteger, nullable=False),
        sa.Column("received", sa.BigInteger, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_index("operation_once", "operation", ["id", "notebook"], unique=True)
    op.create_index("operation_of_record", "operation", ["notebook", "kind", "record"])
    _create_overviews()


def _of_notebook() -> sa.ForeignKey:
    return sa.ForeignKey("notebook.id", ondelete="CASCADE")


def _create_overviews() -> None:
    op.create_table(
        "set_overview",
        sa.Column("notebook", sa.BigInteger, _of_notebook(), primary_key=True),
        sa.Column("set_id", sa.Text, primary_key=True),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("family", sa.Text),
        sa.Column("removed", sa.Integer, nullable=False),
        sa.Column("findings", sa.BigInteger, nullable=False),
        sa.Column("changed", sa.BigInteger, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "photo_overview",
        sa.Column("notebook", sa.BigInteger, _of_notebook(), primary_key=True),
        sa.Column("record", sa.Text, primary_key=True),
        sa.Column("place", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("set_id", sa.Text, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("removed", sa.Integer, nullable=False),
        sa.Column("received", sa.BigInteger, nullable=False),
        sqlite_with_rowid=False,
    )
