"""How often the stated ranges held: the counting on the phone, against scipy and against a simulated trade.

The script runs in a real browser. Sources: scipy.stats.binomtest(...).proportion_ci(method="wilson"), an
implementation of the score interval of Wilson 1927 that others wrote; and prices drawn from the very
lognormal law whose 10 %, 50 % and 90 % points are stated, of which 80 % fall inside by definition.
"""

import json
import math
import random
from typing import Any

import pytest
from scipy.stats import binomtest, norm

from tests.support.phone import Phone

Json = dict[str, Any]

LOAD = "const page = await import(`${document.documentElement.dataset.base}js/ui/reliability.js`);"
WILSON = LOAD + "return JSON.stringify(JSON.parse(args[0]).map((pair) => page.wilson(...pair)));"
COUNT = LOAD + "return JSON.stringify(JSON.parse(args[0]).map(page.reliability));"
WORDS = (
    LOAD
    + "const say = (sets) => page.reliabilityWords(page.reliability(sets)[0]);"
    + "return JSON.stringify(JSON.parse(args[0]).map(say));"
)
SETS = 4000
SPREAD = 0.45


def run(phone: Phone, script: str, given: list[Any]) -> list[Any]:
    found: list[Any] = json.loads(phone.js(script, json.dumps(given)))
    assert len(found) == len(given)
    return found


def outcome(price: float | None, low: float, mid: float, high: float, hours: float | None = None) -> Json:
    stated = {"low": low, "mid": mid, "high": high, "hours": {"p50": 10.0, "p90": 16.0}}
    return {"what": "sold", "price": price, "hours": hours, "stated": stated}


def traded(rng: random.Random, spread: float) -> Json:
    """A set whose price follows a lognormal law, stated with its 10 %, 50 % and 90 % points by scipy."""
    centre = rng.uniform(math.log(20), math.log(900))
    low, mid, high = (math.exp(centre + SPREAD * norm.ppf(share)) for share in (0.1, 0.5, 0.9))
    return outcome(math.exp(rng.gauss(centre, spread)), low, mid, high)


def test_the_intervals_are_those_of_scipy(opened_phone: Phone) -> None:
    """Source: scipy.stats.binomtest, proportion_ci by the method "wilson"."""
    rng = random.Random(1927)
    pairs = [(held, count) for count in range(1, 26) for held in range(count + 1)]
    pairs += [(rng.randint(0, count), count) for count in rng.sample(range(26, 5000), 200)]
    for (held, count), found in zip(pairs, run(opened_phone, WILSON, pairs), strict=True):
        wanted = binomtest(held, count).proportion_ci(confidence_level=0.95, method="wilson")
        assert found["low"] == pytest.approx(wanted.low, abs=1e-12), (held, count)
        assert found["high"] == pytest.approx(wanted.high, abs=1e-12), (held, count)


def test_of_lognormal_prices_the_range_holds_8_in_10_and_each_point_its_share(opened_phone: Phone) -> None:
    """Source: the definition of the quantiles; the count allows four standard errors of a binomial count."""
    rng = random.Random(80)
    [rows] = run(opened_phone, COUNT, [[traded(rng, SPREAD) for _ in range(SETS)]])
    prices = [row for row in rows if row["of"] == "price"]
    assert sorted(row["level"] for row in prices) == [0.1, 0.5, 0.8, 0.9]
    for row in prices:
        error = math.sqrt(row["level"] * (1 - row["level"]) / SETS)
        assert row["count"] == SETS
        assert row["observed"] == row["held"] / SETS == pytest.approx(row["level"], abs=4 * error)
        assert row["low"] < row["observed"] < row["high"]


def test_ranges_stated_half_as_wide_as_the_trade_are_told_from_good_ones(opened_phone: Phone) -> None:
    """The counter-check: prices scatter twice as much as stated, so that about half of them fall inside.

    Source: the normal law, 2 Φ(1.2816 / 2) − 1 = 0.478, by scipy.
    """
    rng = random.Random(81)
    [[inside, *_]] = run(opened_phone, COUNT, [[traded(rng, 2 * SPREAD) for _ in range(SETS)]])
    assert inside["level"] == 0.8
    assert inside["observed"] == pytest.approx(2 * norm.cdf(norm.ppf(0.9) / 2) - 1, abs=0.04)
    assert inside["high"] < 0.8


def test_prices_and_hours_on_a_stated_figure_count_as_held(opened_phone: Phone) -> None:
    sets = [
        outcome(40, 40, 60, 90, 10), outcome(60, 40, 60, 90, 16), outcome(90, 40, 60, 90, 16.5),
        outcome(39, 40, 60, 90), outcome(91, 40, 60, 90, 0), outcome(0, 40, 60, 90),
    ]  # fmt: skip
    rows = {
        (row["of"], row["level"]): (row["held"], row["count"]) for row in run(opened_phone, COUNT, [sets])[0]
    }
    assert rows == {
        ("price", 0.8): (3, 5), ("price", 0.1): (2, 5), ("price", 0.5): (3, 5), ("price", 0.9): (4, 5),
        ("hours", 0.5): (1, 3), ("hours", 0.9): (2, 3),
    }  # fmt: skip


def test_the_sentence_says_no_more_than_the_count_proves(opened_phone: Phone) -> None:
    wanted = {
        (0, 0): "No price is recorded yet",
        (1, 0): "fell inside the stated range. One proves nothing",
        (0, 1): "fell outside the stated range. One proves nothing",
        (1, 1): "One of the two prices recorded so far fell inside the stated range. Two prove nothing",
        (
            9,
            3,
        ): "9 of 12 prices fell inside the stated range; 8 in 10 is what the ranges promise. With so few",
        (2, 10): "too narrow",
        (40, 0): "wider than they need be",
        (160, 40): "That agrees.",
    }
    cases = [
        [outcome(60, 40, 60, 90)] * inside + [outcome(120, 40, 60, 90)] * outside
        for inside, outside in wanted
    ]
    for text, said in zip(wanted.values(), run(opened_phone, WORDS, cases), strict=True):
        assert text in said
