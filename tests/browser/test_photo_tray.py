"""Many photos at once: each is stored, files itself by its label, or waits in the tray with its reason."""

import base64
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from tests.support import album
from tests.support.phone import NO_SERVER
from tests.support.server import LiveServer
from tests.support.snapshots import snapshot
from tests.support.table import Table


def _labelled(table: Table, label: str, name: str = "Tern B") -> str:
    """A new set that carries a label; gives its id."""
    table.open()
    walk = table.new_set(name)
    table.tap(".top .button", "About it")
    table.type("[aria-label='Photos and label'] input:not([type=file])", label)
    table.until_saved()
    return walk.rpartition("/")[2]


def _drop(table: Table, files: Iterable[Path]) -> None:
    """Choose many files on the page for it."""
    table.open("#/photos")
    album.choose(table, ".photo-drop", files)


def _until_said(table: Table, words: str) -> None:
    table.phone.until(
        lambda driver: words in driver.find_element(By.CSS_SELECTOR, ".batch [role=status]").text, words, 60
    )


def _where(table: Table) -> Counter[str | None]:
    return Counter(row["set"] for row in album.rows(table) if not row.get("removed"))


def test_photos_go_to_the_sets_whose_labels_they_show_and_the_rest_waits_with_its_reason(
    table: Table, tmp_path: Path
) -> None:
    first, second = _labelled(table, "K7Q2-007"), _labelled(table, "K7Q2-008", "Tern A")
    labels = ["K7Q2-007", "K7Q2-008", "K7Q2-007", "", "K7Q2-031"]
    files = [snapshot(tmp_path / f"{n}.jpg", label, seed=n) for n, label in enumerate(labels)]
    (tmp_path / "notes.txt").write_text("Seen at the quay.")
    _drop(table, [*files, tmp_path / "notes.txt"])
    _until_said(table, "6 of 6 photos: 3 filed, 2 wait below, 1 could not be kept.")
    assert _where(table) == {first: 2, second: 1, None: 2}
    table.find(".batch .row-link", "2 photos")
    table.find(".tray-row", "No label was found in it.")
    table.find(".tray-row", "No set on this phone has its label, K7Q2-031.")
    table.find(".refused", "notes.txt (1 KB) is not a photo.")
    table.tap(".refused .button", "Dismiss")
    table.phone.until(lambda driver: not driver.find_elements(By.CSS_SELECTOR, ".refused"), "it to be gone")
    table.reload()
    assert len(table.find("[aria-label='Tray']").find_elements(By.CSS_SELECTOR, ".tray-row")) == 2


def test_two_sets_with_one_label_get_no_photo_until_one_of_them_has_another(
    table: Table, tmp_path: Path
) -> None:
    first = _labelled(table, "K7Q2-007")
    second = _labelled(table, "K7Q2-007", "Tern A")
    table.find("[aria-label='Photos and label'] .wrong", "Another set has this label too: Tern B.")
    _drop(table, [snapshot(tmp_path / "a.jpg", "K7Q2-007")])
    table.find(".tray-row", "More than one set has its label, K7Q2-007.")
    table.open(f"#/set/{second}")
    table.tap(".top .button", "About it")
    table.type("[aria-label='Photos and label'] input:not([type=file])", "K7Q2-009")
    table.until_saved()
    table.open("#/photos")
    table.find(".notice", "1 photo of the tray filed.")
    assert _where(table) == {first: 1}


def test_a_photo_of_the_tray_gets_its_set_by_hand_or_a_new_one_with_its_label(
    table: Table, tmp_path: Path
) -> None:
    known = _labelled(table, "K7Q2-001")
    files = [snapshot(tmp_path / f"{n}.jpg", label, seed=n) for n, label in enumerate(["", "K7Q2-031"])]
    _drop(table, [*files, snapshot(tmp_path / "more.jpg", "K7Q2-031", seed=9)])
    _until_said(table, "3 of 3 photos: 0 filed, 3 wait below.")
    choice = table.find(".tray-row select")
    Select(choice).select_by_visible_text("Tern B, K7Q2-001")
    table.phone.until(lambda _: _where(table)[known] == 1, "the photo to be filed by hand")
    table.tap(".tray-row .button", "New set with this label")
    Select(table.find(".tray-row .field select")).select_by_visible_text("Tern C")
    table.tap(".tray-row .button", "Start a set with K7Q2-031")
    table.find("[aria-label='Tray']", "No photo waits.")
    assert sorted(_where(table).values()) == [1, 2]
    table.open()
    table.find(".set-row", "K7Q2-031")


def test_a_photo_of_the_tray_is_removed_with_undo(table: Table, tmp_path: Path) -> None:
    _drop(table, [snapshot(tmp_path / "a.jpg")])
    table.find(".tray-row", "No label was found in it.")
    table.tap(".tray-row .button", "Remove")
    table.find("[aria-label='Tray']", "No photo waits.")
    table.tap(".notice .button", "Undo")
    table.find(".tray-row", "No label was found in it.")


_DROP = """
const carried = new DataTransfer();
for (const [name, content] of args) {
  const bytes = Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0));
  carried.items.add(new File([bytes], name, { type: 'image/jpeg' }));
}
const zone = document.querySelector('.photo-drop');
for (const kind of ['dragover', 'drop']) {
  zone.dispatchEvent(new DragEvent(kind, { dataTransfer: carried, bubbles: true, cancelable: true }));
}
"""


