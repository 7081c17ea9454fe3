"""Photos of a set: taken at a check or of the whole, seen in full, moved, removed, kept without a signal."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from PIL import Image
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select

from tests.conftest import SLOW_LINE
from tests.support import album
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.snapshots import snapshot
from tests.support.table import Table
from webapp.notebook.demo import demo_lot, demo_notebook


def _thumbs(table: Table, css: str) -> list[str]:
    images = table.phone.driver.find_elements(By.CSS_SELECTOR, f"{css} .thumb img")
    return [image.get_attribute("alt") or "" for image in images]


def _until_thumbs(table: Table, css: str, count: int) -> list[str]:
    table.phone.until(lambda _: len(_thumbs(table, css)) == count, f"{count} thumbnails in {css}")
    return _thumbs(table, css)


def test_a_photo_of_a_check_is_there_after_the_tab_was_closed(table: Table, tmp_path: Path) -> None:
    table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg", seed=1), snapshot(tmp_path / "b.jpg", seed=2))
    first, second = _until_thumbs(table, "#check-dial", 2)
    assert first.startswith("Photo 1 of Dial and its scale, taken ")
    assert second.startswith("Photo 2 of Dial and its scale, taken ")
    table.reload()
    _until_thumbs(table, "#check-dial", 2)
    assert {row["about"] for row in album.rows(table)} == {"check/dial"}
    assert all(row["file"] == row["bytes"] for row in album.rows(table))


def test_a_folded_check_says_how_many_photos_it_has_and_takes_more(table: Table, tmp_path: Path) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    for count in (1, 2):
        album.add(table, "loading-coil", snapshot(tmp_path / f"{count}.jpg", seed=count))
        words = f"Photo of Aerial loading coil, {count} there"
        table.find(f"#check-loading-coil.folded input[aria-label='{words}']")
    table.find("#check-loading-coil .photo-pick[data-count='2']")
    assert not _thumbs(table, "#check-loading-coil")
    table.tap("#check-loading-coil .folded-line")
    _until_thumbs(table, "#check-loading-coil", 2)


def test_photos_taken_without_a_signal_are_there_after_a_cold_start(field: Table, tmp_path: Path) -> None:
    walk = field.new_set("Tern C")
    album.add(field, "dial", snapshot(tmp_path / "a.jpg"))
    field.phone.cold_start()
    field.open(walk)
    _until_thumbs(field, "#check-dial", 1)
    field.tap("#check-dial .thumb")
    image = field.find(".viewer img")
    field.phone.until(lambda _: int(image.get_attribute("naturalWidth") or 0) == 1200, "the whole photo")


def test_a_photo_of_the_whole_set_stands_with_what_is_about_it(table: Table, tmp_path: Path) -> None:
    table.new_set()
    table.tap(".top .button", "About it")
    album.choose(table, "[aria-label='Photos and label'] .button:has(input)", [snapshot(tmp_path / "a.jpg")])
    [alt] = _until_thumbs(table, "[aria-label='Photos and label']", 1)
    assert alt.startswith("Photo 1 of the set as a whole, taken ")
    album.add(table, "dial", snapshot(tmp_path / "b.jpg", seed=2))
    table.reload()
    table.tap(".top .button", "About it")
    _until_thumbs(table, "[aria-label='Photos and label']", 1)
    table.find("[aria-label='Photos and label']", "1 photo more at its checks.")


def test_a_removed_photo_comes_back_with_one_tap(table: Table, tmp_path: Path) -> None:
    table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    table.tap("#check-dial .thumb")
    table.tap(".photo-foot .button", "Remove")
    table.find("main[data-page='set']")
    table.find(".notice", "Photo removed.")
    assert not _thumbs(table, "#check-dial")
    table.tap(".notice .button", "Undo")
    _until_thumbs(table, "#check-dial", 1)


def test_what_was_removed_lies_in_the_bin_for_a_month_or_until_it_is_emptied(
    table: Table, tmp_path: Path
) -> None:
    walk = table.new_set()
    album.add(table, "dial", *(snapshot(tmp_path / f"{n}.jpg", seed=n) for n in range(3)))
    old, young, kept = [row["id"] for row in album.rows(table)]
    album.script(table, "await (await load('store/photos')).binPhotos(args[0], true);", [old, young])
    long_ago = (datetime.now(UTC) - timedelta(days=31)).isoformat()
    album.script(
        table,
        "const database = await (await load('store/database')).openDatabase();"
        "const row = await database.get('photos', args[0]);"
        "const old = { ...row, changed: args[1] };"
        "await database.within(async (transaction) => transaction.objectStore('photos').put(old));",
        old,
        long_ago,
    )
    # The bin is looked through when the app starts.
    table.reload()
    table.phone.until(lambda _: old not in {row["id"] for row in album.rows(table)}, "the old one to be gone")
    assert {row["id"] for row in album.rows(table)} == {young, kept}
    table.open(f"#/photo/{young}")
    table.tap(".photo-foot .button", "Take it out again")
    table.find(".photo-foot .button", "Remove")
    album.script(table, "await (await load('store/photos')).binPhotos(args, true);", young)
    table.open("#/photos")
    table.find(".photos", "1 photo, ")
    table.tap(".photos .button", "Empty the bin")
    table.tap(".photos .button", "Yes, remove them for good")
    table.phone.until(lambda _: len(album.rows(table)) == 1, "the bin to be empty")
    [row] = album.rows(table)
    assert (row["id"], row["file"]) == (kept, row["bytes"])
    table.open(walk)
    _until_thumbs(table, "#check-dial", 1)


def test_photos_go_with_a_removed_set_and_come_back_with_it(table: Table, tmp_path: Path) -> None:
    walk = table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"), snapshot(tmp_path / "b.jpg", seed=2))
    gone, stays = [row["id"] for row in album.rows(table)]
    album.script(table, "await (await load('store/photos')).binPhotos(args, true);", gone)
    table.open()
    table.tap(".set-row .button", "Remove")
    table.find(".notice", "Tern B removed.")
    assert {row["id"]: row["removed"] for row in album.rows(table)} == {gone: True, stays: "set"}
    table.tap(".notice .button", "Undo")
    table.find(".set-row .row-link", "Tern B")
    # What somebody had removed by itself stays removed.
    assert {row["id"]: row["removed"] for row in album.rows(table)} == {gone: True, stays: False}
    table.open(walk)
    _until_thumbs(table, "#check-dial", 1)


def test_a_photo_moves_to_another_check_and_to_another_set(table: Table, tmp_path: Path) -> None:
    other = table.new_set("Tern A").rpartition("/")[2]
    table.open()
    walk = table.new_set("Tern B")
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    table.tap("#check-dial .thumb")
    table.tap(".belongs summary")
    Select(table.find("select[aria-label='Part of it']")).select_by_visible_text("Aerial loading coil")
    table.find(".photo-page .sub", "Aerial loading coil")
    table.open(walk)
    _until_thumbs(table, "#check-loading-coil", 1)
    assert not _thumbs(table, "#check-dial")
    table.tap("#check-loading-coil .thumb")
    table.tap(".belongs summary")
    Select(table.find("select[aria-label='Set']")).select_by_visible_text("Tern A")
    table.find(".photo-page h1", "Tern A")
    [row] = album.rows(table)
    assert (row["set"], row["about"]) == (other, "")


def _transform(table: Table) -> list[float]:
    script = "return getComputedStyle(document.querySelector('.viewer img')).transform.match(/-?[0-9.]+/g)"
    return [float(part) for part in table.phone.driver.execute_script(script)]


def _scale(table: Table) -> float:
    return _transform(table)[0]


def _in_full(table: Table, tmp_path: Path) -> float:
    table.new_set()
    album.add(table, "dial", *(snapshot(tmp_path / f"{n}.jpg", seed=n) for n in range(3)))
    table.tap("#check-dial .thumb")
    table.find(".viewer img")
    # Without the gliding, what a step did can be read at once.
    emulated = {"features": [{"name": "prefers-reduced-motion", "value": "reduce"}]}
    table.phone.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", emulated)  # type: ignore[attr-defined]
    table.phone.until(lambda _: _scale(table) < 1, "the photo to be fitted")
    return _scale(table)


def test_in_full_view_keys_zoom_move_leaf_and_leave(table: Table, tmp_path: Path) -> None:
    fitted = _in_full(table, tmp_path)
    first = table.phone.driver.current_url

    def press(*keys: str) -> None:
        ActionChains(table.phone.driver).send_keys(*keys).perform()

    press("+", "+")
    assert _scale(table) > 2 * fitted
    before = _transform(table)
    press(Keys.ARROW_RIGHT)
    assert _transform(table)[4] < before[4]
    press(Keys.ESCAPE)
    assert abs(_scale(table) - fitted) < 1e-6
    press(Keys.ARROW_RIGHT)
    table.find(".photo-page .sub", "2 of 3")
    press(Keys.ARROW_LEFT)
    table.find(".photo-page .sub", "1 of 3")
    assert table.phone.driver.current_url == first
    press("+", "-", Keys.ESCAPE)
    table.find("main[data-page='set'] #check-dial")


def test_in_full_view_a_double_tap_and_a_pinch_zoom_about_the_fingers(
    standing_server: LiveServer, browser: Callable[..., Phone], tmp_path: Path
) -> None:
    """On a phone of its own: after a pinch, Chromium keeps the first touch on the next page from it."""
    phone = browser()
    phone.before_each_page(SLOW_LINE)
    table = Table(phone, standing_server.url)
    table.open()
    fitted = _in_full(table, tmp_path)
    viewer = table.find(".viewer")
    box = table.phone.driver.execute_script(
        "const box = arguments[0].getBoundingClientRect(); return [box.left, box.top, box.width, box.height]",
        viewer,
    )
    x, y = box[0] + box[2] / 2, box[1] + box[3] / 2

    def touch(kind: str, *points: tuple[float, float]) -> None:
        given = [{"x": px, "y": py, "id": number} for number, (px, py) in enumerate(points)]
        event = {"type": kind, "touchPoints": given}
        table.phone.driver.execute_cdp_cmd("Input.dispatchTouchEvent", event)  # type: ignore[attr-defined]

    for _ in range(2):
        touch("touchStart", (x, y))
        touch("touchEnd")
    assert abs(_scale(table) / fitted - 3) < 1e-6
    for _ in range(2):
        touch("touchStart", (x, y))
        touch("touchEnd")
    assert abs(_scale(table) / fitted - 1) < 1e-6
    touch("touchStart", (x - 20, y), (x + 20, y))
    touch("touchMove", (x - 80, y), (x + 80, y))
    touch("touchEnd")
    assert 3.5 < _scale(table) / fitted < 4.5
    scale, left = _scale(table), _transform(table)[4]
    touch("touchStart", (x, y))
    touch("touchMove", (x - 30, y))
    touch("touchEnd")
    assert _scale(table) == scale
    assert abs(_transform(table)[4] - (left - 30)) < 1


def test_photos_stop_before_findings_do_when_the_room_runs_out(table: Table, tmp_path: Path) -> None:
    table.new_set()
    # What a browser answers whose room is nearly used up.
    table.phone.js("navigator.storage.estimate = async () => ({ usage: 48_000_000, quota: 50_000_000 });")
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    table.find(".notice.bad", "no space left")
    assert album.rows(table) == []
    table.answer("dial", "Gone")
    table.reload()
    assert "Gone" in table.said("dial")
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    assert len(album.rows(table)) == 1


def test_over_quota_a_photo_fails_in_words_with_nothing_half_written_and_findings_go_on(
    standing_server: LiveServer, browser: Callable[..., Phone], tmp_path: Path
) -> None:
    """The room is used up in earnest: Chromium itself aborts the transaction."""
    large = tmp_path / "large.jpg"
    Image.effect_noise((1600, 1200), 90).save(large, quality=95)
    phone = browser()
    phone.always_before_pages(SLOW_LINE)
    table = Table(phone, standing_server.url)
    table.open()
    walk = table.new_set()
    origin = {"origin": standing_server.url}
    used = phone.driver.execute_cdp_cmd("Storage.getUsageAndQuota", origin)["usage"]  # type: ignore[attr-defined]
    # The browser remembers for a while how much room there was, so it starts anew with less.
    phone.cold_start()
    little = origin | {"quotaSize": int(used) + 600_000}
    phone.driver.execute_cdp_cmd("Storage.overrideQuotaForOrigin", little)  # type: ignore[attr-defined]
    table.open(walk)
    album.add(table, "dial", large)
    table.find(".notice.bad", "no space left")
    assert album.rows(table) == []
    table.answer("dial", "Gone")
    table.reload()
    assert "Gone" in table.said("dial")
    assert not _thumbs(table, "#check-dial")


def test_without_storage_photos_work_until_the_tab_is_closed(newcomer: Table, tmp_path: Path) -> None:
    table = newcomer
    refusal = "throw new DOMException('no', 'SecurityError');"
    table.phone.before_each_page(f"IDBFactory.prototype.open = () => {{ {refusal} }};")
    table.open()
    table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    _until_thumbs(table, "#check-dial", 1)
    table.tap("#check-dial .thumb")
    table.find(".viewer img")


READER = """
globalThis.BarcodeDetector = class {
  static getSupportedFormats() { return Promise.resolve(['qr_code']); }
  detect() {
    const cornerPoints = [{ x: 1, y: 1 }, { x: 9, y: 1 }, { x: 9, y: 9 }, { x: 1, y: 9 }];
    return Promise.resolve([{ rawValue: 'UC:K7Q2:007', cornerPoints }]);
  }
};
"""


def test_a_photo_that_shows_a_label_offers_to_put_it_on_a_set_that_has_none(
    newcomer: Table, tmp_path: Path
) -> None:
    table = newcomer
    # Phones have a reader of their own; the browser of this test gets one that sees always the same label.
    table.phone.before_each_page(READER)
    table.open()
    walk = table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg", "K7Q2-007"))
    table.tap(".notice .button", "Put it on this set")
    table.until_saved()
    table.open()
    table.find(".set-row", "K7Q2-007")
    table.new_set("Tern A")
    album.add(table, "dial", snapshot(tmp_path / "b.jpg", "K7Q2-007"))
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".notice[data-name='label']")
    table.open(walk)
    table.tap(".top .button", "About it")
    field = table.find("[aria-label='Photos and label'] input:not([type=file])")
    assert field.get_attribute("value") == "K7Q2-007"


def test_a_label_is_typed_as_it_stands_below_its_square_and_found_by_the_search(table: Table) -> None:
    for name in ("Tern A", "Tern A", "Tern A"):
        table.open()
        table.new_set(name)
    table.open()
    table.new_set("Tern B")
    field = "[aria-label='Photos and label'] input:not([type=file])"
    table.tap(".top .button", "About it")
    for wrong in ("K7Q2", "K7O2-007", "K7Q2-000", "K7Q2-0071"):
        table.type(field, wrong)
        table.find("[aria-label='Photos and label'] .wrong", "such as K7Q2-007")
    table.type(field, "k7q2 7")
    table.find(field).send_keys(Keys.TAB)
    table.until_saved()
    assert table.find(field).get_attribute("value") == "K7Q2-007"
    table.open()
    table.type("input[type=search]", "k7q2-007")
    titles = table.phone.until(
        lambda driver: (
            (rows := driver.find_elements(By.CSS_SELECTOR, ".set-row strong")) and len(rows) == 1 and rows
        ),
        "the one set with that label",
    )
    assert titles[0].text == "Tern B"


def test_the_demo_and_its_lot_get_their_photos_when_nobody_waits_and_they_leave_with_it(
    demo_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    table = Table(browser(), demo_server.url)
    table.open()
    _until_demo_photos(table, demo_notebook())
    kept = "const names = await caches.keys(); return (await Promise.all(names.map(async (name) => "
    kept += "(await (await caches.open(name)).keys()).map((request) => request.url)))).flat();"
    table.until_ready_offline()
    assert not [address for address in table.phone.js(kept) if "/demo/" in address]
    table.tap(".card.demo .button", "Look at the Petrel Street lot of twelve")
    table.find("h1", demo_lot()["lot"]["name"])
    assert _lot_numbers(table) == {found["id"]: found["number"] for found in demo_lot()["found_sets"]}
    _until_demo_photos(table, demo_notebook(), demo_lot())
    table.open()
    table.tap(".card.demo .button", "Remove the demo")
    table.phone.until(
        lambda _: {row.get("removed") for row in album.rows(table)} == {"set"}, "all in the bin"
    )
    table.reload()
    # Offered where no set and no lot is left.
    table.tap(".card .button", "Open the demo notebook")
    table.find(".lot-row", "12 sets, all looked at")
    assert {row["removed"] for row in album.rows(table)} == {False}


def _until_demo_photos(table: Table, *demos: dict[str, Any]) -> None:
    """Wait until all photos of some parts of the demo are here, as they are, and no others."""
    folder = Path(__file__).resolve().parents[2] / "demo_photos"
    shown = {found["id"] for demo in demos for found in demo["found_sets"]}
    listed = json.loads((folder / "photos.json").read_text(encoding="utf-8"))
    listed = [entry for entry in listed if entry["set"] in shown]
    table.phone.until(lambda _: len(album.rows(table)) == len(listed), "every photo of the demo")
    by_file = {row["id"].removeprefix("demo-"): row for row in album.rows(table)}
    for entry in listed:
        row = by_file[entry["file"]]
        assert (row["set"], row["about"], row["demo"]) == (entry["set"], entry["about"], True)
        assert row["file"] == (folder / entry["file"]).stat().st_size


def _lot_numbers(table: Table) -> dict[str, str]:
    """What the sets of the demo's lot are called in it, by their ids."""
    members = f"await (await load('store/lots')).setsOfLot({demo_lot()['lot']['id']!r})"
    script = f"return Object.fromEntries(({members}).map((one) => [one.base.id, one.get('lot').number]));"
    numbers: dict[str, str] = album.script(table, script)
    return numbers
