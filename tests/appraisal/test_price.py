"""The price as it stands: which way findings may move it, and what one answer does (contract §3)."""

import math
import random
from collections.abc import Callable, Sequence
from itertools import combinations
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.packs import (
    FAMILY,
    SHEETS,
    check_of,
    families,
    kinds,
    numbers_of,
    pack_for,
    prepared_for,
    with_answer,
    without_hidden_answers,
)
from tests.support.random_findings import random_findings
from tests.support.strategies import findings

Json = dict[str, Any]

CHECKS = [check["id"] for check in pack_for()["checks"]]


def own_effect(option: Json) -> tuple[float, float]:
    mean, sd = option["log_effect_open"] or option["log_effect"]
    return mean, sd


PAIRS = [
    (check["id"], *sorted(pair, key=own_effect))
    for check in pack_for()["checks"]
    for pair in combinations(check["options"], 2)
]
COMPARED = {row["id"] for row in pack_for()["checks"] if row.get("asks") in ("service", "finish")}
SAME_SPREAD = [
    (check, low, high)
    for check, low, high in PAIRS
    if own_effect(low)[1] == own_effect(high)[1] and low["log_effect_open"] is high["log_effect_open"] is None
]


def with_only_this_answer_changed(document: Json, check: str, option: str) -> Json:
    """Another answer to one check; its follow-ups and listed holes are taken out."""
    changed = {**document, "holes": [] if check == "added-holes" else document["holes"]}
    follow_ups = {
        row["id"] for row in pack_for()["checks"] if row["shown_if"] and row["shown_if"]["check"] == check
    }
    changed["answers"] = {key: value for key, value in document["answers"].items() if key not in follow_ups}
    return with_answer(changed, check, option)


@examples(150)
@given(findings(), st.sampled_from(PAIRS))
def test_an_option_with_a_lower_mean_effect_never_raises_the_median(document: Json, pair: Any) -> None:
    check, low, high = pair
    # Service and finish are also held against each other, and what does not fit costs by itself.
    assume(check not in COMPARED)
    worse = numbers_of(with_only_this_answer_changed(document, check, low["id"])).market
    better = numbers_of(with_only_this_answer_changed(document, check, high["id"])).market
    assert worse.quantile(0) <= better.quantile(0) * (1 + 1e-12)


@examples(150)
@given(findings(), st.sampled_from(SAME_SPREAD))
def test_with_the_same_spread_it_raises_no_quantile_and_no_mean(document: Json, pair: Any) -> None:
    check, low, high = pair
    assume(check not in COMPARED)
    assume(check != "check-crystal" or "crystal_khz" not in document)
    worse = numbers_of(with_only_this_answer_changed(document, check, low["id"])).market
    better = numbers_of(with_only_this_answer_changed(document, check, high["id"])).market
    for z in (-2.0, -1.2815515655446004, 0.0, 1.2815515655446004, 2.0):
        assert worse.quantile(z) <= better.quantile(z) * (1 + 1e-12)
    assert worse.mean <= better.mean * (1 + 1e-12)


@pytest.mark.parametrize("check", CHECKS)
def test_on_average_over_its_priors_an_answer_does_not_widen_its_share_of_the_variance(check: str) -> None:
    """The law of total variance: the mean of the variances within is at most the variance of the mixture."""
    prepared = prepared_for()
    row = prepared.checks[prepared.check_index[check]]
    within = sum(
        option.prior * (option.own_variance + sum(prepared.checks[child].variance for child in option.opens))
        for option in row.options
    )
    assert within <= row.variance + 1e-15
    assert row.variance - within == pytest.approx(row.spread, abs=1e-15)


@examples(40)
@given(findings(), st.sampled_from(CHECKS))
def test_the_mean_before_a_look_is_the_mean_over_its_answers(document: Json, check: str) -> None:
    """The law of total expectation holds for the exact mean; moment matching would break it."""
    document = without_hidden_answers({**document, "crystal_khz": None})
    standing = numbers_of(document).standing
    index = prepared_for().check_index[check]
    assume(standing.shown[index] and standing.chosen[index] < 0)
    after = [numbers_of(with_answer(document, check, row["id"])).market for row in check_of(check)["options"]]
    priors = [row["prior"] for row in check_of(check)["options"]]
    before = numbers_of(document).market
    for figure in ("mean", "restored_mean"):
        expected = math.fsum(p * getattr(law, figure) for p, law in zip(priors, after, strict=True))
        assert math.isclose(getattr(before, figure), expected, rel_tol=1e-12), figure


