"""The form of a backup: an SQLite file with the tables of the notebooks, and one that vouches for them."""

import hashlib
import sqlite3
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Column, Connection, Integer, MetaData, Table, Text, select

from webapp.notebook.schema import tables

# Grows with every change of the tables; backups of all forms up to it can be put back.
FORM = 2
# The form from which on a table is there; the others are in every backup.
_SINCE = {"share": 2}
HEAD = b"SQLite format 3\0"

_own = MetaData()

# One row a table: how many rows it has, and the SHA-256 over all of them in the order of their primary key.
vouching = Table(
    "backup",
    _own,
    Column("name", Text, primary_key=True),
    Column("form", Integer, nullable=False),
    Column("made", Text, nullable=False),
    Column("rows", Integer, nullable=False),
    Column("sha256", Text, nullable=False),
)


def tables_of(form: int) -> list[Table]:
    """The tables that a backup of this form holds, each after those that it refers to."""
    return [table for table in tables.sorted_tables if _SINCE.get(table.name, 1) <= form]


def create_tables(connection: Connection) -> None:
    """Makes the empty tables of a backup."""
    tables.create_all(connection)
    _own.create_all(connection)


def rows_of(connection: Connection, table: Table) -> Iterator[tuple[Any, ...]]:
    """All rows of a table in the order of its primary key, a few in memory at a time."""
    in_order = select(table).order_by(*table.primary_key.columns)
    for row in connection.execution_options(yield_per=50).execute(in_order):
        yield tuple(row)


def vouch(connection: Connection, table: Table) -> tuple[int, str]:
    """How many rows a table of a backup has, and their SHA-256."""
    count, content = 0, hashlib.sha256()
    for row in rows_of(connection, table):
        count += 1
        for value in row:
            content.update(_encoded(value))
    return count, content.hexdigest()


def _encoded(value: Any) -> bytes:
    """A value as bytes that no other value has, whatever follows."""
    if isinstance(value, bytes):
        kind, content = b"b", value
    elif isinstance(value, str):
        kind, content = b"t", value.encode()
    elif isinstance(value, int):
        kind, content = b"i", str(value).encode()
    elif value is None:
        kind, content = b"n", b""
    else:
        raise sqlite3.DatabaseError(f"a value of the kind {type(value).__name__}")
    return kind + str(len(content)).encode() + b":" + content
