"""The appraisal document as a whole: its keys, its numbers, and what must not matter."""

import json
import math
import random
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, SHEETS, appraised, appraised_by_the_app, pack_for
from tests.support.random_findings import random_findings
from tests.support.strategies import findings

Json = dict[str, Any]

KEYS = {
    "completeness": {"low", "likely", "high"},
    "originality": {"low", "likely", "high"},
    "calibration": {"low", "likely", "high"},
    "holes": {"count", "severity"},
    "effort": {"hours", "materials", "tasks"},
    "price": {"reference", "as_is", "parts", "restored_net", "fair"},
    "worth": {"value", "way"},
    "verdict": {"word", "offer", "sentence"},
    "looking": {"value", "threshold"},
}
LISTS = {
    "next_checks": {"check", "evi", "seconds"},
    "reasons": {"what", "log_effect", "basis", "source"},
    "consistency": {"check", "result", "sentence", "log_effect"},
    "cautions": {"id", "text"},
}


def figures(value: Any) -> Iterator[float]:
    if isinstance(value, dict):
        for inner in value.values():
            yield from figures(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from figures(inner)
    elif isinstance(value, int | float):
        yield value


def test_the_document_has_the_keys_of_the_contract() -> None:
    appraisal = appraised_by_the_app({"family": FAMILY, "holes": [{"place": "back", "diameter_mm": 5}]})
    for key, inner in KEYS.items():
        assert inner <= set(appraisal[key]), key
    for key, inner in LISTS.items():
        assert appraisal[key], key
        assert all(inner <= set(row) for row in appraisal[key]), key
    assert all(isinstance(check, str) for check in appraisal["not_checked"])
    assert (
        set(appraisal["price"]["as_is"]) == set(appraisal["price"]["parts"]) == {"p10", "p50", "p90", "mean"}
    )
    assert set(appraisal["price"]["fair"]) == {"low", "mid", "high"}
    reference = {"median", "log_sd", "posterior_log_sd", "prior", "comparables"}
    assert set(appraisal["price"]["reference"]) == reference
    assert set(appraisal["effort"]["hours"]) == set(appraisal["effort"]["materials"]) == {"p50", "p90"}


def test_a_sweep_of_random_findings_gives_finite_numbers_and_valid_json(
    sweep: Callable[[int], Sequence[int]],
) -> None:
    for seed in sweep(3000):
        rng = random.Random(seed)
        sheet = rng.choice([None, *SHEETS])
        appraisal = appraised(random_findings(pack_for(sheet), rng))
        assert json.loads(json.dumps(appraisal, allow_nan=False)) == appraisal, seed
        assert all(math.isfinite(figure) for figure in figures(appraisal)), seed


@examples(80)
@given(findings())
def test_the_order_of_answers_and_keys_does_not_matter(document: Json) -> None:
    backwards = dict(reversed(document.items()))
    backwards["answers"] = dict(reversed(document["answers"].items()))
    backwards["unseen"] = list(reversed(document["unseen"]))
    assert appraised(backwards) == appraised(document)


@examples(40)
@given(findings())
def test_appraising_twice_gives_the_same_and_leaves_pack_and_findings_alone(document: Json) -> None:
    pack_before = json.dumps(pack_for(document["model_sheet"]), sort_keys=True)
    document_before = json.dumps(document, sort_keys=True)
    first = appraised(document)
    assert appraised(document) == first
    assert json.dumps(pack_for(document["model_sheet"]), sort_keys=True) == pack_before
    assert json.dumps(document, sort_keys=True) == document_before


@examples(40)
@given(findings())
def test_the_app_and_the_engine_give_the_same_appraisal(document: Json) -> None:
    by_the_app = appraised_by_the_app(document)
    assert by_the_app.pop("today") == "2026-11-25"
    assert by_the_app == appraised(document)


def test_the_date_of_the_findings_goes_before_today() -> None:
    assert appraised_by_the_app({"family": FAMILY, "today": "2026-03-01"})["today"] == "2026-03-01"
    assert appraised_by_the_app({"family": FAMILY})["today"] == "2026-11-25"


@pytest.mark.parametrize("extreme", [1e-9, 1e9])
def test_the_smallest_and_largest_rate_give_finite_numbers(extreme: float) -> None:
    document = {"family": FAMILY, "currency": "EUR", "rate": extreme, "asking": 1e12, "hour_rate": 1e12}
    assert all(math.isfinite(figure) for figure in figures(appraised(document)))


def test_the_tiniest_asking_price_gives_finite_numbers() -> None:
    document = {"family": FAMILY, "asking": 5e-324}
    assert all(math.isfinite(figure) for figure in figures(appraised(document)))


def test_standing_cautions_come_before_the_first_answer_and_others_with_the_finding_that_calls_them() -> None:
    before = [row["id"] for row in appraised({"family": FAMILY})["cautions"]]
    standing = [row["id"] for row in pack_for()["cautions"] if row["standing"]]
    assert before == standing
    for check in pack_for()["checks"]:
        for option in check["options"]:
            if check["shown_if"]:
                continue
            found = appraised({"family": FAMILY, "answers": {check["id"]: option["id"]}})["cautions"]
            assert {row["id"] for row in found} == {*standing, *option["cautions"]}
