"""What became of a set: one tap and a number, kept with its sale, and counted."""

import json
import math
from typing import Any

import pytest
from selenium.webdriver.common.by import By

from tests.support.table import Table

Json = dict[str, Any]

KEPT = """
const { openDatabase } = await import(`${document.documentElement.dataset.base}js/store/database.js`);
const database = await openDatabase();
const row = (await database.findingsOf(args[0])).find(({ key }) => key === 'outcome');
return JSON.stringify({ outcome: row?.value ?? null, sales: await database.all('sales') });
"""
STATED = """
const at = (name) => import(`${document.documentElement.dataset.base}js/${name}.js`);
const [{ appraiseSet }, { openSet }] = [await at('pages/appraised'), await at('store/notebook')];
const { appraisal } = await appraiseSet(await openSet(args[0]));
return JSON.stringify({ price: appraisal.price, hours: appraisal.effort.hours });
"""
DAMAGED = """
const { openDatabase } = await import(`${document.documentElement.dataset.base}js/store/database.js`);
const row = { set: args[0], key: 'outcome', value: { what: 'sold', price: 5 }, changed: '2026-01-01' };
await (await openDatabase()).change(({ put }) => put('findings', row));
"""
DAMAGE = """
const { damage } = await import(`${document.documentElement.dataset.base}js/store/sale_rules.js`);
return JSON.parse(args[0]).map(damage);
"""


def kept(table: Table, set_id: str) -> Json:
    """The outcome and the sales as they are on disk."""
    found: Json = json.loads(table.phone.js(KEPT, set_id))
    return found


def stated(table: Table, set_id: str) -> Json:
    """What the app says of the set now."""
    found: Json = json.loads(table.phone.js(STATED, set_id))
    return found


def drilled_set(table: Table, asking: str = "60") -> str:
    """A Tern C at a price with a piece cut out of its front; gives its id."""
    walk = table.new_set("Tern C")
    table.answer("front-panel", "A large piece cut out")
    table.answer("loading-coil", "Gone")
    table.type("#asking", asking)
    table.until_saved()
    return walk.rpartition("/")[2]


def settle(table: Table, set_id: str, what: str, price: str | None = None) -> None:
    """Say on the verdict page what became of it."""
    if not table.phone.driver.current_url.endswith(f"#/verdict/{set_id}"):
        table.open(f"#/verdict/{set_id}")
    table.tap(".outcome .option", what)
    if price is not None:
        table.type(".outcome input", price)
    table.tap(".outcome .button", "Keep")


def test_bought_without_a_signal_it_is_in_the_log_and_the_hours_survive_a_restart(field: Table) -> None:
    phone = field.phone
    set_id = drilled_set(field)
    said = stated(field, set_id)
    settle(field, set_id, "Bought")
    assert "Bought for $60" in field.find(".outcome .happened").text
    field.type(".outcome input", "17,5")
    field.until_saved()

    found = kept(field, set_id)
    outcome, [sale] = found["outcome"], found["sales"]
    fair = said["price"]["fair"]
    assert (outcome["what"], outcome["price"], outcome["currency"]) == ("bought", 60, "USD")
    assert outcome["stated"] == {**fair, "hours": said["hours"], "aim": "on-air"}
    assert (sale["id"], sale["set"], sale["kind"]) == (outcome["sale"], set_id, "sold")
    assert (sale["price"], sale["model_sheet"], sale["demo"]) == (60, "tern-c", False)
    away = math.log(said["price"]["as_is"]["p50"] / said["price"]["reference"]["median"])
    assert away < -0.3
    assert sale["state"] is None
    assert sale["log_offset"] == pytest.approx(away)
    assert phone.js(DAMAGE, json.dumps([sale])) == [""]

    phone.cold_start()
    field.open(f"#/verdict/{set_id}")
    assert field.find(".outcome input").get_attribute("value") == "17.5"
    field.open("#/sales")
    assert "$60" in field.find(".sale-row", "Tern C").text
    field.open("#/")
    assert "bought for $60" in field.find(".set-row").text


def test_a_change_changes_the_sale_and_leaves_what_was_stated(table: Table) -> None:
    set_id = drilled_set(table)
    settle(table, set_id, "Bought")
    table.find(".outcome .happened")
    first = kept(table, set_id)
    table.open(f"#/set/{set_id}")
    table.answer("top-cover", "Gone")
    table.open(f"#/verdict/{set_id}")
    table.tap(".outcome .button", "Change")
    settle(table, set_id, "Sold", "95.50")
    assert "Sold for $95.5" in table.find(".outcome .happened").text
    then = kept(table, set_id)
    assert then["outcome"]["stated"] == first["outcome"]["stated"]
    assert stated(table, set_id)["price"]["fair"]["mid"] != first["outcome"]["stated"]["mid"]
    [sale] = then["sales"]
    assert (sale["id"], sale["price"], sale["kind"]) == (first["sales"][0]["id"], 95.5, "sold")


