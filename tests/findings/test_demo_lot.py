"""The Petrel Street lot: whether its findings hold against the rule tables."""

from functools import cache
from typing import Any

import pytest

from webapp.appraisal.findings import Findings, read_findings
from webapp.appraisal.prepared import Prepared, prepare
from webapp.notebook.demo import demo_lot, demo_notebook
from webapp.paths import rules_folder
from webapp.photos.label_text import label_of
from webapp.rulebook.compiling import compile_sheet
from webapp.rulebook.tables import load

Json = dict[str, Any]
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
