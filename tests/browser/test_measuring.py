"""Measuring holes in photos on the phone. What is right comes from the demo photos, whose holes are known."""

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select

from tests.support import album, ruler
from tests.support.phone import NO_SERVER
from tests.support.table import Table

CARD = ruler.truth("tern-c-0377-front-holes-card")
COIN = ruler.truth("knot-dynamotor-holes-coin")
LABEL = ruler.truth("plover-0219-holes-label")
# Where the card's photo shows nothing but paint.
PLAIN = (600.0, 640.0)


def _is_right(table: Table, diameter_mm: float) -> None:
    size, doubt = ruler.measured(table)
    assert abs(size - diameter_mm) <= max(doubt, 0.6), (size, doubt, diameter_mm)
    assert 0 < doubt < 0.1 * diameter_mm + 0.6


def test_a_hole_beside_a_card_takes_one_tap_and_goes_into_the_list(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.outline_card(table, CARD)
    ruler.tap(table, CARD.middle(16))
    _is_right(table, 16)
    table.find(".measured .reading", "mm")
    Select(table.find("select[aria-label='As found']")).select_by_visible_text("plugged or filled")
    table.tap(".measure-panel .strong", "Keep this hole")
    table.until_saved()
    table.find(".measure-said", "Kept as hole 1:")
    [hole] = ruler.holes(table, walk)
    [photo] = album.rows(table)
    assert hole["photo"] == photo["id"]
    assert (hole["place"], hole["as_found"]) == ("front-panel", "plugged")
    assert abs(hole["diameter_mm"] - 16) <= max(hole["plus_minus_mm"], 0.6)
    x, y = CARD.middle(16)
    assert abs(hole["in_photo"][0] - x) < 6
    assert abs(hole["in_photo"][1] - y) < 6
    assert photo["about"] == "check/added-holes"


def test_the_next_hole_in_the_same_photo_is_one_tap_also_after_the_tab_was_closed(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.outline_card(table, CARD)
    for count, diameter in enumerate((16, 12.5), 1):
        ruler.tap(table, CARD.middle(diameter))
        _is_right(table, diameter)
        table.tap(".measure-panel .strong", "Keep this hole")
        table.find(".measure-said", f"Kept as hole {count}:")
        table.until_saved()
    table.reload()
    table.find(".measure-said", "Tap inside the hole")
    marks = table.phone.driver.find_elements("css selector", ".kept-hole text")
    assert [mark.text for mark in marks] == ["1", "2"]
    ruler.tap(table, CARD.middle(9.7))
    _is_right(table, 9.7)


def test_a_kept_hole_is_taken_back_with_one_tap(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.outline_card(table, CARD)
    ruler.tap(table, CARD.middle(16))
    table.tap(".measure-panel .strong", "Keep this hole")
    table.find(".kept-hole")
    table.tap(".measure-panel .button", "Undo")
    table.find(".measure-said", "Taken off the list")
    table.until_saved()
    assert ruler.holes(table, walk) == []
    assert not table.phone.driver.find_elements("css selector", ".kept-hole")


def test_it_all_works_without_a_signal_and_after_a_cold_start(field: Table) -> None:
    walk = field.new_set("Tern C")
    ruler.take(field, walk, CARD.file)
    ruler.outline_card(field, CARD)
    ruler.tap(field, CARD.middle(16))
    _is_right(field, 16)
    field.tap(".measure-panel .strong", "Keep this hole")
    field.until_saved()
    [photo] = album.rows(field)
    field.phone.cold_start()
    field.open(f"#/measure/{photo['id']}")
    field.find(".measure-said", "Tap inside the hole")
    ruler.tap(field, CARD.middle(12.5))
    _is_right(field, 12.5)
    assert len(ruler.holes(field, walk)) == 1


def test_three_taps_on_the_rim_measure_too_and_each_point_can_be_moved(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.outline_card(table, CARD)
    table.tap(".measure-panel .button", "Three taps on its rim")
    table.find(".measure-said", "0 of 3")
    rim = CARD.hole(16)["rim"]
    right = [tuple(rim[len(rim) * k // 3]) for k in range(3)]
    wrong = (right[2][0] + 90, right[2][1] + 60)
    for spot in (*right[:2], wrong):
        ruler.tap(table, spot)
    size, _ = ruler.measured(table)
    assert size > 17
    ruler.drag(table, wrong, right[2])
    table.phone.until(lambda _: ruler.measured(table)[0] < 17, "the size of the three right points")
    size, doubt = ruler.measured(table)
    assert abs(size - 16) <= doubt


def test_a_tap_on_nothing_gets_a_sentence(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.outline_card(table, CARD)
    ruler.tap(table, PLAIN)
    table.find(".measure-said", "No round rim was found there.")
    assert not table.phone.driver.find_elements("css selector", ".measured")


def test_a_finger_drags_a_corner_under_a_magnifier_that_stands_away_from_it(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.choose(table, "Bank card", "Mark its corners")
    start = ruler.handles(table)[0]
    ruler.drag(table, start, CARD.corners[0], hold=True)
    loupe = table.find(".loupe")
    left, _ = ruler.on_screen(table, CARD.corners[0])
    box = loupe.rect
    assert not (box["x"] - 10 < left < box["x"] + box["width"] + 10)
    ruler.touch(table, "touchEnd")
    assert not loupe.is_displayed()
    moved = ruler.handles(table)[0]
    assert abs(moved[0] - CARD.corners[0][0]) < 0.5
    assert abs(moved[1] - CARD.corners[0][1]) < 0.5
    table.find(".measure-said", "1 of 4 placed")


def test_corners_kept_as_set_are_not_refined(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.choose(table, "Bank card", "Mark its corners")
    table.tap(".measure-panel .button", "Keep as I set it")
    for corner in CARD.corners:
        ruler.tap(table, corner)
    table.find(".measure-said", "Kept as you set it.")
    ruler.to_the_hole(table)
    ruler.tap(table, CARD.middle(16))
    _is_right(table, 16)
    [photo] = album.rows(table)
    assert photo["reference"]["as_given"] is True


def test_keys_alone_measure_a_hole(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.choose(table, "Bank card", "Mark its corners")
    for index, (x, y) in enumerate(CARD.corners):
        if index > 0:
            ruler.press(table, Keys.TAB)
        now = ruler.handles(table)[index]
        _press_to(table, now, (x, y))
    table.find(".measure-said", "All four edges were found")
    ruler.tab_to(table, "Next: the hole")
    ruler.press(table, Keys.ENTER)
    table.find(".measure-said", "Tap inside the hole")
    _press_to(table, ruler.handles(table)[0], CARD.middle(16))
    ruler.press(table, Keys.ENTER)
    _is_right(table, 16)
    assert table.find(".measure-said.heard").get_attribute("role") == "status"


def _press_to(table: Table, now: ruler.Spot, wanted: ruler.Spot) -> None:
    for axis, (less, more) in enumerate(
        ((Keys.ARROW_LEFT, Keys.ARROW_RIGHT), (Keys.ARROW_UP, Keys.ARROW_DOWN))
    ):
        steps = round(wanted[axis] - now[axis])
        key = more if steps > 0 else less
        tens, ones = divmod(abs(steps), 10)
        keys = (
            ActionChains(table.phone.driver).key_down(Keys.SHIFT).send_keys(*[key] * tens).key_up(Keys.SHIFT)
        )
        keys.send_keys(*[key] * ones).perform()


def test_a_coin_is_asked_for_by_name_and_outlined_by_points_on_its_rim(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, COIN.file)
    ruler.choose(table, "Coin", "Mark its rim")
    table.find(".measure-panel .wrong", "Choose which coin it is")
    coin = Select(table.find(".measure-panel select"))
    places = table.phone.driver.find_elements("css selector", ".measure-panel optgroup")
    assert [place.get_attribute("label") for place in places][:2] == ["United States", "euro"]
    coin.select_by_visible_text("5 cents (euro), 21.25 mm")
    table.tap(".measure-panel .strong", "Mark its rim")
    rim = COIN.known["reference"]["rim"]
    middle = [sum(axis) / len(rim) for axis in zip(*rim, strict=True)]
    ruler.tap(table, (middle[0], middle[1]))
    for index in range(6):
        ruler.drag(table, ruler.handles(table)[index], tuple(rim[2 * index]))
    table.find(".measure-said", "Its rim was found")
    ruler.to_the_hole(table)
    ruler.tap(table, COIN.middle(22.2))
    _is_right(table, 22.2)
    ruler.take(table, walk, COIN.file)
    # What was chosen last is chosen again, and can be changed.
    assert Select(table.find(".measure-panel select")).first_selected_option.text.startswith("5 cents (euro)")


def test_a_printed_label_is_found_by_itself_with_a_signal(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, LABEL.file)
    ruler.choose(table, "Printed label", "Mark its corners")
    table.find(".measure-said", "All four edges were found")
    ruler.to_the_hole(table)
    ruler.tap(table, LABEL.middle(25.4))
    _is_right(table, 25.4)


def test_without_a_signal_a_label_is_outlined_by_hand(field: Table) -> None:
    field.phone.expected.append(NO_SERVER)
    walk = field.new_set("Tern C")
    ruler.take(field, walk, LABEL.file)
    field.tap(".measure-panel .option", "Printed label")
    field.type(".measure-panel input", "3 cm")
    field.tap(".measure-panel .strong", "Mark its corners")
    field.find(".measure-panel .wrong", "Give the side in millimetres")
    field.type(".measure-panel input", "30")
    field.tap(".measure-panel .strong", "Mark its corners")
    field.find(".measure-said", "the server needs a signal")
    for corner in ruler.missed(LABEL.corners, 1.5):
        ruler.tap(field, corner)
    field.find(".measure-said", "All four edges were found")
    ruler.to_the_hole(field)
    ruler.tap(field, LABEL.middle(9.7))
    _is_right(field, 9.7)


def test_a_photo_in_the_tray_is_measured_and_asks_for_its_set_before_a_hole_is_kept(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    [photo] = album.rows(table)
    album.script(
        table, "await (await load('store/photos')).keepWaiting(args[0], { why: 'none' });", photo["id"]
    )
    table.reload()
    table.find(".measure-page h1", "In the tray")
    ruler.outline_card(table, CARD)
    ruler.tap(table, CARD.middle(16))
    _is_right(table, 16)
    table.tap(".measure-panel .button", "File the photo")
    table.find("main[data-page='photo']")


def test_corners_in_one_line_are_refused_with_a_sentence(table: Table) -> None:
    walk = table.new_set("Tern C")
    ruler.take(table, walk, CARD.file)
    ruler.choose(table, "Bank card", "Mark its corners")
    for spot in ((200, 300), (500, 300), (800, 300), (1100, 301)):
        ruler.tap(table, spot)
    table.find(".measure-said", "do not go round once")
    assert not table.find(".measure-panel .strong", "Next: the hole").is_enabled()


def test_a_photo_that_is_not_here_gets_a_sentence(table: Table) -> None:
    table.open("#/measure/nothing")
    table.find("h1", "This photo is not on this phone")
