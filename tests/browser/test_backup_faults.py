"""What goes wrong on the way to the server, and what is there afterwards."""

import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image
from selenium.webdriver.common.keys import Keys

from tests.browser.test_database import EARLIER_FORM
from tests.conftest import SLOW_LINE
from tests.support import album
from tests.support.command import run
from tests.support.packs import FAMILY
from tests.support.phone import NO_SERVER, Phone
from tests.support.server import LiveServer
from tests.support.snapshots import snapshot
from tests.support.table import Table
from tests.support.two_devices import LOAD, WORDS, Device, meet, same_rows

CUT_OFF = """
const real = window.fetch;
window.ranges = [];
window.fetch = async (address, request) => {
  const range = request?.headers?.['Content-Range'];
  if (range) window.ranges.push(range);
  if (window.ranges.length === args[0]) throw new TypeError('the signal is gone');
  return real(address, request);
};
"""
HELD = LOAD + "return (await load('sync/membership')).contents(args[0]);"


def _speckled(path: Path) -> Path:
    """A photo that compresses badly, so that it travels in several parts."""
    pixels = np.random.default_rng(7).integers(0, 256, (1200, 1600, 3), dtype=np.uint8)
    Image.fromarray(pixels).save(path, quality=95)
    return path


def test_a_photo_cut_off_on_its_way_goes_on_where_it_stopped(devices: list[Device], tmp_path: Path) -> None:
    """Of 175 records that arrived, 160 had their photos, and nothing said so."""
    person = devices[0]
    person.begin_backup("Field phone")
    person.open()
    walk = person.new_set()
    person.back_up()
    person.phone.js(CUT_OFF, 3)
    album.add(person, "dial", _speckled(tmp_path / "front.jpg"))
    person.back_up()
    person.open("#/backup")
    person.find(".backup", "0 of 1 photo backed up")
    sent = person.phone.js("return window.ranges")
    assert sent[0].startswith("bytes 0-262143/")
    person.phone.cold_start()
    person.open(walk)
    person.phone.js(CUT_OFF, -1)
    person.back_up()
    [photo] = album.rows(person)
    rest = person.phone.js("return window.ranges")
    # The browser began by itself on start; either way no part is sent twice.
    assert not {*sent[:2]} & {*rest}
    held = person.phone.js(HELD, person.key)
    assert held["photos"] == {"count": 1, "bytes": photo["bytes"]}
    assert held["sets"][0]["photos_held"] == 1


def test_where_the_device_is_full_findings_come_and_photos_stay_out_in_words(
    devices: list[Device], pair_server: LiveServer, browser: Callable[..., Phone], tmp_path: Path
) -> None:
    field, home = devices[0], Device(browser(), pair_server)
    home.phone.always_before_pages(SLOW_LINE)
    walk = field.new_set()
    album.add(field, "dial", _speckled(tmp_path / "dial.jpg"))
    field.begin_backup("Field phone")
    home.open()
    origin = {"origin": home.address}
    used = home.phone.driver.execute_cdp_cmd("Storage.getUsageAndQuota", origin)["usage"]  # type: ignore[attr-defined]
    # The browser remembers for a while how much room there was, so it starts anew with less.
    home.phone.cold_start()
    little = origin | {"quotaSize": int(used) + 600_000}
    home.phone.driver.execute_cdp_cmd("Storage.overrideQuotaForOrigin", little)  # type: ignore[attr-defined]
    home.open("#/backup")
    home.type(
        ".backup textarea",
        " ".join(field.phone.js(LOAD + "return (await load('sync/key')).wordsOf(args[0]);", field.key)),
    )
    home.tap(".backup .button", "Look at that notebook")
    home.find(".backup .button.strong", "Share this notebook").send_keys(Keys.ENTER)
    home.find(".backup [role=status]", "photos of another device find no room on this one")
    home.find(".backup", "1 photo still to come from another device")
    assert home.rows("photos") == home.rows("photo_files") == []
    home.open(walk)
    home.find(".top h1", "Tern B")
    home.phone.cold_start()
    home.open(walk)
    home.back_up()
    home.find("#check-dial .thumb")


def test_what_a_server_lost_with_its_disk_the_devices_bring_again(
    pair_server: LiveServer, devices: list[Device], tmp_path: Path
) -> None:
    field, home = devices
    walk = field.new_set()
    field.answer("dial", "Gone")
    field.begin_backup("Field phone")
    earlier = tmp_path / "earlier.backup"
    at = ("--data", str(pair_server.data))
    assert run("backup", str(earlier), *at).returncode == 0
    field.open(walk)
    field.answer("loading-coil", "Gone")
    album.add(field, "dial", snapshot(tmp_path / "dial.jpg"))
    field.back_up()
    before = field.phone.js(HELD, field.key)
    result = run("restore", str(earlier), *at)
    assert result.returncode == 0, result.stderr
    assert field.phone.js(HELD, field.key)["photos"]["count"] == 0
    field.phone.expected.append("409")
    field.back_up()
    after = field.phone.js(HELD, field.key)
    assert (after["operations"], after["photos"]) == (before["operations"], before["photos"])
    home.open()
    home.share(field, "Home computer")
    same_rows((field, home), "sets", "findings", "standing")
    assert len(home.rows("photo_files")) == 1


