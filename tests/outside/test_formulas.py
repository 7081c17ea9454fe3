"""Published formulas with worked numbers: hedonic prices, three-point estimates, value of information."""

import math
from copy import deepcopy
from typing import Any

import pytest
from scipy import integrate, stats

from tests.support.vectors import vectors
from webapp.appraisal.appraise import appraise
from webapp.appraisal.effort import Called, task_estimate
from webapp.appraisal.findings import read_findings
from webapp.appraisal.looking import value_of_all
from webapp.appraisal.numbers import numbers
from webapp.appraisal.prepared import Task, prepare, three_point
from webapp.appraisal.worth import InParts

Json = dict[str, Any]

TINY = vectors()[0].pack


def test_a_three_point_estimate_has_the_mean_and_variance_of_pert() -> None:
    """Source: Malcolm, Roseboom, Clark and Fazar 1959, Operations Research 7(5).

    (4, 6, 14): mean 7.0, variance 2.7778, standard deviation 1.6667.
    """
    mean, variance = three_point([4.0, 6.0, 14.0])
    assert mean == pytest.approx(7.0)
    assert variance == pytest.approx(2.7778, abs=5e-5)
    assert math.sqrt(variance) == pytest.approx(1.6667, abs=5e-5)


def test_the_variance_used_is_that_of_pert_and_not_of_the_exact_beta_law() -> None:
    """Source: scipy.stats.beta with alpha 1.8, beta 4.2 on 4..14: the exact variance is 3.0."""
    exact = stats.beta.var(1.8, 4.2, loc=4, scale=10)
    assert exact == pytest.approx(3.0)
    assert three_point([4.0, 6.0, 14.0])[1] < exact


def test_three_tasks_in_a_row_add_their_means_and_variances() -> None:
    """Source: the same. (4, 6, 14), (1, 2, 3), (0, 1, 8): mean 11.0, variance 4.6667, sd 2.1602."""
    estimates = [three_point(triple) for triple in ([4.0, 6.0, 14.0], [1.0, 2.0, 3.0], [0.0, 1.0, 8.0])]
    assert sum(mean for mean, _ in estimates) == pytest.approx(11.0)
    total = sum(variance for _, variance in estimates)
    assert total == pytest.approx(4.6667, abs=5e-5)
    assert math.sqrt(total) == pytest.approx(2.1602, abs=5e-5)


def test_a_task_done_per_item_adds_independent_items() -> None:
    """Source: sums of independent quantities; set-up 1 ± 0, each (1, 2, 3): mean 2, variance 1/9."""
    task = Task("t", frozenset(), (1.0, 0.0), (0.0, 0.0), three_point([1.0, 2.0, 3.0]), (0.0, 0.0))
    for items in (0, 1, 5):
        counted = max(1, items)
        assert task_estimate(task, items)[0] == pytest.approx((1 + 2 * counted, counted / 9))


def test_the_probability_of_a_task_is_that_of_at_least_one_call() -> None:
    """Source: the binomial law for equal chances (scipy.stats.binom)."""
    called = Called([(1 - 0.3) ** 4], [0], {})
    assert called.probability(0) == pytest.approx(float(stats.binom.sf(0, 4, 0.3)), rel=1e-12)


@pytest.mark.parametrize(("effect", "percent"), [(0.35, 41.907), (-0.25, -22.120), (0.10, 10.517)])
def test_a_log_effect_changes_the_price_by_the_percentage_of_halvorsen_and_palmquist(
    effect: float, percent: float
) -> None:
    """Source: Halvorsen and Palmquist 1980, American Economic Review 70(3): 100·(e^b − 1) per cent."""
    assert 100 * (hedonic_price(effect) / hedonic_price() - 1) == pytest.approx(percent, abs=5e-4)


