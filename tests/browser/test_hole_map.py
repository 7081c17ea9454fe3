"""The hole map: holes placed, moved and sized on a face to scale; the list, the verdict's drawing."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.actions.action_builder import ActionBuilder
from selenium.webdriver.common.actions.interaction import POINTER_TOUCH
from selenium.webdriver.common.actions.pointer_input import PointerInput
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.conftest import SLOW_LINE
from tests.support.packs import families, pack_for
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

Json = dict[str, Any]

CHECK = "check/added-holes"
STORE = """
const load = (name) => import(`${document.documentElement.dataset.base}js/store/${name}.js`);
const foundSet = await (await load('notebook')).openSet(location.hash.split('/')[2]);
"""
KEPT = STORE + "return foundSet.get('check/added-holes');"
PUT = STORE + "await foundSet.put('check/added-holes', args[0]);"
# Where a spot of the face lies on the screen, and pixels a millimetre, once the browser has painted: a finger
# is only sent to what was painted as something that listens to fingers.
ON_SCREEN = """
const drawing = document.querySelector('.hole-map');
const box = drawing.getBoundingClientRect();
if (box.top < 0 || box.bottom > innerHeight) drawing.scrollIntoView({ block: 'center', behavior: 'instant' });
await new Promise((painted) => requestAnimationFrame(() => requestAnimationFrame(painted)));
const matrix = drawing.getScreenCTM();
const { x, y } = new DOMPoint(args[0], args[1]).matrixTransform(matrix);
return [x, y, matrix.a];
"""
LENGTHS = "localStorage.setItem('underchassis-lengths', args[0]);"
SMALL: Json = {"place": "back", "diameter_mm": 5, "as_found": "open"}
SHAPE = """
const { width, height } = document.querySelector('.hole-map .face-sheet').getBoundingClientRect();
return [width / height, document.querySelectorAll('.hole-map .face-feature').length];
"""
SEEN = {"photo": "p1", "plus_minus_mm": 0.31, "in_photo": [640.5, 480, 31.2]}
MEASURED = {**SMALL, "place": "front-panel", "diameter_mm": 16.24, **SEEN}
PLACED = {**MEASURED, "x_mm": 200, "y_mm": 150}


def face(place: str = "front-panel", family: str = "aircraft-hf-transmitter") -> Json:
    found: Json = next(face for face in pack_for(None, family)["faces"]["drawn"] if face["id"] == place)
    return found


def opened(table: Table, *holes: Json, name: str = "Tern B") -> str:
    """The hole map of a new set with these holes; gives the set's id."""
    set_id = table.new_set(name).split("/")[2]
    if holes:
        table.phone.js(PUT, {"option": "some", "holes": list(holes)})
    table.open(f"#/holes/{set_id}")
    table.find(".hole-map .face-sheet")
    return set_id


def kept(table: Table) -> list[Json]:
    """The holes as they are on the disk."""
    table.until_saved()
    found: Json = table.phone.js(KEPT) or {}
    return found.get("holes", [])


def finger(table: Table, *spots: tuple[float, float]) -> float:
    """A finger goes down on the first spot of the face, by the others, and up; gives pixels a millimetre."""
    *_, scale = table.phone.js(ON_SCREEN, *spots[0])
    touch = ActionBuilder(table.phone.driver, mouse=PointerInput(POINTER_TOUCH, "finger"), duration=20)
    for number, spot in enumerate(spots):
        x, y, _ = table.phone.js(ON_SCREEN, *spot)
        touch.pointer_action.move_to_location(round(x), round(y))
        if number == 0:
            touch.pointer_action.pointer_down()
    touch.pointer_action.pointer_up()
    touch.perform()
    return float(scale)


def press(table: Table, css: str, text: str, times: int = 1) -> None:
    """A button by the keyboard, which may do so as fast as it likes; a finger would be taken to bounce."""
    for _ in range(times):
        button = table.find(css, text)
        table.phone.driver.execute_script("arguments[0].focus()", button)
        ActionChains(table.phone.driver).send_keys(Keys.ENTER).perform()


def near(hole: Json, spot: tuple[float, float], within: float) -> bool:
    return abs(hole["x_mm"] - spot[0]) <= within and abs(hole["y_mm"] - spot[1]) <= within


