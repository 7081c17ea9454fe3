"""A person at the table, with the app open."""

from collections.abc import Callable

import pytest

from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table


@pytest.fixture
def table(live_server: LiveServer, browser: Callable[..., Phone]) -> Table:
    """A new phone with the app open on an empty notebook."""
    person = Table(browser(), live_server.url)
    person.open()
    return person
