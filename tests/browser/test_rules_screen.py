"""The rules on the phone: every row with what it rests on, searched, counted, reached from a verdict."""

from collections.abc import Iterator
from typing import Any

from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from tests.support.packs import FAMILY, pack_for, shipped
from tests.support.table import Table
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.sheets import sheet_overrides

Json = dict[str, Any]

BASES = ("published", "common practice", "from memory", "invented")
# Tables that every pack carries alike, and a row among the effects that does not.
COMMON = (
    "cautions", "signs", "services", "band_rows", "constant_rows", "nomenclature", "component_holes",
    "tube_numbers", "index_series", "index_years", "scale_objects", "measuring",
)  # fmt: skip
# What names a row on the screen, by the keys of its table.
NAMES = (
    "label", "title", "code", "form", "thread", "screw", "lead", "suffix", "digit", "letter", "letters",
    "name",
)  # fmt: skip
OPEN_ALL = """
let closed;
do {
  closed = [...document.querySelectorAll('.rule-family details:not([open])')];
  for (const details of closed) details.open = true;
  await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
} while (closed.length > 0);
return [...document.querySelectorAll('.rule-family .rule')].map((row) => [
  row.dataset.row, `${row.closest('details').querySelector('summary').textContent} ${row.textContent}`,
]);
"""
COUNTS = """
return [...document.querySelectorAll('.counts tbody')].map((body) => [
  body.querySelector('th').textContent,
  [...body.querySelectorAll('td')].map((cell) => Number(cell.textContent.replace(/\\D/g, ''))),
]);
"""
IN_VIEW = """
const box = document.querySelector('.asked-for').getBoundingClientRect();
return box.top >= 0 && box.bottom <= innerHeight && document.activeElement.className.includes('asked-for');
"""


def _grounded(node: Any) -> Iterator[Json]:
    """Every row, however deep, that says what it rests on."""
    if isinstance(node, dict):
        if "basis" in node:
            yield node
        for value in node.values():
            yield from _grounded(value)
    elif isinstance(node, list):
        for value in node:
            yield from _grounded(value)


def _own_rows(family: str) -> list[Json]:
    """The rows of a family's pack that belong to no common table, and those of its model sheets."""
    pack = {key: value for key, value in pack_for(family=family).items() if key not in COMMON}
    sheets = [sheet for sheet in shipped().sheets.values() if sheet.head.family == family]
    return [
        row for found in (pack, *(sheet_overrides(sheet) for sheet in sheets)) for row in _grounded(found)
    ]


def _common_rows() -> list[Json]:
    return list(_grounded({key: pack_for()[key] for key in COMMON}))


def _counted(rows: list[Json]) -> list[int]:
    numbers = [sum(row["basis"] == basis for row in rows) for basis in BASES]
    return [*numbers, sum(numbers)]


def _open(table: Table, where: str = "#/rules") -> None:
    table.open(where)
    table.find(".counts td")
    table.find(".sources")


def _says_how_many(table: Table, rows: list[Json]) -> None:
    assert rows
    table.find("[role=status]", f"{len(rows)} {'row' if len(rows) == 1 else 'rows'} found.")


def _source_of(row: Json) -> str:
    source = pack_for()["sources"][row["source"]]
    return f"{source['title']} ({source['where']})"


def test_a_row_is_found_by_its_words_and_says_basis_source_and_why(table: Table) -> None:
    _open(table)
    caution = next(row for row in pack_for()["cautions"] if row["basis"] == "published")
    table.type("#rule-words", f"{caution['title'].upper()} {caution['sign'].lower()}")
    _says_how_many(table, [caution])
    shown = table.find(".rule", caution["title"]).text
    assert f"Rests on: published: {_source_of(caution)}." in shown
    assert caution["text"] in shown
    assert caution["why"] in shown


def test_an_option_is_told_in_figures_that_people_read(table: Table) -> None:
    _open(table, f"#/rules/{FAMILY}")
    check = next(row for row in pack_for()["checks"] if row["id"] == "loading-coil")
    option = next(row for row in check["options"] if row["id"] == "gone")
    assert (option["log_effect"][0], option["state"]) == (-0.4, 0)
    table.type("#rule-words", f"{check['label']} {option['label']}")
    shown = table.find(".rule", option["label"]).text
    # exp(-0.4) = 0.670.
    assert "Price −33 % (" in shown
    assert "Leaves 0 % of the part." in shown
    assert f"Rests on: {option['basis']}." in shown


def test_nothing_found_says_what_to_do(table: Table) -> None:
    _open(table)
    table.type("#rule-words", "zzzz")
    table.find("[role=status]", "No row found. Try fewer words")


def test_counts_by_basis_are_those_of_the_compiled_tables(table: Table) -> None:
    _open(table)
    shown = dict(table.phone.js(COUNTS))
    book = shipped()
    every = rows_by_basis(book)
    assert shown.pop("All together, what families share once") == [*every.values(), sum(every.values())]
    assert shown.pop("For every family") == _counted(_common_rows())
    assert shown == {family.name: _counted(_own_rows(family.id)) for family in book.families.values()}


