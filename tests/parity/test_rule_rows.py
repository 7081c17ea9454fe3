"""The rules in words: the phone's screen and the server's plain page say the same, row by row."""

import json
import random
from collections.abc import Sequence
from typing import Any

from flask import Flask

from tests.support.packs import FAMILY, shipped
from tests.support.phone import Phone
from webapp.pages import reading_habits, rule_figures
from webapp.pages.common_rows import common_tables
from webapp.pages.family_rows import family_tables
from webapp.pages.rule_tables import counted, found, in_groups
from webapp.paths import rules_folder
from webapp.rulebook.book import Rulebook
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.sheets import sheet_overrides
from webapp.rulebook.tables import load_all

Json = dict[str, Any]

LOADED = """
const load = (name) => import(`${document.documentElement.dataset.base}js/${name}.js`);
"""
GROUPS = (
    LOADED
    + """
const files = ['ui/family_rows', 'ui/common_rows', 'ui/rule_tables', 'store/packs'];
const [own, common, tables, store] = await Promise.all(files.map(load));
const index = await store.packIndex();
const names = new Map(index.families.map(({ id, name }) => [id, name]));
const ids = args[0] ? [args[0]] : [...names.keys()];
await Promise.all(ids.map(store.loadReasons));
const packs = await Promise.all(ids.map(store.loadPack));
const listed = new Map(packs.map((pack) => [pack.family, own.familyTables(pack, index.sheets)]));
const groups = tables.inGroups(listed, common.commonTables(packs[0]), names);
const counts = [...listed.values()].map(tables.counted);
const wanted = { words: 'crystal  Gone', basis: 'invented', source: '' };
const searched = structuredClone(tables.found(groups, wanted, packs[0].sources));
// The text that is searched is kept beside the row.
const rows = [...groups, ...searched].flatMap((group) => group.tables).flatMap((table) => table.rows);
for (const row of rows) delete row.text;
return JSON.stringify({ groups: groups.filter((group) => group.tables.length > 0), counts, searched });
"""
)
FIGURES = (
    LOADED
    + """
const figures = await load('ui/rule_figures');
return JSON.stringify(JSON.parse(args[0]).map(([mean, sd]) => [
  figures.effect([mean, sd]), figures.spread(sd), figures.ofHundred(Math.abs(mean) % 1), figures.ofWhole(sd),
  figures.estimate([sd, sd + 1, sd + 1234], 'h'), figures.inches(sd),
]));
"""
)


def _expected(families: Sequence[str], book: Rulebook | None = None) -> Json:
    book = book or shipped()
    packs = {family: compile_family(book, family) for family in families}
    sheets = {key: sheet_overrides(sheet) for key, sheet in sorted(book.sheets.items())}
    tables = {family: family_tables(pack, sheets) for family, pack in packs.items()}
    names = {family.id: family.name for family in book.families.values()}
    common = common_tables(packs[families[0]])
    groups = in_groups(tables, common, names)
    sources = packs[families[0]]["sources"]
    return {
        "groups": [group for group in groups if group["tables"]],
        "counts": [list(counted(listed).values()) for listed in tables.values()],
        "searched": found(groups, "crystal  Gone", "invented", "", sources),
    }


def test_every_row_of_all_families_reads_the_same_on_the_phone_and_on_the_plain_page(
    opened_phone: Phone,
) -> None:
    arrived = json.loads(opened_phone.js(GROUPS, None))
    expected = _expected(list(shipped().families))
    assert sum(len(table["rows"]) for group in expected["groups"] for table in group["tables"]) > 1000
    assert [group["title"] for group in arrived["groups"]] == [group["title"] for group in expected["groups"]]
    assert arrived == expected


def test_a_single_family_reads_the_same_too(opened_phone: Phone) -> None:
    for family in shipped().families:
        assert json.loads(opened_phone.js(GROUPS, family)) == _expected([family]), family


def test_they_read_the_same_in_german_too_with_its_decimal_sign(opened_phone: Phone) -> None:
    opened_phone.js("localStorage.setItem('underchassis-language', 'de')")
    opened_phone.driver.refresh()
    arrived = opened_phone.js(GROUPS, FAMILY)
    page = Flask("webapp")
    reading_habits.install(page)
    with page.test_request_context("/?language=de"):
        expected = _expected([FAMILY], load_all(rules_folder()).book_for("de", FAMILY))
    assert json.loads(arrived) == expected
    assert " von 100 vor." in arrived
    assert "Zoll." in arrived


def test_figures_read_the_same_also_where_they_stand_on_a_half(opened_phone: Phone) -> None:
    chance = random.Random(7)
    pairs = [[chance.uniform(-2, 2), chance.uniform(0, 1)] for _ in range(500)]
    pairs += [[0, 0], [0.0625, 0.0625], [-0.0005, 0.0005], [0.5, 0.00005], [-1e-9, 0.1235], [1, 0.0125]]
    expected = [
        [
            rule_figures.effect([mean, sd]),
            rule_figures.spread(sd),
            rule_figures.of_hundred(abs(mean) % 1),
            rule_figures.of_whole(sd),
            rule_figures.estimate([sd, sd + 1, sd + 1234], "h"),
            rule_figures.inches(sd),
        ]
        for mean, sd in pairs
    ]
    assert json.loads(opened_phone.js(FIGURES, json.dumps(pairs))) == expected
