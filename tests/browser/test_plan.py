"""The restoration plan: in working order, safety first, the same on the page, on paper and as text."""

import base64
import json
import re
from typing import Any

import pytest
from selenium.webdriver.common.by import By

from tests.support.table import Table

PLAN = """
const at = (name) => import(`${document.documentElement.dataset.base}js/${name}.js`);
const [{ appraiseSet }, { openSet }, { planText }] =
  [await at('pages/appraised'), await at('store/notebook'), await at('ui/plan_text')];
const appraised = await appraiseSet(await openSet(args[0]));
const { appraisal, pack } = appraised;
return JSON.stringify({ text: planText(appraised), effort: appraisal.effort, called: appraisal.cautions,
  tasks: pack.tasks, cautions: pack.cautions, stages: pack.plan_stages.map(({ id }) => id),
  open: appraisal.not_checked });
"""
STARTS = """
return [...document.querySelectorAll('.plan-tasks')].map((list) => [list.start, list.children.length]);
"""
PAPER = """
const style = (css) => getComputedStyle(document.querySelector(css));
const left = [...document.querySelectorAll('button, select, .back')].filter((one) => one.checkVisibility());
return { paper: style('body').backgroundColor, ink: style('.plan-label').color,
  link: style('.plan-ground').textDecorationLine, buttons: left.length,
  aim: document.querySelector('.on-paper').checkVisibility() };
"""
OPTIONS = "return [...document.querySelectorAll('.plan-aim option')].map((option) => option.value)"


def plan(table: Table, set_id: str) -> Any:
    """The plan as text, with the appraisal and the rows of the tables it comes from."""
    return json.loads(table.phone.js(PLAN, set_id))


def flat(text: str) -> str:
    """A text with single spaces, whatever broke its lines."""
    return " ".join(text.split())


@pytest.fixture
def set_id(table: Table) -> str:
    """A Tern B with some findings; its plan is open."""
    found = table.new_set().rpartition("/")[2]
    for check, option in (("loading-coil", "Gone"), ("top-cover", "Gone"), ("luminous-paint", "Some, whole")):
        table.answer(check, option)
    table.open(f"#/plan/{found}")
    table.find(".plan-tasks")
    return found


def shown(table: Table) -> list[str]:
    items = table.phone.driver.find_elements(By.CSS_SELECTOR, ".plan-tasks > li")
    return [item.get_attribute("data-task") or "" for item in items]


def test_tasks_stand_in_working_order_those_that_are_certain_first(table: Table, set_id: str) -> None:
    found = plan(table, set_id)
    lines = found["effort"]["tasks"]
    certain = [line["task"] for line in lines if line["probability"] == 1]
    likely = [line["task"] for line in lines if 0.05 <= line["probability"] < 1]
    assert certain
    assert likely
    assert shown(table) == certain + likely
    rows = {task["id"]: task for task in found["tasks"]}
    places = [found["stages"].index(rows[task]["stage"]) for task in certain]
    assert places == sorted(places)
    for place, task in enumerate(certain):
        assert not set(rows[task]["after"]) & set(certain[place:])
    starts = table.phone.js(STARTS)
    number = 1
    for start, length in starts:
        assert start == number
        number += length


def test_every_caution_of_a_task_is_in_the_open_before_what_the_task_takes(table: Table, set_id: str) -> None:
    found = plan(table, set_id)
    titles = {row["id"]: row["title"] for row in found["cautions"]}
    rows = {task["id"]: task for task in found["tasks"]}
    top = [
        element.text for element in table.phone.driver.find_elements(By.CSS_SELECTOR, ".plan-page > .caution")
    ]
    assert len(top) == len(found["called"])
    for item in table.phone.driver.find_elements(By.CSS_SELECTOR, ".plan-tasks > li"):
        task = rows[item.get_attribute("data-task") or ""]
        said = flat(item.text)
        for caution in task["cautions"]:
            assert said.index(titles[caution]) < said.index(
                " in materials" if " in materials" in said else "no materials"
            )
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".plan-page details")


def test_the_text_says_what_the_page_says_in_lines_of_at_most_76_letters(table: Table, set_id: str) -> None:
    text = plan(table, set_id)["text"]
    assert max(len(line) for line in text.splitlines()) <= 76
    said = flat(text)
    assert flat(table.find(".plan-totals").text) in said
    for number, item in enumerate(table.phone.driver.find_elements(By.CSS_SELECTOR, ".plan-tasks > li"), 1):
        label = flat(item.find_element(By.CSS_SELECTOR, ".plan-label").text)
        assert f"{number}. {label}" in said
        figures = flat(item.find_element(By.CSS_SELECTOR, ":scope > p:not([class])").text)
        assert figures in said, label
    for row in table.phone.driver.find_elements(By.CSS_SELECTOR, ".plan-page .part span"):
        assert flat(row.text).rstrip(".") in said


