"""The worker and the page's side of it, in a real browser: kept whole, waiting for a yes, nothing lost."""

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium.webdriver.common.by import By

from tests.conftest import cleared
from tests.support.phone import NO_SERVER, Phone
from tests.support.server import LiveServer, free_port
from webapp.paths import static_folder

SHELL = """<!doctype html><html lang="en" data-version="{{version}}"><title>Small app</title>
<link rel="manifest" href="/manifest.webmanifest"><link rel="icon" href="{{base}}icons/icon.svg">
<link rel="stylesheet" href="{{base}}css/app.css">
<script type="module" src="{{base}}js/main.js"></script><body></body></html>"""

# The page notes what it was told, and counts in its tab's storage what has to outlive a reload.
MAIN = """
import { refreshFiles } from './sync/fresh_files.js';
import { watchVersion, takeOver } from './sync/version.js';
import { askPersistence } from './sync/persistence.js';
const seen = document.body.dataset;
const count = (name) => sessionStorage.setItem(name, Number(sessionStorage.getItem(name) ?? 0) + 1);
const settle = async () => {
  if (globalThis.cannotSave) throw new Error('no space left');
  count('settled');
};
count('loads');
globalThis.app = { takeOver: () => takeOver(settle), refreshFiles, askPersistence };
await watchVersion({
  onReady: (version) => { seen.ready = version; },
  onWaiting: () => { seen.waiting = 'yes'; },
  onUnavailable: (why) => { seen.unavailable = why; },
  onUnsaved: (problem) => { seen.unsaved = problem.message; },
  settle,
});
seen.words = '%s';
"""


@pytest.fixture
def static(tmp_path: Path) -> Path:
    folder = tmp_path / "static"
    # Without the pages of the app: each version is fetched whole, many times.
    pages = shutil.ignore_patterns("css", "kernel", "pages", "store", "ui")
    shutil.copytree(static_folder(), folder, ignore=pages)
    (folder / "css").mkdir()
    (folder / "css" / "app.css").write_text("body { color: black }")
    (folder / "js" / "it's odd.js").write_text("// a name that needs care")
    (folder / "shell.html").write_text(SHELL)
    release(folder, "one")
    return folder


@pytest.fixture
def server(static: Path, tmp_path: Path) -> Iterator[LiveServer]:
    port, data = free_port(), tmp_path / "data"
    program = Path(__file__).with_name("small_app.py")
    live = LiveServer([sys.executable, str(program), str(static), str(data), str(port)], port, data)
    live.start()
    yield live
    live.stop()


@pytest.fixture(scope="module")
def one_phone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Phone]:
    """One phone for all tests here: each has a server, and so an origin and storage, of its own."""
    started = Phone(tmp_path_factory.mktemp("phone") / "profile")
    yield started
    started.close()


@pytest.fixture
def phone(one_phone: Phone, server: LiveServer) -> Iterator[Phone]:
    """A phone on which the first version is kept."""
    one_phone.driver.get(server.url)
    told(one_phone, "ready")
    yield one_phone
    cleared(one_phone)


def release(static: Path, words: str) -> None:
    (static / "js" / "main.js").write_text(MAIN % words)


def update(server: LiveServer, static: Path, words: str) -> None:
    """Put another version on the server."""
    server.stop()
    release(static, words)
    server.start()


def told(phone: Phone, name: str) -> str:
    """Wait until the page has noted this, and give it."""
    return phone.until(
        lambda driver: driver.execute_script("return document.body?.dataset[arguments[0]]", name), name
    )


def version(phone: Phone) -> str:
    return phone.js("return document.documentElement.dataset.version")


def counted(phone: Phone, name: str) -> int:
    return int(phone.js("return sessionStorage.getItem(args[0]) ?? 0", name))


def caches(phone: Phone) -> set[str]:
    return set(phone.js("return await caches.keys()"))


