"""Puts the rows of a backup in the place of a database's own: all of them, or nothing changes."""

import hashlib
import secrets
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, Table, create_engine, delete, func, inspect, select, text
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import StaticPool

from webapp.errors import BadBackup, BadFile
from webapp.notebook import schema
from webapp.notebook.backup import copy_rows, write_backup
from webapp.notebook.backup_form import FORM, HEAD, tables_of, vouch, vouching
from webapp.notebook.database import Database
from webapp.notebook.shares import withdraw_again, withdrawn

_picture = schema.picture.c
_part = schema.picture_part.c


@dataclass(frozen=True)
class Restored:
    """How many notebooks were put back, and the backup of what stood there before, if anything did."""

    notebooks: int
    before: Path | None


def restore_backup(database: Database, file: Path, data: Path) -> Restored:
    """Checks the whole backup, keeps what stands in the database in a file in `data`, and replaces it.

    The server's generation is new afterwards, so that every phone sends all it has once more; a link taken
    back since the backup stays so. A server may serve meanwhile. Raises BadBackup, BadFile and StoreRefused;
    nothing is changed then.
    """
    with _opened(file) as source:
        held = _checked(source, file)
        with database.write() as target:
            if database.file is None:
                names = ", ".join(table.name for table in schema.tables.sorted_tables)
                # Reading goes on; who writes waits, and finds the new rows.
                target.execute(text(f"LOCK TABLE {names} IN EXCLUSIVE MODE"))
            before = _kept(database, target, data)
            taken_back = withdrawn(target)
            for table in reversed(schema.tables.sorted_tables):
                target.execute(delete(table))
            for table in held:
                copy_rows(source, target, table)
            withdraw_again(target, taken_back)
            target.execute(schema.server.update().values(generation=secrets.token_hex(8)))
            return Restored(_notebooks(target), before)


def _kept(database: Database, target: Connection, data: Path) -> Path | None:
    """A backup of what stands in the database; nobody writes there meanwhile, since `target` holds it."""
    if not _notebooks(target):
        return None
    moment = datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
    kept = data / f"before-restore-{moment}-{secrets.token_hex(2)}.sqlite3"
    try:
        data.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BadFile(
            f"The data folder {data} cannot be used: {error.strerror}.", "Choose another."
        ) from error
    write_backup(database, kept)
    return kept


def _notebooks(connection: Connection) -> int:
    return connection.scalar(select(func.count()).select_from(schema.notebook)) or 0


@contextmanager
def _opened(file: Path) -> Iterator[Connection]:
    try:
        with file.open("rb") as stream:
            head = stream.read(len(HEAD))
    except OSError as error:
        raise BadFile(f'"{file}" cannot be read: {error.strerror}.', "Check the name.") from error
    if head != HEAD:
        raise BadBackup(f'"{file}" is no backup.', "Expected a file that underchassis backup has written.")
    address = f"{file.absolute().as_uri()}?mode=ro&immutable=1"
    engine = create_engine(
        "sqlite://",
        poolclass=StaticPool,
        hide_parameters=True,
        creator=lambda: sqlite3.connect(address, uri=True),
    )
    try:
        with engine.connect() as connection:
            yield connection
    finally:
        engine.dispose()


def _checked(source: Connection, file: Path) -> list[Table]:
    """The tables of this backup; BadBackup unless every row and every photo is as when it was written."""
    try:
        held = tables_of(_form_of(source, file))
        whole = (
            source.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
            and all(_is_vouched_for(source, table) for table in held)
            and not _damaged_pictures(source)
        )
    except (SQLAlchemyError, sqlite3.Error, ValueError, OverflowError) as error:
        raise _damaged(file) from error
    if not whole:
        raise _damaged(file)
    return held


def _form_of(source: Connection, file: Path) -> int:
    if vouching.name not in inspect(source).get_table_names():
        raise BadBackup(
            f'"{file}" is a database, but no backup.', "Expected a file that underchassis backup has written."
        )
    forms = set(source.scalars(select(vouching.c.form)))
    if len(forms) != 1 or not forms <= set(range(1, FORM + 1)):
        raise BadBackup(
            f'"{file}" is a backup of form {", ".join(map(str, forms)) or "none"}; expected 1 to {FORM}.',
            "Restore it with the version of Underchassis that wrote it.",
        )
    return forms.pop()


def _damaged(file: Path) -> BadBackup:
    return BadBackup(
        f'"{file}" is damaged or cut short, so nothing of it was taken and nothing changed.',
        "Use another backup.",
    )


def _is_vouched_for(source: Connection, table: Table) -> bool:
    row = source.execute(select(vouching).where(vouching.c.name == table.name)).one_or_none()
    return row is not None and (row.rows, row.sha256) == vouch(source, table)


def _damaged_pictures(source: Connection) -> list[str]:
    """Hashes of photos said to be whole whose parts are not."""
    whole = source.execute(
        select(_picture.notebook, _picture.sha256).where(_picture.held == _picture.total)
    ).all()
    return [sha256 for notebook, sha256 in whole if _content_hash(source, notebook, sha256) != sha256]


def _content_hash(source: Connection, notebook: int, sha256: str) -> str:
    content = hashlib.sha256()
    mine = (_part.notebook == notebook, _part.sha256 == sha256)
    for part in source.scalars(select(_part.content).where(*mine).order_by(_part.start)):
        content.update(part)
    return content.hexdigest()
