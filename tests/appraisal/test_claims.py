"""A seller's claims beside what was found: what agrees, what differs, and what that is worth."""

import math
import random
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest

from tests.support.claims import FIGURES, random_found, random_holes, random_told
from tests.support.packs import kinds, pack_for, prepared_for
from webapp.appraisal.claimed_holes import Links
from webapp.appraisal.claims import AGREES, DIFFERS, OPEN, Checked, claims
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import numbers
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reasons import money_scale

Json = dict[str, Any]
Sweep = Callable[[int], Sequence[int]]


def checked(prepared: Prepared, told: Json, found: Json, links: Json | None = None) -> Checked:
    """The claims of one document beside another."""
    read = read_findings(found, prepared)
    given = links or {"answers": [], "gone": []}
    by_hand = Links(tuple(given["answers"]), frozenset(given["gone"]))
    return claims(prepared, numbers(prepared, read), read, read_findings(told, prepared), by_hand)


def states(result: Checked) -> dict[str, str]:
    """How each claim stands."""
    return {claim.id: claim.state for claim in result.claims}


def log_price(prepared: Prepared, document: Json) -> float:
    """The logarithm of the middle price."""
    return numbers(prepared, read_findings(document, prepared)).market.log_median


def cases(seeds: Sequence[int]) -> Iterator[tuple[Prepared, Json, random.Random]]:
    """Random packs and what was told of a set of their kind."""
    packs = kinds()
    for seed in seeds:
        rng = random.Random(seed)
        family, sheet = packs[seed % len(packs)]
        yield prepared_for(sheet, family), random_told(pack_for(sheet, family), rng), rng


@pytest.fixture(scope="module")
def tern() -> Prepared:
    """A Tern B, ready for arithmetic."""
    return prepared_for("tern-b")


def test_whoever_looked_at_nothing_agrees_and_differs_in_nothing(sweep: Sweep) -> None:
    for prepared, told, _ in cases(sweep(400)):
        result = checked(prepared, told, {})
        assert set(states(result).values()) <= {OPEN}
        assert (result.checked, result.differences, result.amount) == (0, (), 0)


def test_what_is_as_told_agrees_and_makes_no_difference(sweep: Sweep) -> None:
    for prepared, told, _ in cases(sweep(400)):
        result = checked(prepared, told, told)
        assert set(states(result).values()) <= {AGREES}
        assert result.checked == len(result.claims)
        assert (result.differences, result.amount) == ((), 0)


def test_the_differences_are_those_claims_that_differ_and_the_holes_that_nobody_told_of(sweep: Sweep) -> None:
    for prepared, told, rng in cases(sweep(400)):
        found, links = random_found(prepared.pack, told, rng)
        result = checked(prepared, told, found, links)
        differing = [claim.id for claim in result.claims if claim.state == DIFFERS]
        others = [row.id for row in result.differences if row.id.startswith("untold/")]
        assert [row.id for row in result.differences] == [*differing, *others]
        assert result.amount == pytest.approx(sum(row.amount for row in result.differences))


def everything_looked_at(prepared: Prepared, told: Json, rng: random.Random) -> tuple[Json, Json]:
    """Findings for everything told and for nothing else, with the links of the holes."""
    checks = {check["id"]: check["options"] for check in prepared.pack["checks"]}
    answers = {
        check: rng.choice([option, option, rng.choice(checks[check])["id"]])
        for check, option in told["answers"].items()
    }
    found = told | {"answers": answers}
    for key in FIGURES:
        if told.get(key) and rng.random() < 0.4:
            found[key] = random_told(prepared.pack, rng).get(key) or told[key]
    hole_check = prepared.checks[prepared.hole_check].id
    links: Json = {"answers": [], "gone": []}
    if told["holes"]:
        found["holes"], links = random_holes(prepared.pack, told["holes"], rng, all_seen=True)
        answers.pop(hole_check, None)
        if not found["holes"]:
            answers[hole_check] = "none"
    return found, links


def test_the_differences_add_up_to_what_they_take_off_the_price_of_what_was_told(sweep: Sweep) -> None:
    """Told beside found, all looked at: the appraisal itself says how far the two prices lie apart."""
    for prepared, told, rng in cases(sweep(1000)):
        found, links = everything_looked_at(prepared, told, rng)
        result = checked(prepared, told, found, links)
        assert set(states(result).values()) <= {AGREES, DIFFERS}
        apart = log_price(prepared, found) - log_price(prepared, told)
        assert sum(row.log_effect for row in result.differences) == pytest.approx(apart, abs=1e-12)


