"""The buyer's side of a shared description: a copy of the seller's claims, checked one by one."""

import json
import secrets
from collections.abc import Callable
from typing import Any

import pytest
from selenium.webdriver.common.by import By

from tests.support.line_phone import LinePhone
from tests.support.packs import FAMILY
from tests.support.server import LiveServer
from tests.support.shares import a_share_document
from tests.support.table import Table
from tests.support.two_devices import LOAD

Json = dict[str, Any]
Publish = Callable[..., str]

ANSWERS = {
    "knobs": "all", "front-panel": "bent", "loading-coil": "there", "added-holes": "some", "rust": "pitted",
    "rust-where": "chassis", "check-crystal": "there", "serial": "readable",
}  # fmt: skip
HOLES = [
    {"place": "front-panel", "diameter_mm": 16, "as_found": "open"},
    {"place": "front-panel", "diameter_mm": 9.5, "as_found": "open"},
    {"place": "back", "diameter_mm": 5.5, "as_found": "plugged"},
]
TOLD: Json = {
    "family": FAMILY, "model_sheet": "tern-b", "answers": ANSWERS, "unseen": ["dial"], "holes": HOLES,
    "coverage_khz": [3300, 5000], "crystal_khz": 4120, "serial": "No. 1184", "region": 1,
    "today": "2026-11-26",
}  # fmt: skip
MARKUP = "<img src=x onerror='window.taken = 1'><script>window.taken = 1</script>"
ROWS = LOAD + "return (await (await load('store/database')).openDatabase()).findingsOf(args[0]);"
"""The findings of a set as they are on disk."""
READ = (
    LOAD
    + """
const { readShare } = await load('store/share_reading');
const { fitted } = await load('store/claims');
const from = location.origin + '/d/' + '0'.repeat(32);
return Promise.all(args[0].map(async (text) => {
  try {
    const share = readShare(text, from);
    const { sheet, newSheet, note } = await fitted(share);
    return { ...share, sheet, newSheet, note };
  } catch (problem) {
    return `${problem.constructor.name}: ${problem.message}`;
  }
}));
"""
)
"""What the phone makes of pages, or the sentence of the refusal."""
COPY = (
    LOAD
    + """
const { readShare } = await load('store/share_reading');
const { fitted, makeCopy } = await load('store/claims');
const share = readShare(JSON.stringify({ document: args[0] }), `${location.origin}/d/${args[1]}`);
return makeCopy(share.claims, await fitted(share));
"""
)
"""A copy made of a document as if it had just come."""


@pytest.fixture(scope="module")
def seller(standing_server: LiveServer) -> LinePhone:
    """The phone of a seller, with a notebook on the server."""
    return LinePhone(standing_server.url).open()


@pytest.fixture
def publish(seller: LinePhone) -> Publish:
    """Give a function that shares a description, with changes, and gives its token."""

    def shared(**changes: Any) -> str:
        token = secrets.token_hex(16)
        body = {
            "document": a_share_document(**({"findings": TOLD} | changes)),
            "expires": None,
            "found": False,
        }
        status, answer = seller.ask("PUT", f"/shares/{token}", body)
        assert status == 201, answer
        return token

    return shared


def copied(table: Table, token: str) -> str:
    """Scan a page's tag and make the copy; gives the id of the set."""
    table.open(f"#/claims/new/{token}")
    table.tap(".button.strong", "Make my copy")
    table.find(".claims-sum")
    return table.phone.driver.current_url.rpartition("/")[2]


def rows(table: Table, set_id: str) -> Json:
    """The findings of a set on disk, by key."""
    return {row["key"]: row["value"] for row in table.phone.js(ROWS, set_id)}


def choose(table: Table, claim: str, how: str, instead: str = "") -> None:
    """Say how a claim stands, and what is there instead; it is on disk then."""
    table.tap(f'[data-claim="{claim}"] .claim-how .option', how)
    if instead:
        table.tap(f'[data-claim="{claim}"] .claim-choices .option', instead)
    table.until_saved()


def state(table: Table, claim: str) -> str:
    """Which of the three choices is pressed."""
    return table.find(f'[data-claim="{claim}"] .claim-how [aria-pressed="true"]').text


def summed(table: Table) -> str:
    """The line on top."""
    return table.find(".claims-sum").text.replace("\n", " ")


