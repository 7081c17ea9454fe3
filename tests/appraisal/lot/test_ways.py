"""What a set's ways rest on: the appraisal of the set itself, and the contract's words on parts."""

from typing import Any

import pytest

from tests.support.lots import problem_of
from tests.support.packs import appraised, pack_for
from webapp.appraisal.lot.problem import LotSet, Problem
from webapp.appraisal.prepared import three_point

Json = dict[str, Any]

TERN: Json = {"family": "aircraft-hf-transmitter", "model_sheet": "tern-b", "region": 2}


def best_answers(pack: Json) -> dict[str, str]:
    """Every part at its best option: highest state, then highest mean effect."""
    return {
        check["id"]: max(check["options"], key=lambda option: (option["state"], option["log_effect"][0]))[
            "id"
        ]
        for check in pack["checks"]
        if check["part"]
    }


WHOLE = best_answers(pack_for("tern-b"))


def tern(**answers: str) -> Json:
    return TERN | {"answers": {check.replace("_", "-"): option for check, option in answers.items()}}


def whole_but(**answers: str) -> Json:
    return TERN | {"answers": WHOLE | {check.replace("_", "-"): option for check, option in answers.items()}}


def only(problem: Problem) -> LotSet:
    (one,) = problem.sets
    return one


def parts_taken(problem: Problem, way: int = 0) -> set[str]:
    return {problem.stocks[need.stock].part for need in problem.sets[0].completes[way].takes}


@pytest.mark.parametrize("found", [tern(), tern(dial="gone", case="dented"), whole_but()])
def test_a_set_as_it_stands_and_broken_is_worth_what_its_own_appraisal_says(found: Json) -> None:
    one = only(problem_of({"sets": [found], "hour_rate": 5}))
    price = appraised(found | {"hour_rate": 5})["price"]
    assert one.as_is == pytest.approx(price["as_is"]["mean"], rel=1e-12)
    assert one.broken - 5 * one.break_hours == pytest.approx(price["parts"]["mean"], rel=1e-12)


def test_completed_a_set_is_worth_the_mean_of_its_appraisal_with_those_parts_at_their_best() -> None:
    found = tern(loading_coil="gone", knobs="one-odd", case="cut")
    problem = problem_of({"sets": [found]})
    taken = parts_taken(problem)
    # Nobody looked at the rest: what is more likely there than not counts as there.
    unlikely = {"handbook", "mating-plug", "mounting-rack"}
    assert taken == {"loading-coil", "knobs", "case"} | unlikely
    completed = found | {"answers": found["answers"] | {check: WHOLE[check] for check in taken}}
    then = problem.figures[0].completed[0]
    assert then.mean == pytest.approx(appraised(completed)["price"]["as_is"]["mean"], rel=1e-12)


def test_the_work_of_completing_is_that_of_the_options_replaced_without_the_price_of_the_parts() -> None:
    tasks = {task["id"]: task for task in pack_for("tern-b")["tasks"]}
    parts = {part["id"]: part for part in pack_for("tern-b")["parts"]}
    fit, door = tasks["find-and-fit-loading-coil"]["set_up"], tasks["straighten-sheet-metal"]["set_up"]
    problem = problem_of({"sets": [whole_but(loading_coil="gone", top_cover="dented", tube_doors="loose")]})
    then = problem.figures[0].completed[0]
    # Two findings call for the straightening; it is done once.
    assert then.hours == pytest.approx(three_point(fit["hours"])[0] + three_point(door["hours"])[0])
    coil = three_point(parts["loading-coil"]["buy"])[0]
    materials = three_point(fit["materials"])[0] - coil + three_point(door["materials"])[0]
    assert then.materials == pytest.approx(materials)


def test_a_whole_set_has_nothing_to_complete() -> None:
    assert only(problem_of({"sets": [whole_but()]})).completes == ()


def test_what_nobody_sells_and_no_other_set_has_stays_as_found() -> None:
    found = whole_but(tuned_coils="gone", loading_coil="gone")
    assert parts_taken(problem_of({"sets": [found]})) == {"loading-coil"}
    # A second one with the same gap does not help; one with coils does, and leaves both ways open.
    assert parts_taken(problem_of({"sets": [found, found]})) == {"loading-coil"}
    beside = problem_of({"sets": [found, whole_but()]})
    assert parts_taken(beside, 0) == {"loading-coil", "tuned-coils"}
    assert parts_taken(beside, 1) == {"loading-coil"}


def test_sets_without_a_model_sheet_exchange_only_what_fits_all_of_the_family() -> None:
    family = TERN | {"model_sheet": None}
    problem = problem_of({"sets": [family | {"answers": WHOLE}]})
    given = {problem.stocks[give.stock].part for give in only(problem).gives}
    fits = {part["id"] for part in pack_for()["parts"] if part["fits_family"]}
    assert given == fits


def test_what_comes_out_of_a_set_worthless_is_handed_to_nobody() -> None:
    wiring = next(part for part in pack_for("tern-b")["parts"] if part["id"] == "wiring")
    assert wiring["salvage"] == [0, 0, 0]
    problem = problem_of({"sets": [whole_but(), whole_but(wiring="plastic")]})
    assert "wiring" not in {problem.stocks[give.stock].part for give in problem.sets[0].gives}
    assert problem.sets[1].completes == ()


def test_a_nameplate_and_a_book_of_one_serial_number_stay_with_their_set() -> None:
    curlew = {"family": "frequency-meter", "model_sheet": "curlew"}
    sets = [curlew | {"answers": best_answers(pack_for("curlew"))}, whole_but()]
    problem = problem_of({"sets": sets})
    given = {problem.stocks[give.stock].part for one in problem.sets for give in one.gives}
    assert given.isdisjoint({"nameplate", "calibration-book"})
    assert "check-crystal" in given


def test_a_crystal_of_another_set_is_neither_given_nor_left_in_a_completed_one() -> None:
    found = whole_but() | {"crystal_khz": 5555.0}
    assert [row["result"] for row in appraised(found)["consistency"] if row["check"] == "crystal"] == [
        "does not fit"
    ]
    problem = problem_of({"sets": [found]})
    assert parts_taken(problem) == {"check-crystal"}
    assert "check-crystal" not in {problem.stocks[give.stock].part for give in only(problem).gives}
    clean = appraised(whole_but())["price"]["as_is"]["mean"]
    assert problem.figures[0].completed[0].mean == pytest.approx(clean, rel=1e-12)


def test_another_currency_multiplies_every_sum_by_its_rate() -> None:
    found = tern(loading_coil="gone")
    here, there = (
        only(problem_of({"sets": [found], **money})) for money in ({}, {"currency": "EUR", "rate": 0.5})
    )
    assert there.as_is == pytest.approx(here.as_is / 2)
    assert there.broken == pytest.approx(here.broken / 2)
    assert there.completes[0].value == pytest.approx(here.completes[0].value / 2)


def test_a_worse_part_never_makes_a_set_worth_more_in_any_way() -> None:
    for check in pack_for("tern-b")["checks"]:
        if not check["part"]:
            continue
        options = sorted(check["options"], key=lambda option: (option["state"], option["log_effect"][0]))
        ways = [only(problem_of({"sets": [whole_but(**{check["id"]: o["id"]})]})) for o in options]
        assert [one.as_is for one in ways] == sorted(one.as_is for one in ways), check["id"]
        assert [one.broken for one in ways] == sorted(one.broken for one in ways), check["id"]
