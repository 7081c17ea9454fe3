"""Photos in the exported notebook: out in one file, back on another phone, refused whole when damaged."""

import base64
import json
from pathlib import Path
from typing import Any

from PIL import Image
from selenium.webdriver.common.by import By

from tests.support import album
from tests.support.snapshots import quarters, snapshot, turned_with_position
from tests.support.table import Table

Notebook = dict[str, Any]

_EXPORT = """
const { exportDocument } = await load('store/exporting');
const { withPhotos } = await load('store/photo_export');
return (await withPhotos(await exportDocument())).file.text();
"""


def _exported(table: Table) -> str:
    text: str = album.script(table, _EXPORT)
    return text


def _import(table: Table, file: Path, said: str) -> None:
    table.open("#/about")
    table.find("main[data-page='about'] input[type=file]").send_keys(str(file))
    table.find(".notice", said)


def _elsewhere(table: Table) -> None:
    """Go on as on another phone, which never saw the app."""
    table.forget()
    table.open()


def _notebook_with_photos(table: Table, tmp_path: Path) -> Notebook:
    table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"), snapshot(tmp_path / "b.jpg", seed=2))
    table.answer("dial", "Gone")
    document: Notebook = json.loads(_exported(table))
    return document


def _written(tmp_path: Path, document: Notebook) -> Path:
    file = tmp_path / "notebook.json"
    file.write_text(json.dumps(document), encoding="utf-8")
    return file


def test_photos_come_back_whole_on_another_phone_and_only_once(table: Table, tmp_path: Path) -> None:
    table.new_set()
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"), snapshot(tmp_path / "b.jpg", seed=2))
    before = {row["id"]: (row, album.stored(table, row["id"])) for row in album.rows(table)}
    file = tmp_path / "notebook.json"
    file.write_text(_exported(table), encoding="utf-8")
    assert set(json.loads(file.read_text())) >= {"underchassis-notebook", "sets", "photos"}
    _elsewhere(table)
    _import(table, file, "1 set taken in, 0 already here. 2 photos taken in.")
    after = {row["id"]: (row, album.stored(table, row["id"])) for row in album.rows(table)}
    assert after == before
    for photo in after:
        assert max(album.picture(album.stored(table, photo, "thumb")).size) == 240
    _import(table, file, "0 sets taken in, 1 already here.")
    assert len(album.rows(table)) == 2
    table.open()
    table.tap(".set-row .row-link", "Tern B")
    table.phone.until(
        lambda driver: len(driver.find_elements(By.CSS_SELECTOR, "#check-dial .thumb")) == 2, "both photos"
    )


def test_a_photo_that_was_removed_here_comes_in_beside_the_bin_and_overwrites_nothing(
    table: Table, tmp_path: Path
) -> None:
    document = _notebook_with_photos(table, tmp_path)
    file = _written(tmp_path, document)
    first = document["photos"][0]["id"]
    album.script(table, "await (await load('store/photos')).binPhotos(args, true);", first)
    for said in ("0 sets taken in, 1 already here. 1 photo taken in.", "0 sets taken in, 1 already here."):
        _import(table, file, said)
        rows = {row["id"]: row for row in album.rows(table)}
        assert len(rows) == 3
        assert rows[first]["removed"] is True
        assert [row["set"] for row in rows.values() if row.get("from") == first] == [
            document["photos"][0]["set"]
        ]


def test_a_hole_keeps_the_photo_it_was_measured_in_though_that_is_called_otherwise_here(
    table: Table, tmp_path: Path
) -> None:
    document = _notebook_with_photos(table, tmp_path)
    [entry], [photo, _] = document["sets"], document["photos"]
    album.script(table, "await (await load('store/photos')).binPhotos(args, true);", photo["id"])
    hole = {"place": "front-panel", "diameter_mm": 16.2, "as_found": "open", "photo": photo["id"]}
    found = {"option": "some", "holes": [hole]}
    entry["findings"].append(
        {"key": "check/added-holes", "value": found, "changed": "2026-11-25T10:00:00.000Z"}
    )
    for said in ("1 set taken in, 0 already here.", "0 sets taken in, 1 already here."):
        _import(table, _written(tmp_path, document), said)
    script = "const rows = await (await (await load('store/database')).openDatabase()).all('findings');"
    script += (
        "return rows.filter((row) => row.key === 'check/added-holes').map((row) => row.value.holes[0].photo);"
    )
    [named] = album.script(table, script)
    [here] = [row["id"] for row in album.rows(table) if row.get("from") == photo["id"]]
    assert named == here != photo["id"]