def listed(table: Table) -> list[str]:
    """The differences as they are listed."""
    return [
        row.text for row in table.phone.driver.find_elements(By.CSS_SELECTOR, ".claims-differ .points li")
    ]


def test_a_scanned_page_is_copied_once_with_none_of_the_buyers_own_answers(
    table: Table, publish: Publish
) -> None:
    token = publish()
    set_id = copied(table, token)
    kept = rows(table, set_id)
    claims = kept.pop("claims")
    assert (kept["title"], kept["asking"]) == ("Tern B from the barn", 120)
    assert [key for key in kept if key.startswith("check/")] == []
    assert claims["from"] == f"{table.address}/d/{token}"
    assert (claims["written"], claims["photos"]) == ("2026-11-26", 0)
    assert claims["asked"] == {"amount": 120, "currency": "USD"}
    assert (claims["findings"]["answers"], claims["findings"]["holes"]) == (ANSWERS, HOLES)
    assert summed(table) == "13 claims, none checked yet"
    table.find(".claims-left .row-link", "Dial and its scale, could not be looked at")
    table.open(f"#/claims/new/{token}")
    table.tap(".button.strong", "Open my copy")
    table.find(".claims-sum")
    table.open("#/")
    table.find(".set-row", "copy of a seller’s page")
    assert len(table.phone.driver.find_elements(By.CSS_SELECTOR, ".set-row")) == 1


def test_an_answer_a_figure_and_a_hole_are_agreed_differ_and_are_taken_back(
    table: Table, publish: Publish
) -> None:
    set_id = copied(table, publish())
    choose(table, "check/knobs", "Agree")
    choose(table, "figure/crystal", "Agree")
    choose(table, "hole/0", "Agree")
    kept = rows(table, set_id)
    assert kept["check/knobs"]["option"] == "all"
    assert (kept["check/check-crystal"]["option"], kept["check/check-crystal"]["crystal_khz"]) == (None, 4120)
    assert kept["check/added-holes"]["holes"] == [{**HOLES[0], "claim": 0}]
    assert summed(table) == "3 of 13 claims checked, none differs"

    choose(table, "check/loading-coil", "Differs", "Gone")
    choose(table, "hole/1", "Differs", "It is not there")
    choose(table, "hole/2", "Differs", "open")
    table.tap('[data-claim="figure/serial"] .option', "Differs")
    table.type('[data-claim="figure/serial"] input', "1185")
    table.until_saved()
    kept = rows(table, set_id)
    assert kept["check/loading-coil"]["option"] == "gone"
    assert kept["check/added-holes"]["no_hole"] == [1]
    assert [hole["as_found"] for hole in kept["check/added-holes"]["holes"]] == ["open", "open"]
    assert kept["check/serial"]["text"] == "1185"
    assert summed(table).startswith("7 of 13 claims checked, 4 differ: −$")
    table.reload()
    table.find(".claims-sum")
    stands = {
        name: state(table, name) for name in ("check/loading-coil", "hole/0", "hole/1", "figure/serial")
    }
    assert stands == {
        "check/loading-coil": "Differs", "hole/0": "Agree", "hole/1": "Differs", "figure/serial": "Differs"
    }  # fmt: skip
    for claim in (*stands, "hole/2", "check/knobs", "figure/crystal"):
        choose(table, claim, "Not checked")
    kept = rows(table, set_id)
    assert (kept["check/added-holes"]["holes"], kept["check/added-holes"]["no_hole"]) == ([], [])
    assert summed(table) == "13 claims, none checked yet"


def test_the_differences_are_listed_with_what_was_told_and_are_those_of_the_walk_round(
    table: Table, publish: Publish
) -> None:
    set_id = copied(table, publish())
    choose(table, "check/loading-coil", "Differs", "Gone")
    choose(table, "check/front-panel", "Agree")
    (row,) = listed(table)
    amount = row.split("\n")[-1]
    assert "The loading coil is missing" in row
    assert "Told: It has its aerial loading coil" in row
    assert summed(table) == f"2 of 13 claims checked, 1 differs: {amount}"
    table.open(f"#/set/{set_id}")
    # As made, the coil takes nothing off, so the difference is all that the finding is worth.
    assert table.said("loading-coil").split("\n")[-1] == amount
    # What is answered in the walk round stands among the claims too, and a hole nobody told of differs.
    table.answer("knobs", "One or two odd")
    table.answer("added-holes", "Some")
    table.tap("#check-added-holes .new-hole .option", "screw hole")
    table.until_saved()
    table.open(f"#/verdict/{set_id}")
    table.tap(".row-link", "What differs from the seller’s page")
    table.find(".claims-differ .points li", "The seller did not tell of it.")
    assert len(listed(table)) == 3
    assert state(table, "check/knobs") == "Differs"


