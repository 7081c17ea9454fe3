"""The sales log: entered at the table, offline; edited, removed, set aside; kept with the notebook."""

import json
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select

from tests.browser.test_reach import SMALL, WIDE
from tests.support.packs import FAMILY, pack_for
from tests.support.table import Table

Json = dict[str, Any]

MODULE = "const load = (name) => import(document.documentElement.dataset.base + `js/store/${name}.js`);"
STORED = MODULE + "return JSON.stringify(await (await (await load('database')).openDatabase()).all(args[0]));"
PUT = (
    MODULE
    + "const { openDatabase } = await load('database');"
    + "const rows = JSON.parse(args[1]);"
    + "await (await openDatabase()).change(({ put }) => rows.forEach((row) => put(args[0], row)));"
)
EXPORT = MODULE + "return JSON.stringify(await (await load('exporting')).exportDocument());"
CALL = (
    MODULE + "const [name, ...given] = JSON.parse(args[0]);"
    "return JSON.stringify((await load('sales'))[name](...given));"
)
STATE = pack_for()["states"][2]
NEW = f"#/sales/new/{FAMILY}/tern-b"


def _said(table: Table) -> list[Json]:
    """The sales as they are kept, but for the operation each is known from."""
    return [{key: row[key] for key in row if key != "op"} for row in _stored(table)]


def _rows(table: Table) -> list[str]:
    """The sales on the screen: what and how much."""
    rows = table.phone.driver.find_elements(By.CSS_SELECTOR, ".sale-link")
    return [" ".join(row.text.split("\n")[1:2] + row.text.split("\n")[:1]) for row in rows]


def _until_rows(table: Table, rows: list[str]) -> None:
    table.phone.until(lambda _: _rows(table) == rows, f"the log to hold {rows}")


def _stored(table: Table, store: str = "sales") -> list[Json]:
    rows: list[Json] = json.loads(table.phone.js(STORED, store))
    return rows


def _sale(number: int, **values: Any) -> Json:
    rest = {"model_sheet": "tern-b", "price": 100, "currency": "USD", "date": "2025-06-01", "kind": "sold"}
    more = {"state": None, "place": "", "note": "", "rate": None, "aside": False, "demo": False, "set": None}
    when = "2025-06-01T10:00:00.000Z"
    return {"id": f"s{number}", "family": FAMILY, **rest, **more, "changed": when} | values


def _put(table: Table, *sales: Json) -> None:
    table.phone.js(PUT, "sales", json.dumps(sales))


def _keep(table: Table) -> None:
    table.tap("button[type=submit]", "Keep")
    table.find("main[data-page='sales'] .sale-list")


def _import(table: Table, tmp_path: Path, document: Json, said: str) -> None:
    file = tmp_path / "notebook.json"
    file.write_text(json.dumps(document))
    table.open("#/about")
    table.find("input[type=file]").send_keys(str(file))
    table.find(".notice", said)


def test_a_sale_is_added_and_kept_with_the_server_stopped(field: Table) -> None:
    phone = field.phone
    field.tap(".top .button", "Sales log")
    field.find(".sale-list", "No sales yet")
    field.tap(".button.strong", "Add a sale")
    # The price has the focus, and the rest stands at rest.
    field.find("input[name=price]:focus").send_keys("1.234,5")
    field.tap(".sale-form .option", "Asked")
    Select(field.find("[name=what]")).select_by_visible_text("Tern C")
    field.tap(".sale-form .option", STATE["label"])
    field.type("input[name=place]", "Quayside Sunday Market")
    field.type("input[name=note]", "off the tailgate")
    _keep(field)
    phone.cold_start()

    field.open("#/sales")
    _until_rows(field, ["Tern C $1,234.50 asked"])
    row = field.find(".sale-row").text
    assert all(text in row for text in ("Quayside Sunday Market", STATE["label"], "off the tailgate"))
    (kept,) = _stored(field)
    expected = {
        "price": 1234.5,
        "currency": "USD",
        "kind": "asked",
        "model_sheet": "tern-c",
        "state": STATE["id"],
    }
    assert expected.items() <= kept.items()
    today = phone.js(
        "return (await import(document.documentElement.dataset.base + 'js/store/sale_rules.js')).today()"
    )
    assert kept["date"] == today


def test_while_the_log_is_empty_the_first_screens_fetch_nothing_of_it(table: Table) -> None:
    table.new_set()
    fetched = table.phone.js("return performance.getEntriesByType('resource').map((entry) => entry.name)")
    assert any(name.endswith("/store/notebook.js") for name in fetched)
    assert not [name for name in fetched if "/sale" in name or name.endswith("csv.js")]


