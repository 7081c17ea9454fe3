"""The phone's database: one of an earlier form opens with everything kept."""

import json
from pathlib import Path

from selenium.webdriver.common.by import By

from tests.support import album
from tests.support.packs import FAMILY
from tests.support.snapshots import snapshot
from tests.support.table import Table

# The earlier forms, written down here once more: the app's own steps can change without this test.
EARLIER_FORM = """
const [version, rows] = JSON.parse(args[0]);
const record = ['kind', 'record'];
const keys = { findings: ['set', 'key'], meta: 'key', standing: record };
const indexes = {
  photos: [['set', 'set']], standing: [['differs', 'differs']],
  operations: [['record', record], ['waiting', 'waiting'], ['refused', 'refused']],
};
await new Promise((resolve, reject) => {
  const request = indexedDB.open('underchassis', version);
  request.onerror = () => reject(request.error);
  request.onupgradeneeded = () => {
    for (const store of Object.keys(rows)) {
      const made = request.result.createObjectStore(store, { keyPath: keys[store] ?? 'id' });
      for (const [name, path] of indexes[store] ?? []) made.createIndex(name, path);
    }
  };
  request.onsuccess = () => {
    const database = request.result;
    const writing = database.transaction(Object.keys(rows), 'readwrite');
    for (const store of Object.keys(rows)) for (const row of rows[store]) writing.objectStore(store).put(row);
    writing.oncomplete = () => {
      database.close();
      resolve();
    };
  };
});
"""
ROWS = """
const base = document.documentElement.dataset.base;
const database = await (await import(base + 'js/store/database.js')).openDatabase();
const stores = JSON.parse(args[0] ?? '["sets", "findings", "meta", "sheets", "sales"]');
const rows = await Promise.all(stores.map(async (name) => [name, await database.all(name)]));
return JSON.stringify(Object.fromEntries(rows));
"""


def test_a_database_of_the_first_form_opens_with_everything_kept(
    newcomer: Table,
) -> None:
    table, phone = newcomer, newcomer.phone
    # The plain form has the app's origin and none of its scripts.
    phone.driver.get(f"{table.address}/form")
    assert phone.js("return (await indexedDB.databases()).length") == 0
    when = "2026-03-01T07:00:00.000Z"
    base = {"id": "a1", "family": FAMILY, "model_sheet": "tern-b", "created": when, "demo": False}
    values = {"title": "Tern B, early", "asking": 90, "check/loading-coil": {"option": "gone"}}
    findings = [{"set": "a1", "key": key, "value": value, "changed": when} for key, value in values.items()]
    last = {"key": "last", "value": {"place": "Quayside Sunday Market"}}
    phone.js(EARLIER_FORM, json.dumps([1, {"sets": [base], "findings": findings, "meta": [last]}]))

    table.open()
    table.tap(".set-row .row-link", "Tern B, early")
    assert "Gone" in table.said("loading-coil")
    assert table.find("#asking").get_attribute("value") == "90"
    table.answer("dial", "Gone")
    table.reload()
    assert "Gone" in table.said("dial")
    assert phone.js("return (await indexedDB.databases())[0].version") > 1
    table.open()
    table.new_set("Tern A")
    assert "Quayside Sunday Market" in table.find(".top .sub").text
    table.open()
    phone.until(lambda driver: len(driver.find_elements(By.CSS_SELECTOR, ".set-row")) == 2, "both sets")


def test_a_database_of_the_second_form_opens_with_all_its_rows_and_takes_sales(
    newcomer: Table,
) -> None:
    table, phone = newcomer, newcomer.phone
    phone.driver.get(f"{table.address}/form")
    assert phone.js("return (await indexedDB.databases()).length") == 0
    when = "2026-03-01T07:00:00.000Z"
    base = {"id": "a1", "family": FAMILY, "model_sheet": None, "created": when, "demo": False}
    finding = {"set": "a1", "key": "title", "value": "Tern B, early", "changed": when}
    last = {"key": "last", "value": {"place": "Quayside Sunday Market"}}
    grounds = {"basis": "invented", "why": "Entered on this phone."}
    sheet = {"id": "own-1", "family": FAMILY, "heater_strings": [], **grounds}
    document = {"sheet": sheet, "reference": {}, "absent": [], "parts": [], "extra": []}
    own = {
        "id": "own-1",
        "family": FAMILY,
        "changed": when,
        "document": document | {"name": "Heron A", "about": "Own."},
    }
    earlier = {"sets": [base], "findings": [finding], "meta": [last], "sheets": [own]}
    phone.js(EARLIER_FORM, json.dumps([2, earlier]))

    table.open()
    table.find(".set-row .row-link", "Tern B, early")
    rows = json.loads(phone.js(ROWS))
    assert rows == earlier | {"sales": []}
    table.open("#/sales/new")
    table.type("input[name=price]", "120")
    table.tap("button[type=submit]")
    table.find(".sale-row", "120")
    table.reload()
    table.find(".sale-row", "120")
    kept = json.loads(phone.js(ROWS))
    assert [kept[store] for store in ("sets", "findings", "sheets")] == [[base], [finding], [own]]


