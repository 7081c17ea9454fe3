"""The shipped tables: how much they hold at least, and what every row of them carries."""

import re
from collections import Counter
from typing import Any

import pytest

from tests.support.packs import FAMILY, SHEETS, families, pack_for, shipped
from webapp.errors import NotKnown
from webapp.rulebook.compiling import compile_sheet

Json = dict[str, Any]

FAMILIES = (
    "aircraft-hf-transmitter", "aircraft-receiver", "communications-receiver", "control-box",
    "frequency-meter", "pack-transmitter-receiver", "supply-unit", "vehicle-transmitter-receiver",
)  # fmt: skip
STAGES = ["what-is-it", "front", "top", "back", "underneath", "moves", "with-it", "story"]
BASES = {"published", "common practice", "from memory", "invented"}

every_family = pytest.mark.parametrize("family", FAMILIES)


def pack_of(family: str) -> Json:
    return pack_for(None, family)


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


def test_the_eight_families_are_there() -> None:
    assert families() == FAMILIES


@every_family
def test_there_are_at_least_12_parts_with_calibration_parts_among_them(family: str) -> None:
    parts = pack_of(family)["parts"]
    assert len(parts) >= (16 if family == FAMILY else 12)
    assert 0 < sum(part["calibration"] for part in parts) < len(parts)


@every_family
def test_there_are_at_least_28_checks_over_all_eight_stages_in_the_order_of_the_walk(family: str) -> None:
    pack = pack_of(family)
    assert len(pack["checks"]) >= (36 if family == FAMILY else 28)
    assert [stage["id"] for stage in pack["stages"]] == STAGES
    walked = [check["stage"] for check in pack["checks"]]
    assert list(dict.fromkeys(walked)) == STAGES
    assert walked == sorted(walked, key=STAGES.index)


@every_family
def test_there_are_at_least_20_tasks_over_four_aims(family: str) -> None:
    pack = pack_of(family)
    aims = {aim["id"] for aim in pack["aims"]}
    assert len(pack["tasks"]) >= (28 if family == FAMILY else 20)
    assert len(aims) == 4
    assert {aim for task in pack["tasks"] for aim in task["aims"]} == aims


@every_family
def test_a_higher_state_of_a_part_never_has_the_lower_effect(family: str) -> None:
    wrong = [
        (check["id"], better["id"], worse["id"])
        for check in pack_of(family)["checks"]
        if check["part"] is not None
        for better in check["options"]
        for worse in check["options"]
        if better["state"] > worse["state"] and better["log_effect"][0] < worse["log_effect"][0]
    ]
    assert wrong == []


@every_family
def test_every_part_is_covered_once_from_there_to_gone(family: str) -> None:
    pack = pack_of(family)
    covering = [check for check in pack["checks"] if check["part"] is not None]
    assert sorted(check["part"] for check in covering) == sorted(part["id"] for part in pack["parts"])
    for check in covering:
        states = [option["state"] for option in check["options"]]
        assert (max(states), min(states) < max(states)) == (1, True), check["id"]


@every_family
def test_what_every_set_is_asked_is_asked_once_and_the_rest_at_most_once(family: str) -> None:
    asked = Counter(check["asks"] for check in pack_of(family)["checks"] if "asks" in check)
    # Stamps of two kinds have a check each.
    del asked["stamp"]
    assert max(asked.values()) == 1
    assert {"holes", "serial", "nameplate", "order", "service", "finish"} <= set(asked)


@every_family
def test_what_asks_and_what_is_computed_belong_together(family: str) -> None:
    pack = pack_of(family)
    part = {check["asks"]: check["part"] for check in pack["checks"] if "asks" in check}
    effects = pack["effects"]
    assert (part.get("crystal"), part.get("book")) == (effects["crystal_part"], effects["book_part"])
    if "coverage" not in part:
        assert (effects["coverage_in_band"], effects["coverage_out_of_band"]) == ([0, 0], [0, 0])


def test_the_three_terns_have_coverage_and_a_crystal_that_suits_it() -> None:
    assert {sheet.head.id for sheet in shipped().sheets.values() if sheet.head.family == FAMILY} == set(
        SHEETS
    )
    for sheet in SHEETS:
        head = pack_for(sheet)["sheet"]
        low, high = head["coverage_khz"]
        assert low < high
        assert any(low <= n * head["crystal_khz"] <= high for n in range(1, 21)), sheet


