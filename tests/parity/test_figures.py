"""Rounding, the logarithmic mean and the normal law are the same functions in both languages."""

import math
import random
from collections.abc import Callable, Sequence

import pytest

from tests.support.table import Table
from tests.support.twin import Kernel
from webapp.appraisal.money import logarithmic_mean, money_step, rounded
from webapp.appraisal.normal import normal_cdf

SHARE = 0.02


@pytest.fixture
def kernel(table: Table) -> Kernel:
    return Kernel(table.phone, table.address)


def amounts(rng: random.Random) -> float:
    """An amount of any size and sign, a half of a step, or a border between two steps."""
    power, sign = 10.0 ** rng.randint(-6, 15), rng.choice([-1, 1])
    step = rng.choice([1, 2, 5]) * power
    return sign * rng.choice(
        [
            rng.uniform(1, 10) * power,
            (rng.randint(10, 130) + 0.5) * step,
            step / SHARE,
            math.nextafter(step / SHARE, rng.choice([0, math.inf])),
            rng.choice([0.0, 5e-324, 1e-30, 1e22, 1e23, 1e300]),
        ]
    )


def test_amounts_of_all_sizes_are_rounded_alike(
    kernel: Kernel, sweep: Callable[[int], Sequence[int]]
) -> None:
    asked = []
    for seed in sweep(20_000):
        rng = random.Random(seed)
        asked.append((amounts(rng), SHARE, rng.choice([0, 2, 3]), rng.random() < 0.5))
    for given, found in zip(asked, kernel.call("rounded", asked), strict=True):
        assert found == rounded(*given), given
    steps = [(value, share, digits) for value, share, digits, _ in asked if value]
    for step, found in zip(steps, kernel.call("moneyStep", steps), strict=True):
        assert tuple(found) == money_step(*step), step


def test_the_logarithmic_mean_is_the_same_far_apart_close_and_equal(
    kernel: Kernel, sweep: Callable[[int], Sequence[int]]
) -> None:
    asked = []
    for seed in sweep(20_000):
        rng = random.Random(seed)
        x = math.exp(rng.uniform(-20, 20))
        asked.append((x, x * rng.choice([1.0, math.exp(rng.uniform(-9, 9)), 1 + rng.uniform(-1, 1) * 3e-3])))
    for given, found in zip(asked, kernel.call("logarithmicMean", asked), strict=True):
        assert found == pytest.approx(logarithmic_mean(*given), rel=1e-12), given


def test_the_normal_law_is_that_of_the_library_far_into_both_tails(kernel: Kernel) -> None:
    points = [n / 64 for n in range(-38 * 64, 38 * 64 + 1)]
    for x, found in zip(points, kernel.call("normalCdf", [[x] for x in points]), strict=True):
        # The least numbers above 0 have fewer digits to agree in.
        assert found == pytest.approx(normal_cdf(x), rel=1e-12, abs=1e-305), x
