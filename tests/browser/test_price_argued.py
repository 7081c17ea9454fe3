"""The price argued: what to say, what if, the seller's side, the reference price and its sales, the doubt."""

import re
from typing import Any

import pytest
from selenium.webdriver.common.by import By

from tests.support.table import Table

KEEP = """
const store = await import(`${document.documentElement.dataset.base}js/store/sales.js`);
const usual = { family: 'aircraft-hf-transmitter', currency: 'USD' };
await store.keepSales(args[0].map((sale) => store.newSale({ ...usual, ...sale })));
"""
DAY = "2026-11-01"


def log_sales(table: Table, *sales: dict[str, Any]) -> None:
    """Put sales into the log of this phone."""
    table.phone.js(KEEP, [{"date": DAY, "model_sheet": "tern-b", **sale} for sale in sales])


def texts(table: Table, css: str) -> list[str]:
    """The texts of all elements that a selector finds."""
    return [element.text for element in table.phone.driver.find_elements(By.CSS_SELECTOR, css)]


def money(text: str) -> str:
    """The first amount in a text, without its sign."""
    found = re.search(r"\$[\d.,]+", text)
    assert found, text
    return found[0]


def see(table: Table, walk: str, page: str) -> None:
    """Open another page about the same set and wait until it stands."""
    table.open(walk.replace("#/set/", f"#/{page}/"))
    table.find(f"main[data-page='{page}'] .page")


@pytest.fixture
def holed(table: Table) -> tuple[Table, str]:
    """A Tern B without its loading coil and with odd knobs, and the address of its walk round."""
    walk = table.new_set()
    table.answer("loading-coil", "Gone")
    table.answer("knobs", "One or two odd")
    return table, walk


def test_a_finding_is_worth_the_same_in_line_waterfall_point_and_what_if(holed: tuple[Table, str]) -> None:
    table, walk = holed
    line = money(table.said("loading-coil"))
    see(table, walk, "verdict")
    assert money(table.find(".points li", "loading coil").text.splitlines()[-1]) == line
    assert money(table.find(".waterfall summary", "Aerial loading coil").text) == line
    see(table, walk, "mends")
    assert money(table.find(".mends .card", "Aerial loading coil").text.split("brings")[1]) == line


def test_each_finding_in_the_waterfall_says_what_mending_it_would_bring(holed: tuple[Table, str]) -> None:
    table, walk = holed
    see(table, walk, "verdict")
    table.tap(".waterfall summary", "Aerial loading coil")
    table.find(".waterfall .why", "Mended it would bring")


def test_the_seller_reads_the_same_findings_from_the_other_side_and_stays_there(
    holed: tuple[Table, str],
) -> None:
    table, walk = holed
    see(table, walk, "verdict")
    points = [money(text) for text in texts(table, ".points strong")]
    table.tap(".roles .option", "I am selling")
    table.find(".verdict-word", "Ask $")
    assert [money(text) for text in texts(table, ".points strong")] == points
    table.find("h2", "Before you sell")
    table.reload()
    assert table.find(".roles [aria-pressed='true']").text == "I am selling"
    table.find(".verdict-word", "Ask $")


def test_without_a_finding_there_is_nothing_to_say_and_nothing_to_mend(table: Table) -> None:
    walk = table.new_set()
    see(table, walk, "verdict")
    table.find(".haggle .help", "Nothing was found so far")
    see(table, walk, "mends")
    table.find(".lead", "Nothing was found so far that some work would mend")


def test_each_look_left_says_what_it_could_change_and_the_stop_line_stands_above(table: Table) -> None:
    walk = table.new_set()
    table.type("#asking", "150")
    table.until_saved()
    see(table, walk, "verdict")
    card = table.find(".card", "Look next")
    assert "Once that is below $" in card.text
    looks = card.find_elements(By.CSS_SELECTOR, "ol:not(details ol) .row-link .fine")
    assert looks
    assert all(re.search(r"−\$[\d.]+ to (\+\$[\d.]+|±0) · \d+ s", look.text) for look in looks)


def test_sales_move_the_reference_price_and_one_set_aside_moves_it_back(table: Table) -> None:
    walk = table.new_set()
    before = table.price()
    log_sales(table, {"price": 90, "place": "Petrel Street yard"}, {"price": 95, "kind": "asked"})
    see(table, walk, "reference")
    assert len(table.phone.driver.find_elements(By.CSS_SELECTOR, ".plot-dot")) == 2
    table.find(".comparables tr", "Petrel Street yard")
    table.open(walk)
    assert table.price() != before
    for _ in range(2):
        see(table, walk, "reference")
        left = len(texts(table, ".comparables .button"))
        table.tap(".comparables .button", "Set aside")
        table.phone.until(
            lambda _, left=left: len(texts(table, ".comparables .button")) == left - 1, "one sale less"
        )
    assert len(texts(table, ".card .button.quiet")) == 2
    table.open(walk)
    assert table.price() == before