def test_a_tap_places_a_hole_that_is_kept_as_soon_as_its_size_is_told(table: Table) -> None:
    table.new_set()
    table.phone.js(PUT, {"option": "some", "holes": [], "remark": "kept with it"})
    table.reload()
    table.tap("#check-added-holes .folded-line")
    table.tap("#check-added-holes .button", "Place holes on a drawing")
    table.find(".hole-map .face-sheet")
    scale = finger(table, (205, 150))
    table.find(".hole-panel h2", "How wide is it?")
    assert kept(table) == []
    table.tap(".hole-panel .option", "coaxial or tube socket")
    table.find(".hole-panel h2", "Hole 1: about")
    (hole,) = kept(table)
    assert hole["place"] == "front-panel"
    assert hole["by_eye"] is True
    assert near(hole, (205, 150), 1 / scale)
    assert table.phone.js(KEPT)["remark"] == "kept with it"
    table.reload()
    table.find(".face-tabs .option", "front panel (1)")
    table.tap(".back")
    table.find("#check-added-holes .hole", "front panel")


def test_a_hole_is_placed_and_dragged_to_a_millimetre_in_the_near_view(table: Table) -> None:
    opened(table)
    press(table, ".hole-map-frame .button", "Closer", 3)
    scale = finger(table, (160, 104))
    assert scale > 4
    table.type(".hole-panel input", "9,5")
    table.tap(".hole-panel .button", "Keep it")
    (hole,) = kept(table)
    assert near(hole, (160, 104), 0.5)
    assert hole["diameter_mm"] == 9.5
    assert "by_eye" not in hole
    finger(table, (160, 104), (150, 100), (144, 98))
    (hole,) = kept(table)
    assert near(hole, (144, 98), 0.7)
    table.reload()
    table.find(".hole-spot")
    assert near(kept(table)[0], (144, 98), 0.7)


def test_the_near_view_is_moved_by_a_finger_and_no_hole_comes_of_it(table: Table) -> None:
    opened(table)
    table.tap(".hole-map-frame .button", "Closer")
    before = table.find(".hole-map").get_dom_attribute("viewBox").split()
    finger(table, (150, 100), (140, 90), (120, 80))
    after = table.find(".hole-map").get_dom_attribute("viewBox").split()
    assert float(after[0]) - float(before[0]) == pytest.approx(30, abs=3)
    assert after[2:] == before[2:]
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".hole-spot")
    press(table, ".hole-map-frame .button", "Wider")
    assert not table.find(".hole-map-frame .button", "Wider").is_enabled()


def test_two_fingers_bring_the_face_nearer(
    standing_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    """On a phone of its own: after a pinch, Chromium keeps the first touch on the next page from it."""
    phone = browser()
    phone.before_each_page(SLOW_LINE)
    table = Table(phone, standing_server.url)
    table.open()
    opened(table)
    x, y, before = table.phone.js(ON_SCREEN, 150, 100)
    for kind, apart in (("touchStart", 30), ("touchMove", 60), ("touchMove", 90), ("touchEnd", 0)):
        fingers = [{"x": x - apart, "y": y, "id": 1}, {"x": x + apart, "y": y, "id": 2}]
        touched = {"type": kind, "touchPoints": fingers if apart else []}
        table.phone.driver.execute_cdp_cmd("Input.dispatchTouchEvent", touched)  # type: ignore[attr-defined]
    *_, after = table.phone.js(ON_SCREEN, 150, 100)
    assert after / before == pytest.approx(3, rel=0.15)
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".hole-spot")


def test_keys_move_the_chosen_hole_remove_it_and_undo_brings_it_back_whole(table: Table) -> None:
    opened(table, PLACED, SMALL)
    finger(table, (200, 150))
    table.find(".hole-panel h2", "Hole 1")
    keys = ActionChains(table.phone.driver)
    keys.send_keys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT, Keys.ARROW_DOWN)
    keys.key_down(Keys.SHIFT).send_keys(Keys.ARROW_LEFT).key_up(Keys.SHIFT).perform()
    moved = {**PLACED, "x_mm": 192, "y_mm": 151}
    assert kept(table) == [moved, SMALL]
    assert "192 mm from the left, 151 mm from the top" in table.find(".hole-panel .fine").text
    ActionChains(table.phone.driver).send_keys(Keys.DELETE).perform()
    assert kept(table) == [SMALL]
    table.tap(".notice .button", "Undo")
    assert kept(table) == [moved, SMALL]
    table.find(".hole-panel h2", "Hole 1: 16.2 mm ± 0.3")


