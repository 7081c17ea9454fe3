"""The pack: the keys of the contract, the derived figures recomputed by other means, and its hash."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.support.broken import FAM, Mistake
from tests.support.packs import FAMILY, SHEETS, copy_of_rules, pack_for, shipped
from webapp.paths import rules_folder
from webapp.rulebook.compiling import compile_family, compile_sheet
from webapp.rulebook.sheets import sheet_overrides
from webapp.rulebook.tables import load

Json = dict[str, Any]

TOP = {
    "family", "name", "hash", "default_aim", "reference", "state_offsets", "sell_through", "parts", "checks",
    "holes", "tasks", "break_hours", "effects", "bands", "index",
}  # fmt: skip
ROWS: dict[str, tuple[Callable[[Json], list[Json]], set[str]]] = {
    "reference": (
        lambda pack: [pack["reference"]],
        {"median", "currency", "log_sd", "market_log_sd", "comparable_log_sd", "half_life_years", "asked"},
    ),
    "parts": (
        lambda pack: pack["parts"],
        {"id", "weight", "calibration", "fits_family", "salvage", "buy"},
    ),
    "checks": (
        lambda pack: pack["checks"],
        {"id", "stage", "seconds", "shown_if", "part", "asks_holes", "options"},
    ),
    "options": (
        lambda pack: [option for check in pack["checks"] for option in check["options"]],
        {"id", "prior", "state", "log_effect", "log_effect_open", "mean_factor", "fixable", "originality",
         "tasks", "cautions", "as_made"},
    ),
    "holes": (lambda pack: [pack["holes"]], {"a", "b", "c", "places"}),
    "sizes": (
        lambda pack: [size for place in pack["holes"]["places"] for size in place["sizes"]],
        {"up_to_mm", "severity", "severity_plugged", "fixable", "task"},
    ),
    "tasks": (lambda pack: pack["tasks"], {"id", "stage", "aims", "after", "set_up", "each"}),
    "effects": (
        lambda pack: [pack["effects"]],
        {"in_band_prior", "coverage_in_band", "coverage_out_of_band", "crystal_part", "book_part",
         "crystal_foreign"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("sheet", [None, *SHEETS])
def test_a_pack_has_every_key_of_the_contract_in_every_row(sheet: str | None) -> None:
    pack = pack_for(sheet)
    assert TOP - set(pack) == set()
    for name, (rows_of, keys) in ROWS.items():
        rows = rows_of(pack)
        assert rows, name
        assert [row for row in rows if keys - set(row)] == [], name
    assert ("sheet" in pack) == (sheet is not None)


def test_a_pack_is_json_and_the_same_after_a_round_trip() -> None:
    assert json.loads(json.dumps(pack_for(), allow_nan=False)) == pack_for()


def opened_by(check_id: str, option_id: str) -> list[Json]:
    return [
        check
        for check in pack_for()["checks"]
        if check["shown_if"]
        and check["shown_if"]["check"] == check_id
        and option_id in check["shown_if"]["options"]
    ]


def outcomes(check: Json) -> list[tuple[float, float, float]]:
    """Every way in which a check and its follow-ups can turn out: probability, mean and variance."""
    found = []
    for option in check["options"]:
        mean, sd = option["log_effect_open"] or option["log_effect"]
        ways = [(option["prior"], mean, sd * sd)]
        for follow_up in opened_by(check["id"], option["id"]):
            ways = [(p * q, m + n, v + w) for p, m, v in ways for q, n, w in outcomes(follow_up)]
        found += ways
    return found


OPENERS = [
    (check, option)
    for check in pack_for()["checks"]
    for option in check["options"]
    if opened_by(check["id"], option["id"])
]
OPENER_IDS = [f"{check['id']}-{option['id']}" for check, option in OPENERS]


@pytest.mark.parametrize(("check", "option"), OPENERS, ids=OPENER_IDS)
def test_an_opener_holds_the_spread_of_its_follow_ups_inside(check: Json, option: Json) -> None:
    """Recomputed over every outcome singly: same mean, sd² plus the mixture variance, exact mean factor."""
    mean, sd = option["log_effect_open"]
    follow_ups = [outcomes(follow_up) for follow_up in opened_by(check["id"], option["id"])]
    extra, factor = 0.0, math.exp(mean + sd * sd / 2)
    for ways in follow_ups:
        centre = sum(p * m for p, m, _ in ways)
        extra += sum(p * (v + (m - centre) ** 2) for p, m, v in ways)
        factor *= sum(p * math.exp(m + v / 2) for p, m, v in ways)
    assert option["log_effect"][0] == mean
    assert option["log_effect"][1] == pytest.approx(math.sqrt(sd * sd + extra), rel=1e-12)
    assert option["mean_factor"] == pytest.approx(factor, rel=1e-12)


def test_an_option_that_opens_nothing_has_neither_second_effect_nor_factor() -> None:
    for check in pack_for()["checks"]:
        for option in check["options"]:
            if not opened_by(check["id"], option["id"]):
                assert (option["log_effect_open"], option["mean_factor"]) == (None, None)


def test_every_task_comes_after_all_it_waits_for() -> None:
    order = {task["id"]: number for number, task in enumerate(pack_for()["tasks"])}
    assert any(task["after"] for task in pack_for()["tasks"])
    for task in pack_for()["tasks"]:
        assert all(order[before] < order[task["id"]] for before in task["after"]), task["id"]


def test_the_last_size_of_every_place_has_no_limit() -> None:
    for place in pack_for()["holes"]["places"]:
        limits = [size["up_to_mm"] for size in place["sizes"]]
        assert limits[-1] is None
        assert None not in limits[:-1]


def changed_pack(folder: Path, *mistakes: Mistake) -> Json:
    rules = copy_of_rules(folder)
    for change in mistakes:
        change.make(rules)
    return compile_family(load(rules), FAMILY)


@pytest.mark.parametrize(
    "change",
    [
        Mistake("median = 190", "median = 191", "", ()),
        Mistake("weight = 9\n", "weight = 9.5\n", "", ()),
        Mistake("severity = 0.27", "severity = 0.28", "", ()),
        Mistake("hours = [0.3, 0.5, 1.5]", "hours = [0.3, 0.5, 1.6]", "", ()),
        Mistake("value = 25", "value = 26", "", (), "model.toml"),
        Mistake("to_khz = 1850", "to_khz = 1851", "", (), "bands.toml"),
        Mistake("Pay {asking}.", "Pay just {asking}.", "", (), "words.toml"),
    ],
    ids=lambda change: change.new,
)
def test_the_hash_changes_with_a_number_or_a_word(change: Mistake, tmp_path: Path) -> None:
    assert changed_pack(tmp_path, change)["hash"] != pack_for()["hash"]


@pytest.mark.parametrize(
    "change",
    [
        Mistake("# Rule table of one family", "# The rule table of one family", "", ()),
        Mistake("median = 190", "median   =   190.0", "", ()),
        Mistake(
            '[reference]\nmedian = 190\ncurrency = "USD"',
            '[reference]\ncurrency = "USD"\nmedian = 190',
            "",
            (),
        ),
    ],
    ids=["comment", "spacing", "order of keys"],
)
def test_the_hash_stays_when_only_the_writing_changes(change: Mistake, tmp_path: Path) -> None:
    assert changed_pack(tmp_path, change)["hash"] == pack_for()["hash"]


def test_family_and_sheets_have_hashes_of_their_own_that_stay_the_same() -> None:
    hashes = [pack_for(sheet)["hash"] for sheet in (None, *SHEETS)]
    assert len(set(hashes)) == 4
    assert compile_family(load(rules_folder()), FAMILY)["hash"] == hashes[0]
    assert compile_sheet(load(rules_folder()), FAMILY, "tern-a")["hash"] == hashes[1]


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_changes_only_what_it_says(sheet: str) -> None:
    family, pack = pack_for(), pack_for(sheet)
    overrides = sheet_overrides(shipped().sheet(sheet, FAMILY))
    changed = {key for key in family if family[key] != pack[key]}
    assert changed <= {"name", "about", "reference", "hash"}
    assert pack["name"] == overrides["name"]
    for key, value in pack["reference"].items():
        assert value == overrides["reference"].get(key, family["reference"][key]), key


def test_money_bands_and_constants_come_through_unchanged() -> None:
    book, pack = shipped(), pack_for()
    assert pack["model"] == {row.id: row.value for row in book.constants}
    assert sum(len(bands) for bands in pack["bands"].values()) == len(book.bands)
    assert (FAM, pack["reference"]["median"]) == (f"families/{FAMILY}.toml", 190)
