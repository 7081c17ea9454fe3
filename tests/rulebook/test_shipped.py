"""The shipped tables: how much they hold at least, and what every row of them carries."""

from typing import Any

import pytest

from tests.support.packs import FAMILY, SHEETS, pack_for, shipped
from webapp.errors import NotKnown
from webapp.rulebook.compiling import compile_sheet

Json = dict[str, Any]

STAGES = ["what-is-it", "front", "top", "back", "underneath", "moves", "with-it", "story"]
BASES = {"published", "common practice", "from memory", "invented"}


def grounded_rows(value: Any, where: str = "") -> list[tuple[str, Json]]:
    """Every row of a pack that says what it rests on, with the place where it stands."""
    found: list[tuple[str, Json]] = []
    if isinstance(value, dict):
        if "basis" in value:
            found.append((where, value))
        for key, inner in value.items():
            found += grounded_rows(inner, f"{where}/{key}")
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            name = inner.get("id", number) if isinstance(inner, dict) else number
            found += grounded_rows(inner, f"{where}/{name}")
    return found


def test_there_are_at_least_16_parts_with_calibration_parts_among_them() -> None:
    parts = pack_for()["parts"]
    assert len(parts) >= 16
    assert 0 < sum(part["calibration"] for part in parts) < len(parts)


def test_there_are_at_least_36_checks_over_all_eight_stages() -> None:
    pack = pack_for()
    assert len(pack["checks"]) >= 36
    assert [stage["id"] for stage in pack["stages"]] == STAGES
    assert {check["stage"] for check in pack["checks"]} == set(STAGES)


def test_there_are_at_least_28_tasks_over_four_aims() -> None:
    pack = pack_for()
    aims = {aim["id"] for aim in pack["aims"]}
    assert len(pack["tasks"]) >= 28
    assert len(aims) == 4
    assert {aim for task in pack["tasks"] for aim in task["aims"]} == aims


def test_there_are_three_sheets_of_the_family_each_with_coverage_and_crystal() -> None:
    assert set(shipped().sheets) == set(SHEETS)
    for sheet in SHEETS:
        head = pack_for(sheet)["sheet"]
        low, high = head["coverage_khz"]
        assert low < high
        assert any(low <= n * head["crystal_khz"] <= high for n in range(1, 21)), sheet


def test_every_row_with_numbers_says_what_it_rests_on() -> None:
    pack = pack_for()
    rows = dict(grounded_rows(pack))
    assert {row["basis"] for row in rows.values()} <= BASES
    for check in pack["checks"]:
        assert check["basis"] in BASES, check["id"]
        assert all(option["basis"] in BASES for option in check["options"]), check["id"]
    for place in pack["holes"]["places"]:
        assert all(size["basis"] in BASES for size in place["sizes"]), place["id"]
    for kind in ("parts", "tasks", "states", "cautions"):
        assert all(row["basis"] in BASES for row in pack[kind]), kind
    assert all(pack[name]["basis"] in BASES for name in ("reference", "breaking", "holes"))
    assert all(pack["effects"][name]["basis"] in BASES for name in ("coverage", "crystal"))


def test_every_published_row_names_a_source_that_the_pack_carries() -> None:
    pack = pack_for()
    published = [(where, row) for where, row in grounded_rows(pack) if row["basis"] == "published"]
    assert published
    for where, row in published:
        assert row["source"] in pack["sources"], where


def test_every_source_is_cited_by_a_row() -> None:
    book = shipped()
    cited = {row.get("source") for _, row in grounded_rows(pack_for())}
    cited |= {row.source for row in [*book.bands, *book.constants, *book.cautions]}
    assert set(book.sources) - cited == set()


def test_the_priors_of_every_check_add_up_to_one() -> None:
    for check in pack_for()["checks"]:
        assert sum(option["prior"] for option in check["options"]) == pytest.approx(1, abs=1e-9), check["id"]


def test_labels_of_options_and_checks_fit_on_a_phone() -> None:
    for check in pack_for()["checks"]:
        assert len(check["label"]) <= 40
        assert all(len(option["label"]) <= 40 for option in check["options"]), check["id"]


def test_a_sheet_of_another_family_or_of_none_is_not_known() -> None:
    book = shipped()
    with pytest.raises(NotKnown, match='There is no family "tern"'):
        book.family("tern")
    with pytest.raises(NotKnown, match='no model sheet "tern-x"'):
        compile_sheet(book, FAMILY, "tern-x")
    with pytest.raises(NotKnown, match=f'belongs to the family "{FAMILY}", not to "other"'):
        book.sheet("tern-a", "other")
