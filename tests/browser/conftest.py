"""A person at the table without a signal."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.conftest import SLOW_LINE, cleared, server_on
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


def profile_of(kept: Kept, folder: Path) -> Path:
    """A copy of the profile of that visit inside a folder."""
    mark_of_a_running_browser = shutil.ignore_patterns("Singleton*")
    return Path(shutil.copytree(kept.profile, folder / "kept", ignore=mark_of_a_running_browser))


@pytest.fixture(scope="session")
def field_phone(kept: Kept, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Phone]:
    """One phone with what a visit kept, started cold, for all tests that begin without a signal."""
    phone = Phone(profile_of(kept, tmp_path_factory.mktemp("field")))
    yield phone
    phone.close()


@pytest.fixture
def field(kept: Kept, field_phone: Phone) -> Iterator[Table]:
    """The app open without a signal: kept by one visit, nothing entered yet, the server stopped."""
    person = Table(field_phone, kept.server.url)
    person.forget_findings()
    person.open()
    yield person
    cleared(field_phone)


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


@pytest.fixture(scope="session")
def other_phone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Phone]:
    """Another phone beside the shared one, as on a slow line too, for all tests of two devices."""
    phone = Phone(tmp_path_factory.mktemp("other") / "profile")
    phone.always_before_pages(SLOW_LINE)
    yield phone
    phone.close()


@pytest.fixture
def devices(pair_server: LiveServer, shared_phone: Phone, other_phone: Phone) -> Iterator[list[Device]]:
    """Two devices of one person with the app open, each with an empty notebook of its own."""
    pair = [Device(phone, pair_server) for phone in (shared_phone, other_phone)]
    for device in pair:
        device.forget()
        device.open()
    yield pair
    cleared(shared_phone, other_phone)


@pytest.fixture(scope="session")
def demo_server(built: Callable[[bool], Path]) -> Iterator[LiveServer]:
    """The app whose new notebooks begin with the demo, for all tests that never stop it."""
    server = server_on(built(True), "--demo")
    server.start()
    yield server
    server.stop()


@pytest.fixture
def demo(demo_server: LiveServer, bare_phone: Phone) -> Table:
    """The app open on a notebook that begins with the demo."""
    person = Table(bare_phone, demo_server.url)
    person.forget()
    person.open()
    return person