def test_amounts_are_effects_by_the_money_scale_of_the_buyers_appraisal(sweep: Sweep) -> None:
    for prepared, told, rng in cases(sweep(200)):
        found, links = random_found(prepared.pack, told, rng)
        scale = money_scale(numbers(prepared, read_findings(found, prepared)).market)
        for row in checked(prepared, told, found, links).differences:
            assert row.amount == pytest.approx(row.log_effect * scale)


def test_an_answer_for_the_worse_never_raises_the_price(sweep: Sweep) -> None:
    for prepared, told, rng in cases(sweep(400)):
        told = bare(prepared, told)
        shown = [name[6:] for name in states(checked(prepared, told, {})) if name.startswith("check/")]
        for check_id in rng.sample(shown, min(6, len(shown))):
            check = prepared.checks[prepared.check_index[check_id]]
            was = check.options[check.index_of[told["answers"][check_id]]]
            worse = [option for option in check.options if option.mean < was.mean and not was.opens]
            for option in worse:
                found = told | {"answers": told["answers"] | {check_id: option.id}}
                (difference,) = checked(prepared, told, found).differences
                assert difference.amount < 0, (check_id, option.id)
                assert log_price(prepared, found) < log_price(prepared, told), (check_id, option.id)


def bare(prepared: Prepared, told: Json) -> Json:
    """The answers alone, without those that are compared with something else."""
    left = {prepared.checks[index].id for _, index in prepared.comparable}
    answers = {check: option for check, option in told["answers"].items() if check not in left}
    return {"answers": {check: option for check, option in answers.items() if option != "some"}}


def test_a_worse_hole_and_one_more_take_something_off_and_one_fewer_gives_something_back(
    tern: Prepared,
) -> None:
    told = {"holes": [hole("front-panel", 10), hole("back", 5)]}
    larger = checked(tern, told, {"holes": [hole("front-panel", 40), hole("back", 5)]}, links(0, 1))
    more = checked(tern, told, {"holes": [*told["holes"], hole("side", 20)]})
    fewer = checked(tern, told, {"holes": [hole("front-panel", 10)]}, links(0, gone=[1]))
    plugged = checked(tern, told, {"holes": [hole("front-panel", 10, "plugged")]}, links(0))
    assert [(row.id, row.amount < 0) for row in larger.differences] == [("hole/0", True)]
    assert [(row.id, row.amount < 0) for row in more.differences] == [("untold/2", True)]
    assert [(row.id, row.amount > 0) for row in fewer.differences] == [("hole/1", True)]
    assert [(row.id, row.amount > 0) for row in plugged.differences] == [("hole/0", True)]
    assert states(plugged) == {"hole/0": DIFFERS, "hole/1": OPEN}


def hole(place: str, diameter_mm: float, as_found: str = "open") -> Json:
    """An added hole."""
    return {"place": place, "diameter_mm": diameter_mm, "as_found": as_found}


def links(*answers: int | None, gone: Sequence[int] = ()) -> Json:
    """Which told hole each found one answers, and which told ones are not there."""
    return {"answers": list(answers), "gone": list(gone)}


def test_a_hole_listed_by_eye_answers_the_told_one_of_its_place_state_and_size(tern: Prepared) -> None:
    told = {"holes": [hole("front-panel", 12.5), hole("front-panel", 9)]}
    by_eye = hole("front-panel", 9.7)
    assert states(checked(tern, told, {"holes": [by_eye]})) == {"hole/0": AGREES, "hole/1": OPEN}
    assert states(checked(tern, told, {"holes": [hole("front-panel", 9)]}))["hole/1"] == AGREES
    for other in (hole("back", 12.5), hole("front-panel", 12.5, "plugged"), hole("front-panel", 30)):
        result = checked(tern, told, {"holes": [other]})
        assert set(states(result).values()) == {OPEN}
        assert [row.id for row in result.differences] == ["untold/0"]


def test_a_linked_hole_of_another_size_differs_even_where_the_tables_see_none(tern: Prepared) -> None:
    told = {"holes": [hole("front-panel", 12.5)]}
    result = checked(tern, told, {"holes": [hole("front-panel", 9.7)]}, links(0))
    (difference,) = result.differences
    assert (difference.id, difference.amount) == ("hole/0", 0)


