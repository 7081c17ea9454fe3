"""What another device wrote while a page was open here is shown, and never replaced unseen."""

import pytest
from selenium.webdriver.common.by import By

from tests.support.two_devices import LOAD, Device, meet, same_rows

WRITE = (
    LOAD
    + """
const foundSet = await (await load('store/notebook')).openSet(args[0]);
await foundSet.put(args[1], args[2]);
"""
)
SHEET = (
    LOAD
    + """
const { keepSheet, listSheets } = await load('store/sheets');
const [sheet] = await listSheets();
await keepSheet({ ...sheet, form: { ...sheet.form, about: args[0] }, changed: new Date().toISOString() });
"""
)
LOT = (
    LOAD
    + """
const { addSets, keepLot, newLot, openLot } = await load('store/lots');
const lot = await openLot(args[0] || await newLot('Petrel Street'));
const kind = { family: 'pack-transmitter-receiver', model_sheet: null, title: 'Dunlin' };
await addSets(lot, kind, args[1].map((number) => ({ number, label: null })));
await keepLot({ ...lot, asking: args[2] });
return lot.id;
"""
)
LEFT = "document.activeElement.blur();"


@pytest.fixture
def pair(devices: list[Device]) -> tuple[Device, Device, str]:
    """Two devices with one notebook, and the address of its only set."""
    here, there = devices
    here.open()
    walk = here.new_set()
    here.begin_backup("Field phone")
    there.open()
    there.share(here, "Home computer")
    return here, there, walk


def test_a_note_typed_while_the_others_note_arrives_leaves_both_to_choose_from_on_every_device(
    pair: tuple[Device, Device, str],
) -> None:
    here, there, walk = pair
    here.open(walk)
    here.tap(".top .button", "About it")
    field = here.find(".purpose label:nth-of-type(3) input")
    field.send_keys("abc")
    here.until_saved()
    meet(here, there)
    there.phone.js(WRITE, walk.split("/")[2], "note", "long important note")
    meet(there, here)
    field.send_keys("d")
    here.until_saved()
    meet(here, there)
    for person in (here, there):
        person.open(walk)
        card = person.find(".differs", "Note").text
        assert "abcd" in card
        assert "long important note" in card
    same_rows((here, there), "findings", "standing")
    # Neither version stays on one device alone, to be lost with it.
    here.forget()
    here.open()
    here.share(there, "Another phone")
    here.open(walk)
    assert "long important note" in here.find(".differs", "abcd").text


def test_a_field_in_use_keeps_no_other_answer_from_the_screen(pair: tuple[Device, Device, str]) -> None:
    here, there, walk = pair
    here.open(walk)
    here.tap("#asking")
    before = here.price()
    there.phone.js(WRITE, walk.split("/")[2], "check/dial", {"option": "gone"})
    meet(there, here)
    assert "Gone" in here.said("dial")
    assert here.price() != before


def test_an_answer_under_which_holes_arrived_replaces_none_of_them(
    pair: tuple[Device, Device, str],
) -> None:
    here, there, walk = pair
    here.open(walk)
    here.tap("#check-added-holes .option", "Some")
    here.find("#check-added-holes select").click()
    holes = [{"place": "front-panel", "diameter_mm": size, "as_found": "open"} for size in (10, 22, 7)]
    there.phone.js(WRITE, walk.split("/")[2], "check/added-holes", {"option": "some", "holes": holes})
    meet(there, here)
    here.phone.js(LEFT)
    here.phone.until(
        lambda _: len(here.phone.driver.find_elements(By.CSS_SELECTOR, "#check-added-holes li")) == 3,
        "the three holes to be shown",
    )
    meet(here, there)
    found = [row for row in here.rows("findings") if row["key"] == "check/added-holes"]
    assert [hole["diameter_mm"] for hole in found[0]["value"]["holes"]] == [10, 22, 7]


def test_a_sheet_open_on_both_devices_keeps_what_each_typed(devices: list[Device]) -> None:
    here, there = devices
    here.open("#/sheet/new/aircraft-hf-transmitter")
    name = here.find(".sheet input")
    name.send_keys("Heron")
    here.until_saved()
    here.begin_backup("Field phone")
    there.open()
    there.share(here, "Home computer")
    [sheet] = here.rows("sheets")
    here.open(f"#/sheet/{sheet['id']}")
    here.find(".sheet input").send_keys(" A")
    here.until_saved()
    meet(here, there)
    there.phone.js(SHEET, "with a long aerial")
    meet(there, here)
    here.find(".sheet input").send_keys("B")
    here.until_saved()
    meet(here, there)
    for person in (here, there):
        person.open("#/backup")
        card = person.find(".differs", "Model sheet").text
        assert "with a long aerial" in card
        assert "Heron AB" in card
    same_rows((here, there), "sheets", "standing")
    there.tap(".differs .head-choice:nth-of-type(2) .button", "Let this stand")
    there.find(".notice", "stands now")
    there.tap(".notice .button", "Close")
    there.open(f"#/history/sheets/{sheet['id']}")
    there.find(".entry", "replaced since")


def test_a_set_removed_elsewhere_under_an_open_page_says_so_and_comes_back(
    pair: tuple[Device, Device, str],
) -> None:
    here, there, walk = pair
    there.open(walk)
    here.open()
    here.tap(".set-row .button", "Remove")
    here.find(".notice", "removed")
    here.back_up()
    there.phone.js(WRITE, walk.split("/")[2], "check/dial", {"option": "gone"})
    there.back_up()
    there.find("h1", "This set was removed")
    here.back_up()
    here.find(".notice", "was removed on this device, and another one has entered more of it since")
    there.tap(".button.strong", "Bring it back")
    assert "Gone" in there.said("dial")
    meet(there, here)
    here.open(walk)
    assert "Gone" in here.said("dial")


def test_two_devices_add_sets_to_one_lot_and_nothing_is_lost_of_either(
    pair: tuple[Device, Device, str],
) -> None:
    here, there, _ = pair
    lot = here.phone.js(LOT, "", ["1", "2"], 400)
    meet(here, there)
    there.phone.js(LOT, lot, ["3", "4"], 450)
    here.phone.js(LOT, lot, ["5"], 500)
    meet(here, there)
    same_rows((here, there), "lots", "sets", "findings", "standing")
    for person in (here, there):
        person.phone.expected.append("/lots/solve")
        person.open(f"#/lot/{lot}")
        card = person.find(".differs", "The lot").text
        assert "they ask 450" in card
        assert "they ask 500" in card
        person.find(".top .sub", "5 sets, none looked at")
    here.tap(".differs .head-choice:nth-of-type(2) .button", "Let this stand")
    here.phone.until(lambda _: not here.phone.driver.find_elements(By.CSS_SELECTOR, ".differs"), "the choice")
    meet(here, there)
    same_rows((here, there), "lots", "standing")