def test_a_follow_up_that_is_agreed_to_opens_with_its_answer_and_falls_away_when_that_differs(
    table: Table, publish: Publish
) -> None:
    set_id = copied(table, publish())
    choose(table, "check/rust-where", "Agree")
    kept = rows(table, set_id)
    assert (kept["check/rust"]["option"], kept["check/rust-where"]["option"]) == ("pitted", "chassis")
    assert summed(table) == "2 of 13 claims checked, none differs"
    choose(table, "check/rust", "Differs", "None")
    assert summed(table).startswith("1 of 12 claims checked, 1 differs: +$")


def test_another_tab_follows_and_keeps_what_is_typed_there(table: Table, publish: Publish) -> None:
    set_id = copied(table, publish())
    driver = table.phone.driver
    first = driver.current_window_handle
    table.tap('[data-claim="figure/serial"] .option', "Differs")
    table.find('[data-claim="figure/serial"] input').send_keys("11")
    table.until_saved()
    driver.switch_to.new_window("tab")
    table.open(f"#/claims/{set_id}")
    choose(table, "check/knobs", "Agree")
    driver.switch_to.window(first)
    table.find('[data-claim="check/knobs"] [aria-pressed="true"]', "Agree")
    assert driver.switch_to.active_element.get_attribute("value") == "11"
    driver.switch_to.active_element.send_keys("85")
    table.until_saved()
    assert rows(table, set_id)["check/serial"]["text"] == "1185"


def test_without_a_signal_the_claims_are_there_and_a_new_page_says_what_to_do(field: Table) -> None:
    token = "ab" * 16
    set_id = field.phone.js(COPY, a_share_document(findings=TOLD), token)
    field.open(f"#/claims/{set_id}")
    choose(field, "check/loading-coil", "Differs", "Gone")
    field.reload()
    assert summed(field).startswith("1 of 13 claims checked, 1 differs: −$")
    field.open(f"#/claims/new/{token}")
    field.find(".button.strong", "Open my copy")
    field.phone.expected.append("net::ERR_CONNECTION_REFUSED")
    field.open(f"#/claims/new/{'cd' * 16}")
    field.find("[role=alert]", "No signal, or the server does not answer. The link stays good")


def test_a_page_that_is_not_there_and_one_taken_back_get_one_sentence(
    table: Table, publish: Publish, seller: LinePhone
) -> None:
    table.phone.expected += ["404", "410"]
    table.open(f"#/claims/new/{secrets.token_hex(16)}")
    table.find("[role=alert]", "There is no seller’s page behind this link.")
    token = publish()
    assert seller.ask("DELETE", f"/shares/{token}")[0] == 204
    table.open(f"#/claims/new/{token}")
    table.find("[role=alert]", "The seller took this page back, or its time ran out.")
    table.open("#/claims/new/half-a-token")
    table.find("[role=alert]", "This link is not whole.")


def test_markup_in_every_text_is_shown_as_text(table: Table) -> None:
    told = TOLD | {"serial": MARKUP, "nameplate": MARKUP, "order": MARKUP, "book_serial": MARKUP}
    told |= {"answers": ANSWERS | {MARKUP: MARKUP, "knobs": "all"}, MARKUP: 1}
    page = a_share_document(findings=told, title=MARKUP, words=MARKUP)
    set_id = table.phone.js(COPY, page, "ef" * 16)
    for page in ("claims", "set", "verdict", "history"):
        table.open(f"#/{page}/{set_id}")
        table.find(f"main[data-page='{page}'] h1")
        assert table.phone.driver.find_elements(By.CSS_SELECTOR, "main script, main img[src=x]") == []
    table.open("#/")
    table.find(".set-row strong", MARKUP)
    assert table.phone.js("return window.taken ?? null") is None


def page_of(**changes: Any) -> str:
    """A page as the server gives it, with changes to its document."""
    return json.dumps({"document": a_share_document(**({"findings": TOLD} | changes)), "expires": None})


def told(**changes: Any) -> str:
    """The same with changes to what was told."""
    return page_of(findings=TOLD | changes)


