"""Model sheets made on the phone: entered, used, edited, removed, carried to another phone, and refused."""

import json
from pathlib import Path
from typing import Any

from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement

from tests.support.packs import FAMILY, pack_for
from tests.support.table import Table
from webapp.appraisal.appraise import appraise
from webapp.appraisal.findings import read_findings
from webapp.appraisal.money import rounded
from webapp.appraisal.prepared import prepare
from webapp.pages.money import say_money
from webapp.rulebook.sheets import apply_sheet

Json = dict[str, Any]

NEW = f"#/sheet/new/{FAMILY}"
FIELD = """
const [label, within] = arguments;
return [...document.querySelectorAll(`${within} .field`)]
  .find((field) => field.checkVisibility() && field.firstChild.textContent === label)?.lastChild;
"""
STORED = """
const base = document.documentElement.dataset.base;
const { openDatabase } = await import(base + 'js/store/database.js');
return JSON.stringify(await (await openDatabase()).all('sheets'));
"""
PUT = """
const base = document.documentElement.dataset.base;
const { openDatabase } = await import(base + 'js/store/database.js');
await (await openDatabase()).change(({ put }) => put('sheets', JSON.parse(args[0])));
"""
EXPORT = """
const base = document.documentElement.dataset.base;
return JSON.stringify(await (await import(base + 'js/store/exporting.js')).exportDocument());
"""
EXTRA = (
    ("Name of the part", "brass carrying strap"),
    ("Of 100 of this type, how many lack it", "40"),
    ("How much less the set fetches without it, in %", "10"),
    ("How much it counts for completeness", "3"),
    ("low", "2"),
    ("likely", "4"),
    ("high", "9"),
)


def _field(table: Table, label: str, within: str = ".sheet") -> WebElement:
    found = table.phone.until(
        lambda driver: driver.execute_script(FIELD, label, within), f"the field {label}"
    )
    table.phone.driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", found)
    return found


def _write(table: Table, label: str, text: str, within: str = ".sheet") -> None:
    field = _field(table, label, within)
    if field.tag_name != "select":
        field.clear()
    field.send_keys(text)


def _make(table: Table, name: str = "Heron A", price: str = "400") -> None:
    """Begin a sheet in the notebook and give it a name and a price."""
    table.open()
    table.tap(".notebook > .button.strong")
    table.tap(f".chooser a[href='{NEW}']")
    _write(table, "Name of the type", name)
    _write(table, "Price in USD", price)
    table.until_saved()


def _use(table: Table) -> str:
    """Start a set of the type on the screen; gives its address."""
    table.tap(".button.strong", "New set of this type")
    table.find("main[data-page='set'] .bar-range")
    return "#" + table.phone.driver.current_url.partition("#")[2]


def _edit(table: Table) -> None:
    """From a set to its own model sheet."""
    table.tap(".top .button", "About it")
    table.tap(".links a", "Edit this model sheet")


def _sheets(table: Table) -> list[Json]:
    stored: list[Json] = json.loads(table.phone.js(STORED))
    return sorted(stored, key=lambda sheet: str(sheet["changed"]))


def _checks(table: Table) -> list[str]:
    elements = table.phone.driver.find_elements(By.CSS_SELECTOR, ".check")
    return [str(element.get_attribute("id")).removeprefix("check-") for element in elements]


def _bar(table: Table, line: int) -> str:
    """The range in the bar of the sheet: 0 the kind's, 1 the sheet's."""
    return table.phone.driver.find_elements(By.CSS_SELECTOR, ".sheet-ranges strong")[line].text


def _range(pack: Json) -> str:
    """What the engine says of a set of which nothing is checked."""
    prepared = prepare(pack)
    findings = read_findings({"family": FAMILY, "model_sheet": None}, prepared)
    fair = appraise(prepared, findings, 2, str)["price"]["fair"]
    share = pack["model"]["rounding_share"]
    low, high = (say_money(rounded(fair[end], share, 2), "USD") for end in ("low", "high"))
    return f"{low} to {high}"


def _import(table: Table, tmp_path: Path, document: Json, said: str) -> None:
    file = tmp_path / "notebook.json"
    file.write_text(json.dumps(document))
    table.open("#/about")
    table.reload()
    table.find("input[type=file]").send_keys(str(file))
    table.find(".notice", said)


