"""The price as it stands: which way findings may move it, and what one answer does (contract §3)."""

import math
from itertools import combinations
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.support.packs import (
    FAMILY,
    SHEETS,
    check_of,
    numbers_of,
    pack_for,
    prepared_for,
    with_answer,
    without_hidden_answers,
)
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


@settings(max_examples=150, deadline=None)
@given(findings(), st.sampled_from(PAIRS))
def test_an_option_with_a_lower_mean_effect_never_raises_the_median(document: Json, pair: Any) -> None:
    check, low, high = pair
    worse = numbers_of(with_only_this_answer_changed(document, check, low["id"])).market
    better = numbers_of(with_only_this_answer_changed(document, check, high["id"])).market
    assert worse.quantile(0) <= better.quantile(0) * (1 + 1e-12)


@settings(max_examples=150, deadline=None)
@given(findings(), st.sampled_from(SAME_SPREAD))
def test_with_the_same_spread_it_raises_no_quantile_and_no_mean(document: Json, pair: Any) -> None:
    check, low, high = pair
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


@settings(max_examples=40, deadline=None)
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


@settings(max_examples=60, deadline=None)
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
