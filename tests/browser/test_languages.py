"""The screens in another language, with a catalog of a few texts: the rest stays English."""

import json
from collections.abc import Iterator

import pytest
from selenium.webdriver.support.ui import Select

from tests.support.phone import Phone
from tests.support.table import Table

# Forms in the order of the catalog, not in that of the browser.
CATALOG = {
    "plurals": ["other", "one"],
    "texts": {
        "Notebook": "Notizbuch",
        "{count} set": ["{count} Geräte", "{count} Gerät"],
        "{low} to {high}": "{low} bis {high}",
    },
}
# The app's own catalog grows; here the same few texts come in its place.
IN_ITS_PLACE = """
const asked = window.fetch;
window.fetch = (address, ...more) => (String(address).endsWith('/lang/de.json')
  ? Promise.resolve(new Response(%s)) : asked(address, ...more));
"""
SAY = """
const { _, _n } = await import(document.documentElement.dataset.base + 'js/language.js');
return [_('Notebook'), _('Not there, {name}', { name: 'Tern' }),
  ...[0, 1, 2].map((count) => _n('{count} set', '{count} sets', count)),
  ...[1, 2].map((count) => _n('{count} {kind} lot', '{count} {kind} lots', count, { kind: 'dear' }))];
"""
HABITS = """
const base = document.documentElement.dataset.base;
const habits = await import(base + 'js/ui/habits.js');
const { figure, moneyWriter } = await import(base + 'js/ui/money.js');
const { sayDay } = await import(base + 'js/ui/sale_words.js');
const money = moneyWriter('EUR', { minor_digits: {}, model: { rounding_share: 0.001 } });
const read = ['1 3/8', '16,5', 'wide', ' '].map(habits.typedLength);
const written = [16, 1234.56, 0.46].map(habits.length);
return [habits.locale(), habits.lengthUnit(), ...written,
  ...read.map((mm) => (mm === undefined ? 'none' : mm)),
  figure(4598.5), money.say(1234.5), sayDay('2026-11-26')];
"""
REFUSED = """
const { ask } = await import(document.documentElement.dataset.base + 'js/sync/server.js');
return ask('0'.repeat(32), '/contents').then(() => '', (refusal) => refusal.message);
"""
NO_CHOICES = """
for (const name of ['getItem', 'setItem', 'removeItem']) {
  Storage.prototype[name] = () => { throw new DOMException('The storage is closed', 'SecurityError'); };
}
"""


def _speaks(phone: Phone, languages: str, agent: str) -> None:
    command = {"userAgent": agent, "acceptLanguage": languages}
    phone.driver.execute_cdp_cmd("Emulation.setUserAgentOverride", command)  # type: ignore[attr-defined]


@pytest.fixture
def linguist(newcomer: Table) -> Iterator[Table]:
    """A person whose browser reads Swiss French, Austrian German and English, with the small catalog."""
    phone = newcomer.phone
    agent = phone.driver.execute_script("return navigator.userAgent")
    own = phone.driver.execute_script("return navigator.languages.join(',')")
    phone.before_each_page(IN_ITS_PLACE % json.dumps(json.dumps(CATALOG)))
    _speaks(phone, "fr-CH,de-AT,en-US", agent)
    yield newcomer
    _speaks(phone, own, agent)


def _choose(table: Table, label: str, choice: str) -> None:
    Select(table.find(f"select[aria-label='{label}']")).select_by_visible_text(choice)


def _in_use(table: Table) -> str:
    return str(table.phone.js("return document.documentElement.lang"))


def test_the_first_language_of_the_browser_that_the_app_has_shows(linguist: Table) -> None:
    linguist.open()
    linguist.find("h1", "Notizbuch")
    assert _in_use(linguist) == "de"
    said = ["Notizbuch", "Not there, Tern", "0 Geräte", "1 Gerät", "2 Geräte", "1 dear lot", "2 dear lots"]
    assert linguist.phone.js(SAY) == said


def test_figures_money_days_and_lengths_are_written_as_the_browser_does_in_the_language(
    linguist: Table,
) -> None:
    linguist.open()
    assert linguist.phone.js(HABITS) == [
        "de-AT", "mm", "16 mm", "1\u202f234,6 mm", "0,5 mm", "none", 16.5, "none", None,
        "4\u202f598,5", "€\u00a01.235", "26. Nov. 2026",
    ]  # fmt: skip
    linguist.open("#/about")
    _choose(linguist, "Lengths in", "Inches")
    inches = linguist.phone.js(HABITS)
    assert inches[1:5] == ["inch", "0,63 in", "48,6 in", "0,02 in"]
    assert inches[5:9] == [34.925, 419.1, "none", None]


def test_a_language_is_chosen_by_its_own_name_and_what_was_typed_is_kept(linguist: Table) -> None:
    linguist.open()
    address = linguist.new_set()
    linguist.type(".bar input", "45")
    linguist.open("#/about")
    _choose(linguist, "Language", "English")
    linguist.find("select[aria-label='Language']", "Deutsch")
    linguist.phone.until(lambda _: _in_use(linguist) == "en", "the page to be English")
    linguist.open()
    linguist.find("h1", "Notebook")
    linguist.open(address)
    assert linguist.find(".bar input").get_attribute("value") == "45"
    linguist.open("#/about")
    _choose(linguist, "Language", "Deutsch")
    linguist.phone.until(lambda _: _in_use(linguist) == "de", "the page to be German")
    linguist.open()
    linguist.find(".set-row", " bis ")


def test_the_server_answers_in_the_language_in_use_and_not_in_the_browsers(linguist: Table) -> None:
    linguist.open()
    linguist.phone.expected.append("/notebook/contents")
    assert "kein Notizbuch" in linguist.phone.js(REFUSED)
    linguist.phone.js("localStorage.setItem('underchassis-language', 'en')")
    linguist.reload()
    assert "No notebook on this server" in linguist.phone.js(REFUSED)


def test_without_its_catalog_the_app_is_english(table: Table) -> None:
    table.phone.js("localStorage.setItem('underchassis-language', 'de')")
    command = table.phone.driver.execute_cdp_cmd  # type: ignore[attr-defined]
    command("Network.enable", {})
    command("Network.setBlockedURLs", {"urls": ["*/lang/de.json"]})
    table.phone.expected.append("/lang/de.json")
    table.reload()
    table.find("h1", "Notebook")
    assert _in_use(table) == "en"
    command("Network.setBlockedURLs", {"urls": []})
    command("Network.disable", {})


def test_a_browser_that_keeps_no_choice_goes_by_its_own_languages_and_says_so(linguist: Table) -> None:
    linguist.phone.before_each_page(NO_CHOICES)
    linguist.open("#/about")
    assert _in_use(linguist) == "de"
    _choose(linguist, "Language", "English")
    linguist.find(".notice.bad", "This browser keeps no choices.")
    assert Select(linguist.find("select[aria-label='Language']")).first_selected_option.text == "Deutsch"