def test_photos_dropped_onto_the_page_are_taken_in(table: Table, tmp_path: Path) -> None:
    found = _labelled(table, "K7Q2-007")
    files = [snapshot(tmp_path / f"{n}.jpg", "K7Q2-007", seed=n) for n in range(2)]
    table.open("#/photos")
    table.find(".photo-drop")
    table.phone.js(_DROP, *([file.name, base64.b64encode(file.read_bytes()).decode()] for file in files))
    _until_said(table, "2 of 2 photos: 2 filed.")
    assert _where(table) == {found: 2}


def test_a_full_phone_stops_the_rest_and_says_so_once(table: Table, tmp_path: Path) -> None:
    table.open("#/photos")
    # What a browser answers whose room is nearly used up.
    table.phone.js("navigator.storage.estimate = async () => ({ usage: 48_000_000, quota: 50_000_000 });")
    album.choose(table, ".photo-drop", [snapshot(tmp_path / f"{n}.jpg", seed=n) for n in range(9)])
    table.find(".refused", "0.jpg and those after it were not kept. This phone has no space left")
    _until_said(table, "1 could not be kept. Stopped")
    assert len(table.phone.driver.find_elements(By.CSS_SELECTOR, ".refused")) == 1
    assert album.rows(table) == []


def test_without_a_signal_photos_wait_and_file_themselves_once_there_is_one(
    signal: LiveServer, field: Table, tmp_path: Path
) -> None:
    field.phone.expected.append(NO_SERVER)
    found = _labelled(field, "K7Q2-007")
    files = [snapshot(tmp_path / f"{n}.jpg", "K7Q2-007", seed=n) for n in range(3)]
    _drop(field, files)
    field.find(".tray-row", "Reading its label needs a signal.")
    _until_said(field, "3 of 3 photos: 0 filed, 3 wait below.")
    field.phone.cold_start()
    signal.start()
    # The files themselves are gone with the tab; what is kept of them is enough.
    field.open("#/photos")
    field.find(".notice", "3 photos of the tray filed.")
    assert _where(field) == {found: 3}


def test_waiting_photos_are_tried_again_when_the_signal_comes_back_under_an_open_page(
    signal: LiveServer, field: Table, tmp_path: Path
) -> None:
    field.phone.expected.append(NO_SERVER)
    found = _labelled(field, "K7Q2-007")
    _drop(field, [snapshot(tmp_path / "a.jpg", "K7Q2-007")])
    field.find(".tray-row", "Reading its label needs a signal.")
    signal.start()
    field.phone.js("window.dispatchEvent(new Event('online'));")
    field.phone.until(lambda _: _where(field) == {found: 1}, "the photo to be filed")


def test_no_photo_is_lost_when_the_tab_is_closed_in_the_middle(table: Table, tmp_path: Path) -> None:
    """Of 175 records and their photos 15 photos never arrived, and nothing said so: here the tray says it."""
    found = _labelled(table, "K7Q2-007")
    files = [snapshot(tmp_path / f"{n}.jpg", "K7Q2-007", seed=n) for n in range(12)]
    _drop(table, files)
    table.phone.until(lambda _: len(album.rows(table)) >= 3, "the first photos to be on disk")
    table.reload()
    kept = len(album.rows(table))
    assert all(row["file"] == row["bytes"] for row in album.rows(table))
    table.phone.until(lambda _: _where(table) == {found: kept}, "all that were on disk to be filed", 60)


def test_cancelling_stops_after_those_under_way_and_what_is_filed_stays(table: Table, tmp_path: Path) -> None:
    found = _labelled(table, "K7Q2-007")
    files = [snapshot(tmp_path / f"{n}.jpg", "K7Q2-007", size=(3000, 2250), seed=n) for n in range(16)]
    _drop(table, files)
    table.phone.until(lambda _: _where(table)[found] >= 1, "the first photo to be filed", 60)
    table.tap(".batch .button", "Cancel")
    table.phone.until(
        lambda driver: not driver.find_element(By.CSS_SELECTOR, ".batch .button").is_displayed(),
        "the tap to count",
    )
    _until_said(table, "Stopped; what is filed stays.")
    count = len(album.rows(table))
    assert 1 <= count < 16
    assert _where(table) == {found: count}


def test_sixty_photos_file_themselves_while_another_page_is_open(table: Table, tmp_path: Path) -> None:
    found = _labelled(table, "K7Q2-007")
    files = [snapshot(tmp_path / f"{n}.jpg", "K7Q2-007", seed=n) for n in range(60)]
    _drop(table, files)
    table.open("#/about")
    table.phone.until(lambda _: _where(table) == {found: 60}, "all sixty to be filed", 120)
    table.open("#/photos")
    _until_said(table, "60 of 60 photos: 60 filed.")


def test_a_label_is_read_from_a_photo_into_its_field(table: Table, tmp_path: Path) -> None:
    table.new_set()
    table.tap(".top .button", "About it")
    part = "[aria-label='Photos and label']"
    for file, said in (
        (snapshot(tmp_path / "none.jpg"), "No label was found in this photo."),
        (snapshot(tmp_path / "label.jpg", "K7Q2-007"), ""),
    ):
        table.phone.js("document.querySelectorAll('.button').forEach((button) => button.blur());")
        buttons = table.find(part).find_elements(By.CSS_SELECTOR, "label.button input")
        buttons[-1].send_keys(str(file))
        table.find(f"{part} .wrong", said) if said else table.until_saved()
    field = table.find(f"{part} input:not([type=file])")
    table.phone.until(lambda _: field.get_attribute("value") == "K7Q2-007", "the label to stand in its field")
    table.reload()
    table.tap(".top .button", "About it")
    assert table.find(f"{part} input:not([type=file])").get_attribute("value") == "K7Q2-007"
