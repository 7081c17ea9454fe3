"""A person at the table, with the app open."""

import itertools
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.conftest import server_on
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

PLACES = itertools.count(1)

# Fetching every file of the app, for each origin anew, would take longer than most of these tests.
SLOW_LINE = "ServiceWorkerContainer.prototype.register = () => new Promise(() => {});"


@pytest.fixture(scope="session")
def standing_server(built: Callable[[bool], Path]) -> Iterator[LiveServer]:
    """One app with an empty notebook, for all tests that never stop it."""
    server = server_on(built(False))
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def shared_phone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Phone]:
    """One phone, for all tests that need no new one; starting a browser takes longer than most of them.

    It stays as on a slow line, with the app not yet kept whole; what the app does then, new phones try.
    """
    phone = Phone(tmp_path_factory.mktemp("phone") / "profile")
    phone.before_each_page(SLOW_LINE)
    yield phone
    phone.close()


@pytest.fixture
def table(standing_server: LiveServer, shared_phone: Phone) -> Iterator[Table]:
    """The app open on an empty notebook.

    Every name under localhost leads to this machine, and each is an origin with a storage of its own: to the
    app it is a phone that never saw it.
    """
    person = Table(shared_phone, standing_server.url.replace("localhost", f"place-{next(PLACES)}.localhost"))
    person.open()
    yield person
    errors = shared_phone.unexpected_errors()
    shared_phone.clear()
    assert not errors, "\n".join(errors)


@pytest.fixture
def field(live_server: LiveServer, browser: Callable[..., Phone]) -> Table:
    """The app open without a signal: kept by one visit, the server stopped, the browser started cold."""
    person = Table(browser(), live_server.url)
    person.open()
    person.until_ready_offline()
    live_server.stop()
    person.phone.cold_start()
    person.open()
    return person