def hedonic_price(*effects: float) -> float:
    """P50 of the tiny pack with constant 4.2 and up to three effects, each a finding."""
    pack: Json = deepcopy(TINY)
    pack["reference"]["median"] = math.exp(4.2)
    answers = {"coil": "there", "crystal": "there", "holes": "none", "finish": "first"}
    for check, effect in zip(("coil", "crystal", "finish"), effects, strict=False):
        row = next(row for row in pack["checks"] if row["id"] == check)
        next(option for option in row["options"] if option["id"] == answers[check])["log_effect"] = [
            effect,
            0,
        ]
    prepared = prepare(pack)
    return numbers(prepared, read_findings({"family": "tiny", "answers": answers}, prepared)).market.quantile(
        0
    )


def test_hedonic_effects_add_up_on_the_logarithm() -> None:
    """Source: Rosen 1974, Journal of Political Economy 82(1).

    Constant 4.2, complete +0.35, drilled −0.25, manual +0.10: base 66.686, complete and drilled 73.700,
    all three 81.451.
    """
    assert hedonic_price() == pytest.approx(66.686, abs=5e-4)
    assert hedonic_price(0.35, -0.25) == pytest.approx(73.700, abs=5e-4)
    assert hedonic_price(0.35, -0.25, 0.10) == pytest.approx(81.451, abs=5e-4)


@pytest.mark.parametrize("worth", [30.0, 95.0, 100.0, 240.0])
@pytest.mark.parametrize("asking", [20.0, 100.0, 130.0])
@pytest.mark.parametrize("spread", [0.001, 0.04, 0.3, 1.5])
def test_the_value_of_looking_is_the_integral_over_what_could_come_to_light(
    worth: float, asking: float, spread: float
) -> None:
    """Source: Black 1976 for the closed form; here the integral itself, by scipy.integrate.quad.

    The worth after looking is lognormal with the worth of now as its mean and log variance s².
    """
    s = math.sqrt(spread)

    def gain(z: float) -> float:
        after = worth * math.exp(-spread / 2 + s * z)
        return max(0.0, after - asking) * float(stats.norm.pdf(z))

    kink = (math.log(asking / worth) + spread / 2) / s
    integral, _ = integrate.quad(gain, max(-12.0, kink), 14, epsabs=1e-11, epsrel=1e-11, limit=300)
    expected = integral - max(0.0, worth - asking)
    assert value_of_all(worth, asking, spread) == pytest.approx(expected, abs=1e-6)


def test_single_looks_are_worth_what_the_worked_example_of_partial_information_says() -> None:
    """Source: Raiffa and Schlaifer 1961, Applied Statistical Decision Theory; Howard 1966.

    Buy or pass: a part there with 0.6 brings +60, else −40; a fault with 0.25 costs 70; independent. Buying
    blind is worth 2.5; knowing the part first 23.0, knowing the fault first 12.5. Set up with the set taken
    in parts, where money adds: the part 100, freedom from the fault 70, asked 110.
    """
    pack: Json = deepcopy(TINY)
    pack["reference"]["median"] = 1e-6
    pack["sell_through"] = 1
    for part, salvage in zip(pack["parts"], (100, 70), strict=True):
        part["salvage"] = [salvage] * 3
    for check, prior in (("coil", 0.6), ("crystal", 0.75)):
        there, gone = next(row for row in pack["checks"] if row["id"] == check)["options"]
        there["prior"], gone["prior"] = prior, 1 - prior
    prepared = prepare(pack)
    findings = read_findings({"family": "tiny", "asking": 110}, prepared)
    appraisal = appraise(prepared, findings, 2, str)
    evi = {look["check"]: look["evi"] for look in appraisal["next_checks"]}
    assert appraisal["worth"]["value"] - 110 == pytest.approx(2.5)
    assert evi["coil"] == pytest.approx(23.0)
    assert evi["crystal"] == pytest.approx(12.5)
    assert evi["holes"] == evi["finish"] == pytest.approx(0, abs=1e-9)


def test_parts_sold_singly_follow_the_normal_law_floored_at_nothing() -> None:
    """Source: scipy.stats.norm."""
    law = stats.norm(loc=8.0, scale=5.0)
    for p in (0.1, 0.5, 0.9):
        found = InParts(8.0, 25.0).quantile(float(stats.norm.ppf(p)))
        assert found == pytest.approx(max(0.0, float(law.ppf(p))), rel=1e-12)
