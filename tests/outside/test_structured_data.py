"""The structured data of a description is what schema.org says a product and an offer are.

Sources: https://schema.org/OfferItemCondition and https://schema.org/itemCondition (a property of Demand,
MerchantReturnPolicy, Offer and Product); ISO 4217 by babel for priceCurrency. The members of the enumeration
and the other properties of the two types are named from memory.
"""

import json
from html.parser import HTMLParser
from typing import Any

import pytest
from babel.numbers import list_currencies
from flask.testing import FlaskClient

from tests.pages.conftest import client as client
from tests.support.shares import a_body, a_token

Json = dict[str, Any]

PRODUCT = {"@context", "@type", "name", "description", "url", "image", "itemCondition", "offers"}
OFFER = {"@type", "price", "priceCurrency", "itemCondition", "url"}
CONDITIONS = {f"https://schema.org/{name}Condition" for name in ("New", "Refurbished", "Used", "Damaged")}
EVIL = '</script><script>alert("1")</script>'


class Data(HTMLParser):
    """The structured data of a page, and how many scripts there are."""

    def __init__(self) -> None:
        super().__init__()
        self.scripts = 0
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Counts scripts."""
        self.scripts += tag == "script"

    def handle_data(self, data: str) -> None:
        """Takes the script's content."""
        if self.lasttag == "script":
            self.text += data


def page_data(client: FlaskClient, **changes: Any) -> Json:
    """Share a description and read the data of its page, which holds no other script."""
    key = {"Authorization": f"Bearer {a_token()}"}
    assert client.put("/notebook", headers=key, json={}).status_code == 201
    token = a_token()
    answer = client.put(f"/notebook/shares/{token}", headers=key, json=a_body(**changes))
    assert answer.status_code == 201, answer.text
    page = Data()
    page.feed(client.get(f"/d/{token}").text)
    assert page.scripts == 1
    found: Json = json.loads(page.text)
    return found


@pytest.fixture
def product(client: FlaskClient) -> Json:
    """The data of a page whose seller names a price and writes markup wherever he can."""
    return page_data(client, title=EVIL, words=EVIL)


def test_a_page_is_a_product_with_an_offer_by_the_vocabulary(product: Json) -> None:
    assert product["@context"] == "https://schema.org"
    assert product["@type"] == "Product"
    assert set(product) <= PRODUCT
    assert EVIL in product["name"]
    offer = product["offers"]
    assert offer["@type"] == "Offer"
    assert set(offer) == OFFER
    assert offer["price"] == 120
    assert offer["priceCurrency"] in list_currencies()


def test_the_condition_is_a_member_of_the_enumeration_and_never_better_than_used(product: Json) -> None:
    for row in (product, product["offers"]):
        assert row["itemCondition"] in CONDITIONS
        # Drilled, and its loading coil gone.
        assert row["itemCondition"] == "https://schema.org/DamagedCondition"


def test_a_set_with_nothing_bad_found_is_used_and_without_a_price_there_is_no_offer(
    client: FlaskClient,
) -> None:
    found = {"family": "aircraft-hf-transmitter", "answers": {"dial": "whole"}}
    data = page_data(client, findings=found, price="none", asked=None)
    assert data["itemCondition"] == "https://schema.org/UsedCondition"
    assert "offers" not in data
