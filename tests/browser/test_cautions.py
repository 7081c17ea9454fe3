"""A finding that calls a caution shows its sign, what it looks like, what not to do and who decides."""

from collections.abc import Callable
from typing import Any
from urllib.parse import urldefrag, urljoin
from urllib.request import urlopen

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

from tests.support.packs import FAMILY, pack_for
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

Json = dict[str, Any]

DRAWN = "return arguments[0].querySelector('use').getBBox().width > 0;"


def _call(caution: str) -> tuple[str, Json, Json]:
    """A check and an option of it that call a caution, and the caution's row."""
    pack = pack_for()
    row = next(row for row in pack["cautions"] if row["id"] == caution)
    assert not row["standing"]
    for check in pack["checks"]:
        for option in check["options"]:
            if check["shown_if"] is None and caution in option["cautions"]:
                return check["id"], option, row
    raise AssertionError(f"no check calls {caution}")


def _card(place: WebElement, row: Json) -> WebElement:
    cards = place.find_elements(By.CSS_SELECTOR, ".caution")
    return next(card for card in cards if row["title"] in card.text)


def _says_all(card: WebElement, row: Json) -> None:
    for key in ("title", "look", "text", "who"):
        assert row[key] in card.text, key
    source = pack_for()["sources"][row["source"]]["title"]
    assert f"Rests on: {row['basis']} ({source})" in card.text
    sign = card.find_element(By.CSS_SELECTOR, "svg[role=img]")
    assert sign.get_attribute("aria-label") == pack_for()["signs"][row["sign"]]["name"]
    assert sign.find_element(By.TAG_NAME, "use").get_attribute("href").endswith(f"#{row['sign']}")


def _answer_and_read(table: Table) -> None:
    """Answers with flaking or whole luminous paint, and reads the caution under it and in the verdict."""
    check, option, row = _call("radium-paint")
    assert (row["sign"], row["basis"]) == ("W003", "published")
    table.new_set()
    table.answer(check, option["label"])
    source = pack_for()["sources"][row["source"]]["title"]
    for place in (f"#check-{check}", ".page.verdict"):
        card = _card(table.find(f"{place}:has(.caution)"), row)
        table.find(f"{place} .caution", source)
        _says_all(card, row)
        table.phone.until(
            lambda driver, card=card: driver.execute_script(DRAWN, card), "the sign to be drawn"
        )
        if place != ".page.verdict":
            table.tap(".to-verdict")


def test_a_finding_that_calls_a_caution_shows_sign_look_text_who_and_grounds(table: Table) -> None:
    _answer_and_read(table)


def test_the_same_is_shown_with_the_server_stopped(field: Table) -> None:
    _answer_and_read(field)


def test_standing_cautions_say_all_in_the_open_and_leave_the_first_check_near(table: Table) -> None:
    table.new_set()
    standing = [row for row in pack_for()["cautions"] if row["standing"]]
    assert standing
    cards = table.find(".standing")
    for row in standing:
        card = _card(cards, row)
        assert all(row[key] in card.text for key in ("title", "look", "text", "who", "basis"))
    top = table.find(".check").location["y"]
    assert top < 2 * (640 - table.find(".bar").size["height"])


def test_without_javascript_the_same_cautions_stand_in_form_and_verdict(
    standing_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    driver = browser(scripts=False).driver
    check, option, row = _call("radium-paint")
    driver.get(f"{standing_server.url}/form/{FAMILY}")
    assert len(driver.find_elements(By.CSS_SELECTOR, ".standing .caution svg.sign")) > 1
    choice = f"[name='check-{check}'][value='{option['id']}']"
    driver.find_element(By.CSS_SELECTOR, choice).send_keys(Keys.SPACE)
    driver.find_element(By.CSS_SELECTOR, "button[type=submit]").submit()
    card = _card(driver.find_element(By.TAG_NAME, "main"), row)
    _says_all(card, row)
    href = card.find_element(By.TAG_NAME, "use").get_attribute("href")
    sprite, code = urldefrag(urljoin(driver.current_url, href))
    with urlopen(sprite) as answer:
        assert f'id="{code}"' in answer.read().decode()
