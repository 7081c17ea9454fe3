"""The phone's packs are those of the compiler, those of the model sheets too, also of sheets made there."""

import random
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from tests.parity.cases import random_cases, random_overrides
from tests.support.packs import families, kinds, pack_for
from tests.support.table import Table
from tests.support.twin import Kernel, compare


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
