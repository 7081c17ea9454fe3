"""The Petrel Street lot: whether its findings hold against the rule tables, and what its plan shows."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.support.command import run
from webapp.appraisal.findings import Findings, read_findings
from webapp.appraisal.prepared import Prepared, prepare
from webapp.notebook.demo import demo_lot, demo_notebook
from webapp.paths import rules_folder
from webapp.photos.label_text import label_of
from webapp.rulebook.compiling import compile_sheet
from webapp.rulebook.tables import load

Json = dict[str, Any]
LOT_FILE = Path(__file__).with_name("lots") / "petrel-street.json"
SETS: list[Json] = demo_lot()["found_sets"]


@cache
def rules_of(family: str, sheet: str) -> Prepared:
    return prepare(compile_sheet(load(rules_folder()), family, sheet))


def read(found: Json) -> Findings:
    findings = found["findings"]
    return read_findings(findings, rules_of(findings["family"], findings["model_sheet"]))


def test_twelve_sets_have_numbers_and_labels_of_their_own() -> None:
    assert [found["number"] for found in SETS] == [str(number) for number in range(1, 13)]
    others = demo_notebook()["found_sets"]
    for key in ("id", "label", "title"):
        assert len({found[key] for found in (*SETS, *others)}) == 15
    assert all(label_of("UC:" + found["label"].replace("-", ":")) == found["label"] for found in SETS)
    assert all(found["place"] and found["note"].endswith(".") for found in SETS)


@pytest.mark.parametrize("found", SETS, ids=lambda found: found["id"])
def test_what_was_found_in_two_minutes_stands_in_the_rule_tables(found: Json) -> None:
    said = found["findings"]
    findings = read(found)
    assert findings.answers == said["answers"]
    assert len(findings.holes) == len(said["holes"])
    assert 2 <= len(said["answers"]) <= 12
    # The lot says once for all sets what it asks, in what money, and what an hour is worth.
    assert not {"asking", "currency", "hour_rate"} & said.keys()


def test_it_holds_four_terns_and_three_plovers_of_one_sheet_and_what_hardly_anybody_looked_at() -> None:
    sheets = [found["findings"]["model_sheet"] for found in SETS]
    counts = {sheet: sheets.count(sheet) for sheet in sheets}
    assert counts == {"tern-b": 4, "plover-b": 3, "knot": 2, "dunlin": 1, "curlew": 1, "sandpiper": 1}
    assert sum(len(found["findings"]["answers"]) < 4 for found in SETS) == 2


def test_the_lot_file_to_try_is_the_demos() -> None:
    lot = {key: value for key, value in demo_lot()["lot"].items() if key not in ("id", "name")}
    document = {**lot, "sets": [found["findings"] for found in SETS], "shelf": demo_lot()["shelf"]}
    assert json.loads(LOT_FILE.read_text(encoding="utf-8")) == document


@cache
def plan() -> Json:
    """What the real command makes of the lot."""
    result = run("lot", str(LOT_FILE))
    assert (result.returncode, result.stderr) == (0, b"")
    made: Json = json.loads(result.stdout)
    return made


def named(way: str) -> set[str]:
    return {
        found["title"] for found, planned in zip(SETS, plan()["sets"], strict=True) if planned["way"] == way
    }


def test_a_tern_and_a_plover_are_completed_from_two_that_are_broken_and_the_rest_is_kept() -> None:
    assert plan()["exact"]
    assert named("complete") == {"Tern B, No. 1311", "Plover B, No. 0304"}
    assert named("break") == {"Tern B, No. 1020", "Plover B, No. 0219"}
    assert len(named("as_is")) == 8
    moves = {
        (SETS[move["from"]]["number"], SETS[move["to"]]["number"], move["part"]) for move in plan()["moves"]
    }
    tern = {"loading-coil", "check-crystal", "mounting-rack", "mating-plug"}
    plover = {"tuned-coils", "local-adapter", "mounting-rack", "mating-plug"}
    assert moves == {("2", "3", part) for part in tern} | {("4", "11", part) for part in plover}
    assert [(SETS[buy["for"]]["number"], buy["part"]) for buy in plan()["buys"]] == [("11", "handbook")]


def test_the_drilled_tern_is_worth_more_in_parts_than_whole() -> None:
    drilled = plan()["sets"][1]
    assert drilled["parts"] > 1.1 * drilled["as_is"]


def test_the_asking_price_is_so_near_the_bid_that_there_is_something_to_decide() -> None:
    lot = plan()
    assert lot["bid"] < lot["asking"] < 1.1 * lot["bid"]
    assert lot["bid_range"]["low"] < 0.8 * lot["asking"] < 1.2 * lot["asking"] < lot["bid_range"]["high"]
