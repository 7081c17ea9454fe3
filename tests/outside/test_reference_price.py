"""The reference price against textbook updating, integration over a grid, and the published price series."""

import math
from datetime import date

import numpy as np
import pytest
from scipy import optimize, stats

from tests.support.packs import pack_for
from webapp.appraisal.reference import indexed, posterior

# Annual averages of series CUUR0000SA0 (CPI-U, U.S. city average, 1982-84 = 100), Bureau of Labor Statistics.
ANNUAL = {
    1985: 107.6, 1990: 130.7, 1995: 152.4, 2000: 172.2, 2005: 195.3, 2007: 207.342, 2008: 215.303,
    2010: 218.056, 2015: 237.017, 2019: 255.657, 2020: 258.811, 2021: 270.970, 2022: 292.655, 2023: 304.702,
    2024: 313.689, 2025: 321.943,
}  # fmt: skip


def test_a_posterior_is_that_of_the_textbook_example() -> None:
    """Source: normal prior and known variance (Raiffa and Schlaifer 1961): prior 100 ± 20, four

    observations of mean 130 with standard deviation 30 give mean 119.2 and standard deviation 12.
    """
    seen = [(value, 900.0, 1.0) for value in (120.0, 125.0, 135.0, 140.0)]
    mean, variance, huber = posterior(100.0, 400.0, seen, 30.0, 1.345)
    assert huber == [1.0] * 4
    assert mean == pytest.approx(119.2)
    assert math.sqrt(variance) == pytest.approx(12.0)


def test_a_posterior_with_weights_is_that_of_integration_over_a_grid() -> None:
    """Source: numerical integration of prior times likelihood, each to the power of its weight."""
    seen = [(5.1, 0.12, 1.0), (5.4, 0.16, 0.5), (4.9, 0.12, 0.25)]
    mean, variance, huber = posterior(5.2, 0.08, seen, 0.35, 1.345)
    assert huber == [1.0] * 3
    grid = np.linspace(2, 8, 60_001)
    density = stats.norm.pdf(grid, 5.2, math.sqrt(0.08))
    for value, spread, weight in seen:
        density *= stats.norm.pdf(grid, value, math.sqrt(spread)) ** weight
    density /= np.trapezoid(density, grid)
    expected = np.trapezoid(grid * density, grid)
    assert mean == pytest.approx(expected, abs=1e-9)
    assert variance == pytest.approx(np.trapezoid((grid - expected) ** 2 * density, grid), abs=1e-9)


def test_a_far_observation_counts_as_in_hubers_estimate_of_location() -> None:
    """Source: Huber 1964, as the least sum of his loss found by scipy.optimize; almost no prior."""
    values, spread, tuning = [80.0, 90.0, 95.0, 100.0, 400.0], 7.413, 1.345

    def loss(centre: float) -> float:
        total = 0.0
        for z in (abs(value - centre) / spread for value in values):
            total += z * z / 2 if z <= tuning else tuning * (z - tuning / 2)
        return total

    best = optimize.minimize_scalar(loss, bounds=(80, 120), method="bounded", options={"xatol": 1e-9}).x
    mean, _, huber = posterior(95.0, 1e12, [(v, spread**2, 1.0) for v in values], spread, tuning)
    assert mean == pytest.approx(best, abs=1e-3)
    # The worked figures: location 95.0, weights .6647, 1, 1, 1, .03269.
    assert mean == pytest.approx(95.0, abs=0.05)
    assert huber == pytest.approx([0.6647, 1, 1, 1, 0.03269], abs=1e-3)


@pytest.mark.parametrize("year", sorted(ANNUAL))
def test_the_months_of_a_year_average_to_the_published_annual_figure(year: int) -> None:
    """Source: Bureau of Labor Statistics, series CUUR0000SA0; October 2025 was never published."""
    months = [value for month, value in pack_for()["index"].items() if month.startswith(f"{year}-")]
    assert len(months) == (11 if year == 2025 else 12)
    assert sum(months) / len(months) == pytest.approx(ANNUAL[year], abs=0.0501 if year < 2007 else 0.001)


def test_money_of_one_year_in_that_of_another_is_the_ratio_of_the_indices() -> None:
    """Source: the rule of the Bureau of Labor Statistics, sum times later index over earlier index."""
    index = pack_for()["index"]
    factor, month = indexed(index, date(2007, 6, 30), date(2026, 8, 1))
    assert month == "2007-06"
    assert factor == pytest.approx(index["2026-08"] / index["2007-06"])
    # October 2025 goes by September; today by the last month there is.
    expected = (index["2026-08"] / index["2025-09"], "2025-09")
    assert indexed(index, date(2025, 10, 31), date(2026, 11, 25)) == expected


def test_before_the_series_nothing_is_indexed() -> None:
    """Source: contract §5; the shipped series begins with 1985."""
    index = pack_for()["index"]
    assert indexed(index, date(1984, 12, 31), date(2026, 8, 1)) == (1.0, None)
    assert indexed(index, date(1985, 1, 1), date(2026, 8, 1))[1] == "1985-01"
