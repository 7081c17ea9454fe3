"""What to look at next: every look against appraising again with each answer (contract §8)."""

import math
import random
from collections.abc import Callable, Sequence
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.packs import (
    FAMILY,
    SHEETS,
    appraised,
    cheap_work,
    check_of,
    numbers_of,
    prepared_for,
    with_answer,
    without_hidden_answers,
)
from tests.support.random_findings import random_findings
from tests.support.strategies import findings, money
from webapp.appraisal.findings import read_findings
from webapp.appraisal.looking import Looking
from webapp.appraisal.numbers import Numbers, next_looks
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import misfits
from webapp.appraisal.worth import fair

Json = dict[str, Any]

FOREIGN = {"family": FAMILY, "coverage_khz": [3300, 5000], "crystal_khz": 2750, "region": 2}


PACKS = {"family": prepared_for(), **{s: prepared_for(s) for s in SHEETS}, "cheap work": cheap_work()}
packs = st.sampled_from(sorted(PACKS))


def looks_of(document: Json, prepared: Prepared | None = None) -> Looking:
    prepared = prepared or prepared_for(document.get("model_sheet"))
    return next_looks(prepared, read_findings(document, prepared), numbers_of(document, prepared))


def scale_of(document: Json, prepared: Prepared) -> float:
    return max(1.0, numbers_of(document, prepared).worth.value, document["asking"] or 0)


def computed(document: Json, prepared: Prepared) -> list[str]:
    """What does not fit, by the names of the effects."""
    return [name for name, *_ in misfits(prepared, numbers_of(document, prepared).standing)]


def moves_a_computed_effect(document: Json, prepared: Prepared, check: str) -> bool:
    """Whether an answer would bring in or take away a computed effect, which a look holds as it is (§8).

    Only what is compared with something else can do so.
    """
    row = prepared.pack["checks"][prepared.check_index[check]]
    if row.get("asks") not in ("crystal", "book", "finish", "service"):
        return False
    after = (with_answer(document, check, option["id"]) for option in row["options"])
    return any(computed(then, prepared) != computed(document, prepared) for then in after)


def width(now: Numbers) -> float:
    z90 = prepared_for().pack["model"]["z90"]
    return fair(now.market, now.parts, z90) - fair(now.market, now.parts, -z90)


def mean_after(document: Json, prepared: Prepared, check: str, figure: Any) -> float:
    """The mean of a figure over the answers of a check, each appraised from the beginning."""
    return math.fsum(
        option["prior"] * figure(numbers_of(with_answer(document, check, option["id"]), prepared))
        for option in check_of(check)["options"]
    )


def check_looks_by_appraising_again(document: Json, prepared: Prepared) -> None:
    """Asserts that every look is worth what appraising again with each of its answers says."""
    asking, now = document["asking"], numbers_of(document, prepared)
    for look in looks_of(document, prepared).looks:
        check = prepared.checks[look.check].id
        if moves_a_computed_effect(document, prepared, check):
            continue
        gain = mean_after(document, prepared, check, lambda then: max(0.0, then.worth.value - asking))
        expected = gain - max(0.0, now.worth.value - asking)
        assert math.isclose(look.evi, expected, rel_tol=0, abs_tol=1e-9 * scale_of(document, prepared)), check


@examples(25)
@given(findings(asking=money), packs)
def test_a_look_is_worth_what_appraising_again_with_each_answer_says(document: Json, pack: str) -> None:
    check_looks_by_appraising_again(without_hidden_answers(document), PACKS[pack])


def test_looks_are_worth_the_same_where_restoring_is_best_and_the_price_near(
    sweep: Callable[[int], Sequence[int]],
) -> None:
    tried = 0
    for seed in sweep(600):
        rng = random.Random(seed)
        document = without_hidden_answers(random_findings(cheap_work().pack, rng))
        worth = numbers_of(document, cheap_work()).worth
        if worth.way == "restored" and worth.value > 0:
            check_looks_by_appraising_again(
                {**document, "asking": worth.value * rng.uniform(0.6, 1.1)}, cheap_work()
            )
            tried += 1
    assert tried > len(sweep(600)) / 5