def test_taken_back_it_leaves_the_log_and_undo_brings_both_again(table: Table) -> None:
    set_id = drilled_set(table)
    settle(table, set_id, "Passed", "80")
    table.find(".outcome .happened", "Passed at $80")
    before = kept(table, set_id)
    assert before["sales"][0]["kind"] == "asked"
    table.tap(".outcome .button", "Take back")
    table.find(".outcome .option", "Bought")
    gone = kept(table, set_id)
    assert gone["outcome"] is None
    assert gone["sales"][0]["removed"] is True
    table.tap(".notice .button", "Undo")
    table.find(".outcome .happened", "Passed at $80")
    again = kept(table, set_id)
    assert again["outcome"] == before["outcome"]
    # But for when, and by which operation, it is the same again.
    assert again["sales"][0] | {"changed": "", "op": ""} == before["sales"][0] | {"changed": "", "op": ""}


def test_passed_without_a_price_makes_no_sale_and_takes_an_earlier_one_out(table: Table) -> None:
    set_id = drilled_set(table)
    settle(table, set_id, "Passed", "")
    table.find(".outcome .happened", "Passed on")
    assert kept(table, set_id)["sales"] == []
    table.tap(".outcome .button", "Change")
    settle(table, set_id, "Passed", "70")
    table.find(".outcome .happened", "Passed at $70")
    assert [sale["removed"] for sale in kept(table, set_id)["sales"]] == [False]
    table.tap(".outcome .button", "Change")
    settle(table, set_id, "Passed", "")
    table.find(".outcome .happened", "Passed on")
    found = kept(table, set_id)
    assert [sale["removed"] for sale in found["sales"]] == [True]
    assert found["outcome"]["sale"] is None


def test_its_own_sale_does_not_move_its_own_range(table: Table) -> None:
    set_id = drilled_set(table)
    before = stated(table, set_id)["price"]
    settle(table, set_id, "Sold", "400")
    table.find(".outcome .happened")
    assert stated(table, set_id)["price"] == before


def test_what_is_no_price_or_no_hours_is_said_at_the_field_and_not_kept(table: Table) -> None:
    set_id = drilled_set(table)
    for what, price in (("Bought", "sixty"), ("Bought", "-5"), ("Sold", ""), ("Sold", "0"), ("Passed", "x")):
        settle(table, set_id, what, price)
        assert "price above 0" in table.find(".outcome .wrong", " ").text, (what, price)
        assert table.find(".outcome input").get_attribute("value") == price
        assert kept(table, set_id) == {"outcome": None, "sales": []}
    settle(table, set_id, "Bought", "0")
    table.find(".outcome .happened", "Bought for nothing")
    assert kept(table, set_id)["sales"] == []
    table.type(".outcome input", "a week")
    assert "number" in table.find(".outcome .wrong", " ").text
    assert kept(table, set_id)["outcome"]["hours"] is None


def test_the_record_counts_what_held_and_lists_the_sets(table: Table) -> None:
    table.open("#/record")
    assert "No price is recorded yet" in table.find(".lead").text
    table.open()
    set_id = drilled_set(table)
    fair = stated(table, set_id)["price"]["fair"]
    settle(table, set_id, "Bought", f"{fair['mid']:.2f}")
    table.find(".outcome .happened")
    table.tap(".outcome .row-link", "How often")
    assert "The one price recorded so far fell inside" in table.find(".record .lead").text
    rows = [row.text for row in table.phone.driver.find_elements(By.CSS_SELECTOR, ".record-table tbody tr")]
    assert len(rows) == 6
    assert rows[0].startswith("Price inside the range 80 % 1 of 1")
    assert "bought for" in table.find(".record-set").text
    assert table.find("svg.reliability").get_attribute("role") == "img"


def test_what_the_disk_refuses_is_neither_shown_as_kept_nor_half_kept(table: Table) -> None:
    set_id = drilled_set(table)
    table.open(f"#/verdict/{set_id}")
    table.find(".outcome .option")
    table.phone.js("""
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (row) {
        if (this.name === 'sales') throw new DOMException('full', 'QuotaExceededError');
        return put.call(this, row);
      };
    """)
    settle(table, set_id, "Bought", "55")
    assert "no space left" in table.find(".notice.bad").text
    assert table.find(".outcome input").get_attribute("value") == "55"
    assert kept(table, set_id) == {"outcome": None, "sales": []}
    table.reload()
    table.find(".outcome .option", "Bought")


def test_a_damaged_outcome_from_a_file_counts_as_none(table: Table) -> None:
    set_id = drilled_set(table)
    table.phone.js(DAMAGED, set_id)
    table.open("#/record")
    assert "No price is recorded yet" in table.find(".record .lead").text
    settle(table, set_id, "Sold", "60")
    assert "Sold for $60" in table.find(".outcome .happened").text
