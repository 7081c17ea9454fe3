"""Photos and their parts, and what they take of a notebook's limits."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Add the two tables and the notebook's counters; what is there stays as it is."""
    for name in ("picture_count", "picture_bytes", "cleared"):
        op.add_column("notebook", sa.Column(name, sa.BigInteger, nullable=False, server_default="0"))
    op.create_table(
        "picture",
        sa.Column(
            "notebook", sa.BigInteger, sa.ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True
        ),
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("total", sa.Integer, nullable=False),
        sa.Column("held", sa.Integer, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "picture_part",
        sa.Column("notebook", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("start", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.ForeignKeyConstraint(
            ["notebook", "sha256"],
            ["picture.notebook", "picture.sha256"],
            ondelete="CASCADE",
            name="part_of_picture",
        ),
    )
