"""How money is rounded for the eye, and the logarithmic mean (contract §10, §11)."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from webapp.appraisal.money import logarithmic_mean, money_step, rounded

amounts = st.floats(1e-6, 1e13)


@given(amounts, st.integers(0, 3))
def test_the_step_is_the_largest_of_1_2_5_times_a_power_of_ten_within_two_percent(
    value: float, digits: int
) -> None:
    m, n = money_step(value, 0.02, digits)
    assert m in (1, 2, 5)
    assert n >= -digits
    next_larger = {1: 2, 2: 5, 5: 10}[m]
    assert next_larger * 10.0**n > value * 0.02
    assert m * 10.0**n <= value * 0.02 * (1 + 1e-9) or (m, n) == (1, -digits)


@given(amounts, st.integers(0, 3))
def test_an_amount_and_its_negative_round_alike(value: float, digits: int) -> None:
    assert rounded(-value, 0.02, digits) == -rounded(value, 0.02, digits)


@given(amounts, st.integers(0, 3))
def test_rounded_down_is_never_above_and_less_than_a_step_below(value: float, digits: int) -> None:
    m, n = money_step(value, 0.02, digits)
    down = rounded(value, 0.02, digits, down=True)
    assert down <= value * (1 + 1e-9)
    assert value - down < m * 10.0**n * (1 + 1e-9)


@given(amounts, amounts)
def test_rounding_keeps_the_order_of_amounts(first: float, second: float) -> None:
    low, high = sorted((first, second))
    assert rounded(low, 0.02, 2) <= rounded(high, 0.02, 2)


def test_nothing_shows_as_nothing_and_never_as_minus_nothing() -> None:
    for value in (0.0, -0.0, -0.001, 0.001):
        shown = rounded(value, 0.02, 2)
        assert shown == 0
        assert math.copysign(1, shown) == 1


@given(st.floats(1e-3, 1e9), st.floats(1e-3, 1e9))
def test_the_logarithmic_mean_lies_between_geometric_and_arithmetic_mean(x: float, y: float) -> None:
    """Source: Carlson 1972, The logarithmic mean (American Mathematical Monthly 79)."""
    mean = logarithmic_mean(x, y)
    assert math.sqrt(x * y) * (1 - 1e-12) <= mean <= (x + y) / 2 * (1 + 1e-12)
    assert mean == pytest.approx(logarithmic_mean(y, x), rel=1e-12)


@given(st.floats(1e-3, 1e9), st.floats(1e-3, 1e9))
def test_the_logarithmic_mean_times_the_log_ratio_is_the_difference(x: float, y: float) -> None:
    assume(x != y)
    assert logarithmic_mean(x, y) * math.log(x / y) == pytest.approx(x - y, rel=1e-9, abs=1e-15 * (x + y))


def test_the_logarithmic_mean_has_no_seam_where_it_changes_to_its_series() -> None:
    for ratio in (1 + 1.99e-3, 1 + 2.01e-3, 1 + 1e-9, 1.0):
        exact = (ratio - 1) / math.log1p(ratio - 1) if ratio != 1 else 1.0
        assert logarithmic_mean(ratio, 1.0) == pytest.approx(exact, rel=1e-12)