def test_told_of_no_holes_the_holes_found_are_one_difference_and_told_of_some_they_are_none(
    tern: Prepared,
) -> None:
    found = {"holes": [hole("front-panel", 16), hole("back", 5)]}
    none = checked(tern, {"answers": {"added-holes": "none"}}, found)
    assert [(row.id, row.amount < 0) for row in none.differences] == [("check/added-holes", True)]
    assert checked(tern, {"answers": {"added-holes": "some"}}, found).differences == ()
    not_looked = checked(tern, {}, found)
    assert (not_looked.claims, [row.id for row in not_looked.differences]) == ((), ["untold/0", "untold/1"])


def test_where_no_holes_are_found_every_told_one_is_gone(tern: Prepared) -> None:
    told = {"holes": [hole("front-panel", 16), hole("back", 5)]}
    result = checked(tern, told, {"answers": {"added-holes": "none"}})
    assert states(result) == {"hole/0": DIFFERS, "hole/1": DIFFERS}
    assert result.amount > 0


def test_a_serial_number_agrees_however_it_is_written(tern: Prepared) -> None:
    told = {"serial": "No. 1184"}
    assert states(checked(tern, told, {"serial": "SER. NO. 1184 "})) == {"figure/serial": AGREES}
    assert states(checked(tern, told, {"serial": "1185"})) == {"figure/serial": DIFFERS}
    assert states(checked(tern, {"nameplate": "Tern  B"}, {"nameplate": " TERN B"})) == {
        "figure/nameplate": AGREES
    }


def test_what_no_longer_fits_is_laid_to_the_figure_that_makes_it_so(tern: Prepared) -> None:
    told = {"answers": {"check-crystal": "there"}, "coverage_khz": [3300, 5000], "crystal_khz": 4120}
    found = told | {"crystal_khz": 5900}
    (difference,) = checked(tern, told, found).differences
    assert difference.id == "figure/crystal"
    assert difference.log_effect == tern.pack["effects"]["crystal_foreign"][0]


def test_a_follow_up_falls_away_with_the_answer_that_opened_it() -> None:
    for prepared, told, opener, follow_up in followed_up():
        assert states(checked(prepared, told, told)) == {
            f"check/{opener}": AGREES, f"check/{follow_up}": AGREES
        }  # fmt: skip
        parent = prepared.checks[prepared.check_index[opener]]
        other = next(option.id for option in parent.options if not option.opens)
        found = {"answers": told["answers"] | {opener: other}}
        assert states(checked(prepared, told, found)) == {f"check/{opener}": DIFFERS}
        # Hidden behind an open question, an answer was not given.
        alone = {"answers": {follow_up: told["answers"][follow_up]}}
        assert set(states(checked(prepared, told, alone)).values()) == {OPEN}


def followed_up() -> Iterator[tuple[Prepared, Json, str, str]]:
    """Packs, each with an answer told that opens a follow-up, and that one answered too."""
    for family, sheet in kinds():
        prepared = prepared_for(sheet, family)
        for check in prepared.checks:
            if check.parent >= 0 and prepared.checks[check.parent].parent < 0:
                parent = prepared.checks[check.parent]
                opener = next(o for o in parent.options if prepared.check_index[check.id] in o.opens)
                answers = {parent.id: opener.id, check.id: check.options[0].id}
                yield prepared, {"answers": answers}, parent.id, check.id


def test_the_order_of_answers_and_holes_does_not_matter(sweep: Sweep) -> None:
    for prepared, told, rng in cases(sweep(400)):
        found, given = random_found(prepared.pack, told, rng)
        first = checked(prepared, told, found, given)
        order = rng.sample(range(len(found["holes"])), len(found["holes"]))
        answers = rng.sample(list(found["answers"].items()), len(found["answers"]))
        again = checked(
            prepared,
            told,
            found | {"answers": dict(answers), "holes": [found["holes"][at] for at in order]},
            {"answers": [given["answers"][at] for at in order], "gone": given["gone"][::-1]},
        )
        assert again.claims == first.claims
        assert sorted(row.log_effect for row in again.differences) == pytest.approx(
            sorted(row.log_effect for row in first.differences), abs=1e-12
        )
        assert math.isclose(again.amount, first.amount, rel_tol=1e-9, abs_tol=1e-9)


def test_links_to_holes_that_nobody_told_of_are_passed_over(tern: Prepared) -> None:
    told = {"holes": [hole("front-panel", 16)]}
    found = {"holes": [hole("back", 5), hole("front-panel", 30), hole("side", 3)]}
    result = checked(tern, told, found, links(7, 0, 0, gone=[0, 9]))
    assert states(result) == {"hole/0": DIFFERS}
    assert [row.id for row in result.differences] == ["hole/0", "untold/0", "untold/2"]
