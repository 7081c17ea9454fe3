"""What if a finding were mended: its gain, its cost, and the range it would leave (contract §7, §11)."""

import math
from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, pack_for
from tests.support.strategies import findings

Json = dict[str, Any]
TASKS = {task["id"]: task for task in pack_for()["tasks"]}


def mend_of(what: str, **document: Any) -> Json:
    """The one mend of a finding."""
    found = appraised({"family": FAMILY, **document})["mends"]
    mend: Json = next(row for row in found if row["what"] == what)
    return mend


@examples(80)
@given(findings())
def test_a_mend_gains_what_its_finding_takes_off_wherever_that_is_shown(document: Json) -> None:
    appraisal = appraised(document)
    taken = {row["what"]: -row["amount"] for row in appraisal["reasons"]}
    for mend in appraisal["mends"]:
        if mend["what"] == "holes":
            assert mend["gain"] <= taken["holes"] * (1 + 1e-12)
        else:
            assert mend["gain"] == pytest.approx(taken[mend["what"]], rel=1e-12)


@examples(80)
@given(findings())
def test_what_mends_bring_and_what_stays_is_all_that_lowers_the_price(document: Json) -> None:
    appraisal = appraised(document)
    lowering = [row["amount"] for row in appraisal["reasons"] if row["what"] != "not checked"]
    gains = [row["gain"] for row in appraisal["mends"]]
    lasting = [-row["amount"] for row in appraisal["lasting"]]
    assert all(amount > 0 for amount in lasting)
    total = -math.fsum(amount for amount in lowering if amount < 0)
    assert math.fsum([*gains, *lasting]) == pytest.approx(total, rel=1e-9, abs=1e-9)


@examples(80)
@given(findings())
def test_mends_come_by_gain_an_hour_and_take_time_and_leave_a_better_range(document: Json) -> None:
    appraisal = appraised(document)
    now = appraisal["price"]["fair"]
    ranks = [math.inf if row["per_hour"] is None else row["per_hour"] for row in appraisal["mends"]]
    assert ranks == sorted(ranks, reverse=True)
    for mend in appraisal["mends"]:
        assert mend["tasks"]
        assert mend["hours"]["p90"] >= mend["hours"]["p50"] >= 0
        assert mend["materials"]["p90"] >= mend["materials"]["p50"] >= 0
        assert all(mend["then"][p] >= now[q] for p, q in (("p10", "low"), ("p50", "mid"), ("p90", "high")))
        paid = document["hour_rate"] * mend["hours"]["p50"]
        assert mend["net"] == pytest.approx(mend["gain"] - mend["materials"]["p50"] - paid, abs=1e-9)


def test_a_mend_takes_the_hours_of_its_tasks() -> None:
    """By hand: (low + 4·likely + high)/6 of the one task."""
    mend = mend_of("loading-coil", answers={"loading-coil": "gone"}, hour_rate=10)
    assert mend["tasks"] == ["find-and-fit-loading-coil"]
    low, likely, high = TASKS["find-and-fit-loading-coil"]["set_up"]["hours"]
    hours = (low + 4 * likely + high) / 6
    assert mend["hours"]["p50"] == pytest.approx(hours)
    assert mend["per_hour"] == pytest.approx((mend["gain"] - mend["materials"]["p50"]) / hours)


def test_the_range_after_a_mend_is_that_of_an_appraisal_with_the_effect_at_nothing() -> None:
    without = appraised({"family": FAMILY, "answers": {"dial": "whole"}})["price"]["as_is"]
    mended = mend_of("dial", answers={"dial": "gone"})["then"]
    dial = next(check for check in pack_for()["checks"] if check["id"] == "dial")
    mean, _ = next(option for option in dial["options"] if option["as_made"])["log_effect"]
    assert mended["p50"] == pytest.approx(without["p50"] * math.exp(-mean))


def test_materials_are_in_the_currency_of_the_appraisal() -> None:
    own = mend_of("dial", answers={"dial": "gone"})
    other = mend_of("dial", answers={"dial": "gone"}, currency="EUR", rate=2.0)
    assert other["materials"]["p50"] == pytest.approx(2 * own["materials"]["p50"])
    assert other["gain"] == pytest.approx(2 * own["gain"])


def test_two_mends_that_call_one_task_say_that_they_share_it() -> None:
    answers = {"loading-coil": "gone", "top-cover": "dented", "case": "dented"}
    found = appraised({"family": FAMILY, "answers": answers})["mends"]
    assert {row["what"]: row["shared"] for row in found} == {
        "loading-coil": False,
        "top-cover": True,
        "case": True,
    }


def test_a_crystal_of_another_set_is_mended_by_finding_the_right_one() -> None:
    answers = {"check-crystal": "there"}
    mend = mend_of("crystal_foreign", model_sheet="tern-b", answers=answers, crystal_khz=2750)
    assert mend["tasks"] == ["find-and-fit-check-crystal"]


def test_holes_are_mended_as_far_as_they_can_be_filled() -> None:
    """By hand: severity times what filling leaves, then the law of the holes."""
    pack = pack_for()
    law = pack["holes"]
    sizes = {place["id"]: place["sizes"] for place in law["places"]}
    front = next(size for size in sizes["front-panel"] if size["up_to_mm"] >= 16)
    base = sizes["chassis"][1]
    severity = front["severity"] + base["severity"]
    left = front["severity"] * (1 - front["fixable"]) + base["severity"]
    holes = [{"place": "front-panel", "diameter_mm": 16}, {"place": "chassis", "diameter_mm": 10}]
    appraisal = appraised({"family": FAMILY, "holes": holes})
    (row,) = [row for row in appraisal["reasons"] if row["what"] == "holes"]
    (mend,) = [row for row in appraisal["mends"] if row["what"] == "holes"]
    (stays,) = [row for row in appraisal["lasting"] if row["what"] == "holes"]
    share = 1 - math.log(1 + left / law["b"]) / math.log(1 + severity / law["b"])
    assert mend["tasks"] == [front["task"]]
    assert mend["gain"] == pytest.approx(-row["amount"] * share)
    assert stays["amount"] == pytest.approx(row["amount"] * (1 - share))


def test_holes_that_nothing_fills_are_lasting() -> None:
    appraisal = appraised({"family": FAMILY, "holes": [{"place": "chassis", "diameter_mm": 10}]})
    assert [row["what"] for row in appraisal["lasting"]] == ["holes"]
    assert appraisal["mends"] == []
