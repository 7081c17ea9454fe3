"""The tables of the notebooks that a server keeps, as the newest migration leaves them."""

from sqlalchemy import (
    BigInteger,
    Column,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

# The revision that these tables are, and those before it.
REVISION = "0003"
EARLIER_REVISIONS = ("0001", "0002")
REVISION_TABLE = "underchassis_revision"

tables = MetaData()

# One row. Its generation is new whenever the rows were put back from a backup.
server = Table("server", tables, Column("generation", Text, primary_key=True))

# The id is drawn at random, so that none is given twice, not even after a deletion or a restore. Times are
# the server's own clock, in seconds.
notebook = Table(
    "notebook",
    tables,
    Column("id", BigInteger, primary_key=True, autoincrement=False),
    Column("created", BigInteger, nullable=False),
    Column("last_sequence", BigInteger, nullable=False),
    Column("operation_count", BigInteger, nullable=False),
    Column("operation_bytes", BigInteger, nullable=False),
    Column("picture_count", BigInteger, nullable=False, server_default="0"),
    Column("picture_bytes", BigInteger, nullable=False, server_default="0"),
    Column("cleared", BigInteger, nullable=False, server_default="0"),
)

# The key itself is never stored: `hash` is the SHA-256 of its 16 bytes.
notebook_key = Table(
    "notebook_key",
    tables,
    Column("hash", Text, primary_key=True),
    Column("notebook", ForeignKey("notebook.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("created", BigInteger, nullable=False),
    Column("replaced", BigInteger),
)

operation = Table(
    "operation",
    tables,
    Column("notebook", ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True),
    Column("sequence", BigInteger, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("record", Text, nullable=False),
    Column("device", Text, nullable=False),
    Column("time", BigInteger, nullable=False),
    Column("received", BigInteger, nullable=False),
    Column("document", Text, nullable=False),
    Index("operation_once", "id", "notebook", unique=True),
    Index("operation_of_record", "notebook", "kind", "record"),
    sqlite_with_rowid=False,
)

# What the operations say of each radio set, kept ready. `family` is NULL until the set itself has arrived.
set_overview = Table(
    "set_overview",
    tables,
    Column("notebook", ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True),
    Column("set_id", Text, primary_key=True),
    Column("title", Text, nullable=False),
    Column("family", Text),
    Column("removed", Integer, nullable=False),
    Column("findings", BigInteger, nullable=False),
    Column("changed", BigInteger, nullable=False),
    sqlite_with_rowid=False,
)

# The heads of each photo's record. `place` is 0 for the standing one.
photo_overview = Table(
    "photo_overview",
    tables,
    Column("notebook", ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True),
    Column("record", Text, primary_key=True),
    Column("place", Integer, primary_key=True, autoincrement=False),
    Column("set_id", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("removed", Integer, nullable=False),
    Column("received", BigInteger, nullable=False),
    sqlite_with_rowid=False,
)

# `total` is the size of the whole photo in bytes, `held` how much of it is here.
picture = Table(
    "picture",
    tables,
    Column("notebook", ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True),
    Column("sha256", Text, primary_key=True),
    Column("total", Integer, nullable=False),
    Column("held", Integer, nullable=False),
    sqlite_with_rowid=False,
)

picture_part = Table(
    "picture_part",
    tables,
    Column("notebook", BigInteger, primary_key=True, autoincrement=False),
    Column("sha256", Text, primary_key=True),
    Column("start", Integer, primary_key=True, autoincrement=False),
    Column("content", LargeBinary, nullable=False),
    ForeignKeyConstraint(
        ["notebook", "sha256"],
        ["picture.notebook", "picture.sha256"],
        ondelete="CASCADE",
        name="part_of_picture",
    ),
)

# A description that anybody with its link may read. The link's token is never stored: `hash` is the SHA-256
# of its 16 bytes. `expires` is the last day (YYYY-MM-DD, UTC) that it may be read. A revoked one has no
# document.
share = Table(
    "share",
    tables,
    Column("hash", Text, primary_key=True),
    Column("notebook", ForeignKey("notebook.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("created", BigInteger, nullable=False),
    Column("changed", BigInteger, nullable=False),
    Column("expires", Text),
    Column("revoked", BigInteger),
    Column("found", Integer, nullable=False),
    Column("document", Text),
)