REFUSED = {
    "no JSON": ("<!doctype html>", "no seller’s page"),
    "an empty answer": ("", "no seller’s page"),
    "a list": ("[]", "no seller’s page"),
    "no document": ("{}", "no seller’s page"),
    "another form": (page_of(form=2), "another version"),
    "a form as a text": (page_of(form="1"), "another version"),
    "a title that is none": (page_of(title={"a": 1}), "“title”"),
    "a title without end": (page_of(title="x" * 500), "“title”"),
    "a day that is none": (page_of(written=20261126), "“written”"),
    "money that is none": (page_of(asked={"amount": "120", "currency": "USD"}), "“asked”"),
    "a currency that is none": (page_of(asked={"amount": 120, "currency": "usd"}), "“asked”"),
    "photos that are none": (page_of(photos=7e9), "“photos”"),
    "too many photos": (page_of(photos=[{}] * 61), "“photos”"),
    "findings that are none": (page_of(findings=[]), "“findings”"),
    "no family": (page_of(findings={}), "“family”"),
    "a family nobody knows": (told(family="kite"), "The kind of set “kite” is not in this version"),
    "a family as a path": (told(family="../../x"), "“family”"),
    "answers as a list": (told(answers=["all"]), "“answers”"),
    "an answer as a number": (told(answers={"knobs": 1}), "“answers”"),
    "holes as a text": (told(holes="many"), "“holes”"),
    "a hole without a size": (told(holes=[{"place": "back"}]), "“holes”"),
    "a hole as wide as a house": (told(holes=[{"place": "back", "diameter_mm": 1e9}]), "“holes”"),
    "too many holes": (told(holes=[HOLES[0]] * 501), "“holes”"),
    "a hole with more to it": (told(holes=[HOLES[0] | {"more": 1}]), "“holes”"),
    "a coverage that falls": (told(coverage_khz=[5000, 3300]), "“coverage_khz”"),
    "a crystal as a text": (told(crystal_khz="4120"), "“crystal_khz”"),
    "a serial as a number": (told(serial=1184), "“serial”"),
    "a serial without end": (told(serial="1" * 500), "“serial”"),
    "heaters without volts": (told(heater_strings=[[{"amps": 1}]]), "“heater_strings”"),
    "an empty heater string": (told(heater_strings=[[]]), "“heater_strings”"),
    "heaters without end": (told(heater_strings=[[{"volts": 1, "amps": 1}] * 100] * 100), "takes over"),
    "a page without end": (page_of(words="x" * 500_000), "takes over"),
    "a page as deep as a well": ('{"document":' * 20_000 + "1" + "}" * 20_000, "another version"),
}


def test_a_page_that_breaks_its_form_is_refused_with_one_sentence(table: Table) -> None:
    said = table.phone.js(READ, [text for text, _ in REFUSED.values()])
    wrong = {
        name: sentence
        for (name, (_, words)), sentence in zip(REFUSED.items(), said, strict=True)
        if not (isinstance(sentence, str) and sentence.startswith("Error: ") and words in sentence)
    }
    assert wrong == {}


def test_what_these_tables_do_not_know_is_left_out_and_named(table: Table, publish: Publish) -> None:
    strange = told(
        answers=ANSWERS | {"kite-string": "taut", "knobs": "of-gold", "__proto__": "all", "A b": "x" * 900},
        holes=[*HOLES, {"place": "keel", "diameter_mm": 3}, {"place": "No Place", "diameter_mm": 3}],
        model_sheet="tern-z", kite=1,
    )  # fmt: skip
    (read,) = table.phone.js(READ, [strange])
    assert "“tern-z” is not in this version" in read["note"]
    assert read["sheet"] is None
    assert read["setAside"] == ["kite", "__proto__: all", "A b: " + "x" * 55 + "…", "hole in No Place"]
    set_id = table.phone.js(COPY, json.loads(strange)["document"], "12" * 16)
    table.open(f"#/claims/{set_id}")
    aside = table.find(".page .fine", "Not known here and left out").text
    for name in ("kite-string: taut", "knobs: of-gold", "hole of 3 mm in keel"):
        assert name in aside
    assert len(table.phone.driver.find_elements(By.CSS_SELECTOR, "[data-claim='check/knobs']")) == 0


OWN_SHEET: Json = {
    "name": "Tern Q", "about": "A type of one's own.",
    "sheet": {"id": "own-1", "family": FAMILY, "basis": "invented", "why": "Seen.", "heater_strings": []},
    "reference": {}, "absent": [], "parts": [], "extra": [],
}  # fmt: skip


