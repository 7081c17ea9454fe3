"""Descriptions shared by a link."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the table of shares; what is there stays as it is."""
    op.create_table(
        "share",
        sa.Column("hash", sa.Text, primary_key=True),
        sa.Column(
            "notebook", sa.BigInteger, sa.ForeignKey("notebook.id", ondelete="CASCADE"), nullable=False
        ),
        sa.Column("created", sa.BigInteger, nullable=False),
        sa.Column("changed", sa.BigInteger, nullable=False),
        sa.Column("expires", sa.Text),
        sa.Column("revoked", sa.BigInteger),
        sa.Column("found", sa.Integer, nullable=False),
        sa.Column("document", sa.Text),
    )
    op.create_index("ix_share_notebook", "share", ["notebook"])