def test_a_hole_is_placed_and_sized_by_keys_alone(table: Table) -> None:
    opened(table)
    press(table, ".hole-map-frame .button", "In the middle")
    table.find(".hole-panel h2", "How wide is it?")
    ActionChains(table.phone.driver).send_keys(Keys.ARROW_UP).perform()
    size = table.find(".hole-panel input")
    size.send_keys("12.7", Keys.ENTER)
    (hole,) = kept(table)
    assert near(hole, (150, 101.5), 0.11)
    assert hole["diameter_mm"] == 12.7


def test_a_measured_hole_says_how_sure_it_is_and_another_size_takes_that_away(table: Table) -> None:
    opened(table, PLACED)
    finger(table, (200, 150))
    panel = table.find(".hole-panel")
    assert "16.2 mm ± 0.3" in panel.text
    assert "measured in a photo" in panel.text
    assert panel.find_element(By.LINK_TEXT, "Its photo").get_attribute("href").endswith("#/photo/p1")
    table.tap(".hole-panel .option", "plugged")
    assert kept(table) == [{**PLACED, "as_found": "plugged"}]
    table.type(".hole-panel input", "16")
    table.tap(".hole-panel .button", "Change")
    (hole,) = kept(table)
    assert "plus_minus_mm" not in hole
    assert hole["diameter_mm"] == 16
    assert hole["photo"] == "p1"


def test_a_photo_that_is_sure_leaves_fewer_parts_that_may_have_sat_there(table: Table) -> None:
    sure, unsure = ({**PLACED, "diameter_mm": 9.6, "plus_minus_mm": doubt} for doubt in (0.05, 4))
    opened(table, sure, {**unsure, "x_mm": 60})
    finger(table, (200, 150))
    few = table.find(".hole-panel .reading", "9.6 mm").text
    finger(table, (60, 150))
    table.find(".hole-panel h2", "Hole 2")
    assert table.find(".hole-panel .reading", "9.6 mm").text != few


def test_holes_without_a_spot_wait_and_are_placed_by_a_tap(table: Table) -> None:
    opened(
        table, {**MEASURED, "place": "back"}, {"place": "front-panel", "diameter_mm": 3, "as_found": "open"}
    )
    table.tap(".hole-waiting .option", "16.2 mm ± 0.3, back")
    table.find(".face-tabs [aria-pressed='true']", "back (1)")
    scale = finger(table, (80, 120))
    first, second = kept(table)
    assert near(first, (80, 120), 1 / scale)
    assert {key: first[key] for key in MEASURED} == {**MEASURED, "place": "back"}
    assert "x_mm" not in second
    table.find(".hole-waiting .option", "3 mm, front panel")
    assert len(table.phone.driver.find_elements(By.CSS_SELECTOR, ".hole-waiting .option")) == 1


def test_a_hole_stays_on_its_face_and_the_app_says_so(table: Table) -> None:
    opened(table, PLACED)
    whole = face()
    finger(table, (200, 150), (280, 150), (whole["width_mm"] + 8, 150))
    assert kept(table)[0]["x_mm"] == pytest.approx(whole["width_mm"] - 16.24 / 2, abs=0.1)
    table.find(".hole-said", "at its edge")


def test_a_hole_over_another_is_allowed_and_said(table: Table) -> None:
    opened(table, PLACED, {**PLACED, "x_mm": 100})
    finger(table, (100, 150), (150, 150), (197, 150))
    assert kept(table)[1]["x_mm"] == pytest.approx(197, abs=1.2)
    table.find(".hole-said", "It lies over hole 1")


def test_what_another_tab_keeps_is_shown_and_nothing_of_it_is_lost(table: Table) -> None:
    set_id = opened(table, PLACED)
    driver = table.phone.driver
    first = driver.current_window_handle
    driver.switch_to.new_window("tab")
    table.open(f"#/holes/{set_id}")
    table.find(".hole-map .face-sheet")
    finger(table, (60, 60))
    table.tap(".hole-panel .option", "screw hole")
    assert len(kept(table)) == 2
    driver.switch_to.window(first)
    table.find(".face-tabs .option", "front panel (2)")
    finger(table, (200, 150), (205, 152), (210, 155))
    holes = kept(table)
    assert len(holes) == 2
    assert holes[0]["x_mm"] == pytest.approx(210, abs=1.5)