def test_the_address_chooses_the_type_also_one_of_ones_own(table: Table) -> None:
    table.open()
    sheet = {"id": "own-1", "family": FAMILY, "changed": "2026-01-01", "document": {"name": "Heron A"}}
    table.phone.js(PUT, "sheets", json.dumps([sheet]))
    for address, said in ((NEW, "Tern B"), (f"#/sales/new/{FAMILY}/own-1", "Heron A")):
        table.open(address)
        table.reload()
        assert Select(table.find("[name=what]")).first_selected_option.text == said
    table.type("input[name=price]", "300")
    _keep(table)
    _until_rows(table, ["Heron A $300 sold"])
    table.phone.js(PUT, "sheets", json.dumps([sheet | {"removed": True}]))
    table.reload()
    _until_rows(table, ["type no longer here $300 sold"])
    table.tap(".sale-link")
    table.type("input[name=price]", "310")
    _keep(table)
    _until_rows(table, ["type no longer here $310 sold"])
    table.open(f"#/sales/new/{FAMILY}/-")
    table.reload()
    assert "type not known" in Select(table.find("[name=what]")).first_selected_option.text


@pytest.mark.parametrize("page", ["#/sales", "#/sales/new", "#/sales/import", "#/sales/s1"])
def test_on_the_smallest_phone_the_log_fits_cold_fingers(table: Table, page: str) -> None:
    table.open("#/sales")
    _put(table, *(_sale(n, currency="EUR") for n in range(9)))
    _put(table, _sale(9, kind="asked"), _sale(10, aside=True))
    table.open(page)
    table.reload()
    table.find("main h1, header h1")
    assert table.phone.js(SMALL) == []
    assert table.phone.js(WIDE) is False


def test_the_next_sale_starts_where_the_last_one_was(table: Table) -> None:
    table.open(NEW)
    table.type("input[name=price]", "90")
    table.type("input[name=place]", "Petrel Street yard")
    table.tap(".sale-form .option", STATE["label"])
    table.tap(".sale-foot .button", "Keep and add another")
    table.find(".notice", "$90: kept")
    assert table.find("input[name=price]:focus").get_attribute("value") == ""
    assert table.find("input[name=place]").get_attribute("value") == "Petrel Street yard"
    table.find(".sale-form .option[aria-pressed=true]", "Not known")
    table.find("input[name=price]").send_keys("95", Keys.ENTER)
    _until_rows(table, ["Tern B $95 sold", "Tern B $90 sold"])
    table.open("#/sales/new")
    assert table.find("input[name=place]").get_attribute("value") == "Petrel Street yard"
    assert table.find("[name=what]").get_attribute("value") == f"{FAMILY}/tern-b"


def test_a_changed_sale_is_kept_and_the_change_undone(table: Table) -> None:
    table.open("#/sales")
    _put(table, _sale(1))
    table.reload()
    table.tap(".sale-link")
    assert table.find("input[name=date]").get_attribute("value") == "2025-06-01"
    table.type("input[name=price]", "120")
    _keep(table)
    _until_rows(table, ["Tern B $120 sold"])
    table.tap(".notice .button", "Undo")
    _until_rows(table, ["Tern B $100 sold"])
    assert [row["price"] for row in _stored(table)] == [100]


def test_a_removed_sale_comes_back_with_one_tap(table: Table) -> None:
    table.open("#/sales")
    _put(table, _sale(1), _sale(2, price=80, date="2024-01-01"))
    table.reload()
    table.tap(".sale-row .button", "Remove")
    _until_rows(table, ["Tern B $80 sold"])
    table.tap(".notice .button", "Undo")
    _until_rows(table, ["Tern B $100 sold", "Tern B $80 sold"])


def test_a_sale_set_aside_says_so_and_counts_again_with_one_tap(table: Table) -> None:
    table.open("#/sales")
    _put(table, _sale(1))
    table.reload()
    table.tap(".sale-row .button", "Set aside")
    table.find(".sale-row .tag", "set aside")
    assert _stored(table)[0]["aside"] is True
    table.tap(".sale-row .button", "Count again")
    table.find(".sale-row .button", "Set aside")
    assert _stored(table)[0]["aside"] is False


def test_bad_input_gets_a_sentence_at_its_field_and_nothing_is_lost(table: Table) -> None:
    table.open(NEW)
    table.type("input[name=price]", "ninety")
    table.type("input[name=currency]", "QQQ")
    table.phone.js("document.querySelector('[name=date]').value = '2199-01-01'")
    table.phone.js("document.querySelector('[name=date]').dispatchEvent(new Event('input'))")
    table.type("input[name=note]", "kept while wrong")
    table.tap("button[type=submit]", "Keep")
    for words in ("Write a price above 0", "three letters of the currency", "still to come"):
        table.find(".sale-form .wrong", words)
    table.type("input[name=price]", "90")
    table.type("input[name=currency]", "eur")
    table.phone.until(
        lambda _: "price above" not in table.find(".sale-form").text,
        "the sentence to go as the price is right",
    )
    table.type("input[name=rate]", "0")
    table.find(".sale-form .wrong", "Write the rate as a number above 0")
    assert table.find("input[name=note]").get_attribute("value") == "kept while wrong"
    assert _stored(table) == []


