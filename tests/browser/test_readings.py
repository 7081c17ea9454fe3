"""What typed text says on the phone: nameplate, order number, stamps, heater strings, holes by size."""

from selenium.webdriver.common.by import By

from tests.support.packs import pack_for
from tests.support.server import LiveServer
from tests.support.table import Table

PLATE = "#check-nameplate"
TUBES = "#check-tube-types"


def test_a_nameplate_typed_in_the_notebook_leaves_the_kinds_that_it_names(table: Table) -> None:
    table.tap(".button.strong", "New found set")
    table.type(".chooser input", "an prc 991a")
    assert "carried by a person" in table.find(".chooser .reading", "AN/PRC-991A").text
    kinds = [heading.text for heading in table.phone.driver.find_elements(By.CSS_SELECTOR, ".chooser h2")]
    assert [kind for kind in kinds if kind] == ["Pack transmitter-receiver, battery or hand-generator"]
    table.type(".chooser input", "SIGNAL GENERATOR 12 V")
    table.find(".chooser h2", "Control box")


def test_what_was_typed_off_the_plate_goes_into_the_new_set(table: Table) -> None:
    table.tap(".button.strong", "New found set")
    table.type(".chooser input", "an prc 991a")
    table.find(".chooser .reading", "AN/PRC-991A")
    table.tap(".chooser .option", "Dunlin")
    assert table.find(f"{PLATE} input").get_attribute("value") == "an prc 991a"


def test_a_plate_of_another_kind_is_read_letter_by_letter_and_does_not_fit(table: Table) -> None:
    address = table.new_set()
    before = table.price()
    table.type(f"{PLATE} input", "AN/PRC-991")
    letters = table.find(f"{PLATE} .plate", "portable").text
    assert "radio" in letters
    assert "two-way communications" in letters
    table.find(f"{PLATE} .wrong", "another kind")
    table.until_saved()
    assert table.price() != before
    table.open(address.replace("#/set", "#/verdict"))
    assert "reads as another kind: Pack" in table.find(".match.does", "Type designation").text


def test_an_order_number_gives_its_year_and_says_how_sure_that_is(table: Table) -> None:
    table.new_set()
    table.type("#check-order-number input", "1184-MT-44")
    assert "1944" in table.find("#check-order-number .reading", "1944").text
    assert "often" in table.find("#check-order-number .reading").text


def test_a_stamp_tells_what_it_means_where_the_check_asks_for_it(table: Table) -> None:
    table.new_set()
    for stamp in pack_for()["nomenclature"]["stamps"]:
        place = f"#check-{stamp['check']}"
        table.find(f"{place} details.reading").find_element(By.TAG_NAME, "summary")
        opened = f"document.querySelector('{place} details').open = true"
        table.phone.js(opened)
        assert stamp["tells"] in table.find(f"{place} dl").text


def test_a_hole_says_what_probably_sat_there(table: Table) -> None:
    table.new_set()
    table.answer("added-holes", "Some")
    table.type("#check-added-holes .new-hole input", "9.7")
    table.tap("#check-added-holes .button", "Add this hole")
    said = table.find("#check-added-holes .reading", "never proof").text
    assert "phone jack" in said
    table.tap("#check-added-holes .new-hole .option", "coaxial")
    assert table.find("#check-added-holes .hole:last-child", "about")


def test_heaters_in_line_are_held_against_the_supply_and_a_number_gives_its_volts(table: Table) -> None:
    address = table.new_set()
    table.tap(f"{TUBES} summary")
    tube, volts, amps = table.phone.driver.find_elements(By.CSS_SELECTOR, f"{TUBES} .new-hole input")
    tube.send_keys("12zz6")
    assert volts.get_attribute("value") == "12.6"
    table.tap(f"{TUBES} .button", "Begin a string")
    assert "amperes" in table.find(f"{TUBES} .wrong").text
    amps.send_keys("0.45")
    table.tap(f"{TUBES} .button", "Begin a string")
    table.find(f"{TUBES} strong", "12.6 V in line")
    table.until_saved()
    table.open(address.replace("#/set", "#/verdict"))
    assert "12.6 V" in table.find(".match.does", "Heater strings").text
    table.open(address)
    table.find(f"{TUBES} section input")
    fields = table.phone.driver.find_elements(By.CSS_SELECTOR, f"{TUBES} section input")
    for field, text in zip(fields, ("", "12.6", "0.45"), strict=True):
        field.send_keys(text)
    table.tap(f"{TUBES} .button", "Add it in line")
    table.find(f"{TUBES} strong", "25.2 V in line")
    table.until_saved()
    table.open(address.replace("#/set", "#/verdict"))
    assert "suits a supply" in table.find(".match.fine", "Heater strings").text


def test_plates_and_holes_are_read_with_the_server_stopped(signal: LiveServer, field: Table) -> None:
    table = field
    address = table.new_set("Curlew")
    table.type(f"{PLATE} input", "FR-9901/URM-991")
    table.find(f"{PLATE} .plate", "frequency measuring device")
    table.until_saved()
    table.open(address.replace("#/set", "#/verdict"))
    assert "for this kind of radio" in table.find(".match.fine", "Type designation").text
    signal.start()
