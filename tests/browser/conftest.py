"""A person at the table without a signal."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.conftest import server_on
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table


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