@examples(60)
@given(findings())
def test_another_currency_scales_every_price_and_moves_no_log_spread(document: Json) -> None:
    document = {**document, "hour_rate": 0, "asking": None}
    dollars = numbers_of({**document, "currency": "USD", "rate": None})
    francs = numbers_of({**document, "currency": "CHF", "rate": 0.8})
    assert francs.market.quantile(1.5) == pytest.approx(0.8 * dollars.market.quantile(1.5), rel=1e-12)
    assert francs.market.mean == pytest.approx(0.8 * dollars.market.mean, rel=1e-12)
    assert francs.parts.quantile(1.5) == pytest.approx(0.8 * dollars.parts.quantile(1.5), rel=1e-12)
    assert francs.worth.value == pytest.approx(0.8 * dollars.worth.value, rel=1e-12)
    assert francs.market.variance == dollars.market.variance


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_model_sheet_brings_its_own_reference_and_coverage(sheet: str) -> None:
    on_sheet = numbers_of({"family": FAMILY, "model_sheet": sheet, "region": 2})
    reference = pack_for(sheet)["reference"]
    assert reference != pack_for()["reference"]
    spread = reference["log_sd"] ** 2 + reference["market_log_sd"] ** 2
    assert math.exp(on_sheet.market.log_reference) == pytest.approx(reference["median"], rel=1e-12)
    assert on_sheet.market.reference_variance == pytest.approx(spread, rel=1e-12)
    assert on_sheet.standing.coverage_khz == tuple(pack_for(sheet)["sheet"]["coverage_khz"])


def test_the_coverage_found_goes_before_that_of_the_sheet() -> None:
    found = {"family": FAMILY, "model_sheet": "tern-a", "coverage_khz": [4000, 6000], "region": 2}
    assert numbers_of(found).standing.coverage_khz == (4000, 6000)


Z90 = pack_for()["model"]["z90"]
# What is compared, and what was read off the set for it.
COMPARED = ("service", "finish", "crystal", "book")
READ = (
    "nameplate", "serial", "book_serial", "heater_strings", "finish", "service", "crystal_khz",
    "coverage_khz",
)  # fmt: skip


@pytest.mark.parametrize("kind", kinds(), ids=lambda kind: kind[1] or kind[0])
def test_nothing_that_does_not_fit_raises_a_price(
    kind: tuple[str, str | None], sweep: Callable[[int], Sequence[int]]
) -> None:
    pack = pack_for(kind[1], kind[0])
    for seed in sweep(80):
        document = random_findings(pack, random.Random(seed))
        plain = {key: value for key, value in document.items() if key not in READ} | {"unseen": []}
        asked = {check["id"] for check in pack["checks"] if check.get("asks") in COMPARED}
        plain["answers"] = {key: value for key, value in document["answers"].items() if key not in asked}
        plain["answers"] |= there(pack)
        for comparison, read in misreadings(pack).items():
            before = plain | {key: value for key, value in read.items() if key == "coverage_khz"}
            worse, better = numbers_of({**before, **read}), numbers_of(before)
            assert getattr(worse.standing.matches, comparison) is False
            for z in (-Z90, 0, Z90):
                assert worse.market.quantile(z) < better.market.quantile(z), (comparison, seed, z)
            assert worse.market.mean < better.market.mean, (comparison, seed)
            assert worse.worth.value <= better.worth.value, (comparison, seed)


def there(pack: Json) -> dict[str, str]:
    """Crystal and book are there, where the set has them: only then can they be another set's."""
    return {
        check["id"]: next(option["id"] for option in check["options"] if option["state"] == 1)
        for check in pack["checks"]
        if check.get("asks") in ("crystal", "book")
    }


def misreadings(pack: Json) -> Json:
    """By comparison, findings that do not fit a set of this pack."""
    named, own = pack["nomenclature"]["families"], pack["family"]
    mine = set(named[own]["sets"])
    strange = next(row["sets"][0] for row in named.values() if not mine & set(row["sets"]))
    found: Json = {
        "designation": {"nameplate": f"AN/{strange.replace('?', 'G')}-991"},
        "finish": {"service": "army", "finish": "other paint"},
    }
    if pack["supply_volts"]:
        found["heaters"] = {"heater_strings": [[{"volts": 2 * pack["supply_volts"][1], "amps": 0.45}]]}
    if pack["effects"]["crystal_part"]:
        found["crystal"] = {"coverage_khz": [3300, 5000], "crystal_khz": 2600}
    if pack["effects"]["book_part"]:
        found["serial"] = {"serial": "12", "book_serial": "13"}
    return found


@pytest.mark.parametrize("family", families())
def test_a_dial_beside_the_bands_is_never_worth_more_than_one_that_covers_some(family: str) -> None:
    inside = numbers_of({"family": family, "coverage_khz": [3300, 5000], "region": 2}).market
    beside = numbers_of({"family": family, "coverage_khz": [200, 400], "region": 2}).market
    assert beside.mean <= inside.mean
    assert all(beside.quantile(z) <= inside.quantile(z) for z in (-Z90, 0, Z90))
