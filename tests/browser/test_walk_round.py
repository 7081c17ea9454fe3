"""The walk round in a real browser: every tap moves the range, and nothing is lost."""

import pytest
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.support.table import Table


def test_two_taps_lead_from_the_notebook_to_the_first_check(table: Table) -> None:
    table.new_set()
    first = table.find("#stage-what-is-it .check")
    assert "Nameplate" in first.text
    assert first.location["y"] < 640 - table.find(".bar").size["height"]


def test_the_range_is_there_before_the_first_answer_and_each_answer_moves_it(table: Table) -> None:
    table.new_set()
    seen = [table.price()]
    for check, option in (("loading-coil", "Gone"), ("top-cover", "There and straight"), ("dial", "Gone")):
        table.answer(check, option)
        seen.append(table.price())
    assert len(set(seen)) == len(seen)
    assert all(" to " in text for text in seen)


def test_a_reload_keeps_answers_price_and_asking_price(table: Table) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    table.type("#asking", "90")
    table.until_saved()
    before, line = table.price(), table.said("loading-coil")
    table.reload()
    assert table.price() == before
    assert table.said("loading-coil") == line
    assert table.find("#asking").get_attribute("value") == "90"


def test_an_answered_check_folds_to_a_line_with_its_worth_and_opens_again(table: Table) -> None:
    table.new_set()
    nothing_said = table.price()
    table.answer("loading-coil", "Gone")
    assert "−$" in table.said("loading-coil")
    table.tap("#check-loading-coil .folded-line")
    assert table.find("#check-loading-coil [aria-pressed='true']").text.startswith("Gone")
    table.tap("#check-loading-coil .button", "Not checked")
    table.until_saved()
    table.find("#check-loading-coil .option", "Gone")
    assert table.price() == nothing_said


def test_the_rest_of_a_stage_as_made_says_what_it_answered_and_undoes(table: Table) -> None:
    table.new_set()
    table.answer("knobs", "odd")
    before = table.price()
    table.tap("#stage-front .rest")
    table.until_saved()
    listed = table.find("#stage-front .looked-over").text
    assert "Dial and its scale" in listed
    assert "Knobs" not in listed
    assert "Added holes" not in listed
    assert "looked over" in table.said("dial")
    assert "odd" in table.said("knobs")
    table.find("#check-added-holes .option", "None found")
    table.tap("#stage-front .looked-over .button", "Undo")
    table.until_saved()
    assert table.price() == before
    table.find("#check-dial .option")


def test_what_cannot_be_looked_at_leaves_the_list_of_looks_and_is_said_in_the_verdict(table: Table) -> None:
    table.new_set()
    table.type("#asking", "90")
    table.until_saved()
    wanted = table.find(".look-what").text
    table.tap(".look-next")
    card = table.find(".check.here h3").text
    assert card == wanted
    table.tap(".check.here .button", "Cannot be looked at here")
    table.until_saved()
    assert table.find(".look-what").text != wanted
    table.tap(".to-verdict")
    assert (
        wanted
        in table.find(".page.verdict", "Could not be looked at").text.split("Could not be looked at:")[1]
    )


def test_holes_are_listed_by_size_or_measure_and_lower_the_price(table: Table) -> None:
    table.new_set()
    table.answer("added-holes", "Some")
    table.tap("#check-added-holes .new-hole .option", "coaxial")
    table.until_saved()
    one = table.price()
    table.type("#check-added-holes .new-hole input", "9,5")
    table.tap("#check-added-holes .button", "Add this hole")
    table.until_saved()
    assert "9.5 mm" in table.find("#check-added-holes .rows").text
    assert table.price() != one
    table.tap("#check-added-holes .hole:last-child .button", "Remove")
    table.until_saved()
    assert table.price() == one


def test_a_hole_without_a_size_is_refused_with_a_sentence(table: Table) -> None:
    table.new_set()
    table.answer("added-holes", "Some")
    table.type("#check-added-holes .new-hole input", "wide")
    table.tap("#check-added-holes .button", "Add this hole")
    assert "millimetres" in table.find("#check-added-holes .wrong").text
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, "#check-added-holes .hole")


def test_a_price_that_is_no_number_is_refused_with_a_sentence_and_the_old_one_stands(table: Table) -> None:
    table.new_set()
    table.type("#asking", "90")
    table.type("#asking", "ninety")
    assert "plain number" in table.find(".bar .wrong").text
    table.until_saved()
    table.reload()
    assert table.find("#asking").get_attribute("value") == "90"