def test_every_row_with_numbers_says_what_it_rests_on() -> None:
    for pack in map(pack_of, FAMILIES):
        assert {row["basis"] for _, row in grounded_rows(pack)} <= BASES
        for check in pack["checks"]:
            assert check["basis"] in BASES, check["id"]
            assert all(option["basis"] in BASES for option in check["options"]), check["id"]
        for place in pack["holes"]["places"]:
            assert all(size["basis"] in BASES for size in place["sizes"]), place["id"]
        for kind in ("parts", "tasks", "states", "cautions"):
            assert all(row["basis"] in BASES for row in pack[kind]), kind
        assert all(pack[name]["basis"] in BASES for name in ("reference", "breaking", "holes"))
        computed = {"coverage", "designation", "finish"} | (
            {"crystal"} if pack["effects"]["crystal_part"] else set()
        )
        assert all(pack["effects"][name]["basis"] in BASES for name in computed)


def test_every_published_row_names_a_source_that_the_pack_carries() -> None:
    for pack in map(pack_of, FAMILIES):
        published = [(where, row) for where, row in grounded_rows(pack) if row["basis"] == "published"]
        assert published
        for where, row in published:
            assert row["source"] in pack["sources"], where


def test_every_source_is_cited_by_a_row() -> None:
    book = shipped()
    cited = {row.get("source") for pack in map(pack_of, FAMILIES) for _, row in grounded_rows(pack)}
    cited |= {row.get("source") for sheet in book.sheets for _, row in grounded_rows(pack_for(sheet))}
    cited |= {row.source for row in [*book.bands, *book.constants, *book.cautions]}
    assert set(book.sources) - cited == set()


@every_family
def test_the_priors_of_every_check_add_up_to_one(family: str) -> None:
    for check in pack_of(family)["checks"]:
        assert sum(option["prior"] for option in check["options"]) == pytest.approx(1, abs=1e-9), check["id"]


@every_family
def test_labels_of_options_and_checks_fit_on_a_phone(family: str) -> None:
    for check in pack_of(family)["checks"]:
        assert len(check["label"]) <= 40
        assert all(len(option["label"]) <= 40 for option in check["options"]), check["id"]


def test_no_two_families_have_the_same_hash_or_name() -> None:
    packs = [pack_of(family) for family in FAMILIES]
    for key in ("hash", "name", "about"):
        assert len({pack[key] for pack in packs}) == len(FAMILIES), key


def test_a_sheet_of_another_family_or_of_none_is_not_known() -> None:
    book = shipped()
    with pytest.raises(NotKnown, match='There is no family "tern"'):
        book.family("tern")
    with pytest.raises(NotKnown, match='no model sheet "tern-x"'):
        compile_sheet(book, FAMILY, "tern-x")
    with pytest.raises(NotKnown, match=f'belongs to the family "{FAMILY}", not to "other"'):
        book.sheet("tern-a", "other")


@every_family
def test_a_task_that_finds_and_fits_names_the_part_that_it_pays(family: str) -> None:
    pack = pack_of(family)
    brought = {task["part"]: task for task in pack["tasks"] if "part" in task}
    sold = {part["id"]: part for part in pack["parts"] if part["buy"] is not None}
    assert set(brought) <= set(sold)
    gone = [
        (check["part"], option)
        for check in pack["checks"]
        for option in check["options"]
        if check["part"] in sold and option["fixable"] and option["state"] == 0
    ]
    assert len(gone) >= 10
    for part, option in gone:
        assert brought[part]["id"] in option["tasks"], part
    # A filter crystal is a piece of the crystal filter, and its price is not that of the whole.
    without = [t["id"] for t in pack["tasks"] if t["id"].startswith("find-and-fit-") and "part" not in t]
    assert without == (["find-and-fit-filter-crystal"] if family == "communications-receiver" else [])


SAID_OF_PARTS = {
    "hard to find": {"hard"},
    "patience to find": {"takes patience"},
    "cannot be bought": {"not to be had"},
    "nobody sells": {"not to be had"},
}


@every_family
def test_what_takes_a_twentieth_off_has_a_sentence_to_say(family: str) -> None:
    options = [(check, option) for check in pack_of(family)["checks"] for option in check["options"]]
    dear = [(check["id"], o["id"]) for check, o in options if o["log_effect"][0] <= -0.05 and "say" not in o]
    assert dear == []


@every_family
def test_what_is_said_at_the_table_is_one_calm_sentence_without_figures(family: str) -> None:
    said = [o["say"] for check in pack_of(family)["checks"] for o in check["options"] if "say" in o]
    assert len(said) >= 60
    for sentence in said:
        assert len(sentence) <= 140, sentence
        assert re.fullmatch(r"[A-Z][^.!?0-9]+\.", sentence), sentence


@every_family
def test_what_is_said_of_finding_a_part_is_what_the_part_says(family: str) -> None:
    pack = pack_of(family)
    find = {part["id"]: part["find"] for part in pack["parts"]}
    for check in pack["checks"]:
        for option in check["options"]:
            for words, right in SAID_OF_PARTS.items():
                if words in option.get("say", ""):
                    assert find[check["part"]] in right, option["say"]