def test_a_type_entered_without_a_signal_prices_a_new_set_and_outlives_a_cold_start(field: Table) -> None:
    _make(field)
    field.tap(".sheet summary", "Parts it never had")
    field.tap("label.line", "viewing mirror")
    field.tap(".sheet .button", "Add a part")
    for label, text in EXTRA:
        _write(field, label, text, "fieldset")
    field.until_saved()
    (sheet,) = _sheets(field)
    assert _bar(field, 0) == _range(pack_for())
    assert _bar(field, 1) == _range(apply_sheet(pack_for(), sheet["document"])) != _bar(field, 0)

    said = _bar(field, 1)
    walk = _use(field)
    assert field.price() == said
    assert field.find("h1").text == "Heron A"
    checks = _checks(field)
    assert "viewing-mirror" not in checks
    (strap,) = [check for check in checks if check.startswith("extra-")]
    field.answer(strap, "Gone")
    assert field.price() != said

    after = field.price()
    field.phone.cold_start()
    field.open(walk)
    assert field.price() == after
    assert "Gone" in field.said(strap)
    field.open()
    assert field.new_set("Heron A")
    assert field.price() == said


def test_editing_a_sheet_renews_the_sets_that_go_by_it(table: Table) -> None:
    _make(table)
    _use(table)
    before = table.find(".bar-range").text
    _edit(table)
    _write(table, "Price in USD", "800")
    table.until_saved()
    said = _bar(table, 1)
    table.tap(".back")
    table.phone.until(lambda _: table.price() == said, "the set to go by the new price")
    assert said != before
    table.reload()
    assert table.price() == said


def test_what_cannot_be_read_is_told_at_its_field_does_not_count_and_is_not_lost(table: Table) -> None:
    _make(table)
    wrong = (
        ("Price in USD", "12x", "Write a price above 0"),
        ("Price in USD", "0", "Write a price above 0"),
        ("Check crystal, kHz", "many", "Write a frequency in kHz"),
        ("Dial from, kHz", "5000", "Give both figures in kHz"),
        ("to, kHz", "3300", "The lower frequency comes first"),
        ("to, V", "0", "Give both figures in volts"),
    )
    for label, text, said in wrong:
        _write(table, label, text)
        table.find(".sheet .wrong", said)
    table.tap(".sheet summary", "Parts with other money")
    table.tap(".sheet .button", "Give it other figures")
    for label, text, said in (
        ("How much it counts for completeness", "-1", "Write a number above 0"),
        ("low", "9", "Give three amounts"),
        ("likely", "7", "Give three amounts"),
        ("high", "8", "The three amounts must rise"),
    ):
        _write(table, label, text, "fieldset")
        table.find(".sheet .wrong", said)
    table.tap(".sheet .button", "Take it off the list")
    table.tap(".sheet .button", "Add a part")
    for label, text, said in (
        ("Name of the part", "a strap " * 6, "at most 40 letters"),
        ("Of 100 of this type, how many lack it", "100", "above 0 and below 100"),
        ("How much less the set fetches without it, in %", "99", "from 0 to 95"),
    ):
        _write(table, label, text, "fieldset")
        table.find(".sheet .wrong", said)
    table.find(".sheet .still", "Does not count yet")
    table.until_saved()
    (sheet,) = _sheets(table)
    document = sheet["document"]
    assert (document["name"], document["reference"], document["extra"]) == ("Heron A", {}, [])
    assert not {"coverage_khz", "crystal_khz", "supply_volts"} & set(document["sheet"])

    table.reload()
    assert _field(table, "Check crystal, kHz").get_attribute("value") == "many"
    table.find(".sheet .wrong", "The lower frequency comes first")
    assert _field(table, "How much less the set fetches without it, in %").get_attribute("value") == "99"


def test_at_least_one_calibration_part_stays(table: Table) -> None:
    _make(table)
    table.tap(".sheet summary", "Parts it never had")
    for part in pack_for()["parts"]:
        if part["calibration"]:
            table.tap("label.line", part["label"])
    told = table.find(".sheet .wrong", "has to stay").text
    assert all(part["label"] in told for part in pack_for()["parts"] if part["calibration"])
    table.until_saved()
    assert _sheets(table)[0]["document"]["absent"] == []
    table.tap("label.line", "viewing mirror")
    table.until_saved()
    assert len(_sheets(table)[0]["document"]["absent"]) > 1


def test_a_draft_is_kept_and_cannot_be_chosen_until_it_has_a_name(table: Table) -> None:
    table.open(NEW)
    _write(table, "Price in USD", "150")
    table.until_saved()
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".sheet .button.strong")
    table.open()
    table.tap(".notebook > .button.strong")
    names = {row.text for row in table.phone.driver.find_elements(By.CSS_SELECTOR, ".chooser .option")}
    assert "" not in names
    table.tap(".chooser a", "Go on with a draft")
    assert _field(table, "Price in USD").get_attribute("value") == "150"
    _write(table, "Name of the type", "Heron B")
    table.until_saved()
    table.open()
    assert table.new_set("Heron B")


