"""The commands `underchassis backup` and `underchassis restore`, and which database a command is about."""

import argparse
import os
from pathlib import Path

from webapp.paths import data_folder

DATABASE_VARIABLE = "UNDERCHASSIS_DATABASE_URL"


def add_store_options(command: argparse.ArgumentParser) -> None:
    """Gives a command the options that name the data folder and the database."""
    command.add_argument("--data", type=Path, default=None, help="data folder (default: $UNDERCHASSIS_DATA)")
    command.add_argument(
        "--database", metavar="ADDRESS", default=None,
        help="a PostgreSQL database for the notebooks that phones keep on the server "
        f"(default: ${DATABASE_VARIABLE}, else a file in the data folder)",
    )  # fmt: skip


def store_of(options: argparse.Namespace) -> tuple[Path, str | None]:
    """The data folder, and the address of the database where it is not a file in it."""
    data = options.data.expanduser().absolute() if options.data else data_folder()
    return data, options.database or os.environ.get(DATABASE_VARIABLE) or None