def test_a_notebook_from_before_there_were_operations_goes_to_the_server_whole(devices: list[Device]) -> None:
    old, home = devices
    phone = old.phone
    old.forget()
    phone.driver.get(f"{old.address}/form")
    when = "2026-03-01T07:00:00.000Z"
    base = {"id": "a1", "family": FAMILY, "model_sheet": None, "created": when, "demo": False}
    values = {"title": "Tern B, early", "check/loading-coil": {"option": "gone"}, "asking": 90}
    findings = [{"set": "a1", "key": key, "value": value, "changed": when} for key, value in values.items()]
    sale = {"id": "s1", "family": FAMILY, "model_sheet": None, "price": 120, "currency": "USD"}
    sale |= {"date": "2026-02-01", "kind": "sold", "state": None, "place": "", "note": "", "rate": None}
    sale |= {"log_offset": None, "aside": False, "demo": False, "set": None, "changed": when}
    empty: dict[str, list[object]] = {"meta": [], "sheets": [], "photos": [], "photo_files": []}
    phone.js(EARLIER_FORM, json.dumps([4, {"sets": [base], "findings": findings, "sales": [sale]} | empty]))
    old.open()
    old.begin_backup("Old phone")
    home.open()
    home.share(old, "Home computer")
    same_rows((old, home), "sets", "findings", "sales", "standing")
    assert {row["changed"] for row in home.rows("findings")} == {when}
    assert [row["title"] for row in home.phone.js(HELD, home.key)["sets"]] == ["Tern B, early"]


def test_the_demo_stays_on_its_device(demo: Table, demo_server: LiveServer) -> None:
    person = Device(demo.phone, demo_server)
    person.open("#/set/demo-tern-b-1184")
    person.tap("#check-dial .folded-line")
    person.answer("dial", "Gone")
    person.begin_backup("Field phone")
    held = person.phone.js(HELD, person.key)
    assert (held["sets"], held["operations"], held["photos"]["count"]) == ([], 0, 0)


def test_two_tabs_of_one_device_back_up_in_turn_and_nothing_twice(devices: list[Device]) -> None:
    person = devices[0]
    person.open()
    person.begin_backup("Field phone")
    person.open()
    walk = person.new_set()
    first = person.phone.driver.current_window_handle
    person.phone.driver.switch_to.new_window("tab")
    person.open(walk)
    person.answer("dial", "Gone")
    person.back_up()
    person.phone.driver.switch_to.window(first)
    person.phone.until(lambda _: "Gone" in person.said("dial"), "the other tab's answer")
    person.answer("loading-coil", "Gone")
    meet(person)
    assert person.phone.js(HELD, person.key)["operations"] == len(person.rows("operations"))


def test_a_full_notebook_says_what_is_full_and_keeps_everything_on_the_device(devices: list[Device]) -> None:
    person = devices[0]
    person.open()
    person.begin_backup("Field phone")
    full = {"code": "notebook-full", "message": "This notebook is full.", "hint": "Remove photos."}
    person.phone.js(
        "window.fetch = async () => new Response(JSON.stringify({ error: args[0] }), { status: 507 })", full
    )
    person.phone.expected.append(NO_SERVER)
    person.tap(".backup .button", "Back up now")
    person.find(".backup [role=status]", "Could not be backed up: This notebook is full. Remove photos.")


def test_a_replaced_key_whose_answer_was_lost_is_shown_as_the_new_one(devices: list[Device]) -> None:
    person = devices[0]
    person.open()
    person.begin_backup("Field phone")
    old = person.key
    lose = """
    const real = window.fetch;
    window.fetch = async (address, request) => {
      const answer = await real(address, request);
      if (!String(address).endsWith('/key')) return answer;
      window.fetch = real;
      throw new TypeError('the connection broke after the server had replaced it');
    };
    """
    person.phone.js(lose)
    person.tap(".backup .button", "Replace the key")
    person.tap(".backup .button", "Yes, make a new key")
    person.find(".notice.bad", "No signal")
    person.phone.expected.append("401")
    person.back_up()
    assert person.key != old
    person.tap(".backup .button", "Show the key")
    person.find(".key-words")
    words = person.phone.driver.find_elements("css selector", ".key-words li")
    assert [word.text for word in words] == person.phone.js(WORDS, person.key)
    assert person.phone.js(HELD, person.key)["sets"] == []


