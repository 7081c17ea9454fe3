"""Three ways to use a set, and the fair range (contract §4)."""

from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, numbers_of, pack_for, with_answer
from tests.support.strategies import findings
from tests.support.vectors import vectors
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import numbers
from webapp.appraisal.prepared import prepare
from webapp.appraisal.worth import InParts, worth

Json = dict[str, Any]


@examples(120)
@given(findings())
def test_the_fair_range_rises_from_low_to_mid_to_high(document: Json) -> None:
    price = appraised(document)["price"]
    assert price["fair"]["low"] <= price["fair"]["mid"] <= price["fair"]["high"]
    for fair_name, name in (("low", "p10"), ("mid", "p50"), ("high", "p90")):
        assert price["fair"][fair_name] == max(price["as_is"][name], price["parts"][name])


@examples(120)
@given(findings())
def test_worth_is_the_largest_of_the_three_means_and_names_its_way(document: Json) -> None:
    appraisal = appraised(document)
    price = appraisal["price"]
    means = {
        "as_is": price["as_is"]["mean"],
        "restored": price["restored_net"]["mean"],
        "parts": price["parts"]["mean"],
    }
    assert appraisal["worth"]["value"] == max(means.values())
    assert means[appraisal["worth"]["way"]] == pytest.approx(max(means.values()), rel=1e-9)


@pytest.mark.parametrize(
    ("means", "way"),
    [
        ((100.0, 100.0, 100.0), "as_is"),
        ((100.0, 100.0 + 5e-8, 0.0), "as_is"),
        ((100.0, 100.0 + 5e-7, 0.0), "restored"),
        ((0.0, 100.0, 100.0), "restored"),
        ((0.0, 100.0, 100.1), "parts"),
        ((1.0, -5.0, 1.0), "as_is"),
    ],
)
def test_ways_too_close_to_tell_apart_come_as_is_then_restored_then_parts(
    means: tuple[float, float, float], way: str
) -> None:
    assert worth(*means).way == way


@examples(80)
@given(findings())
def test_quantiles_in_parts_are_never_below_nothing(document: Json) -> None:
    parts = appraised({**document, "hour_rate": 500})["price"]["parts"]
    assert parts["mean"] < 0
    assert 0 <= parts["p10"] <= parts["p50"] <= parts["p90"]


def test_a_certain_sum_in_parts_is_the_same_at_every_quantile() -> None:
    assert InParts(12.0, 0.0).quantile(-1.28) == InParts(12.0, 0.0).quantile(1.28) == 12.0


@examples(60)
@given(findings())
def test_a_dearer_hour_never_raises_what_a_set_is_worth(document: Json) -> None:
    values = [numbers_of({**document, "hour_rate": rate}).worth.value for rate in (0, 5, 25)]
    assert values == sorted(values, reverse=True)


@pytest.mark.parametrize("aim", [aim["id"] for aim in pack_for()["aims"]])
def test_with_nothing_to_mend_the_set_restored_is_the_set_as_it_stands(aim: str) -> None:
    document: Json = {"family": FAMILY, "aim": aim, "hour_rate": 10}
    for check in pack_for()["checks"]:
        sound = next((option for option in check["options"] if not option["fixable"]), None)
        assert sound is not None, check["id"]
        document = with_answer(document, check["id"], sound["id"])
    document["answers"]["added-holes"] = "none"
    price = appraised(document)["price"]
    assert price["restored_net"]["mean"] == pytest.approx(price["as_is"]["mean"], rel=1e-12)


def test_an_option_is_mended_only_when_every_task_it_calls_serves_the_aim() -> None:
    pack = deepcopy(vectors()[0].pack)
    gone = pack["checks"][0]["options"][1]
    answers = {"coil": "gone", "crystal": "there", "holes": "none", "finish": "first"}
    for tasks, mended in ((["fit-coil"], False), (["fit-coil", "tidy"], False), (["tidy"], True)):
        gone["tasks"] = tasks
        prepared = prepare(pack)
        found = read_findings({"family": "tiny", "aim": "shelf", "answers": answers}, prepared)
        now = numbers(prepared, found).market
        assert (now.restored_mean > now.mean) == mended, tasks


def test_a_missing_part_is_mended_only_for_an_aim_that_its_task_serves() -> None:
    gone: Json = {"family": FAMILY}
    for check in pack_for()["checks"]:
        sound = next(option for option in check["options"] if not option["fixable"])
        gone = with_answer(gone, check["id"], sound["id"])
    gone = with_answer(with_answer(gone, "added-holes", "none"), "indicator-tube", "gone")
    task = next(task for task in pack_for()["tasks"] if task["id"] == "find-and-fit-indicator-tube")
    for aim in (aim["id"] for aim in pack_for()["aims"]):
        now = numbers_of({**gone, "aim": aim})
        mended = now.market.restored_mean > now.market.mean * (1 + 1e-12)
        assert mended == (aim in task["aims"]), aim
        assert (now.mending.total > 0) == mended
