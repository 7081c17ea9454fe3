"""The phone's packs are those of the compiler, those of the model sheets too, also of sheets made there."""

import json
import random
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from tests.parity.cases import random_cases, random_overrides
from tests.support.packs import FAMILY, families, in_all_languages, kinds, pack_for
from tests.support.table import Table
from tests.support.twin import Kernel, compare
from webapp.pages.appraising import pack_of
from webapp.rulebook.compiling import compile_family


@pytest.fixture
def kernel(table: Table) -> Kernel:
    return Kernel(table.phone, table.address)


def without_hash(pack: dict[str, Any]) -> dict[str, Any]:
    # The phone does not hash: a sheet made there is told apart by its id.
    return {key: value for key, value in pack.items() if key != "hash"}


def test_every_family_and_every_model_sheet_arrive_as_compiled(kernel: Kernel) -> None:
    for family, sheet in kinds():
        arrived, compiled = kernel.shipped(sheet, family), pack_for(sheet, family)
        if sheet is None:
            assert arrived == compiled, family
        else:
            assert without_hash(arrived) == without_hash(compiled), sheet


INDEX = """
const { lateTables, packIndex } = await import(`${document.documentElement.dataset.base}js/store/packs.js`);
return JSON.stringify([await packIndex(), (await lateTables()).nomenclature]);
"""


@pytest.mark.parametrize("code", in_all_languages().further)
def test_in_another_language_complete_families_arrive_in_it_and_the_others_in_english(
    code: str, table: Table
) -> None:
    books = in_all_languages()
    table.phone.js("localStorage.setItem('underchassis-language', args[0])", code)
    kernel = Kernel(table.phone, table.address)
    table.find("main[data-page]")
    for family, sheet in kinds():
        compiled = pack_of(books.book_for(code, family), family, sheet)
        assert without_hash(kernel.shipped(sheet, family)) == without_hash(compiled), (family, sheet)
    index, nomenclature = json.loads(table.phone.js(INDEX))
    assert [row["name"] for row in index["families"]] == [
        family.name for family in books.further[code].families.values()
    ]
    assert nomenclature == compile_family(books.book_for(code, FAMILY), FAMILY)["nomenclature"]


def test_a_sheet_made_by_hand_changes_the_same_rows_in_both_engines(kernel: Kernel) -> None:
    """Absent parts, an added one that can be bought and one that cannot, changed parts, no book."""
    ground = {"basis": "invented", "why": "Made for a test."}
    extra = {"label": "peep-hole cover", "weight": 2, "salvage": [1, 2, 4], "gone_prior": 0.4, **ground}
    overrides = {
        "name": "Own meter",
        "about": "A frequency meter without a book.",
        "sheet": {"id": "own-meter", "family": "frequency-meter", "book": "none", **ground},
        "reference": {"median": 90, **ground},
        "absent": ["knobs"],
        "parts": [{"id": "check-crystal", "salvage": [2, 4, 7], "buy": [9, 15, 30], **ground}],
        "extra": [
            {**extra, "id": "cover", "stage": "front", "buy": [3, 5, 9], "gone_effect": -0.1},
            {**extra, "id": "stand", "stage": "with-it", "buy": None, "gone_effect": -0.2},
        ],
    }
    pack = kernel.lay("own-meter", "frequency-meter", overrides)
    assert pack == kernel.prepared["own-meter"].pack
    parts = {part["id"]: part for part in pack["parts"]}
    checks = {check["id"]: check for check in pack["checks"]}
    assert {"knobs", "calibration-book"} & set(parts) == set()
    assert {check["part"] for check in pack["checks"]} - {None} == set(parts)
    assert pack["effects"]["book_part"] is None
    assert parts["check-crystal"]["buy"] == [9, 15, 30]
    gone = {part: checks[part]["options"][1] for part in ("cover", "stand")}
    assert [gone["cover"]["tasks"], gone["stand"]["tasks"]] == [["find-and-fit-cover"], []]
    assert list(compare(kernel, random_cases(range(30), pack, "own-meter"))) == []


def test_random_sheets_are_laid_over_their_family_and_appraised_alike(
    kernel: Kernel, sweep: Callable[[int], Sequence[int]]
) -> None:
    for seed in sweep(120):
        rng, family = random.Random(seed), families()[seed % len(families())]
        overrides = random_overrides(pack_for(family=family), rng)
        pack = kernel.lay("own", family, overrides)
        assert pack == kernel.prepared["own"].pack, seed
        cases = random_cases(range(seed, seed + 5), pack, "own")
        assert list(compare(kernel, cases)) == [], seed
