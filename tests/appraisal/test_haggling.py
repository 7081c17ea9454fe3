"""What to point at: the largest findings first, true, and adding up (contract §11)."""

import math
from typing import Any

from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, check_of, pack_for
from tests.support.strategies import findings

Json = dict[str, Any]
MODEL = pack_for()["model"]
BAD = {"loading-coil": "gone", "dial": "gone", "knobs": "shafts-bare", "top-cover": "gone"}


@examples(80)
@given(findings())
def test_points_and_the_rest_add_up_to_the_median_less_the_reference(document: Json) -> None:
    appraisal = appraised(document)
    found = appraisal["haggling"]
    amounts = [point["amount"] for point in found["points"]]
    total = math.fsum(
        [*amounts, found["others"]["amount"], found["in_favour"]["amount"], found["not_checked"]]
    )
    median, reference = appraisal["price"]["as_is"]["p50"], appraisal["price"]["reference"]["median"]
    assert math.isclose(total, median - reference, rel_tol=1e-9, abs_tol=1e-9 * reference)


@examples(80)
@given(findings())
def test_points_are_findings_at_their_amount_the_largest_first_and_no_more_than_the_table_says(
    document: Json,
) -> None:
    appraisal = appraised(document)
    points = appraisal["haggling"]["points"]
    amounts = [point["amount"] for point in points]
    assert len(points) <= MODEL["points"]
    assert amounts == sorted(amounts)
    assert all(-amount >= MODEL["point_share"] * appraisal["price"]["as_is"]["p50"] for amount in amounts)
    known = {(row["what"], row["option"]): row["amount"] for row in appraisal["reasons"]}
    assert all(known[point["what"], point["option"]] == point["amount"] for point in points)


def test_what_is_not_checked_is_never_a_point() -> None:
    found = appraised({"family": FAMILY})["haggling"]
    assert found["points"] == []
    assert found["not_checked"] < 0


def test_a_point_says_the_sentence_of_its_row_or_its_check_and_answer() -> None:
    points = appraised({"family": FAMILY, "answers": BAD})["haggling"]["points"]
    assert {point["what"] for point in points} == set(BAD)
    for point in points:
        check = check_of(point["what"])
        option = next(option for option in check["options"] if option["id"] == point["option"])
        answer = option["label"][0].lower() + option["label"][1:]
        assert point["say"] == option.get("say", f"{check['label']}: {answer}.")


def test_added_holes_are_said_with_place_and_size() -> None:
    holes = [{"place": "front-panel", "diameter_mm": 16}, {"place": "back", "diameter_mm": 5.5}]
    (point,) = appraised({"family": FAMILY, "holes": holes})["haggling"]["points"]
    assert point["what"] == "holes"
    assert all(text in point["say"] for text in ("front panel, about 16 mm", "back, about 6 mm"))