def test_a_sale_in_other_money_stays_out_until_it_gets_a_rate_and_says_so(table: Table) -> None:
    table.open(NEW)
    table.type("input[name=price]", "90")
    assert not table.phone.driver.find_element(By.NAME, "rate").is_displayed()
    table.type("input[name=currency]", "EUR")
    table.find(".sale-form .field", "How many EUR one USD bought then")
    _keep(table)
    table.find(".sale-row .stays-out", "Stays out until it gets a rate")
    table.tap(".sale-link")
    table.type("input[name=rate]", "0,92")
    _keep(table)
    table.phone.until(lambda _: _stored(table)[0]["rate"] == 0.92, "the rate to be kept")
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".stays-out")


def test_what_was_typed_survives_leaving_the_page_and_goes_when_kept(table: Table) -> None:
    table.open("#/sales/new")
    table.type("input[name=price]", "77")
    table.tap(".sale-form .option", STATE["label"])
    table.phone.until(lambda _: _stored(table, "meta")[-1]["value"]["state"] == STATE["id"], "the draft")
    assert _stored(table) == []
    table.open()
    table.open("#/sales/new")
    table.find(".sale-draft", "This is what you had begun")
    assert table.find("input[name=price]").get_attribute("value") == "77"
    table.find(".sale-form .option[aria-pressed=true]", STATE["label"])
    _keep(table)
    table.find(".sale-row", "$77")
    table.open("#/sales/new")
    assert table.find("input[name=price]").get_attribute("value") == ""
    assert table.find(".sale-form").is_displayed()
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".sale-draft p")


def test_a_draft_is_begun_afresh_with_one_tap(table: Table) -> None:
    table.open("#/sales/new")
    table.type("input[name=price]", "77")
    table.phone.until(lambda _: any("draft" in row["key"] for row in _stored(table, "meta")), "the draft")
    table.reload()
    table.tap(".sale-draft .button", "Begin afresh")
    table.phone.until(
        lambda _: table.find("input[name=price]").get_attribute("value") == "", "the field to be empty"
    )
    assert not [row for row in _stored(table, "meta") if "draft" in row["key"]]


def test_a_long_log_is_searched_and_filtered(table: Table) -> None:
    table.open("#/sales")
    _put(table, *(_sale(n, price=100 + n, note=f"lot {n}", date=f"2024-01-{n + 1:02}") for n in range(1, 10)))
    _put(table, _sale(10, kind="asked", model_sheet=None), _sale(11, family="control-box", model_sheet=None))
    table.reload()
    table.type("input[type=search]", "lot 107")
    _until_rows(table, ["Tern B $107 sold"])
    table.type("input[type=search]", " ")
    kind = Select(table.find("select[aria-label='Sold or asked']"))
    kind.select_by_visible_text("Asked")
    table.phone.until(lambda _: len(_rows(table)) == 1 and "asked" in _rows(table)[0], "the asked one")
    kind.select_by_visible_text("Sold and asked")
    family = Select(table.find("select[aria-label='Kind of set']"))
    family.select_by_visible_text(pack_for(family="control-box")["name"])
    table.phone.until(lambda _: len(_rows(table)) == 1 and "asked" not in _rows(table)[0], "the other kind")


def test_the_sales_that_count_are_those_of_like_sets(table: Table) -> None:
    sales = [
        _sale(1),
        _sale(2, model_sheet=None),
        _sale(3, model_sheet="tern-a"),
        _sale(4, family="control-box", model_sheet=None),
        _sale(5, demo=True),
        _sale(6, set="mine"),
        _sale(7, aside=True),
    ]

    def counted(function: str, **base: Any) -> list[str]:
        whole = {"id": "mine", "family": FAMILY, "model_sheet": "tern-b", "demo": False} | base
        found: list[Json] = json.loads(table.phone.js(CALL, json.dumps([function, whole, sales])))
        return [row["id"] for row in found]

    assert counted("comparablesFor") == ["s1", "s2"]
    assert counted("comparablesFor", model_sheet=None, id="other") == ["s1", "s2", "s3", "s6"]
    assert counted("comparablesFor", demo=True) == ["s5"]
    assert counted("asideFor") == ["s7"]
    form = json.loads(table.phone.js(CALL, json.dumps(["comparable", _sale(1, rate=0.5)])))
    assert form == {
        "price": 100,
        "currency": "USD",
        "date": "2025-06-01",
        "state": None,
        "kind": "sold",
        "rate": 0.5,
        "log_offset": None,
    }


