"""The two databases, empty ones of each, and the app on them."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import select

from tests.support.postgresql import Cluster
from tests.support.server_phone import ServerPhone
from webapp.app import create_app
from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.limits import Limits
from webapp.notebook.migrating import opened
from webapp.paths import rules_folder
from webapp.rulebook.book import Rulebook
from webapp.rulebook.tables import load
from webapp.site import Site

BOTH = ("sqlite", "postgresql")

Rows = dict[str, list[tuple[Any, ...]]]


def rows_of(database: Database) -> Rows:
    """Give every row but the server's generation."""
    with database.read() as connection:
        return {
            table.name: sorted(tuple(row) for row in connection.execute(select(table)))
            for table in schema.tables.sorted_tables
            if table is not schema.server
        }


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    """One PostgreSQL server for all tests of this process."""
    running = Cluster()
    yield running
    running.stop()


@pytest.fixture(scope="session")
def book() -> Rulebook:
    """The shipped rules, read once."""
    return load(rules_folder())


@pytest.fixture(params=BOTH)
def store_address(request: pytest.FixtureRequest) -> str | None:
    """The address of a new database, once of each kind; None means the file in the data folder."""
    if request.param == "sqlite":
        return None
    cluster: Cluster = request.getfixturevalue("cluster")
    return cluster.database()


@pytest.fixture(scope="session", params=BOTH)
def store(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    """A database of the newest form, once of each kind, shared: each test has notebooks of its own there."""
    address = None
    if request.param == "postgresql":
        cluster: Cluster = request.getfixturevalue("cluster")
        address = cluster.database()
    database = opened(tmp_path_factory.mktemp("store"), address)
    yield database
    database.engine.dispose()


@pytest.fixture
def make_app(tmp_path: Path, book: Rulebook) -> Callable[..., Flask]:
    """Give a function from a database, and limits other than the usual ones, to the app on it."""

    def made(database: Database, **limits: int) -> Flask:
        app = create_app(book, tmp_path, Site("none", tmp_path, None), database)
        app.config["NOTEBOOK_LIMITS"] = Limits(**limits)
        return app

    return made


@pytest.fixture
def phone(store: Database, make_app: Callable[..., Flask]) -> ServerPhone:
    """A phone that has opened a notebook of its own."""
    return ServerPhone(make_app(store)).opened()


@pytest.fixture
def make_store(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Callable[[str], Database]]:
    """Give a function from a kind to a new database of its own."""
    made: list[Database] = []

    def new(kind: str) -> Database:
        address = None
        if kind == "postgresql":
            cluster: Cluster = request.getfixturevalue("cluster")
            address = cluster.database()
        made.append(opened(tmp_path / f"store-{len(made)}", address))
        return made[-1]

    yield new
    for database in made:
        database.engine.dispose()