def test_a_sheet_only_looked_at_is_not_kept(table: Table) -> None:
    table.open(NEW)
    table.find(".sheet")
    table.open()
    assert _sheets(table) == []


def test_a_removed_sheet_leaves_its_sets_with_the_figures_of_the_kind_and_comes_back(table: Table) -> None:
    _make(table)
    kind, own = _bar(table, 0), _bar(table, 1)
    walk = _use(table)
    _edit(table)
    table.tap(".sheet .button", "Remove this model sheet")
    table.find(".notice", "Heron A removed. One set goes by the figures of the kind now.")
    table.tap(".set-row .row-link", "Heron A")
    table.find(".walk > .wrong", "The model sheet of this set was removed")
    assert table.price() == kind
    table.tap(".notice .button", "Undo")
    table.phone.until(lambda _: table.price() == own, "the sheet to be back at once")
    _edit(table)
    table.tap(".sheet .button", "Remove this model sheet")
    table.tap(".set-row .row-link", "Heron A")
    table.tap(".to-verdict")
    table.find(".verdict > .wrong", "The model sheet of this set was removed")
    table.tap(".notice .button", "Undo")
    table.phone.until(
        lambda driver: not driver.find_elements(By.CSS_SELECTOR, ".verdict > .wrong"), "the verdict to follow"
    )
    table.open(walk)
    table.phone.until(lambda _: table.price() == own, "the sheet to be back")
    table.reload()
    assert table.price() == own
    assert not table.phone.driver.find_elements(By.CSS_SELECTOR, ".walk > .wrong")


def test_a_removed_sheet_can_be_taken_back_long_after(table: Table) -> None:
    _make(table)
    sheet = "#" + table.phone.driver.current_url.partition("#")[2]
    table.tap(".sheet .button", "Remove this model sheet")
    table.find(".notice", "Heron A removed.")
    table.open(sheet)
    table.reload()
    table.tap(".button", "Take it back")
    assert _field(table, "Name of the type").get_attribute("value") == "Heron A"


def test_a_row_taken_off_a_list_comes_back_whole(table: Table) -> None:
    _make(table)
    table.tap(".sheet .button", "Add a part")
    for label, text in EXTRA:
        _write(table, label, text, "fieldset")
    table.until_saved()
    (before,) = _sheets(table)
    table.tap(".sheet .button", "Take it off the list")
    table.until_saved()
    assert _sheets(table)[0]["document"]["extra"] == []
    table.tap(".sheet .button", "Undo")
    table.until_saved()
    assert _sheets(table)[0]["document"] == before["document"]


def test_a_sheet_made_from_a_set_begins_with_what_was_found(table: Table) -> None:
    table.new_set("Type not known")
    table.answer("ordering-service", "A naval service")
    table.answer("finish-kind", "Black wrinkle")
    for check, values in (("dial-coverage", ("3300", "5000")), ("check-crystal", ("4120",))):
        fields = table.phone.driver.find_elements(By.CSS_SELECTOR, f"#check-{check} input:not([type=file])")
        for field, value in zip(fields, values, strict=True):
            table.phone.driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", field)
            field.send_keys(value)
    table.type("#check-nameplate input", "AN/ART-991A")
    table.until_saved()
    table.tap(".top .button", "About it")
    table.tap(".links a", "Make a model sheet from this")
    table.find(".sheet")
    table.until_saved()
    (sheet,) = _sheets(table)
    head = sheet["document"]["sheet"]
    assert sheet["document"]["name"] == "AN/ART-991A"
    assert (head["coverage_khz"], head["crystal_khz"]) == ([3300, 5000], 4120)
    assert (head["service"], head["finish"]) == ("naval-service", "black-wrinkle")
    assert (head["basis"], head["why"]) == ("invented", "Entered on this phone.")


def test_sheets_travel_in_the_notebook_file_and_never_overwrite_one_that_differs(
    table: Table, tmp_path: Path
) -> None:
    _make(table)
    _use(table)
    first = table.price()
    file = json.loads(table.phone.js(EXPORT))
    # From here on it is another phone.
    table.forget()
    _import(table, tmp_path, file, "1 set taken in, 0 already here. 1 model sheet taken in.")
    _import(table, tmp_path, file, "0 sets taken in, 1 already here.")
    table.open()
    table.tap(".set-row .row-link", "Heron A")
    assert table.price() == first

    _edit(table)
    _write(table, "Price in USD", "800")
    table.until_saved()
    # The first phone's sheet is another one now: it comes beside the edited one, with its set, and only once.
    _import(table, tmp_path, file, "1 set taken in, 0 already here. 1 model sheet taken in.")
    _import(table, tmp_path, file, "0 sets taken in, 1 already here.")
    assert sorted(sheet["document"]["reference"]["median"] for sheet in _sheets(table)) == [400, 800]
    ranges = set()
    for number in (0, 1):
        table.open()
        table.phone.until(lambda _: len(_rows(table)) == 2, "both sets")
        _rows(table)[number].click()
        ranges.add(table.price())
    assert first in ranges
    assert len(ranges) == 2


