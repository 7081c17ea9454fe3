"""The price law, the normal law and mixtures against other people's implementations."""

import math
import random
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tests.support.packs import FAMILY, check_of, numbers_of, pack_for, prepared_for
from webapp.appraisal.normal import normal_cdf
from webapp.appraisal.price import Market, known_effect


def law(mu: float, sigma: float) -> Market:
    """A lognormal price with ln median mu and log standard deviation sigma."""
    return Market(mu, sigma * sigma, mu, sigma * sigma, 0.0, 0.0)


@pytest.mark.parametrize("mu", [0.0, 3.2, 4.5, 8.0])
@pytest.mark.parametrize("sigma", [0.01, 0.35, 0.5, 1.4])
@pytest.mark.parametrize("p", [0.01, 0.1, 0.5, 0.9, 0.99])
def test_quantiles_are_those_of_the_lognormal_law(mu: float, sigma: float, p: float) -> None:
    """Source: scipy.stats.lognorm."""
    expected = stats.lognorm.ppf(p, s=sigma, scale=math.exp(mu))
    assert law(mu, sigma).quantile(float(stats.norm.ppf(p))) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("mean", "sd"), [(0.0, 0.1), (-0.6, 0.3), (0.4, 1.2)])
def test_the_mean_factor_of_a_known_effect_is_the_mean_of_the_lognormal_law(mean: float, sd: float) -> None:
    """Source: scipy.stats.lognorm."""
    expected = stats.lognorm.mean(s=sd, scale=math.exp(mean))
    assert known_effect([mean, sd]).factor == pytest.approx(expected, rel=1e-12)


def test_the_worked_example_of_the_lognormal_law_comes_out() -> None:
    """Source: Aitchison and Brown 1957, The Lognormal Distribution: e^mu and e^(mu + s²/2).

    mu 4.5, s 0.5: median 90.017, mean 102.003, P10 47.429, P90 170.848.
    """
    price = law(4.5, 0.5)
    z90 = pack_for()["model"]["z90"]
    assert price.quantile(0) == pytest.approx(90.017, abs=5e-4)
    assert price.quantile(-z90) == pytest.approx(47.429, abs=5e-4)
    assert price.quantile(z90) == pytest.approx(170.848, abs=5e-4)
    assert known_effect([4.5, 0.5]).factor == pytest.approx(102.003, abs=5e-4)


def test_the_ten_percent_points_are_those_of_the_standard_normal_law() -> None:
    """Source: statistics.NormalDist of the standard library, and scipy.stats.norm."""
    z90 = pack_for()["model"]["z90"]
    assert z90 == pytest.approx(NormalDist().inv_cdf(0.9), abs=1e-12)
    assert z90 == pytest.approx(float(stats.norm.ppf(0.9)), abs=1e-15)


@given(st.floats(-37, 37))
def test_phi_is_the_normal_distribution_far_into_both_tails(x: float) -> None:
    """Source: scipy.stats.norm."""
    assert normal_cdf(x) == pytest.approx(float(stats.norm.cdf(x)), rel=1e-11, abs=1e-300)


@given(st.floats(-8, 8))
def test_phi_agrees_with_the_standard_library(x: float) -> None:
    """Source: statistics.NormalDist."""
    assert normal_cdf(x) == pytest.approx(NormalDist().cdf(x), abs=1e-15)


@pytest.mark.parametrize("check", ["added-holes", "loading-coil", "finish-condition", "heard-working"])
def test_mean_variance_and_factor_of_an_open_check_are_those_of_a_simulation(check: str) -> None:
    """Source: 200,000 draws from the priors and normal laws of the options (seeded); four standard errors."""
    rng, draws = random.Random(20261125), 200_000
    options = check_of(check)["options"]
    found = prepared_for().checks[prepared_for().check_index[check]]
    chosen = rng.choices(options, weights=[option["prior"] for option in options], k=draws)
    values = [rng.gauss(*option["log_effect"]) for option in chosen]
    mean = math.fsum(values) / draws
    squares = [(value - mean) ** 2 for value in values]
    variance = math.fsum(squares) / draws
    of_variance = math.sqrt(math.fsum((s - variance) ** 2 for s in squares)) / draws
    assert abs(found.mean - mean) < 4 * math.sqrt(variance / draws)
    assert abs(found.variance - variance) < 4 * of_variance


def test_the_mean_of_a_set_not_looked_at_is_that_of_a_simulation() -> None:
    """Source: 15,000 sets drawn from the priors, follow-ups and coverage included; four standard errors."""
    rng, draws = random.Random(7), 15_000
    pack = pack_for()
    checks = {check["id"]: check for check in pack["checks"]}
    reference, effects = pack["reference"], pack["effects"]
    spread = math.hypot(reference["log_sd"], reference["market_log_sd"])
    prices = []
    for _ in range(draws):
        total = rng.gauss(math.log(reference["median"]), spread)
        found: dict[str, str] = {}
        for check in checks.values():
            shown = check["shown_if"]
            if shown and found.get(shown["check"]) not in shown["options"]:
                continue
            option = rng.choices(check["options"], [o["prior"] for o in check["options"]])[0]
            found[check["id"]] = option["id"]
            total += rng.gauss(*(option["log_effect_open"] or option["log_effect"]))
        inside = rng.random() < effects["in_band_prior"]
        total += rng.gauss(*effects["coverage_in_band" if inside else "coverage_out_of_band"])
        prices.append(math.exp(total))
    mean = math.fsum(prices) / draws
    error = math.sqrt(math.fsum((price - mean) ** 2 for price in prices)) / draws
    assert abs(numbers_of({"family": FAMILY}).market.mean - mean) < 4 * error
