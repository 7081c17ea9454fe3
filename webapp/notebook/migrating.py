"""Brings a database to the newest form, once, however many processes start at the same moment."""

import fcntl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, func, inspect, select, text

from webapp.errors import DatabaseUnusable
from webapp.notebook.database import Database, open_database
from webapp.notebook.schema import EARLIER_REVISIONS, REVISION, REVISION_TABLE

# Any number, as long as every process takes the same.
_POSTGRESQL_LOCK = 7_305_811_936_400_127


def opened(data: Path, address: str | None = None) -> Database:
    """The database, brought to the newest form. Raises StoreRefused and OSError."""
    database = open_database(data, address)
    upgrade(database)
    return database


def upgrade(database: Database, target: str = "head") -> None:
    """Takes the steps that are missing, all or none.

    Raises DatabaseUnusable when a newer version of the program has written the database.
    """
    with _one_at_a_time(database), database.write() as connection:
        if database.file is None:
            connection.execute(select(func.pg_advisory_xact_lock(_POSTGRESQL_LOCK)))
        found = _revision(connection)
        if found == REVISION:
            return
        if found is not None and found not in EARLIER_REVISIONS:
            raise _too_new(database, found)
        _migrate(connection, target)


@contextmanager
def _one_at_a_time(database: Database) -> Iterator[None]:
    if database.file is None:
        yield
        return
    with database.file.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        with database.unguarded() as connection:
            # Stays with the file. Changing to it is the one thing that SQLite does not wait for others with.
            connection.exec_driver_sql("PRAGMA journal_mode = WAL")
        yield


def _revision(connection: Connection) -> str | None:
    if not inspect(connection).has_table(REVISION_TABLE):
        return None
    found: str | None = connection.scalar(text(f"SELECT version_num FROM {REVISION_TABLE}"))
    return found


def _migrate(connection: Connection, target: str) -> None:
    # Loaded only when there is something to do: it takes as long as half of the server's start.
    from alembic import command
    from alembic.config import Config

    config = Config()
    # The setting is read with "%" as a sign of its own.
    config.set_main_option("script_location", str(Path(__file__).with_name("migrations")).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, target)


def _too_new(database: Database, found: str) -> DatabaseUnusable:
    return DatabaseUnusable(
        f"A newer version of Underchassis has written {database.name}: it is of form {found}, "
        f"and this version knows forms up to {REVISION}.",
        "Install the newer version again; nothing in the database was changed.",
    )
