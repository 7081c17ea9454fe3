"""A person at the table without a signal."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.conftest import SLOW_LINE, server_on
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table
from tests.support.two_devices import Device


@dataclass(frozen=True)
class Kept:
    """What a browser kept of one visit, and the server it came from, which is stopped."""

    profile: Path
    server: LiveServer


@pytest.fixture(scope="session")
def kept(built: Callable[[bool], Path], tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """The app kept by one visit, for every test that begins without a signal."""
    server, profile = server_on(built(False)), tmp_path_factory.mktemp("kept") / "profile"
    server.start()
    phone = Phone(profile)
    person = Table(phone, server.url)
    person.open()
    person.until_ready_offline()
    phone.close()
    server.stop()
    return Kept(profile, server)


@pytest.fixture
def field(kept: Kept, browser: Callable[..., Phone], tmp_path: Path) -> Table:
    """The app open without a signal: kept by one visit, the server stopped, the browser started cold."""
    mark_of_a_running_browser = shutil.ignore_patterns("Singleton*")
    profile = Path(shutil.copytree(kept.profile, tmp_path / "kept", ignore=mark_of_a_running_browser))
    person = Table(browser(profile), kept.server.url)
    person.open()
    return person


@pytest.fixture
def signal(kept: Kept) -> Iterator[LiveServer]:
    """The server of the field, which a test may start and stop."""
    yield kept.server
    kept.server.stop()


@pytest.fixture(scope="module")
def pair_server(
    built: Callable[[bool], Path], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[LiveServer]:
    """The app, for the pairs of one file: it lets nobody make more than twenty notebooks an hour."""
    data = tmp_path_factory.mktemp("pair") / "data"
    shutil.copytree(built(False), data)
    server = server_on(data)
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="module")
def pair_phones(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Phone]]:
    """Two phones for the pairs of one file, as on a slow line."""
    phones = [Phone(tmp_path_factory.mktemp("pair") / "profile") for _ in range(2)]
    for phone in phones:
        phone.before_each_page(SLOW_LINE)
    yield phones
    for phone in phones:
        phone.close()


@pytest.fixture
def devices(pair_server: LiveServer, pair_phones: list[Phone]) -> Iterator[list[Device]]:
    """Two devices of one person with the app open, each with an empty notebook of its own."""
    pair = [Device(phone, pair_server) for phone in pair_phones]
    for device in pair:
        device.forget()
        device.open()
    yield pair
    errors = [error for phone in pair_phones for error in phone.unexpected_errors()]
    for phone in pair_phones:
        phone.clear()
    assert not errors, "\n".join(errors)