def test_a_file_without_photos_still_comes_in(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    del document["photos"]
    _elsewhere(table)
    _import(table, _written(tmp_path, document), "1 set taken in, 0 already here.")
    assert album.rows(table) == []


def test_photos_come_in_from_a_file_that_another_program_wrote_anew(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    _elsewhere(table)
    _import(table, _written(tmp_path, document), "2 photos taken in.")


def test_a_photo_whose_set_is_not_in_the_file_waits_in_the_tray(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    document["sets"] = []
    _elsewhere(table)
    _import(table, _written(tmp_path, document), "0 sets taken in, 0 already here. 2 photos taken in.")
    table.open("#/photos")
    table.find(".tray-row", "Its set was not in the file it came from.")
    assert {row["set"] for row in album.rows(table)} == {None}


def _with_position(folder: Path) -> str:
    file = turned_with_position(folder / "quay.jpg", quarters(60, 80))
    return base64.b64encode(file.read_bytes()).decode()


DAMAGES = [
    {"id": ""}, {"id": 7}, {"set": 5}, {"about": None}, {"taken": "yesterday"}, {"width": 0},
    {"height": 1.5}, {"width": 901}, {"jpeg": "not base64!"}, {"jpeg": None}, {"jpeg": "iVBORw0KGgo="},
    {"waiting": "soon"},
]  # fmt: skip


def test_a_file_with_a_damaged_photo_is_refused_whole(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    first, second = document["photos"]
    _elsewhere(table)
    for damage in DAMAGES:
        file = _written(tmp_path, {**document, "photos": [first, {**second, **damage}]})
        _import(table, file, "Photo 2 in this file is damaged.")
        table.find(".notice.bad", "Nothing was taken in.")
        assert album.rows(table) == [], damage
        table.reload()
        assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".notice.bad")
    table.open()
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".set-row")


def test_a_photo_that_is_there_twice_or_cut_off_has_the_file_refused(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    text = _exported(table)
    document["photos"][1] |= {"id": document["photos"][0]["id"]}
    _elsewhere(table)
    _import(table, _written(tmp_path, document), "Photo 2 in this file is damaged. It is there twice.")
    torn = tmp_path / "torn.json"
    for end, said in ((-3, "ends in the middle of its photos"), (-2000, "Photo 2 in this file is damaged.")):
        torn.write_text(text[:end], encoding="utf-8")
        _import(table, torn, said)
    assert album.rows(table) == []


def test_metadata_that_somebody_put_into_a_file_stay_outside(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    # Without its orientation it lies, as its pixels do.
    document["photos"] = [
        document["photos"][0] | {"jpeg": _with_position(tmp_path), "width": 80, "height": 60}
    ]
    _elsewhere(table)
    _import(table, _written(tmp_path, document), "1 photo taken in.")
    [row] = album.rows(table)
    content = album.stored(table, row["id"])
    assert b"Exif" not in content
    assert b"quay" not in content


def test_demo_photos_and_those_in_the_bin_stay_out_of_the_file(table: Table, tmp_path: Path) -> None:
    document = _notebook_with_photos(table, tmp_path)
    one, other = [photo["id"] for photo in document["photos"]]
    change = (
        "await (await load('store/photos')).changePhotos([args[0]], (row) => ({ ...row, [args[1]]: true }));"
    )
    album.script(table, change, one, "demo")
    assert [photo["id"] for photo in json.loads(_exported(table))["photos"]] == [other]
    album.script(table, change, other, "removed")
    assert json.loads(_exported(table))["photos"] == []


def test_dozens_of_photos_of_a_quarter_megabyte_go_out_and_come_in(table: Table, tmp_path: Path) -> None:
    table.new_set()
    Image.effect_noise((900, 700), 120).save(tmp_path / "grain.jpg", quality=95)
    album.add(table, "dial", tmp_path / "grain.jpg")
    album.script(
        table,
        "const database = await (await load('store/database')).openDatabase();"
        "const [photo] = await database.all('photos');"
        "const { blob } = await database.get('photo_files', photo.id);"
        "await database.change(({ put }) => {"
        "  for (let n = 1; n < 60; n += 1) {"
        "    const id = `${photo.id}${n}`;"
        "    put('photos', { ...photo, id });"
        "    put('photo_files', { id, blob });"
        "  }"
        "});",
    )
    text = _exported(table)
    file = tmp_path / "notebook.json"
    file.write_text(text, encoding="utf-8")
    assert file.stat().st_size > 12_000_000
    _elsewhere(table)
    table.open("#/about")
    table.find("main[data-page='about'] input[type=file]").send_keys(str(file))
    table.phone.until(
        lambda driver: "60 photos taken in." in driver.find_element(By.CSS_SELECTOR, ".notices").text,
        "all photos to be in",
        120,
    )
    assert {row["file"] for row in album.rows(table)} == {
        len(album.stored(table, album.rows(table)[0]["id"]))
    }


def test_where_photos_find_no_room_the_findings_come_in_without_them_and_it_is_said(
    table: Table, tmp_path: Path
) -> None:
    document = _notebook_with_photos(table, tmp_path)
    _elsewhere(table)
    table.open("#/about")
    # What a browser answers whose room is nearly used up.
    table.phone.js("navigator.storage.estimate = async () => ({ usage: 48_000_000, quota: 50_000_000 });")
    file = _written(tmp_path, document)
    table.find("main[data-page='about'] input[type=file]").send_keys(str(file))
    table.find(".notice", "1 set taken in, 0 already here. 2 photos found no room on this phone")
    assert album.rows(table) == []
    table.reload()
    _import(table, file, "0 sets taken in, 1 already here. 2 photos taken in.")


def test_the_keeping_page_says_how_many_photos_there_are_and_that_they_are_exported(
    table: Table, tmp_path: Path
) -> None:
    _notebook_with_photos(table, tmp_path)
    table.open("#/about")
    table.find(".card", "2 photos (")
    table.open()
    table.find(".keeping", "1 set and 2 photos are on this phone only")
    table.tap(".keeping .button", "Export the notebook")
    table.find(".notice", "1 set and 2 photos exported.")
    table.find(".keeping", "Everything here is also in an exported file")