def test_holes_are_placed_without_a_signal_and_are_there_after_a_cold_start(field: Table) -> None:
    set_id = opened(field)
    finger(field, (60, 40))
    field.tap(".hole-panel .option", "screw hole")
    holes = kept(field)
    assert len(holes) == 1
    field.phone.cold_start()
    field.open(f"#/holes/{set_id}")
    field.find(".hole-spot")
    assert kept(field) == holes
    field.open(f"#/verdict/{set_id}")
    field.find(".face-figure .face-legend", "about")


def test_a_small_hole_is_hit_as_easily_as_a_large_one_and_every_control_too(table: Table) -> None:
    opened(table, {**PLACED, "diameter_mm": 3})
    finger(table, (200, 150))
    hit = table.find(".hole-hit").rect
    assert min(hit["width"], hit["height"]) >= 47.5
    for control in table.phone.driver.find_elements(By.CSS_SELECTOR, ".hole-page :is(button, a, input)"):
        assert control.rect["height"] >= 48, control.text
        assert control.rect["width"] >= 48, control.text
    wide = table.phone.js("return document.documentElement.scrollWidth;")
    assert wide <= 360


@pytest.mark.parametrize("family", families())
def test_every_face_of_a_family_is_drawn_in_its_proportions(table: Table, family: str) -> None:
    table.phone.js(
        "const { newSet } = await import(`${document.documentElement.dataset.base}js/store/notebook.js`);"
        "location.hash = `#/holes/${await newSet(args[0], null)}`;",
        family,
    )
    places = pack_for(None, family)["holes"]["places"]
    for place in places:
        press(table, ".face-tabs .option", place["label"])
        drawn = face(place["id"], family)
        table.find(".face-tabs [aria-pressed='true']", place["label"])
        times = 2 if "twice" in drawn else 1
        shown, features = table.phone.js(SHAPE)
        shape = times * drawn["width_mm"] / drawn["height_mm"]
        assert shown == pytest.approx(shape, rel=0.02)
        assert features == times * len(drawn["features"])


def test_the_list_keeps_what_the_map_and_photos_know_and_leads_to_them(table: Table) -> None:
    table.new_set()
    table.phone.js(
        PUT, {"option": "some", "holes": [PLACED, {**MEASURED, "place": "back", "diameter_mm": 5}]}
    )
    table.reload()
    table.tap("#check-added-holes .folded-line")
    row = table.find("#check-added-holes .hole", "16.2 mm ± 0.3, front panel")
    assert "measured in a photo" in row.text
    links = {link.text: link.get_attribute("href") for link in row.find_elements(By.TAG_NAME, "a")}
    set_id = table.phone.driver.current_url.split("/")[-1]
    assert links["Its photo"].endswith("#/photo/p1")
    assert links["Show on the drawing"].endswith(f"#/holes/{set_id}/front-panel")
    measure = table.find("#check-added-holes .new-hole .button", "Measure in a photo")
    assert (measure.get_attribute("href") or "").endswith(f"#/measure/new/{set_id}")
    table.tap("#check-added-holes .hole:last-child .button", "Remove")
    assert kept(table) == [PLACED]
    table.type("#check-added-holes .new-hole input", "10")
    table.tap("#check-added-holes .button", "Add this hole")
    assert kept(table)[0] == PLACED


def test_the_verdict_draws_placed_holes_to_scale_with_a_legend_and_names_the_others(table: Table) -> None:
    hole = {**PLACED, "as_found": "plugged"}
    set_id = opened(table, hole, {"place": "back", "diameter_mm": 5, "as_found": "open", "by_eye": True})
    table.open(f"#/verdict/{set_id}")
    mark = table.find(".face-still .hole-mark")
    sheet = table.find(".face-still .face-sheet")
    whole = face()
    scale = sheet.rect["width"] / whole["width_mm"]
    assert mark.rect["width"] / scale == pytest.approx(16.24, rel=0.12)
    middle = mark.rect["x"] + mark.rect["width"] / 2 - sheet.rect["x"]
    assert middle / scale == pytest.approx(200, abs=1.5)
    legend = table.find(".face-legend").text
    assert "16.2 mm ± 0.3, plugged, measured in a photo; 200 mm from the left, 150 mm from the top" in legend
    table.find(".card .fine", "Not on the drawing: hole 2 (about 5 mm, back)")


