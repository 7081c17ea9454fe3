"""The commands `underchassis backup` and `underchassis restore`, and which database a command is about."""

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from webapp.errors import BadInput
from webapp.paths import data_folder

# The database is loaded by the commands that need it: loading takes as long as the rest of a command.
if TYPE_CHECKING:
    from webapp.notebook.database import Database

DATABASE_VARIABLE = "UNDERCHASSIS_DATABASE_URL"


def add_store_options(command: argparse.ArgumentParser) -> None:
    """Gives a command the options that name the data folder and the database."""
    command.add_argument("--data", type=Path, default=None, help="data folder (default: $UNDERCHASSIS_DATA)")
    command.add_argument(
        "--database", metavar="ADDRESS", default=None,
        help="a PostgreSQL database for the notebooks that phones keep on the server "
        f"(default: ${DATABASE_VARIABLE}, else a file in the data folder)",
    )  # fmt: skip


def add_file(command: argparse.ArgumentParser) -> None:
    """Gives a command the file that it writes or reads."""
    command.add_argument("file", metavar="FILE", type=Path, help="the file of the backup")
    add_store_options(command)


def backup(options: argparse.Namespace) -> str:
    """Writes a backup; gives the sentence that says so. Raises BadFile and StoreRefused."""
    from webapp.notebook.backup import write_backup

    _check_there(options)
    with _database(options) as (database, _):
        notebooks = write_backup(database, options.file.expanduser())
    return f"{_counted(notebooks)} backed up to {options.file}."


def restore(options: argparse.Namespace) -> str:
    """Puts a backup back; gives the sentences that say so. Raises BadBackup, BadFile and StoreRefused."""
    from webapp.notebook.restore import restore_backup

    with _database(options) as (database, data):
        restored = restore_backup(database, options.file.expanduser(), data)
    said = f"{_counted(restored.notebooks)} restored from {options.file}."
    return f"{said}\nWhat was there before is kept in {restored.before}." if restored.before else said


def _check_there(options: argparse.Namespace) -> None:
    """Raises BadInput for a data folder without notebooks: a backup of nothing would pass for one."""
    from webapp.notebook.database import FILE_NAME

    data, address = store_of(options)
    if not address and not (data / FILE_NAME).exists():
        raise BadInput(
            f"The data folder {data} holds no notebooks: there is no {FILE_NAME} in it.",
            "Name the server's data folder with --data, or its database with --database.",
        )


@contextmanager
def _database(options: argparse.Namespace) -> Iterator[tuple["Database", Path]]:
    from webapp.notebook.migrating import opened

    data, address = store_of(options)
    try:
        database = opened(data, address)
    except OSError as error:
        raise BadInput(
            f"The data folder {data} cannot be used: {error.strerror}.", "Choose another with --data."
        ) from error
    try:
        yield database, data
    finally:
        database.engine.dispose()


def _counted(notebooks: int) -> str:
    return "1 notebook" if notebooks == 1 else f"{notebooks:,} notebooks"


def store_of(options: argparse.Namespace) -> tuple[Path, str | None]:
    """The data folder, and the address of the database where it is not a file in it."""
    data = options.data.expanduser().absolute() if options.data else data_folder()
    return data, options.database or os.environ.get(DATABASE_VARIABLE) or None