def test_every_row_of_a_family_that_rests_on_something_is_on_its_screen(table: Table) -> None:
    _open(table, f"#/rules/{FAMILY}")
    shown = [(row, " ".join(text.split())) for row, text in table.phone.js(OPEN_ALL)]
    expected = _own_rows(FAMILY) + _common_rows()
    assert len(shown) == len(expected)
    assert len({row for row, _ in shown}) == len(shown)
    for row in expected:
        name = next((str(row[key]) for key in NAMES if key in row), "").lower()
        source = f": {_source_of(row)}" if "source" in row else ""
        parts = [name, f"rests on: {row['basis']}{source}.".lower(), row.get("why", "").lower()]
        wanted = [" ".join(part.split()) for part in parts]
        assert any(all(part in text.lower() for part in wanted) for _, text in shown), row


def test_rows_are_sifted_by_basis_by_source_and_by_family(table: Table) -> None:
    _open(table)
    published = [row for row in _common_rows() if row["basis"] == "published"]
    Select(table.find("[aria-label='Resting on']")).select_by_value("published")
    _says_how_many(table, published)
    source = published[0]["source"]
    citing = [row for row in _common_rows() if row.get("source") == source]
    Select(table.find("[aria-label='Resting on']")).select_by_value("")
    Select(table.find("[aria-label='Read in']")).select_by_value(source)
    _says_how_many(table, citing)
    name = shipped().families[FAMILY].name
    Select(table.find("[aria-label='Family of sets']")).select_by_visible_text(name)
    Select(table.find("[aria-label='Read in']")).select_by_value("")
    table.find(".rule-family h2", name)
    assert table.phone.driver.current_url.endswith(f"#/rules/{FAMILY}")
    assert not table.phone.js("return document.body.textContent.includes('Alike in several families')")


def test_a_source_leads_to_its_rows(table: Table) -> None:
    _open(table)
    table.tap(".sources > summary")
    source = next(iter(pack_for()["sources"].values()))
    citing = [row for row in _common_rows() if row.get("source") == source["id"]]
    table.tap(f"[aria-label='Rows that rest on {source['title']}']")
    _says_how_many(table, citing)


def _from_the_verdict_to_the_row(table: Table) -> None:
    table.new_set("Tern B")
    table.answer("loading-coil", "Gone")
    table.tap(".to-verdict")
    table.tap(".waterfall summary", "Aerial loading coil")
    table.tap(".waterfall details[open] a", "This rests on:")
    shown = table.find(".asked-for", "Rests on:")
    assert table.phone.driver.current_url.endswith(f"#/rules/{FAMILY}/loading-coil/gone")
    check = next(row for row in pack_for()["checks"] if row["id"] == "loading-coil")
    option = next(row for row in check["options"] if row["id"] == "gone")
    assert option["label"] in shown.text
    assert option["why"] in shown.text
    assert table.phone.js(IN_VIEW)


def test_a_reason_of_the_verdict_opens_the_row_behind_it_and_back_again(table: Table) -> None:
    _from_the_verdict_to_the_row(table)
    table.tap(".back")
    table.find(".page.verdict")


def test_rows_that_no_check_asks_for_are_reached_too(table: Table) -> None:
    for row in ("asked", "holes", "coverage", "finish_misfit", "task.make-safe", "tern-b-has-none"):
        table.open()
        table.open(f"#/rules/{FAMILY}/{row}")
        if row == "tern-b-has-none":
            table.find("[role=status]", "That row is not in these tables.")
        else:
            assert table.find(".asked-for", "Rests on:").get_attribute("data-row") == row


def test_the_whole_is_read_with_the_server_stopped(field: Table) -> None:
    phone = field.phone
    _open(field)
    assert dict(phone.js(COUNTS))["For every family"] == _counted(_common_rows())
    assert not phone.driver.find_element(By.CSS_SELECTOR, ".rules .notice").is_displayed()
    field.open()
    _from_the_verdict_to_the_row(field)


def test_without_the_reasons_it_says_what_is_missing_and_shows_the_rest(table: Table) -> None:
    phone = table.phone
    phone.expected += ["reasons.json"]
    phone.driver.execute_cdp_cmd("Network.enable", {})
    phone.driver.execute_cdp_cmd("Network.setBlockedURLs", {"urls": ["*reasons.json"]})
    table.open(f"#/rules/{FAMILY}")
    table.find(".rules .notice", "are not on this phone yet")
    assert not phone.driver.find_elements(By.CSS_SELECTOR, ".counts, .sources")
    table.type("#rule-words", "loading coil gone")
    shown = table.find(".rule", "Price −33 %").text
    assert "Rests on:" in shown
    phone.driver.execute_cdp_cmd("Network.setBlockedURLs", {"urls": []})
    table.open("#/about")
    table.tap("a[href='#/rules']")
    table.find(".counts td")
    assert not phone.driver.find_element(By.CSS_SELECTOR, ".rules .notice").is_displayed()