def test_the_sellers_own_model_sheet_comes_along_and_one_that_breaks_the_rules_stays_out(
    table: Table, publish: Publish
) -> None:
    own = {"findings": TOLD | {"model_sheet": "own-1"}}
    broken = {"weightless part": [{"id": "knobs", "weight": 0, "basis": "invented", "why": "x"}]}
    pages = [
        page_of(**own, own_sheet=OWN_SHEET),
        page_of(**own, own_sheet=OWN_SHEET | {"parts": broken["weightless part"]}),
        page_of(**own, own_sheet=OWN_SHEET | {"absent": ["kite"]}),
        page_of(**own, own_sheet={"name": MARKUP}),
        page_of(**own),
    ]
    good, *others = table.phone.js(READ, pages)
    assert good["note"] == "The seller’s own model sheet comes along."
    assert (good["sheet"], good["newSheet"]["from"]) == (good["newSheet"]["id"], "own-1")
    assert [other["sheet"] for other in others] == [None] * 4
    assert all("the tables of its kind stand in" in other["note"] for other in others)

    set_id = table.phone.js(COPY, json.loads(pages[0])["document"], "34" * 16)
    table.open(f"#/claims/{set_id}")
    table.find(".claims-sum")
    again = table.phone.js(COPY, json.loads(pages[0])["document"], "56" * 16)
    sheets = table.phone.js(LOAD + "return (await load('store/sheets')).listSheets();")
    assert [sheet["document"]["name"] for sheet in sheets] == ["Tern Q"]
    bases = table.phone.js(LOAD + "return (await (await load('store/database')).openDatabase()).all('sets');")
    assert {base["id"]: base["model_sheet"] for base in bases} == dict.fromkeys(
        (set_id, again), sheets[0]["id"]
    )


def test_a_price_in_another_currency_is_shown_and_left_to_type(table: Table, publish: Publish) -> None:
    in_euros = TOLD | {"currency": "EUR", "rate": 0.9}
    token = publish(findings=in_euros, asked={"amount": 90, "currency": "EUR"})
    table.open(f"#/claims/new/{token}")
    table.find(".card", "another currency, so the asking price is left for you to type")
    table.tap(".button.strong", "Make my copy")
    table.find(".page .fine", "The seller asks €90")
    assert table.find("#asking").get_attribute("value") == ""


EXPORT = LOAD + "return (await load('store/exporting')).exportDocument();"
IMPORT = LOAD + "return (await load('store/importing')).importNotebook(new Blob([JSON.stringify(args[0])]));"
REFUSED_FILE = LOAD + (
    "const { importNotebook } = await load('store/importing');"
    "return importNotebook(new Blob([JSON.stringify(args[0])])).catch(String);"
)
FROM_ANOTHER = (
    LOAD
    + """
const { rowOf } = await load('store/applying');
const operation = { kind: 'findings', record: 'a/claims', at: '2026-11-26T20:30:00.000Z' };
return args[0].map((value) => Boolean(rowOf({ ...operation, value })));
"""
)


def test_claims_travel_in_a_file_and_to_another_device_and_damaged_ones_are_refused(table: Table) -> None:
    set_id = table.phone.js(COPY, a_share_document(findings=TOLD), "78" * 16)
    table.open(f"#/claims/{set_id}")
    choose(table, "hole/1", "Differs", "It is not there")
    file = table.phone.js(EXPORT)
    kept = rows(table, set_id)
    table.forget()
    table.open()
    assert table.phone.js(IMPORT, file)["added"] == 1
    assert rows(table, set_id) == kept
    whole = kept["claims"]
    damaged = [
        whole | {"from": "javascript:alert(1)"}, whole | {"findings": {}}, whole | {"more": 1}, [], "a page",
        whole | {"findings": whole["findings"] | {"holes": [{"place": "back"}]}},
    ]  # fmt: skip
    assert table.phone.js(FROM_ANOTHER, [whole, *damaged]) == [True, *[False] * len(damaged)]
    (row,) = [row for row in file["sets"][0]["findings"] if row["key"] == "claims"]
    row["value"] = damaged[0]
    refused = table.phone.js(REFUSED_FILE, file)
    assert refused == "Error: Set 1 in this file is damaged. Nothing was taken in."
