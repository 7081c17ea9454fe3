"""The description of a set: composed without a signal, shared by a link, taken back, read by a stranger."""

import json
from importlib.resources import files
from typing import Any
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

OWN = "My uncle kept it. <script>alert(1)</script>"
# axe-core 4.4 as its package ships it.
AXE = (files("axe_core_python") / "axe.min.js").read_text(encoding="utf-8")
FOUND = """
const done = arguments[arguments.length - 1];
axe.run().then(({ violations }) => done(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)));
"""
PAPER = """
const seen = (css) => [...document.querySelectorAll(css)].some((element) => element.checkVisibility());
return { tools: seen('.description-tools'), told: seen('.told'), title: seen('h1.on-paper') };
"""


def violations(phone: Phone) -> Any:
    """What axe-core finds on the page."""
    phone.driver.execute_script(AXE)
    return phone.driver.execute_async_script(FOUND)


def described(table: Table) -> str:
    """A Tern B with some findings and its description open; gives the set's id."""
    found = table.new_set().rpartition("/")[2]
    for check, option in (("loading-coil", "Gone"), ("knobs", "One or two odd"), ("serial", "Stamped")):
        table.answer(check, option)
    table.open(f"#/description/{found}")
    table.find(".told-short")
    return found


def body(table: Table) -> str:
    return str(table.phone.driver.find_element(By.CSS_SELECTOR, ".description-body").text)


def add_words_and_price(table: Table) -> None:
    table.type(".description-form textarea", OWN)
    Select(table.find(".description-form select")).select_by_value("range")
    table.type(".description-form input", "120")
    table.find(".description-body .told", "The seller asks $120.")


def test_a_description_is_composed_without_a_signal_and_each_sentence_leads_to_its_check(
    field: Table,
) -> None:
    found = described(field)
    assert "The aerial loading coil is gone, and its corner is empty." in body(field)
    assert "Not checked" not in body(field)
    assert "The seller asks" not in body(field)
    add_words_and_price(field)
    assert OWN in body(field)
    field.until_saved()
    field.reload()
    field.find(".own-words", OWN)
    field.tap(".told-sentence", "One or two of the knobs")
    field.phone.until(lambda driver: driver.current_url.endswith(f"#/set/{found}/knobs"), "its check to open")


def test_on_paper_there_is_the_description_alone(table: Table) -> None:
    described(table)
    table.phone.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})  # type: ignore[attr-defined]
    assert table.phone.js(PAPER) == {"tools": False, "told": True, "title": True}


def test_nothing_on_the_page_keeps_people_out(table: Table) -> None:
    described(table)
    for scheme in ("light", "dark"):
        features = [{"name": "prefers-color-scheme", "value": scheme}]
        table.phone.driver.execute_cdp_cmd(  # type: ignore[attr-defined]
            "Emulation.setEmulatedMedia", {"features": features}
        )
        assert violations(table.phone) == [], scheme


def test_a_link_shows_a_stranger_what_was_found_until_it_is_taken_back(
    field: Table, signal: LiveServer
) -> None:
    signal.start()
    described(field)
    add_words_and_price(field)
    field.tap(".share-card .strong", "Make a link")
    address = field.find(".share-address").get_attribute("href") or ""
    field.find(".share-tag img, .share-tag summary")

    with urlopen(address) as answer:
        page = answer.read().decode()
    assert answer.headers["X-Robots-Tag"] == "noindex"
    assert "The aerial loading coil is gone, and its corner is empty." in page
    assert "The seller asks $120." in page
    assert "<script>alert" not in page
    with urlopen(f"{address}.json") as answer:
        document = json.load(answer)["document"]
    assert document["words"] == OWN
    assert not {"asking", "hour_rate"} & set(document["findings"])

    field.phone.driver.get(address)
    assert violations(field.phone) == []
    field.phone.driver.back()

    field.tap(".share-card .button", "Take the link back")
    field.tap(".share-card .danger", "Yes, take it back")
    field.find(".share-card", "The link was taken back")
    with pytest.raises(HTTPError) as refused:
        urlopen(address)
    assert refused.value.code == 410
    assert "loading coil" not in refused.value.read().decode()