def test_a_sale_far_out_is_named_as_such(table: Table) -> None:
    walk = table.new_set()
    log_sales(table, {"price": 190}, {"price": 185}, {"price": 2900, "place": "Harbour Hall auction"})
    see(table, walk, "reference")
    assert "far out" in table.find(".comparables tr", "Harbour Hall auction").text
    assert sum("far out" in text for text in texts(table, ".comparables tbody tr")) == 1


def test_a_sale_in_another_currency_stays_out_until_it_has_a_rate(table: Table) -> None:
    walk = table.new_set()
    before = table.price()
    log_sales(table, {"price": 60, "currency": "EUR"})
    see(table, walk, "reference")
    table.find(".card", "currencies are never mixed")
    assert texts(table, ".plot-dot") == []
    table.open(walk)
    assert table.price() == before
    log_sales(table, {"price": 60, "currency": "EUR", "rate": 0.9})
    see(table, walk, "reference")
    assert len(texts(table, ".plot-dot")) == 1


def test_sales_of_another_type_and_of_the_demo_do_not_count(table: Table) -> None:
    walk = table.new_set()
    log_sales(table, {"price": 60, "model_sheet": "tern-a"}, {"price": 60, "demo": True})
    log_sales(table, {"price": 80, "model_sheet": None, "place": "type not named"})
    see(table, walk, "reference")
    assert len(texts(table, ".plot-dot")) == 1
    table.find(".comparables tr", "type not named")


def test_the_shares_of_the_doubt_add_up_in_bar_and_list(holed: tuple[Table, str]) -> None:
    table, walk = holed
    see(table, walk, "trust")
    groups = [int(text.split()[0]) for text in texts(table, ".sums .fall-text")]
    assert 98 <= sum(groups) <= 102
    widths = [
        float(rect.get_attribute("width") or 0)
        for rect in table.phone.driver.find_elements(By.CSS_SELECTOR, ".shares rect")
    ]
    assert sum(widths) == pytest.approx(100)
    assert [round(width) for width in widths] == pytest.approx(groups, abs=1)


def test_all_of_it_opens_with_the_server_stopped(field: Table) -> None:
    walk = field.new_set()
    field.answer("loading-coil", "Gone")
    log_sales(field, {"price": 120})
    wanted = {"verdict": ".points li", "mends": ".mends .card", "reference": ".plot-dot", "trust": ".shares"}
    for page, css in wanted.items():
        see(field, walk, page)
        field.find(css)


@pytest.mark.parametrize("state", ["constructor", "__proto__", "toString", "nonsense"])
def test_a_state_that_no_table_has_leaves_a_sale_as_it_is(table: Table, state: str) -> None:
    walk = table.new_set()
    log_sales(table, {"price": 190, "state": state})
    see(table, walk, "reference")
    assert len(texts(table, ".plot-dot")) == 1
    assert money(table.find(".comparables tbody tr:nth-child(2) td").text) == "$190"


def test_hundreds_of_sales_of_one_price_are_drawn_without_delay(table: Table) -> None:
    walk = table.new_set()
    log_sales(table, *({"price": 150} for _ in range(1500)))
    see(table, walk, "reference")
    assert len(table.phone.driver.find_elements(By.CSS_SELECTOR, ".plot-dot")) == 1500
    table.find(".comparables tr", "1400 more; the sales log has them")


def test_the_weights_of_the_tables_and_of_the_sales_add_up(table: Table) -> None:
    walk = table.new_set()
    log_sales(table, {"price": 150}, {"price": 210, "kind": "asked"})
    see(table, walk, "reference")
    shares = [float(share) for share in re.findall(r"([\d.]+) %", table.find(".comparables tbody").text)]
    assert sum(shares[:-1]) == pytest.approx(100, abs=0.2)


def test_a_sale_of_a_day_to_come_is_left_out_and_said(table: Table) -> None:
    walk = table.new_set()
    log_sales(table, {"price": 150, "date": "9999-12-31"})
    see(table, walk, "reference")
    table.find(".card", "that day is still to come")
    assert texts(table, ".plot-dot") == []


def test_before_looking_any_longer_it_says_what_to_do_if_one_had_to_decide(table: Table) -> None:
    walk = table.new_set()
    table.type("#asking", "150")
    table.until_saved()
    see(table, walk, "verdict")
    assert table.find(".verdict-word").text.startswith("Look a little longer")
    table.find(".headline strong", "Had you to decide now")