def _rows(table: Table) -> list[WebElement]:
    return table.phone.driver.find_elements(By.CSS_SELECTOR, ".set-row .row-link")


def test_a_file_from_before_there_were_model_sheets_still_comes_in(table: Table, tmp_path: Path) -> None:
    base = {"id": "a1", "family": FAMILY, "model_sheet": "tern-b", "created": "2026-03-01", "demo": False}
    old = {"underchassis-notebook": 1, "sets": [{**base, "findings": []}]}
    _import(table, tmp_path, old, "1 set taken in, 0 already here.")


def test_a_file_with_a_damaged_sheet_is_refused_whole(table: Table, tmp_path: Path) -> None:
    _make(table)
    _use(table)
    file = json.loads(table.phone.js(EXPORT))
    (sheet,) = file["sheets"]
    head = sheet["document"]["sheet"]
    for wrong, said in (
        (
            {**sheet, "document": {**sheet["document"], "sheet": {**head, "coverage_khz": [5, 4]}}},
            "lower frequency",
        ),
        ({**sheet, "id": "tern-b"}, "form of a model sheet"),
        ({"id": "own-1"}, "form of a model sheet"),
        (7, "form of a model sheet"),
    ):
        fresh = {**file["sets"][0], "id": "another"}
        document = {**file, "sets": [fresh], "sheets": [sheet, wrong]}
        _import(table, tmp_path, document, "Model sheet 2 in this file is damaged.")
        table.find(".notice.bad", said)
    assert len(_sheets(table)) == 1
    table.open()
    table.phone.until(lambda _: len(_rows(table)) == 1, "only the one set to be here")


def test_a_damaged_or_outdated_sheet_stops_no_page(table: Table) -> None:
    _make(table)
    kind = _bar(table, 0)
    walk = _use(table)
    (sheet,) = _sheets(table)
    only = {"id": sheet["id"], "family": FAMILY}
    for harmed, said in (
        (only, "is damaged"),
        (only | {"document": 3, "form": 4, "changed": 5}, "is damaged"),
        (_with(sheet, "absent", ["a-part-of-yore"]), "no part “a-part-of-yore”"),
        (_with(sheet, "parts", [{"id": "dial", "weight": -1}]), "is damaged"),
        (_with(sheet, "sheet", sheet["document"]["sheet"] | {"finish": "gilt"}), "do not know “gilt”"),
    ):
        table.phone.js(PUT, json.dumps(harmed))
        table.open(walk)
        table.reload()
        assert table.price() == kind
        table.find(".walk > .wrong", said)
        table.open()
        table.find(".set-row", "Heron A")
        table.tap(".notebook > .button.strong")
        table.find(".chooser .option", "Tern B")
        table.open(f"#/sheet/{sheet['id']}")
        table.find("h1")
        json.loads(table.phone.js(EXPORT))
        table.open(walk)
        assert table.price() == kind


def _with(sheet: Json, key: str, value: Any) -> Json:
    return {**sheet, "document": {**sheet["document"], key: value}}


def test_an_outdated_sheet_is_mended_by_keeping_what_still_fits(table: Table) -> None:
    _make(table)
    own = _bar(table, 1)
    (sheet,) = _sheets(table)
    form = {**sheet["form"], "absent": ["a-part-of-yore"]}
    table.phone.js(PUT, json.dumps({**_with(sheet, "absent", ["a-part-of-yore"]), "form": form}))
    table.reload()
    table.find(".sheet .card", "This sheet is not used")
    table.tap(".sheet .button", "Keep what still fits")
    table.until_saved()
    assert _sheets(table)[0]["document"]["absent"] == []
    _use(table)
    assert table.price() == own


def test_the_notebook_counts_sheets_that_no_file_holds(table: Table) -> None:
    _make(table)
    table.open()
    table.find(".keeping", "1 model sheet is on this phone only")
    table.tap(".keeping .button", "Export the notebook")
    table.find(".keeping", "Everything here is also in an exported file")
