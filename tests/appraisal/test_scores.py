"""Completeness, originality and calibration: order, narrowing and the foreign crystal (contract §2)."""

import math
from copy import deepcopy
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, check_of, numbers_of, pack_for, with_answer
from tests.support.strategies import findings
from tests.support.vectors import vectors
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import numbers
from webapp.appraisal.prepared import prepare

Json = dict[str, Any]

CHECKS = [check["id"] for check in pack_for()["checks"]]
COVERING = [check["id"] for check in pack_for()["checks"] if check["part"]]
SCORES = ("completeness", "originality", "calibration")
FIGURES = ("low", "likely", "high")
FOREIGN = {"family": FAMILY, "coverage_khz": [3300, 5000], "crystal_khz": 2750}


def fits(document: Json) -> Json:
    """The document with no crystal read, so that no part is found to be another set's."""
    return {key: value for key, value in document.items() if key != "crystal_khz"}


def at_most(low: float, high: float) -> bool:
    return low <= high + 1e-9


@examples(100)
@given(findings(), st.data())
def test_a_lower_state_never_raises_completeness_or_calibration(document: Json, data: st.DataObject) -> None:
    document = fits(document)
    check = data.draw(st.sampled_from(COVERING))
    options = check_of(check)["options"]
    pair = data.draw(st.lists(st.sampled_from(options), min_size=2, max_size=2, unique_by=lambda o: o["id"]))
    low, high = sorted(pair, key=lambda option: option["state"])
    worse = numbers_of(with_answer(document, check, low["id"])).scores
    better = numbers_of(with_answer(document, check, high["id"])).scores
    for score in ("completeness", "calibration"):
        for figure in FIGURES:
            assert at_most(getattr(getattr(worse, score), figure), getattr(getattr(better, score), figure))


@examples(100)
@given(findings(), st.sampled_from(CHECKS), st.data())
def test_a_larger_deduction_never_raises_originality(document: Json, check: str, data: st.DataObject) -> None:
    document = {**document, "holes": []}
    options = check_of(check)["options"]
    pair = data.draw(st.lists(st.sampled_from(options), min_size=2, max_size=2, unique_by=lambda o: o["id"]))
    more, less = sorted(pair, key=lambda option: -option["originality"])
    worse = numbers_of(with_answer(document, check, more["id"])).scores.originality
    better = numbers_of(with_answer(document, check, less["id"])).scores.originality
    assert all(at_most(getattr(worse, figure), getattr(better, figure)) for figure in FIGURES)


@examples(60)
@given(findings())
def test_low_likely_and_high_stand_in_that_order_between_0_and_100(document: Json) -> None:
    appraisal = appraised(document)
    for score in SCORES:
        found = appraisal[score]
        assert 0 <= found["low"] <= found["likely"] + 1e-9
        assert found["likely"] <= found["high"] + 1e-9 <= 100 + 2e-9


@examples(60)
@given(findings(full=True))
def test_with_everything_answered_low_likely_and_high_are_one_figure(document: Json) -> None:
    appraisal = appraised(document)
    for score in SCORES:
        found = appraisal[score]
        assert found["low"] == found["likely"] == found["high"], score


@examples(100)
@given(findings(), st.sampled_from(CHECKS), st.data())
def test_one_more_answer_never_widens_a_score(document: Json, check: str, data: st.DataObject) -> None:
    assume(check not in document["answers"] and not (check == "added-holes" and document["holes"]))
    option = data.draw(st.sampled_from(check_of(check)["options"]))
    before = numbers_of(document).scores
    after = numbers_of(with_answer(document, check, option["id"])).scores
    for score in SCORES:
        assert at_most(getattr(before, score).low, getattr(after, score).low)
        assert at_most(getattr(after, score).high, getattr(before, score).high)


def test_a_foreign_crystal_counts_as_missing_in_calibration_and_as_there_in_completeness() -> None:
    right = appraised({**FOREIGN, "crystal_khz": 4120, "answers": {"check-crystal": "there"}})
    wrong = appraised({**FOREIGN, "answers": {"check-crystal": "there"}})
    gone = appraised({**FOREIGN, "answers": {"check-crystal": "gone"}})
    assert wrong["calibration"] == gone["calibration"]
    assert wrong["calibration"]["likely"] < right["calibration"]["likely"]
    assert wrong["completeness"] == right["completeness"]


def test_a_frequency_noted_for_a_crystal_that_is_not_there_changes_no_score() -> None:
    """§2: the crystal counts as foreign only while its own check is answered with state 1."""
    for answers in ({}, {"check-crystal": "gone"}, {"check-crystal": "other-holder"}):
        noted = appraised({**FOREIGN, "answers": answers})
        plain = appraised({**fits(FOREIGN), "answers": answers})
        assert [noted[score] for score in SCORES] == [plain[score] for score in SCORES]


def test_high_counts_the_best_state_that_a_check_allows_even_where_that_is_not_a_whole_part() -> None:
    pack = deepcopy(vectors()[0].pack)
    pack["checks"][0]["options"][0]["state"] = 0.9
    prepared = prepare(pack)
    found = numbers(prepared, read_findings({"family": "tiny"}, prepared)).scores.completeness
    assert math.isclose(found.high, 100 * (3 * 0.9 + 1) / 4)
    assert math.isclose(found.likely, 100 * (3 * 0.6 * 0.9 + 0.8) / 4)


def test_each_part_weighs_in_completeness_by_its_weight() -> None:
    """The difference of one part there and gone is its weight over all weights."""
    total = sum(part["weight"] for part in pack_for()["parts"])
    for check in pack_for()["checks"]:
        if check["part"] is None:
            continue
        part = next(part for part in pack_for()["parts"] if part["id"] == check["part"])
        states = {option["id"]: option["state"] for option in check["options"]}
        best, worst = max(states, key=states.__getitem__), min(states, key=states.__getitem__)
        there = appraised({"family": FAMILY, "answers": {check["id"]: best}})["completeness"]["likely"]
        gone = appraised({"family": FAMILY, "answers": {check["id"]: worst}})["completeness"]["likely"]
        expected = 100 * part["weight"] * (states[best] - states[worst]) / total
        assert math.isclose(there - gone, expected, abs_tol=1e-9), check["id"]