def test_no_drawing_stands_on_a_verdict_without_placed_holes(table: Table) -> None:
    set_id = opened(table, MEASURED)
    table.open(f"#/verdict/{set_id}")
    table.find(".verdict-word")
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".face-still")


def test_who_measures_in_inches_types_and_reads_them_and_millimetres_are_kept(table: Table) -> None:
    set_id = opened(table)
    table.phone.js(LENGTHS, "inch")
    table.reload()
    press(table, ".hole-map-frame .button", "In the middle")
    table.find(".hole-panel .option", "to 0.24 in")
    table.type(".hole-panel input[aria-label='Diameter in inches']", "5/0")
    table.tap(".hole-panel .button", "Keep it")
    table.find(".hole-panel .wrong", "such as 0.63 or 5/8")
    table.type(".hole-panel input", "5/8")
    table.tap(".hole-panel .button", "Keep it")
    table.find(".hole-panel h2", "Hole 1: 0.63 in")
    (hole,) = kept(table)
    assert hole["diameter_mm"] == 15.875
    spot = table.find(".hole-spot").get_dom_attribute("aria-label")
    x, y = (f"{hole[name] / 25.4:.2f}".rstrip("0").rstrip(".") for name in ("x_mm", "y_mm"))
    assert f"Hole 1: 0.63 in, {x} in from the left, {y} in from the top" in spot
    assert re.search(r"^\d+(\.\d+)? in$", table.find(".hole-map .face-scale").text)
    table.open(f"#/set/{set_id}/added-holes")
    table.find("#check-added-holes .hole", "0.63 in, front panel")
    table.open(f"#/description/{set_id}")
    table.find(".face-legend", "0.63 in, open")
    table.phone.js(LENGTHS, "mm")
    table.reload()
    table.find(".face-legend", "15.9 mm, open")


def test_both_sides_lie_side_by_side_and_a_spot_names_its_own(table: Table) -> None:
    drawn = face("side")
    hole = {**PLACED, "place": "side", "x_mm": drawn["width_mm"] + 40, "y_mm": 60}
    opened(table, hole)
    table.tap(".face-tabs .option", "side")
    finger(table, (hole["x_mm"], 60))
    assert "right side, 40 mm from the left, 60 mm from the top" in table.find(".hole-panel .fine").text


WHOLE = """
const { isWhole } = await import(`${document.documentElement.dataset.base}js/store/set_rules.js`);
const base = { id: 'a', family: 'aircraft-hf-transmitter', created: '2026-01-01T10:00:00.000Z', demo: false };
const value = (hole) => ({ option: 'some', holes: [hole] });
const entry = (hole) => ({ key: 'check/added-holes', value: value(hole), changed: base.created });
return args[0].map((hole) => isWhole({ ...base, findings: [entry(hole)] }));
"""


def test_an_imported_hole_may_say_where_and_how_it_was_measured_but_nothing_odd(table: Table) -> None:
    right = [MEASURED, PLACED, {**PLACED, "by_eye": True}, {"place": "back", "diameter_mm": 4}]
    wrong = [
        {**PLACED, **odd}
        for odd in (
            {"x_mm": "left"}, {"x_mm": -1}, {"y_mm": 1e9}, {"y_mm": None}, {"photo": 7},
            {"photo": {"id": "p"}}, {"plus_minus_mm": -0.1}, {"plus_minus_mm": "0.3"}, {"by_eye": "yes"},
            {"in_photo": [8, 9]}, {"in_photo": [8, -9, 4]}, {"in_photo": "here"},
        )
    ]  # fmt: skip
    half = {key: value for key, value in PLACED.items() if key != "y_mm"}
    assert table.phone.js(WHOLE, right) == [True] * len(right)
    assert table.phone.js(WHOLE, [*wrong, half]) == [False] * (len(wrong) + 1)