def test_a_foreign_currency_waits_for_its_rate(table: Table) -> None:
    table.new_set()
    dollars = table.price()
    table.tap(".top .button", "About it")
    currency = table.find(".purpose input[maxlength='3']")
    currency.clear()
    currency.send_keys("EUR")
    assert "Give the rate" in table.find(".purpose .wrong", "Give the rate").text
    assert table.price() == dollars
    table.phone.driver.switch_to.active_element.send_keys("\t0.5")
    table.until_saved()
    assert "€" in table.price()


def test_a_foreign_crystal_read_off_the_set_costs_money(table: Table) -> None:
    table.new_set()
    table.answer("check-crystal", "There")
    fits = table.price()
    table.type("#check-check-crystal input", "6250")
    table.until_saved()
    assert table.price() != fits
    table.tap(".to-verdict")
    table.find(".page.verdict", "No harmonic of 6\u202f250 kHz falls between 3\u202f300 and 5\u202f000 kHz")


def test_the_verdict_says_what_moved_the_price_and_what_each_row_rests_on(table: Table) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    table.tap(".to-verdict")
    row = table.find(".waterfall details", "Aerial loading coil")
    row.find_element(By.TAG_NAME, "summary").click()
    assert "This rests on:" in table.find(".waterfall details[open] .why").text
    assert "Never power it at the table" in table.find(".page.verdict").text
    assert "Not checked" in table.find(".page.verdict").text


def test_cautions_stand_before_the_first_check_and_under_the_answer_that_calls_them(table: Table) -> None:
    table.new_set()
    caution, first = table.find(".standing .caution"), table.find("#stage-what-is-it .check")
    assert caution.location["y"] < first.location["y"]
    table.answer("mains-cord", "cord")
    assert table.find("#check-mains-cord .caution").is_displayed()


def test_a_bouncing_finger_answers_once_and_not_what_moved_under_it(table: Table) -> None:
    table.new_set()
    option = table.find("#check-nameplate .option", "There, every word readable")
    table.phone.driver.execute_script("arguments[0].scrollIntoView({block: 'end'})", option)
    ActionChains(table.phone.driver).double_click(option).perform()
    table.until_saved()
    assert "every word readable" in table.said("nameplate")
    assert table.find(".count").text.startswith("1 of ")


def test_look_next_brings_the_named_check_into_view_however_far_it_is(table: Table) -> None:
    table.new_set()
    for _ in range(4):
        wanted = table.find(".look-what").text
        table.find(".look-next").click()
        heading = table.find(".check.here h3", wanted)
        table.phone.until(
            lambda driver, heading=heading: driver.execute_script(
                "const at = arguments[0].getBoundingClientRect();"
                "return at.top >= document.querySelector('.strip').getBoundingClientRect().bottom"
                " && at.bottom <= document.querySelector('.bar').getBoundingClientRect().top;",
                heading,
            ),
            f"{wanted} to stand between the strip and the bar",
        )
        table.tap(".check.here .button", "Cannot be looked at here")
        table.until_saved()


def test_a_price_with_parted_thousands_is_taken_as_meant(table: Table) -> None:
    table.new_set()
    table.type("#asking", "1,500")
    table.until_saved()
    table.tap(".to-verdict")
    assert table.find(".top .sub", "they ask $1,500")


def test_the_verdict_opens_at_its_sentence(table: Table) -> None:
    table.new_set()
    table.answer("history", "Nobody knows")
    table.tap(".to-verdict")
    table.find(".verdict-word")
    assert table.phone.js("return scrollY;") == 0


def test_a_measured_hole_is_listed_at_once_however_it_was_entered(table: Table) -> None:
    table.new_set()
    table.answer("added-holes", "Some")
    field, listed = "#check-added-holes .new-hole input", "#check-added-holes .hole"
    for count in (1, 2):
        table.find(field).send_keys(f"{9 + count}", Keys.ENTER)
        table.phone.until(
            lambda driver, count=count: len(driver.find_elements(By.CSS_SELECTOR, listed)) == count,
            f"{count} holes in the list",
        )
        table.phone.until(lambda _: table.find(field).get_attribute("value") == "", "an empty field")


@pytest.mark.parametrize(
    ("typed", "read"), [("1.500", "1500"), ("1,500", "1500"), ("45,50", "45.5"), ("45.5", "45.5")]
)
def test_an_asking_price_is_read_as_people_write_it(table: Table, typed: str, read: str) -> None:
    walk = table.new_set()
    table.type("#asking", typed)
    table.until_saved()
    table.open("#/")
    table.open(walk)
    assert table.find("#asking").get_attribute("value") == read