def shows(phone: Phone, words: str) -> None:
    """Wait until the page of this version is loaded."""
    phone.until(lambda driver: driver.execute_script("return document.body?.dataset.words") == words, words)


def waits(phone: Phone) -> None:
    """Come back to the foreground: the phone finds the server's new version, keeps it and waits."""
    phone.js("document.dispatchEvent(new Event('visibilitychange'))")
    assert told(phone, "waiting") == "yes"


def test_the_first_visit_keeps_the_whole_version_and_loads_once(phone: Phone) -> None:
    assert told(phone, "ready") == version(phone)
    assert caches(phone) == {f"underchassis-{version(phone)}"}
    assert phone.js("return Boolean(navigator.serviceWorker.controller)")
    assert counted(phone, "loads") == 1


def test_a_cold_start_with_no_server_opens_the_app(phone: Phone, server: LiveServer) -> None:
    first = version(phone)
    server.stop()
    phone.cold_start()
    phone.driver.get(server.url + "/?from=home-screen")
    assert told(phone, "ready") == first
    shows(phone, "one")
    assert phone.js("return (await fetch(`/a/${args[0]}/packs/index.json`)).json()", first) == []
    assert phone.js("return (await (await fetch('/manifest.webmanifest')).json()).start_url") == "/"


def test_a_page_from_the_server_is_never_kept_and_is_missed_in_words(
    phone: Phone, server: LiveServer
) -> None:
    phone.driver.get(server.url + "/form")
    assert phone.driver.title == "Form"
    kept = phone.js(
        "const cache = await caches.open((await caches.keys())[0]);"
        "return (await cache.keys()).map((request) => new URL(request.url).pathname)"
    )
    assert [path for path in kept if not path.startswith("/a/")] == []
    server.stop()
    phone.driver.get(server.url + "/form")
    assert phone.driver.title.startswith("No signal")
    phone.driver.find_element(By.CSS_SELECTOR, "a[href='/']").click()
    shows(phone, "one")


def test_a_new_version_waits_for_the_yes_and_then_replaces_the_old_one(
    phone: Phone, server: LiveServer, static: Path
) -> None:
    first = version(phone)
    phone.js("await caches.open('not-ours')")
    update(server, static, "two")
    waits(phone)
    phone.driver.refresh()
    shows(phone, "one")
    assert (version(phone), told(phone, "waiting")) == (first, "yes")
    phone.js("app.takeOver()")
    shows(phone, "two")
    assert version(phone) != first
    assert told(phone, "ready") == version(phone)
    assert caches(phone) == {f"underchassis-{version(phone)}", "not-ours"}
    # First visit, the refresh above, and one after the change.
    assert counted(phone, "loads") == 3


def test_every_open_tab_saves_before_it_loads_the_new_version(
    phone: Phone, server: LiveServer, static: Path
) -> None:
    tabs = [phone.driver.current_window_handle]
    phone.driver.switch_to.new_window("tab")
    phone.driver.get(server.url)
    told(phone, "ready")
    tabs.append(phone.driver.current_window_handle)
    update(server, static, "two")
    waits(phone)
    phone.js("app.takeOver()")
    # The tab that said yes saves before and after the change of worker, the other one before it reloads.
    for tab, saved in zip(tabs, (1, 2), strict=True):
        phone.driver.switch_to.window(tab)
        shows(phone, "two")
        assert counted(phone, "settled") == saved


def test_a_tab_that_cannot_save_stays_as_it_is(phone: Phone, server: LiveServer, static: Path) -> None:
    first = phone.driver.current_window_handle
    phone.js("globalThis.cannotSave = true")
    phone.driver.switch_to.new_window("tab")
    phone.driver.get(server.url)
    told(phone, "ready")
    update(server, static, "two")
    waits(phone)
    phone.js("app.takeOver()")
    shows(phone, "two")
    phone.driver.switch_to.window(first)
    assert told(phone, "unsaved") == "no space left"
    shows(phone, "one")


