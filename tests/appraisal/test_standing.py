"""Holes, hidden follow-ups and what a finding stands for (contract §1, §2, §3)."""

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, numbers_of, pack_for, without_hidden_answers
from tests.support.strategies import findings, holes

Json = dict[str, Any]

FOLLOW_UPS = [check for check in pack_for()["checks"] if check["shown_if"]]


@examples(120)
@given(findings(), holes(least=2))
def test_one_hole_more_in_a_list_never_raises_the_median(document: Json, listed: list[Json]) -> None:
    document = {**document, "answers": {**document["answers"], "added-holes": "some"}, "unseen": []}
    fewer = numbers_of({**document, "holes": listed[:-1]})
    more = numbers_of({**document, "holes": listed})
    assert more.market.quantile(0) <= fewer.market.quantile(0)
    assert more.standing.drilled is not None
    assert fewer.standing.drilled is not None
    assert more.standing.drilled.severity >= fewer.standing.drilled.severity


@examples(60)
@given(holes(least=2), st.randoms(use_true_random=False))
def test_the_order_of_the_holes_does_not_matter(listed: list[Json], rng: Any) -> None:
    mixed = rng.sample(listed, len(listed))
    first = appraised({"family": FAMILY, "holes": listed})
    second = appraised({"family": FAMILY, "holes": mixed})
    assert second["holes"]["severity"] == pytest.approx(first["holes"]["severity"], rel=1e-12)
    assert second["price"]["as_is"] == pytest.approx(first["price"]["as_is"], rel=1e-12)
    assert second["effort"]["hours"] == pytest.approx(first["effort"]["hours"], rel=1e-12)


@examples(120)
@given(findings())
def test_answers_of_hidden_follow_ups_change_nothing(document: Json) -> None:
    shown_only = without_hidden_answers(document)
    assume(shown_only["answers"] != document["answers"])
    assert appraised(shown_only) == appraised(document)


@pytest.mark.parametrize("follow_up", FOLLOW_UPS, ids=lambda check: check["id"])
def test_opening_a_follow_up_moves_no_median(follow_up: Json) -> None:
    """The prior-weighted mean of its effects is 0 to 0.005, so the parent's answer alone sets the median."""
    parent = follow_up["shown_if"]["check"]
    option = follow_up["shown_if"]["options"][0]
    shown = appraised({"family": FAMILY, "answers": {parent: option}})
    own = next(row for row in shown["reasons"] if row["what"] == parent)["log_effect"]
    mean = sum(row["prior"] * row["log_effect"][0] for row in follow_up["options"])
    assert abs(mean) <= 0.005
    assert follow_up["id"] in shown["not_checked"]
    check = next(check for check in pack_for()["checks"] if check["id"] == parent)
    assert own == next(row for row in check["options"] if row["id"] == option)["log_effect_open"][0]


@pytest.mark.parametrize("follow_up", FOLLOW_UPS, ids=lambda check: check["id"])
def test_a_follow_up_is_not_on_the_list_before_its_parent_opens_it(follow_up: Json) -> None:
    assert follow_up["id"] not in appraised({"family": FAMILY})["not_checked"]


def test_holes_listed_stand_for_the_answer_some() -> None:
    listed = [{"place": "front-panel", "diameter_mm": 16}]
    answered = appraised({"family": FAMILY, "holes": listed, "answers": {"added-holes": "some"}})
    assert appraised({"family": FAMILY, "holes": listed}) == answered
    assert "added-holes" not in answered["not_checked"]


def test_a_plugged_and_an_enlarged_hole_are_less_severe_than_an_open_one() -> None:
    def severity(as_found: str) -> float:
        hole = {"place": "front-panel", "diameter_mm": 16, "as_found": as_found}
        return float(appraised({"family": FAMILY, "holes": [hole]})["holes"]["severity"])

    assert severity("plugged") < severity("open")
    assert severity("enlarged") == severity("open") / 2


@pytest.mark.parametrize("place", pack_for()["holes"]["places"], ids=lambda place: place["id"])
def test_a_hole_exactly_on_a_limit_takes_the_smaller_row(place: Json) -> None:
    for row, larger in zip(place["sizes"], place["sizes"][1:], strict=False):
        on = {"place": place["id"], "diameter_mm": row["up_to_mm"]}
        above = {"place": place["id"], "diameter_mm": row["up_to_mm"] + 0.01}
        assert appraised({"family": FAMILY, "holes": [on]})["holes"]["severity"] == row["severity"]
        assert appraised({"family": FAMILY, "holes": [above]})["holes"]["severity"] == larger["severity"]