@examples(25)
@given(findings(asking=st.none()), packs)
def test_without_a_price_a_look_is_worth_the_width_it_takes_off_the_fair_range(
    document: Json, pack: str
) -> None:
    document, prepared = without_hidden_answers(document), PACKS[pack]
    before = width(numbers_of(document, prepared))
    for look in looks_of(document, prepared).looks:
        check = prepared.checks[look.check].id
        if moves_a_computed_effect(document, prepared, check):
            continue
        expected = before - mean_after(document, prepared, check, width)
        assert math.isclose(look.evi, expected, rel_tol=0, abs_tol=1e-9 * max(1.0, before)), check


@examples(150)
@given(findings(asking=money), packs)
def test_no_look_has_a_negative_value_when_a_price_is_asked(document: Json, pack: str) -> None:
    prepared = PACKS[pack]
    least, ahead = -1e-9 * scale_of(document, prepared), looks_of(document, prepared)
    assert all(look.evi >= least for look in ahead.looks)
    assert ahead.value >= least


@examples(60)
@given(findings(asking=money))
def test_the_looks_on_the_list_are_those_shown_open_and_not_out_of_reach(document: Json) -> None:
    appraisal = appraised(document)
    listed = [look["check"] for look in appraisal["next_checks"]]
    assert sorted(listed) == sorted(set(appraisal["not_checked"]) - set(document["unseen"]))


@examples(60)
@given(findings())
def test_looks_come_by_value_a_second_then_by_spread_a_second_then_in_table_order(document: Json) -> None:
    now, ahead = numbers_of(document), looks_of(document)
    prepared = prepared_for(document["model_sheet"])
    floor = 0.1 * 0.01 * max(document["asking"] or 0, now.worth.value)

    def key(look: Any) -> tuple[float, float, int]:
        counted = look.evi if look.evi >= floor else 0.0
        return -counted / look.seconds, -prepared.checks[look.check].spread / look.seconds, look.check

    assert [look.check for look in ahead.looks] == [look.check for look in sorted(ahead.looks, key=key)]


def test_the_look_at_a_crystal_already_read_as_foreign_holds_the_computed_effect_fixed() -> None:
    """ "Nothing else changed" (§8): answering does not bring in the effect of the foreign crystal.

    So the look is worth the same as before the crystal was read, and never less than nothing.
    """
    read = {**FOREIGN, "asking": 120}
    unread = {key: value for key, value in read.items() if key != "crystal_khz"}
    evi = {look.check: look.evi for look in looks_of(read).looks}
    assert moves_a_computed_effect(read, prepared_for(), "check-crystal")
    assert evi == {look.check: look.evi for look in looks_of(unread).looks}
    crystal = prepared_for().check_index["check-crystal"]
    assert evi[crystal] >= 0


def test_a_check_out_of_reach_leaves_the_ranking_and_no_other_number() -> None:
    before = appraised({"family": FAMILY, "asking": 120})
    after = appraised({"family": FAMILY, "asking": 120, "unseen": ["loading-coil"]})
    assert "loading-coil" in [look["check"] for look in before["next_checks"]]
    assert "loading-coil" not in [look["check"] for look in after["next_checks"]]
    assert after["price"] == before["price"]
    assert after["effort"] == before["effort"]
    assert after["unseen"] == ["loading-coil"]
    assert after["looking"]["value"] < before["looking"]["value"]


def test_nothing_left_to_look_at_is_worth_nothing() -> None:
    document = {"family": FAMILY, "asking": 120, "answers": {}}
    for check in prepared_for().pack["checks"]:
        document = with_answer(document, check["id"], check["options"][0]["id"])
    assert appraised(document)["next_checks"] == []
    assert appraised(document)["looking"]["value"] == 0


def test_a_gift_leaves_no_value_in_looking() -> None:
    appraisal = appraised({"family": FAMILY, "asking": 0})
    assert appraisal["looking"]["value"] == 0
    assert appraisal["verdict"]["word"] == "pay it"
