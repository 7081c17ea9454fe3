"""The history of a set: who found what and when, what stood before, and what was removed."""

from selenium.webdriver.common.by import By

from tests.support.table import Table

MANY_TAPS = """
const base = document.documentElement.dataset.base;
const { openSet } = await import(base + 'js/store/notebook.js');
const foundSet = await openSet(args[0]);
const turns = Array.from({ length: args[1] }, (_, turn) => ({ option: turn % 2 ? 'gone' : null }));
await Promise.all(turns.map((found) => foundSet.put('check/dial', found)));
"""


def _entries(table: Table) -> list[list[str]]:
    table.find(".history")
    rows = table.phone.driver.find_elements(By.CSS_SELECTOR, ".entry > div")
    return [[part.text for part in row.find_elements(By.XPATH, "./*")] for row in rows]


def _open_history(table: Table, walk: str) -> list[list[str]]:
    table.open(f"#/history/{walk.split('/')[2]}")
    return _entries(table)


def test_a_changed_answer_keeps_the_earlier_one_with_device_and_time(table: Table) -> None:
    walk = table.new_set()
    table.answer("loading-coil", "Gone")
    table.tap("#check-loading-coil .folded-line")
    table.answer("loading-coil", "There, turns tight")
    entries = _open_history(table, walk)
    now, before = [(said, when) for what, said, when in entries if what == "Aerial loading coil"]
    assert now[0].startswith("There")
    assert before[0].startswith("Gone")
    assert before[1].endswith("replaced since")
    assert all(when.startswith(("Phone, ", "Computer, ")) for _, when in (now, before))
    assert entries[-1][:2] == ["The set", "begun"]


def test_the_earlier_finding_comes_back_with_one_tap_and_the_later_stays_in_the_history(table: Table) -> None:
    walk = table.new_set()
    table.answer("loading-coil", "Gone")
    table.tap("#check-loading-coil .folded-line")
    table.answer("loading-coil", "There, turns tight")
    _open_history(table, walk)
    table.tap(".entry .button[aria-label^='Bring back: Aerial loading coil, Gone']")
    table.find(".notice", "the earlier finding stands again")
    table.phone.until(
        lambda _: _entries(table)[0][1].startswith("Gone"), "the first row to be the one brought back"
    )
    assert [said[:4] for what, said, _ in _entries(table) if what == "Aerial loading coil"] == [
        "Gone", "Ther", "Gone",
    ]  # fmt: skip
    table.open(walk)
    assert "Gone" in table.said("loading-coil")


def test_a_word_typed_letter_by_letter_is_one_finding(table: Table) -> None:
    walk = table.new_set()
    table.tap(".top .button", "About it")
    table.type(".purpose label:nth-of-type(3) input", "Came out of a barn")
    table.until_saved()
    notes = [said for what, said, _ in _open_history(table, walk) if what == "Note"]
    assert notes == ["Came out of a barn"]


def test_another_answer_is_another_finding_however_soon_it_comes(table: Table) -> None:
    walk = table.new_set()
    table.phone.js(MANY_TAPS, walk.split("/")[2], 6)
    said = [said for what, said, _ in _open_history(table, walk) if what == "Dial and its scale"]
    assert len(said) == 6
    assert said[0].startswith("Gone")


def test_a_long_history_shows_the_latest_first_and_earlier_ones_on_demand(table: Table) -> None:
    walk = table.new_set()
    table.phone.js(MANY_TAPS, walk.split("/")[2], 120)
    assert len(_open_history(table, walk)) == 100
    table.tap(".history .button", "Show earlier ones")
    table.phone.until(lambda _: len(_entries(table)) == 122, "all of the history")


def test_a_removed_set_comes_back_days_later_from_the_list_of_what_was_removed(table: Table) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    table.open()
    table.tap(".set-row .button", "Remove")
    table.find(".notice", "removed")
    table.reload()
    table.open("#/bin")
    assert "Removed: " in table.find(".set-row", "Tern B").text
    table.tap(".set-row .button", "Bring back")
    table.find(".notice", "Tern B is back")
    table.find(".page", "Nothing was removed")
    table.open()
    table.tap(".set-row .row-link", "Tern B")
    assert "Gone" in table.said("loading-coil")