def test_the_demo_sales_come_and_go_with_the_demo_sets(demo: Table) -> None:
    table = demo
    table.find(".card.demo")
    table.open("#/sales")
    table.find(".sale-row .tag", "Demo")
    demo = len(_rows(table))
    assert demo >= 12
    table.tap(".sale-row .button", "Remove")
    table.phone.until(lambda _: len(_rows(table)) == demo - 1, "one to be gone")
    table.open()
    table.tap(".card.demo .button", "Remove the demo")
    table.find(".notice", "The demo removed")
    table.phone.until(lambda _: all(row["removed"] for row in _stored(table)), "the demo sales to be gone")
    table.tap(".notice .button", "Undo")
    table.phone.until(
        lambda _: len([row for row in _stored(table) if not row.get("removed")]) == demo - 1,
        "them to be back, but for the one removed by hand",
    )


def test_the_notebook_file_carries_the_sales_once(table: Table, tmp_path: Path) -> None:
    table.open("#/sales")
    _put(table, _sale(1, model_sheet="own-gone"), _sale(2, price=80))
    document: Json = json.loads(table.phone.js(EXPORT))
    assert document["underchassis-notebook"] == 1
    assert [row["id"] for row in document["sales"]] == ["s1", "s2"]
    table.open()
    table.find(".keeping", "2 sales are on this phone only")
    table.tap(".keeping .button", "Export the notebook")
    table.find(".notice", "2 sales exported")
    table.find(".keeping", "Everything here is also in an exported file")

    # From here on it is another phone.
    table.forget()
    table.open()
    _import(table, tmp_path, document, "0 sets taken in, 0 already here. 2 sales taken in.")
    assert _said(table) == document["sales"]
    table.reload()
    _import(table, tmp_path, document, "0 sets taken in, 0 already here.")
    assert _said(table) == document["sales"]
    # The same sale with another price comes in as a second one.
    document["sales"][1]["price"] = 85
    table.reload()
    _import(table, tmp_path, document, "1 sale taken in")
    assert sorted((row["price"], row.get("from")) for row in _stored(table) if row["price"] != 100) == [
        (80, None),
        (85, "s2"),
    ]
    del document["sales"]
    table.reload()
    _import(table, tmp_path, document, "0 sets taken in")
    assert len(_stored(table)) == 3


def test_sales_follow_a_model_sheet_that_gets_another_name(table: Table, tmp_path: Path) -> None:
    grounds = {"basis": "invented", "why": "Entered on this phone."}

    def own(name: str) -> Json:
        head = {"id": "own-1", "family": FAMILY, "heater_strings": [], **grounds}
        document = {"name": name, "about": "Own.", "sheet": head, "reference": {}}
        rest: Json = {"absent": [], "parts": [], "extra": []}
        return {"id": "own-1", "family": FAMILY, "changed": "2026-01-01", "document": document | rest}

    table.open()
    table.phone.js(PUT, "sheets", json.dumps([own("Heron A")]))
    sales = [_sale(1, model_sheet="own-1")]
    document = {"underchassis-notebook": 1, "sets": [], "sheets": [own("Heron B")], "sales": sales}
    for _ in range(2):
        _import(table, tmp_path, document, "0 sets taken in")
        table.phone.until(lambda _: _stored(table), "the sale")
        (sale,) = _stored(table)
        second = next(row for row in _stored(table, "sheets") if row.get("from") == "own-1")
        assert sale["model_sheet"] == second["id"]


def test_a_damaged_sale_refuses_the_whole_file_by_its_number(table: Table, tmp_path: Path) -> None:
    for wrong in ({"price": -1}, {"date": "2025-02-30"}, {"kind": "swapped"}, {"aside": None}, {"id": "s1"}):
        document = {"underchassis-notebook": 1, "sets": [], "sales": [_sale(1), _sale(2) | wrong]}
        _import(table, tmp_path, document, "Sale 2 in this file is damaged")
        assert _stored(table) == []


@pytest.mark.parametrize("removed", [False, True])
def test_a_sale_changed_in_another_tab_is_not_overwritten_unasked(table: Table, removed: bool) -> None:
    table.open("#/sales")
    _put(table, _sale(1))
    table.open("#/sales/s1")
    table.type("input[name=price]", "150")
    _put(table, _sale(1, price=222, removed=removed, changed="2026-01-01T10:00:00.000Z"))
    table.tap(".sale-foot .button", "Keep")
    table.find(".notice.bad", "removed in another tab" if removed else "changed in another tab")
    assert [sale["price"] for sale in _stored(table)] == [222]
    table.tap(".notice .button", "Keep what stands here")
    _until_rows(table, ["Tern B $150 sold"])
    (sale,) = _stored(table)
    assert (sale["price"], bool(sale.get("removed"))) == (150, False)
