"""The notebook: demo, removing with undo, exporting and importing, and browsers that keep nothing."""

import json
from pathlib import Path

from selenium.webdriver.common.by import By

from tests.support.table import Table


def _titles(table: Table) -> list[str]:
    rows = table.phone.driver.find_elements(By.CSS_SELECTOR, ".set-row strong")
    return [row.text.replace("Demo", "").strip() for row in rows]


def test_the_demo_notebook_is_marked_and_leaves_in_one_tap(demo: Table) -> None:
    table = demo
    table.find(".card.demo", "These are demo sets")
    table.phone.until(lambda _: len(_titles(table)) == 3, "the three demo sets")
    table.tap(".card.demo .button", "Remove the demo")
    table.phone.until(lambda _: not _titles(table), "the demo to be gone")
    table.reload()
    assert _titles(table) == []
    table.tap(".card .button", "Open the demo notebook")
    table.phone.until(lambda _: len(_titles(table)) == 3, "the demo to be back")


def test_the_three_demo_sets_are_a_dear_one_a_drilled_one_and_one_hardly_looked_at(demo: Table) -> None:
    said = {}
    for title in ("Tern B, No. 1184", "Tern C, No. 0377", "Tern A, from the barn"):
        demo.open()
        demo.tap(".set-row .row-link", title)
        demo.tap(".to-verdict")
        said[title] = demo.find(".verdict-word").text
    assert said["Tern B, No. 1184"].startswith("Offer $")
    assert said["Tern C, No. 0377"] == "Pay $35."
    assert said["Tern A, from the barn"].startswith("Look a little longer")


def test_a_removed_set_comes_back_with_one_tap(table: Table) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    table.open()
    table.tap(".set-row .button", "Remove")
    table.phone.until(lambda _: not _titles(table), "the set to be gone")
    table.tap(".notice .button", "Undo")
    table.phone.until(lambda _: _titles(table) == ["Tern B"], "the set to be back")
    table.tap(".set-row .row-link", "Tern B")
    assert "Gone" in table.said("loading-coil")


def test_an_exported_notebook_comes_back_whole_on_another_phone(table: Table, tmp_path: Path) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    line = table.said("loading-coil")
    exported = table.phone.js(
        "const base = document.documentElement.dataset.base;"
        "return (await import(base + 'js/store/exporting.js')).exportDocument();"
    )
    file = tmp_path / "notebook.json"
    file.write_text(json.dumps(exported))
    # From here on it is another phone.
    table.forget()
    table.open("#/about")
    for words in ("1 set taken in, 0 already here", "0 sets taken in, 1 already here"):
        table.find("input[type=file]").send_keys(str(file))
        table.find(".notice", words)
    table.open()
    table.tap(".set-row .row-link", "Tern B")
    assert table.said("loading-coil") == line


def test_the_notebook_says_which_sets_are_in_no_file_and_exports_in_one_tap(table: Table) -> None:
    table.new_set()
    table.answer("loading-coil", "Gone")
    table.open()
    table.find(".keeping", "1 set is on this phone only")
    table.tap(".keeping .button", "Export the notebook")
    table.find(".notice", "1 set exported")
    table.find(".keeping", "Everything here is also in an exported file")
    table.tap(".set-row .row-link", "Tern B")
    table.answer("dial", "Gone")
    table.open()
    table.find(".keeping", "1 set is on this phone only")


def test_a_file_that_is_no_notebook_is_refused_with_a_sentence(table: Table, tmp_path: Path) -> None:
    table.open("#/about")
    for name, content, words in (
        ("photo.json", b"\xff\xd8\xff", "not a notebook"),
        ("other.json", b'{"sets": []}', "not a notebook that this version can read"),
        (
            "torn.json",
            b'{"underchassis-notebook": 1, "sets": [{"id": "a"}]}',
            "Set 1 in this file is damaged",
        ),
    ):
        file = tmp_path / name
        file.write_bytes(content)
        table.find("input[type=file]").send_keys(str(file))
        table.find(".notice.bad", words)


def test_a_file_with_a_damaged_value_is_refused_whole(table: Table, tmp_path: Path) -> None:
    changed = "2026-01-01T10:00:00.000Z"
    entry = {"id": "a", "family": "aircraft-hf-transmitter", "created": changed, "demo": False}
    table.open("#/about")
    for key, value in (
        ("asking", "abc"), ("hour_rate", -1), ("title", {"a": 1}), ("region", 9),
        ("currency", {"code": 5}), ("currency", {"code": "EUR", "rate": 1e308}),
        ("check/dial", {"option": 7}), ("check/dial", "gone"),
        ("check/added-holes", {"option": "some", "holes": [{"place": "back"}]}),
        ("outcome", {"what": "bought", "currency": "usd"}), ("title", None),
    ):  # fmt: skip
        right, wrong = (
            {**entry, "findings": [{"key": key, "value": found, "changed": changed}]}
            for found in (None, value)
        )
        file = tmp_path / "notebook.json"
        file.write_text(json.dumps({"underchassis-notebook": 1, "sets": [right, wrong][: 1 + bool(value)]}))
        table.find("input[type=file]").send_keys(str(file))
        said = "Set 2 in this file is damaged" if value else "1 set taken in"
        table.find(".notice", said)
        table.tap(".notice .button", "Close")


def test_without_storage_the_app_opens_works_and_says_that_nothing_is_kept(newcomer: Table) -> None:
    table = newcomer
    # Some browsers refuse the database in private windows; this one is made to.
    refusal = "throw new DOMException('no', 'SecurityError');"
    table.phone.before_each_page(f"IDBFactory.prototype.open = () => {{ {refusal} }};")
    table.open()
    table.find(".notice.bad", "Nothing you enter here will be kept")
    table.new_set()
    before = table.price()
    table.answer("loading-coil", "Gone")
    assert table.price() != before
    for page, said in (("backup", "This browser keeps nothing"), ("bin", "Nothing was removed")):
        table.open(f"#/{page}")
        table.find(".page", said)


def test_a_full_phone_is_an_expected_result_with_advice_and_the_answer_stays_on_screen(table: Table) -> None:
    table.new_set()
    table.answer("top-cover", "There and straight")
    # The browser's answer when its room is used up.
    table.phone.js(
        "globalThis.real = IDBObjectStore.prototype.put;"
        "IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); };"
    )
    table.tap("#check-loading-coil .option", "Gone")
    table.find(".notice.bad", "no space left")
    assert "Gone" in table.said("loading-coil")
    table.phone.js("IDBObjectStore.prototype.put = globalThis.real;")
    table.tap(".notice .button", "Try again")
    table.until_saved()
    table.phone.until(
        lambda driver: not driver.find_elements(By.CSS_SELECTOR, ".notice.bad"), "the notice to go"
    )
    table.reload()
    assert "Gone" in table.said("loading-coil")
    assert "There and straight" in table.said("top-cover")


def test_search_finds_a_set_by_its_words(demo: Table) -> None:
    table = demo
    table.new_set("Tern A")
    table.open()
    table.type("input[type=search]", "barn")
    table.phone.until(lambda _: _titles(table) == ["Tern A, from the barn"], "only the hit to be listed")