def test_where_the_copy_was_removed_other_devices_say_so_and_begin_anew(devices: list[Device]) -> None:
    field, home = devices
    field.open()
    walk = field.new_set()
    field.begin_backup("Field phone")
    home.open()
    home.share(field, "Home computer")
    field.open("#/backup")
    field.tap(".backup summary", "Another notebook, stop")
    # By key: a finger so soon after another in the same place is taken for one that bounced.
    field.find(".backup .button", "Remove the copy").send_keys(Keys.ENTER)
    field.tap(".backup .button", "Yes, remove it for all")
    field.find(".backup .button", "Begin backing up")
    home.phone.expected.append("401")
    home.open()
    home.back_up()
    home.find(".set-row", "No longer backed up")
    home.find(".keeping", "The notebook: no longer backed up")
    home.open("#/backup")
    home.tap(".backup .button", "Begin a new backup")
    home.until_backed_up()
    assert [row["id"] for row in home.phone.js(HELD, home.key)["sets"]] == [walk.split("/")[2]]


def test_a_file_with_dates_of_another_form_comes_in_and_is_backed_up(
    devices: list[Device], tmp_path: Path
) -> None:
    person = devices[0]
    person.open("#/about")
    entry = {"id": "a", "family": FAMILY, "created": "yesterday", "demo": False}
    values = ("2026-11-20 10:00", "no date", "+012345-01-01T00:00:00Z")
    findings = [
        {"key": key, "value": "x", "changed": when}
        for key, when in zip(("title", "note", "place"), values, strict=True)
    ]
    file = tmp_path / "notebook.json"
    file.write_text(json.dumps({"underchassis-notebook": 1, "sets": [entry | {"findings": findings}]}))
    person.find("input[type=file]").send_keys(str(file))
    person.find(".notice", "1 set taken in")
    person.begin_backup("Field phone")
    assert person.phone.js(HELD, person.key)["sets"][0]["findings"] == 3


def test_a_device_whose_clock_is_years_behind_empties_no_bin(devices: list[Device], tmp_path: Path) -> None:
    field, home = devices
    field.open()
    walk = field.new_set()
    album.add(field, "dial", snapshot(tmp_path / "dial.jpg"))
    field.begin_backup("Field phone")
    home.open()
    home.share(field, "Home computer")
    behind = "const real = Date.now; Date.now = () => real() - 25 * 365 * 86400000;"
    remove = LOAD + "await (await load('store/photos')).binPhotos(args[0], true);"
    now = "window.realDate = Date; window.Date = class extends realDate {"
    now += " constructor(...given) { super(...(given.length ? given : ['2001-01-01T00:00:00Z'])); } };"
    home.phone.js(now + behind)
    home.phone.js(remove, [row["id"] for row in home.rows("photos")])
    home.back_up()
    field.back_up()
    assert [bool(row["removed"]) for row in field.rows("photos")] == [True]
    field.open(walk)
    field.reload()
    field.phone.js(LOAD + "await (await load('store/photo_bin')).purgeOld();")
    assert len(field.rows("photo_files")) == 1


def test_a_photo_that_is_no_longer_here_comes_back_from_the_server(
    devices: list[Device], tmp_path: Path
) -> None:
    person = devices[0]
    person.open()
    walk = person.new_set()
    album.add(person, "dial", snapshot(tmp_path / "dial.jpg"))
    person.begin_backup("Field phone")
    [photo] = person.rows("photos")
    gone = "await (await load('store/photos')).binPhotos([args[0]], true);"
    gone += "await (await load('store/photo_bin')).emptyBin();"
    person.phone.js(LOAD + gone, photo["id"])
    assert person.rows("photos") == []
    person.back_up()
    person.open(f"#/history/{walk.split('/')[2]}")
    person.tap(".entry .button[aria-label^='Bring back: Photo']")
    person.find(".notice", "stands again")
    person.back_up()
    person.open(walk)
    person.find("#check-dial .thumb")


def test_a_backup_begun_in_one_tab_goes_on_in_another_when_the_first_is_closed(devices: list[Device]) -> None:
    person = devices[0]
    person.open()
    walk = person.new_set()
    first = person.phone.driver.current_window_handle
    person.phone.driver.switch_to.new_window("tab")
    person.begin_backup("Field phone")
    key = person.key
    person.phone.driver.close()
    person.phone.driver.switch_to.window(first)
    person.find("main[data-page='set']")
    person.answer("dial", "Gone")
    person.find("[data-state]", "Backed up")
    held = LOAD + "return (await (await load('sync/membership')).contents(args[0])).sets[0].findings;"
    person.phone.until(lambda _: person.phone.js(held, key) == 2, "the answer to be on the server")
    assert walk in person.phone.driver.current_url


def test_an_address_that_cannot_be_read_says_so_and_the_app_goes_on(table: Table) -> None:
    table.phone.driver.get(f"{table.address}/#/history/%E0%A4%A")
    table.reload()
    table.find("h1", "This page could not be opened")
    table.tap(".button", "To the notebook")
    table.find(".notebook")