def test_a_yes_that_cannot_save_changes_nothing(phone: Phone, server: LiveServer, static: Path) -> None:
    update(server, static, "two")
    waits(phone)
    phone.js("globalThis.cannotSave = true")
    assert phone.js("return app.takeOver().catch((problem) => problem.message)") == "no space left"
    assert phone.js("return (await navigator.serviceWorker.getRegistration()).waiting.state") == "installed"
    shows(phone, "one")


@pytest.mark.parametrize("taken_over", [False, True])
def test_the_app_opens_when_the_server_stops_right_after_an_update(
    phone: Phone, server: LiveServer, static: Path, taken_over: bool
) -> None:
    update(server, static, "two")
    waits(phone)
    server.stop()
    if taken_over:
        phone.js("app.takeOver()")
        shows(phone, "two")
    phone.cold_start()
    phone.driver.get(server.url)
    told(phone, "ready")
    # With every tab closed, the waiting version has taken over by itself.
    shows(phone, "two")


def test_a_version_that_cannot_be_fetched_whole_is_not_used(
    phone: Phone, server: LiveServer, static: Path
) -> None:
    before = caches(phone)
    update(server, static, "two")
    for file in (server.data / "site").glob("*/assets/offline.html*"):
        file.unlink()
    ended = phone.js("""
        const registration = await navigator.serviceWorker.getRegistration();
        const found = new Promise((resolve) => registration.addEventListener('updatefound', () => {
          const worker = registration.installing;
          worker.addEventListener('statechange', () => resolve(worker.state));
        }));
        registration.update();
        return found;
    """)
    assert ended == "redundant"
    assert caches(phone) == before
    server.stop()
    phone.cold_start()
    phone.driver.get(server.url)
    shows(phone, "one")


def test_files_are_fetched_afresh_without_touching_what_was_entered(phone: Phone) -> None:
    phone.js("localStorage.setItem('finding', 'rust'); await caches.open('not-ours');")
    phone.js("""
        await new Promise((resolve) => {
          const opening = indexedDB.open('notebook', 1);
          opening.onupgradeneeded = () => opening.result.createObjectStore('sets').put('a set', 1);
          opening.onsuccess = () => { opening.result.close(); resolve(); };
        });
        await caches.open('underchassis-older');
    """)
    phone.driver.execute_script("app.refreshFiles()")
    phone.until(lambda driver: counted(phone, "loads") == 2, "the reload")
    told(phone, "ready")
    assert caches(phone) == {f"underchassis-{version(phone)}", "not-ours"}
    assert phone.js("return localStorage.getItem('finding')") == "rust"
    assert [entry["name"] for entry in phone.js("return indexedDB.databases()")] == ["notebook"]


def test_without_the_server_the_kept_files_stay(phone: Phone, server: LiveServer) -> None:
    before = caches(phone)
    phone.expected.append(NO_SERVER)
    server.stop()
    assert phone.js("return app.refreshFiles()") is False
    assert caches(phone) == before
    phone.driver.refresh()
    shows(phone, "one")


def test_a_browser_without_workers_is_told_apart(bare_phone: Phone, server: LiveServer) -> None:
    plain = bare_phone
    script = "Object.defineProperty(Navigator.prototype, 'serviceWorker', { value: undefined })"
    plain.before_each_page(script)
    plain.driver.get(server.url)
    assert told(plain, "unavailable") == "unsupported"


def test_the_browser_is_asked_to_keep_the_data(phone: Phone) -> None:
    answer = phone.js("return app.askPersistence()")
    assert answer["granted"] in (True, False)
    assert 0 < answer["usage"] < answer["quota"]


def test_a_browser_that_cannot_be_asked_is_reported_as_such(phone: Phone) -> None:
    phone.js("Object.defineProperty(navigator, 'storage', { value: undefined })")
    assert phone.js("return app.askPersistence()") == {"granted": None, "usage": None, "quota": None}
