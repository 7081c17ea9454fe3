"""For cold fingers, keyboards and browsers without JavaScript."""

from collections.abc import Callable
from pathlib import Path

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.support import album
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.snapshots import snapshot
from tests.support.table import Table

SMALL = """
const controls = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]';
const target = (el) => (el.closest('label') ?? el).getBoundingClientRect();
return [...document.querySelectorAll(controls)].filter((el) => el.checkVisibility())
  .map((el) => [el.tagName, el.className, (el.textContent || el.name || '').trim().slice(0, 30), target(el)])
  .filter(([, , , r]) => r.width > 0 && (Math.round(r.width) < 48 || Math.round(r.height) < 48))
  .map(([tag, kind, text, r]) => `${tag}.${kind} "${text}" ${r.width}x${r.height}`);
"""
WIDE = "return document.documentElement.scrollWidth > innerWidth;"


def _fits(table: Table) -> None:
    assert table.phone.js(SMALL) == []
    assert table.phone.js(WIDE) is False


def test_on_the_smallest_phone_nothing_scrolls_sideways_and_every_control_is_48_px(demo: Table) -> None:
    table = demo
    pages = ("", "#/about", "#/backup", "#/bin", "form", "form/aircraft-hf-transmitter?sheet=tern-a")
    for page in (*pages, "#/history/demo-tern-b-1184"):
        table.phone.driver.get(f"{table.address}/{page}")
        table.find("main h1, header h1")
        _fits(table)


def test_the_walk_round_and_the_verdict_fit_the_smallest_phone_with_cold_fingers(
    table: Table, tmp_path: Path
) -> None:
    table.new_set()
    table.answer("added-holes", "Some")
    table.answer("loading-coil", "Gone")
    table.tap("#stage-top .rest")
    table.tap(".top .button", "About it")
    _fits(table)
    table.tap(".strip")
    _fits(table)
    table.tap(".strip")
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    album.add(table, "loading-coil", snapshot(tmp_path / "b.jpg"))
    table.find("#check-dial .thumb")
    _fits(table)
    table.tap(".to-verdict")
    table.find(".verdict-word")
    _fits(table)


def test_photos_and_their_tray_fit_the_smallest_phone_with_cold_fingers(table: Table, tmp_path: Path) -> None:
    table.new_set()
    album.add(table, "dial", *(snapshot(tmp_path / f"{n}.jpg", seed=n) for n in range(4)))
    waiting = (
        "await (await load('store/photos')).keepWaiting(args[0], { why: 'unknown', label: 'K7Q2-031' });"
    )
    tray, binned, *_ = [row["id"] for row in album.rows(table)]
    album.script(table, waiting, tray)
    album.script(table, "await (await load('store/photos')).binPhotos(args, true);", binned)
    table.open("#/photos")
    table.tap(".tray-row .button", "New set with this label")
    table.find(".tray-row .field select")
    table.tap(".photos .button", "Empty the bin")
    _fits(table)
    table.open(f"#/photo/{tray}")
    table.tap(".belongs summary")
    table.find(".belongs select")
    _fits(table)


def test_a_lot_and_the_shelf_fit_the_smallest_phone_with_cold_fingers(table: Table) -> None:
    table.new_set()
    table.open()
    table.tap(".notebook > .button", "New lot")
    table.tap(".lot-add .button", "Add them all")
    table.find(".lot-said", "12 sets added")
    _fits(table)
    lot = "#" + table.phone.driver.current_url.partition("#")[2].removesuffix("/add")
    table.open(lot)
    table.find(".lot-solving", "proven")
    table.tap(".top .button", "About it")
    table.tap(".confirm .button", "Remove this lot")
    table.find(".lot .button", "Take sets out").send_keys(Keys.ENTER)
    _fits(table)
    for page, css in (
        ("round", ".round-question"),
        ("plan", ".lot-plan .lead"),
        ("pick", ".lot-pick .button"),
    ):
        table.open(f"{lot}/{page}")
        table.find(css)
        _fits(table)
    table.open("#/shelf")
    table.tap(".shelf .button", "May be broken")
    table.find(".shelf .set-row", "Tern B")
    _fits(table)


def test_the_main_job_is_done_with_the_keyboard_alone(table: Table) -> None:
    driver = table.phone.driver

    def press(*keys: str) -> None:
        driver.switch_to.active_element.send_keys(*keys)

    def tab_to(text: str) -> None:
        for _ in range(120):
            press(Keys.TAB)
            focused = driver.switch_to.active_element
            if text in (focused.text or focused.get_attribute("aria-label") or ""):
                return
        raise AssertionError(f"no way to {text!r} with the tab key")

    tab_to("New found set")
    press(Keys.ENTER)
    table.find(".chooser .option", "Tern B")
    tab_to("Tern B")
    press(Keys.ENTER)
    table.find(".bar")
    before = table.price()
    tab_to("They ask")
    press("90")
    tab_to("There, every word readable")
    press(Keys.SPACE)
    table.until_saved()
    assert "every word readable" in driver.switch_to.active_element.text
    assert table.price() != before
    press(Keys.ESCAPE)
    wanted = table.find(".look-what").text
    press(Keys.ENTER)
    assert table.find(".check.here h3").text == wanted
    assert driver.switch_to.active_element.text
    press(Keys.ESCAPE)
    tab_to("Verdict")
    press(Keys.ENTER)
    assert table.find(".verdict-word").text


@pytest.fixture
def plain(standing_server: LiveServer, browser: Callable[..., Phone]) -> Phone:
    """A browser with JavaScript switched off."""
    return browser(scripts=False)


def test_without_javascript_the_form_gives_the_verdict(standing_server: LiveServer, plain: Phone) -> None:
    driver = plain.driver
    driver.get(standing_server.url)
    driver.get(driver.find_element(By.CSS_SELECTOR, "noscript a, a[href='/form']").get_attribute("href"))
    driver.get(driver.find_element(By.LINK_TEXT, "Tern B").get_attribute("href"))
    driver.find_element(By.CSS_SELECTOR, "[name='check-loading-coil'][value='gone']").send_keys(Keys.SPACE)
    driver.find_element(By.NAME, "asking").send_keys("90")
    driver.find_element(By.NAME, "region").send_keys("2")
    driver.find_element(By.NAME, "check-added-holes").send_keys(Keys.SPACE)
    driver.find_element(By.NAME, "hole-1-place").send_keys("front")
    driver.find_element(By.NAME, "hole-1-mm").send_keys("16")
    driver.find_element(By.CSS_SELECTOR, "button[type=submit]").submit()
    words = driver.find_element(By.TAG_NAME, "main").text
    assert "$90" in driver.find_element(By.CSS_SELECTOR, ".verdict").text
    assert "Aerial loading coil: Gone" in words
    assert "Added holes" in words
    assert "Never power it at the table" in words


def test_without_javascript_a_mistake_is_said_and_nothing_chosen_is_lost(
    standing_server: LiveServer, plain: Phone
) -> None:
    driver = plain.driver
    driver.get(f"{standing_server.url}/form/aircraft-hf-transmitter")
    driver.find_element(By.CSS_SELECTOR, "[name='check-loading-coil'][value='gone']").send_keys(Keys.SPACE)
    driver.find_element(By.NAME, "asking").send_keys("ninety")
    driver.find_element(By.CSS_SELECTOR, "button[type=submit]").submit()
    plain.expected.append("400")
    assert "is not a number" in driver.find_element(By.CSS_SELECTOR, "[role=alert]").text
    kept = driver.find_element(By.CSS_SELECTOR, "[name='check-loading-coil'][value='gone']")
    assert kept.is_selected()
