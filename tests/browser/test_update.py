"""A new version of the app waits for a yes and loses nothing."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.browser.conftest import Kept, profile_of
from tests.conftest import server_on
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table


@pytest.fixture
def newer(kept: Kept, built: Callable[[bool], Path], tmp_path: Path) -> Iterator[LiveServer]:
    """The server of that visit with a new version beside the old one; not started yet."""
    data = tmp_path / "newer"
    for demo in (False, True):
        shutil.copytree(built(demo), data, dirs_exist_ok=True)
    # The demo belongs to what is served, so switching it on makes another version.
    server = server_on(data, "--demo", port=int(kept.server.url.rpartition(":")[2]))
    yield server
    server.stop()


@pytest.fixture
def old_version(kept: Kept, newer: LiveServer, browser: Callable[..., Phone], tmp_path: Path) -> Table:
    """A phone with a half-done set in the old version, and the server started with a new one."""
    table = Table(browser(profile_of(kept, tmp_path)), newer.url)
    table.open()
    table.new_set()
    table.answer("loading-coil", "Gone")
    newer.start()
    return table


def _version(table: Table) -> str:
    version = table.phone.js("return document.documentElement.dataset.version;")
    assert isinstance(version, str)
    return version


def test_a_new_version_waits_for_a_yes_and_keeps_every_finding(old_version: Table) -> None:
    table = old_version
    before, line = _version(table), table.said("loading-coil")
    table.reload()
    table.find(".notice", "A new version of the app is ready")
    assert _version(table) == before
    table.tap(".notice .button", "Use it now")
    table.phone.until(lambda _: _version(table) != before, "the new version to be shown")
    assert table.said("loading-coil") == line


def test_right_after_the_update_the_set_opens_with_the_server_stopped(
    old_version: Table, newer: LiveServer
) -> None:
    table = old_version
    before, line = _version(table), table.said("loading-coil")
    table.reload()
    table.tap(".notice .button", "Use it now")
    table.phone.until(lambda _: _version(table) != before, "the new version to be shown")
    newer.stop()
    # Photos of the demo may still be on their way; they come another time.
    table.phone.expected.append("/demo/")
    where = table.phone.driver.current_url
    table.phone.cold_start()
    table.phone.driver.get(where)
    assert table.said("loading-coil") == line
    assert _version(table) != before


def test_a_half_typed_note_in_another_tab_outlives_the_update(old_version: Table) -> None:
    table = old_version
    driver = table.phone.driver
    first = driver.current_window_handle
    where = driver.current_url
    driver.switch_to.new_window("tab")
    driver.get(where)
    table.tap(".top .button", "About it")
    table.type(".purpose label:nth-of-type(3) input", "lid is at ho")
    driver.switch_to.window(first)
    before = _version(table)
    table.reload()
    table.tap(".notice .button", "Use it now")
    table.phone.until(lambda _: _version(table) != before, "the new version in the first tab")
    driver.switch_to.window(driver.window_handles[1])
    table.phone.until(lambda _: _version(table) != before, "the new version in the second tab")
    table.tap(".top .button", "About it")
    note = table.find(".purpose label:nth-of-type(3) input")
    assert note.get_attribute("value") == "lid is at ho"