def test_the_text_holds_every_caution_and_what_was_not_checked_by_name(table: Table, set_id: str) -> None:
    found = plan(table, set_id)
    text = flat(found["text"])
    rows = {task["id"]: task for task in found["tasks"]}
    listed = [rows[line["task"]] for line in found["effort"]["tasks"] if line["probability"] >= 0.05]
    wanted = set(found["called"]).union(*(task["cautions"] for task in listed))
    assert len(wanted) > len(found["called"])
    # Marks of the text stand between wrapped lines only at their beginning, so the words run on.
    for row in found["cautions"]:
        if row["id"] in wanted:
            assert flat(f"{row['title']}. Look for: {row['look']} {row['text']} {row['who']}") in text
    assert f"NOT CHECKED: {len(found['open'])} " in text
    assert re.search(r"person trained", text)


def test_another_aim_makes_another_plan_which_stays_chosen(table: Table, set_id: str) -> None:
    before = shown(table)
    aims = table.phone.js(OPTIONS)
    assert len(aims) > 1
    table.phone.js(
        "const field = document.querySelector('.plan-aim select'); field.value = 'display';"
        "field.dispatchEvent(new Event('change'))"
    )
    table.phone.until(lambda _: shown(table) != before, "the plan for the shelf")
    table.reload()
    table.find(".plan-tasks")
    assert table.find(".plan-aim select").get_attribute("value") == "display"


def test_each_task_leads_to_its_row_among_the_rules(table: Table, set_id: str) -> None:
    first = shown(table)[0]
    table.tap(f"[data-task='{first}'] .plan-ground")
    row = table.find(".asked-for")
    assert row.get_attribute("data-row") == f"task.{first}"


def test_on_paper_it_is_black_on_white_without_buttons_and_fits(table: Table, set_id: str) -> None:
    driver = table.phone.driver
    dark = [{"name": "prefers-color-scheme", "value": "dark"}]
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print", "features": dark})
    looks = table.phone.js(PAPER)
    white, black = "rgb(255, 255, 255)", "rgb(0, 0, 0)"
    assert looks == {"paper": white, "ink": black, "link": "none", "buttons": 0, "aim": True}
    for width, height in ((8.27, 11.69), (8.5, 11.0)):
        page = driver.execute_cdp_cmd("Page.printToPDF", {"paperWidth": width, "paperHeight": height})
        assert len(re.findall(rb"/Type\s*/Page\b", base64.b64decode(page["data"]))) > 1
        # As wide as the paper inside its margins of 15 mm: nothing may stick out.
        inside = round((width - 30 / 25.4) * 96)
        screen = {"width": inside, "height": 1000, "deviceScaleFactor": 1, "mobile": False}
        driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", screen)
        assert table.phone.js("return document.documentElement.scrollWidth") <= inside


def test_it_is_copied_as_text_or_stands_there_to_be_copied(table: Table, set_id: str) -> None:
    text = plan(table, set_id)["text"]
    table.phone.js("navigator.clipboard.writeText = () => Promise.reject(new Error('no'))")
    table.tap(".plan-ways .button", "Copy as text")
    field = table.find(".plan-ways textarea")
    assert field.get_attribute("value") == text
    assert table.phone.js("return getSelection().toString()") == text
    origin = {"origin": table.address, "permissions": ["clipboardReadWrite", "clipboardSanitizedWrite"]}
    table.phone.driver.execute_cdp_cmd("Browser.grantPermissions", origin)
    table.reload()
    table.tap(".plan-ways .button", "Copy as text")
    table.find(".plan-ways", "Copied.")
    assert table.phone.js("return navigator.clipboard.readText()") == text


def test_a_word_longer_than_a_line_is_cut_and_nothing_gives_no_line(table: Table) -> None:
    wrap = "const { wrap } = await import(`${document.documentElement.dataset.base}js/ui/plan_text.js`);"
    script = wrap + "return [wrap('a ' + 'x'.repeat(200), '- ', '  '), wrap(''), wrap('one two')]"
    lines, nothing, short = table.phone.js(script)
    assert max(map(len, lines)) <= 76
    assert "".join(line.strip(" -") for line in lines) == "a" + "x" * 200
    assert (nothing, short) == ([], ["one two"])
