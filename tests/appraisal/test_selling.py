"""The seller's verdict: the price to ask, the price of the parts, the looks that pay (contract §4, §8)."""

import math
from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, pack_for
from tests.support.strategies import findings

Json = dict[str, Any]


@examples(80)
@given(findings())
def test_the_usual_haggling_brings_the_price_asked_down_to_the_middle(document: Json) -> None:
    appraisal = appraised(document)
    offset, _ = pack_for()["reference"]["asked"]
    found = appraisal["selling"]
    assert found["ask"] * math.exp(-offset) == pytest.approx(appraisal["price"]["fair"]["mid"])
    assert found["ask"] >= appraisal["price"]["fair"]["mid"]
    assert found["floor"] == max(0.0, appraisal["price"]["parts"]["mean"])


@examples(80)
@given(findings())
def test_the_sellers_verdict_does_not_depend_on_what_anybody_asks(document: Json) -> None:
    asked = [{**document, "asking": price} for price in (None, 0, 77)]
    first, *others = [appraised(one)["selling"] for one in asked]
    assert all(other == first for other in others)


@examples(50)
@given(findings())
def test_no_look_before_selling_is_worth_less_than_nothing(document: Json) -> None:
    appraisal = appraised(document)
    stake = max(appraisal["worth"]["value"], 1.0)
    assert all(look["worth"] >= -1e-9 * stake for look in appraisal["selling"]["looks"])
    assert {look["check"] for look in appraisal["selling"]["looks"]} == {
        look["check"] for look in appraisal["next_checks"]
    }


def test_a_stripped_one_is_better_sold_in_parts_and_the_sentence_says_for_how_much() -> None:
    answers = {"parts-taken-out": "stripped", "dial": "gone", "front-panel": "cut"}
    found = appraised({"family": FAMILY, "answers": answers})["selling"]
    assert found["way"] == "parts"
    assert "parts" in found["sentence"]


def test_when_the_hours_of_breaking_eat_the_parts_the_sentence_says_so() -> None:
    found = appraised({"family": FAMILY, "hour_rate": 200})["selling"]
    assert found["floor"] == 0.0
    assert "nothing" in found["sentence"]
