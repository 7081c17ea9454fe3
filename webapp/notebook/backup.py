"""Writes all notebooks of a server into one file, from one moment, while the server goes on serving."""

import contextlib
import os
import secrets
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path

from sqlalchemy import Connection, Table, func, insert, select

from webapp.errors import BadFile, ServerFull
from webapp.notebook import schema
from webapp.notebook.backup_form import FORM, create_tables, rows_of, vouch, vouching
from webapp.notebook.database import Database, sqlite_database

# Rows copied at a time; a part of a photo has up to half a megabyte.
_AT_ONCE = 50


def write_backup(database: Database, target: Path) -> int:
    """Writes a backup of this database into a new file; gives how many notebooks it holds.

    The file has its name only once it is whole and on the disk. Raises BadFile and StoreRefused.
    """
    if target.exists():
        raise BadFile(f'"{target}" exists already, and a backup overwrites nothing.', "Choose another name.")
    draft = target.with_name(f".{target.name}-{secrets.token_hex(4)}")
    try:
        with _removed_in_the_end(draft):
            notebooks = _written(database, draft)
            draft.replace(target)
            _flush(target.parent)
    except ServerFull as error:
        raise BadFile(f'"{target}" cannot be written: the disk is full.', "Choose another disk.") from error
    except OSError as error:
        raise BadFile(f'"{target}" cannot be written: {error.strerror}.', "Choose another place.") from error
    return notebooks


@contextlib.contextmanager
def _removed_in_the_end(draft: Path) -> Iterator[None]:
    try:
        yield
    finally:
        for leftover in (draft, draft.with_name(draft.name + "-journal")):
            leftover.unlink(missing_ok=True)


def _written(database: Database, draft: Path) -> int:
    copy = sqlite_database(draft)
    try:
        with database.read() as source, copy.write() as target:
            create_tables(target)
            for table in schema.tables.sorted_tables:
                copy_rows(source, target, table)
            made = datetime.now(UTC).isoformat(timespec="seconds")
            for table in schema.tables.sorted_tables:
                # Over what is in the file: its order, not that of another database, is the one checked later.
                count, content = vouch(target, table)
                row = {"name": table.name, "form": FORM, "made": made, "rows": count, "sha256": content}
                target.execute(insert(vouching).values(row))
            notebooks = target.scalar(select(func.count()).select_from(schema.notebook)) or 0
    finally:
        copy.engine.dispose()
    _flush(draft)
    return notebooks


def _flush(path: Path) -> None:
    descriptor = os.open(path, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def copy_rows(source: Connection, target: Connection, table: Table) -> None:
    """Copies all rows of a table from one database into another."""
    rows = rows_of(source, table)
    names = [column.name for column in table.columns]
    while block := list(islice(rows, _AT_ONCE)):
        target.execute(insert(table), [dict(zip(names, row, strict=True)) for row in block])