def test_a_database_of_the_third_form_opens_with_all_its_rows_and_takes_photos(
    newcomer: Table, tmp_path: Path
) -> None:
    table, phone = newcomer, newcomer.phone
    phone.driver.get(f"{table.address}/form")
    assert phone.js("return (await indexedDB.databases()).length") == 0
    when = "2026-03-01T07:00:00.000Z"
    base = {"id": "a1", "family": FAMILY, "model_sheet": None, "created": when, "demo": False}
    hole = {"place": "front-panel", "diameter_mm": 16, "as_found": "open"}
    values = {"title": "Tern B, early", "check/added-holes": {"option": "some", "holes": [hole]}}
    findings = [{"set": "a1", "key": key, "value": value, "changed": when} for key, value in values.items()]
    sale = {"id": "s1", "family": FAMILY, "model_sheet": None, "price": 120, "currency": "USD"}
    sale |= {"date": "2026-02-01", "kind": "sold", "state": None, "place": "", "note": "", "rate": None}
    sale |= {"log_offset": None, "aside": False, "demo": False, "set": None, "changed": when}
    earlier = {"sets": [base], "findings": findings, "meta": [], "sheets": [], "sales": [sale]}
    phone.js(EARLIER_FORM, json.dumps([3, earlier]))

    table.open("#/set/a1")
    table.find(".top h1", "Tern B, early")
    rows = json.loads(phone.js(ROWS))
    assert {store: sorted(kept, key=str) for store, kept in rows.items()} == {
        store: sorted(kept, key=str) for store, kept in earlier.items()
    }
    album.add(table, "dial", snapshot(tmp_path / "a.jpg"))
    table.reload()
    table.find("#check-dial .thumb")
    assert json.loads(phone.js(ROWS))["findings"] == rows["findings"]
    [photo] = album.rows(table)
    assert (photo["set"], photo["file"]) == ("a1", photo["bytes"])


HISTORY = """
const base = document.documentElement.dataset.base;
const { historyOf } = await import(base + 'js/store/history.js');
return JSON.stringify(await historyOf(args[0]));
"""


def test_a_database_of_the_fourth_form_opens_and_its_first_change_keeps_what_stood_before(
    newcomer: Table,
) -> None:
    table, phone = newcomer, newcomer.phone
    phone.driver.get(f"{table.address}/form")
    assert phone.js("return (await indexedDB.databases()).length") == 0
    when = "2026-03-01T07:00:00.000Z"
    base = {"id": "a1", "family": FAMILY, "model_sheet": None, "created": when, "demo": False}
    values = {"title": "Tern B, early", "check/loading-coil": {"option": "gone"}}
    findings = [{"set": "a1", "key": key, "value": value, "changed": when} for key, value in values.items()]
    empty: dict[str, list[object]] = {"meta": [], "sheets": [], "sales": [], "photos": [], "photo_files": []}
    phone.js(EARLIER_FORM, json.dumps([4, {"sets": [base], "findings": findings} | empty]))

    table.open("#/set/a1")
    assert "Gone" in table.said("loading-coil")
    table.tap("#check-loading-coil .folded-line")
    table.answer("loading-coil", "There, turns tight")
    later, earlier = json.loads(phone.js(HISTORY, "a1"))
    assert (earlier["value"], earlier["at"], earlier["after"]) == ({"option": "gone"}, when, [])
    assert later["after"] == [earlier["id"]]
    assert later["value"]["option"] == "there"


LOT = """
const load = (name) => import(document.documentElement.dataset.base + `js/store/${name}.js`);
const { newLot, openLot } = await load('lots');
return JSON.stringify(await openLot(await newLot('Petrel Street')));
"""


def test_a_database_of_the_fifth_form_opens_with_all_its_rows_and_takes_lots(newcomer: Table) -> None:
    table, phone = newcomer, newcomer.phone
    phone.driver.get(f"{table.address}/form")
    assert phone.js("return (await indexedDB.databases()).length") == 0
    when, ids = "2026-03-01T07:00:00.000Z", [f"{number:024x}" for number in range(2)]
    base = {"id": "a1", "family": FAMILY, "model_sheet": None, "created": when, "demo": False}
    finding = {"set": "a1", "key": "title", "value": "Tern B, early", "changed": when, "op": ids[1]}
    device = {"id": "d" * 24, "name": "Field phone", "time": 5}
    values = {"sets/a1": {"family": FAMILY}, "findings/a1/title": "Tern B, early"}
    operations, standing = [], []
    for time, (name, operation) in enumerate(zip(values, ids, strict=True), start=1):
        kind, _, record = name.partition("/")
        written = {"device": "d" * 24, "by": "Field phone", "time": time, "at": when, "after": []}
        operations.append(
            {"id": operation, "kind": kind, "record": record, "value": values[name], "waiting": 1} | written
        )
        standing.insert(0, {"kind": kind, "record": record, "heads": [operation]})
    earlier = {
        **{store: [] for store in ("sheets", "sales", "photos", "photo_files", "carried", "wanted")},
        **{"sets": [base], "findings": [finding], "meta": [{"key": "device", "value": device}]},
        **{"operations": operations, "standing": standing},
    }
    phone.js(EARLIER_FORM, json.dumps([5, earlier]))

    table.open()
    table.find(".set-row .row-link", "Tern B, early")
    assert json.loads(phone.js(ROWS, json.dumps(list(earlier)))) == earlier
    lot = json.loads(phone.js(LOT))
    rows = json.loads(phone.js(ROWS, json.dumps(["lots", "operations"])))
    assert rows["lots"] == [lot]
    *before, added = rows["operations"]
    assert (before, added["kind"], added["record"]) == (operations, "lots", lot["id"])
    assert added["value"]["name"] == "Petrel Street"
