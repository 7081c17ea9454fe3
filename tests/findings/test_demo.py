"""The three demo sets as findings files, through the real command, and whether they make sense to a buyer."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.support.command import run
from webapp.notebook.demo import demo_notebook

Json = dict[str, Any]

FOLDER = Path(__file__).parent
TIDY, DRILLED, BARN = "demo-tern-b-1184", "demo-tern-c-0377", "demo-tern-a-barn"


@cache
def appraisal(name: str) -> Json:
    result = run("appraise", str(FOLDER / f"{name}.json"))
    assert (result.returncode, result.stderr) == (0, b"")
    document: Json = json.loads(result.stdout)
    return document


def test_the_files_are_the_findings_of_the_demo_notebook() -> None:
    files = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in FOLDER.glob("*.json")}
    assert files == {row["id"]: row["findings"] for row in demo_notebook()["found_sets"]}
    assert set(files) == {TIDY, DRILLED, BARN}


def test_the_tidy_one_is_the_dearest_and_the_most_original_and_fits_its_dial() -> None:
    tidy, others = appraisal(TIDY), [appraisal(DRILLED), appraisal(BARN)]
    assert all(tidy["price"]["fair"]["mid"] > 2 * other["price"]["fair"]["mid"] for other in others)
    assert all(tidy["originality"]["likely"] > other["originality"]["likely"] for other in others)
    assert tidy["holes"] == {"count": 0, "severity": 0}
    results = {row["check"]: row["result"] for row in tidy["consistency"]}
    assert (results["coverage"], results["crystal"], results["finish"]) == ("fine", "fine", "fine")
    assert "does not fit" not in results.values()


def test_the_tidy_one_is_asked_too_much_for_and_gets_an_offer_below() -> None:
    verdict = appraisal(TIDY)["verdict"]
    assert verdict["word"] == "offer less"
    assert 150 < verdict["offer"] < 260


def test_the_drilled_one_is_cheap_with_holes_and_lost_originality() -> None:
    drilled = appraisal(DRILLED)
    assert drilled["holes"]["count"] == 6
    assert drilled["holes"]["severity"] > 0
    assert drilled["originality"]["likely"] < 60
    assert drilled["price"]["as_is"]["p50"] < appraisal(TIDY)["price"]["as_is"]["p50"] / 2
    assert drilled["price"]["as_is"]["p50"] < drilled["price"]["reference"]["median"] / 2


def test_the_crystal_of_the_drilled_one_belongs_to_another_set() -> None:
    drilled = appraisal(DRILLED)
    crystal = next(row for row in drilled["consistency"] if row["check"] == "crystal")
    assert crystal["result"] == "does not fit"
    assert drilled["calibration"]["high"] < appraisal(TIDY)["calibration"]["low"]


def test_the_one_from_the_barn_wants_looking_at_first() -> None:
    barn = appraisal(BARN)
    assert barn["verdict"]["word"] == "look first"
    assert barn["looking"]["value"] > barn["looking"]["threshold"]
    assert len(barn["not_checked"]) > 50
    assert barn["completeness"]["high"] - barn["completeness"]["low"] > 50
    assert barn["price"]["as_is"]["p90"] / barn["price"]["as_is"]["p10"] > 3


@pytest.mark.parametrize("name", [TIDY, DRILLED, BARN])
def test_an_appraisal_names_what_to_look_at_next_what_moved_the_price_and_what_to_beware_of(
    name: str,
) -> None:
    document = appraisal(name)
    assert document["next_checks"]
    assert document["cautions"]
    assert len(document["reasons"]) > 3
    assert document["effort"]["hours"]["p90"] > document["effort"]["hours"]["p50"] > 0
