"""Fixtures for every test: the length of sweeps, a live server, a phone."""

import os
import random
import shutil
import sys
import tomllib
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from pathlib import Path

import pytest
from hypothesis import settings

from tests.support.examples import STEADY
from tests.support.parsing import parsed
from tests.support.phone import BROWSER, DRIVER, Phone
from tests.support.server import LiveServer, free_port
from tests.support.table import Table
from webapp.app import documents
from webapp.paths import rules_folder, static_folder
from webapp.rulebook.tables import load_all
from webapp.site import build

# Keeping the whole app for each test anew would take longer than most of these tests.
SLOW_LINE = """
{
  const workers = globalThis.ServiceWorkerContainer;
  if (workers) workers.prototype.register = () => new Promise(() => {});
}
"""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the option --long."""
    parser.addoption("--long", action="store_true", help="run the sweeps in full, not a twentieth of each")


def pytest_configure(config: pytest.Config) -> None:
    """Try the same generated examples every time; with --long twice as many, and new ones."""
    settings.register_profile(STEADY, derandomize=True, max_examples=50, deadline=None)
    if not config.getoption("--long"):
        settings.load_profile(STEADY)


@pytest.fixture(autouse=True, scope="session")
def parsed_once() -> Iterator[None]:
    """Parse no rule table twice in this process: that is half of what a load of the rules takes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tomllib, "loads", parsed)
        yield


@pytest.fixture
def sweep(request: pytest.FixtureRequest) -> Callable[..., Sequence[int]]:
    """Give a function from the full number of cases to those to run: all, or always the same twentieth."""

    def cases(full: int, one_in: int = 20) -> Sequence[int]:
        if request.config.getoption("--long"):
            return range(full)
        return sorted(random.Random(full).sample(range(full), max(1, full // one_in)))

    return cases


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bool], Path]:
    """Give a function from with or without the demo to a data folder in which the site is built already."""
    # The folder above belongs to all processes of a run: whichever comes first builds for the others too.
    alone = "PYTEST_XDIST_WORKER" not in os.environ
    base = tmp_path_factory.getbasetemp()
    shared = (base if alone else base.parent) / "built"

    @cache
    def folder(demo: bool) -> Path:
        first = shared / ("demo" if demo else "plain")
        books = load_all(rules_folder())
        files = documents(books.english, demo=demo, further=books.further.values())
        build(static_folder(), files, first, demo=demo)
        # A server writes its key and its notebooks there, so each process has a copy of its own.
        return Path(shutil.copytree(first, tmp_path_factory.mktemp("built") / "data"))

    return folder


def server_on(data: Path, *options: str, port: int = 0) -> LiveServer:
    """The app, with further options of `serve`, on a data folder and a free or a given port; not started."""
    script, port = str(Path(sys.executable).with_name("underchassis")), port or free_port()
    command = [script, "serve", "--host", "127.0.0.1", "--port", str(port), "--data", str(data), *options]
    return LiveServer(command, port, data)


@pytest.fixture
def serve(tmp_path: Path, built: Callable[[bool], Path]) -> Iterator[Callable[..., LiveServer]]:
    """Give a function that starts the app, with further options of `serve`, on a data folder of its own."""
    servers: list[LiveServer] = []

    def started(*options: str) -> LiveServer:
        data = tmp_path / f"data-{len(servers)}"
        # A site built from the same files is taken as it is, which spares each test the compressing.
        shutil.copytree(built("--demo" in options), data)
        servers.append(server_on(data, *options))
        servers[-1].start()
        return servers[-1]

    yield started
    for server in servers:
        server.stop()


@pytest.fixture
def live_server(serve: Callable[..., LiveServer]) -> LiveServer:
    """Give the running app with an empty notebook; it can be stopped and started again on the same port."""
    return serve()


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[Callable[..., Phone]]:
    """Give a function that starts a phone, on a new or a given profile; console errors fail the test."""
    # The main job is tested in a browser: a machine without one cannot say that it works.
    assert all((BROWSER, DRIVER)), "Install chromium and chromedriver; without them the app is not tested."
    phones: list[Phone] = []

    def started(
        profile: Path | None = None, width: int = 360, height: int = 640, scripts: bool = True
    ) -> Phone:
        phones.append(Phone(profile or tmp_path / f"profile-{len(phones)}", width, height, scripts))
        return phones[-1]

    yield started
    errors = [error for phone in phones for error in phone.unexpected_errors()]
    for phone in phones:
        phone.close()
    assert not errors, "\n".join(errors)


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
    phone.always_before_pages(SLOW_LINE)
    yield phone
    phone.close()


def cleared(*phones: Phone) -> None:
    """Clear phones for the next test; console errors fail the one that is over."""
    errors = [error for phone in phones for error in phone.unexpected_errors()]
    for phone in phones:
        phone.clear()
    assert not errors, "\n".join(errors)


@pytest.fixture
def bare_phone(shared_phone: Phone) -> Iterator[Phone]:
    """The shared phone with no page open."""
    yield shared_phone
    cleared(shared_phone)


@pytest.fixture
def newcomer(standing_server: LiveServer, bare_phone: Phone) -> Table:
    """A person whose phone never saw the app; no page is open."""
    person = Table(bare_phone, standing_server.url)
    person.forget()
    return person


@pytest.fixture
def table(newcomer: Table) -> Table:
    """The app open on an empty notebook."""
    newcomer.open()
    return newcomer


@pytest.fixture
def opened_phone(table: Table) -> Phone:
    """The phone on which the app is open, for what its modules say in a page."""
    return table.phone
