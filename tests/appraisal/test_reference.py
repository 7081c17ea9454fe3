"""Comparable sales and what they do to the reference price (contract §5)."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.packs import FAMILY, appraised, appraised_by_the_app, pack_for
from webapp.errors import BadFindings

Json = dict[str, Any]

TODAY = "2026-11-25"
MEDIAN = pack_for()["reference"]["median"]


def reference(*comparables: Json, **more: Any) -> Json:
    """The reference of an appraisal with these comparables."""
    found = appraised({"family": FAMILY, "today": TODAY, "comparables": list(comparables), **more})
    price: Json = found["price"]["reference"]
    return price


def sale(price: float, **more: Any) -> Json:
    return {"price": price, "date": TODAY, **more}


def test_without_sales_the_reference_is_the_tables() -> None:
    rules = pack_for()["reference"]
    found = reference()
    assert found["median"] == pytest.approx(MEDIAN)
    assert found["log_sd"] == pytest.approx(math.hypot(rules["log_sd"], rules["market_log_sd"]))
    assert found["comparables"] == []


def test_one_sale_moves_the_reference_by_its_precision() -> None:
    """By hand: prior variance s0², observation variance sc², so the share of the sale is s0²/(s0² + sc²)."""
    rules = pack_for()["reference"]
    prior, seen = rules["log_sd"] ** 2, rules["comparable_log_sd"] ** 2
    found = reference(sale(MEDIAN * 1.1))
    assert math.log(found["median"] / MEDIAN) == pytest.approx(prior / (prior + seen) * math.log(1.1))
    expected = 1 / (1 / prior + 1 / seen) + rules["market_log_sd"] ** 2
    assert found["log_sd"] == pytest.approx(math.sqrt(expected))


def test_an_asked_price_counts_less_than_a_sold_one_and_is_brought_down() -> None:
    sold, asked = reference(sale(MEDIAN)), reference(sale(MEDIAN, kind="asked"))
    assert asked["median"] < sold["median"]
    assert asked["log_sd"] > sold["log_sd"]


def test_the_state_in_which_it_sold_is_taken_out() -> None:
    offset = pack_for()["state_offsets"]["drilled"]
    assert reference(sale(MEDIAN * math.exp(offset), state="drilled"))["median"] == pytest.approx(MEDIAN)


def test_an_old_sale_counts_half_after_its_half_life_and_in_todays_money() -> None:
    """By hand: 1 461 days are four years of 365.25 days, the half-life of the family."""
    (row,) = reference(sale(MEDIAN, date="2022-11-25"))["comparables"]
    index = pack_for()["index"]
    assert row["recency"] == pytest.approx(0.5)
    assert row["month"] == "2022-11"
    assert row["price"] == pytest.approx(MEDIAN * index["2026-08"] / index["2022-11"])


def test_a_sale_far_out_counts_less() -> None:
    rows = reference(sale(MEDIAN), sale(MEDIAN * 1.05), sale(MEDIAN * 6))["comparables"]
    assert [row["huber"] for row in rows[:2]] == [1, 1]
    assert 0 < rows[2]["huber"] < 0.5


def test_another_currency_needs_its_rate_or_the_sale_stays_out_and_is_named() -> None:
    without, given_rate = reference(sale(500, currency="GBP")), reference(sale(95, currency="GBP", rate=0.5))
    assert without["comparables"][0]["used"] is False
    assert without["median"] == pytest.approx(MEDIAN)
    assert given_rate["comparables"][0] | {"used": True} == given_rate["comparables"][0]
    assert given_rate["comparables"][0]["price"] == pytest.approx(190)


def test_a_sale_in_the_currency_of_the_appraisal_goes_by_the_appraisals_rate_and_is_not_indexed() -> None:
    (row,) = reference(sale(380, currency="EUR", date="2001-01-01"), currency="EUR", rate=2)["comparables"]
    assert (row["used"], row["month"]) == (True, None)
    # In the appraisal's currency, as all money of the document.
    assert row["price"] == pytest.approx(380)


def test_the_amounts_add_up_from_the_moved_reference() -> None:
    found = appraised({"family": FAMILY, "today": TODAY, "comparables": [sale(MEDIAN * 2)]})
    price = found["price"]
    total = sum(row["amount"] for row in found["reasons"])
    assert total == pytest.approx(price["as_is"]["p50"] - price["reference"]["median"])


@pytest.mark.parametrize(
    ("comparable", "words"),
    [
        (sale(10, date="2026-11-26"), "after today"),
        ({"price": 10}, "has no date"),
        (sale(0), "must lie between"),
        (sale(10, state="shiny"), "not known"),
        (sale(10, kind="given"), "sold"),
        (sale(10, currency="dollars"), "three capitals"),
        (sale(10, colour="red"), "unknown key"),
        ("a sale", "JSON object"),
        (sale(10, date="25.11.2026"), "a date such as"),
    ],
)
def test_a_sale_that_cannot_be_read_is_refused_in_a_sentence(comparable: Any, words: str) -> None:
    with pytest.raises(BadFindings, match=words):
        appraised_by_the_app({"family": FAMILY, "comparables": [comparable]})


@given(st.lists(st.floats(1, 5000), min_size=1, max_size=6), st.randoms())
def test_the_order_of_sales_does_not_matter(prices: list[float], rng: Any) -> None:
    rows = [sale(price) for price in prices]
    shuffled = rng.sample(rows, len(rows))
    assert reference(*rows)["median"] == pytest.approx(reference(*shuffled)["median"], rel=1e-9)


@given(st.lists(st.floats(1, 5000), max_size=5), st.floats(1, 5000))
def test_the_reference_never_gets_less_certain_than_the_prior(prices: list[float], last: float) -> None:
    rules = pack_for()["reference"]
    assert reference(*map(sale, prices), sale(last))["log_sd"] <= math.hypot(
        rules["log_sd"], rules["market_log_sd"]
    ) * (1 + 1e-12)


def test_what_is_known_of_its_findings_goes_before_the_state_of_a_sale() -> None:
    offset = math.log(0.6)
    found = reference(sale(MEDIAN * 0.6, state="stripped", log_offset=offset))
    assert found["median"] == pytest.approx(MEDIAN)


@pytest.mark.parametrize("offset", ["much", 11, math.nan, True])
def test_an_offset_that_is_no_logarithm_of_a_ratio_is_refused(offset: Any) -> None:
    document = {"family": FAMILY, "today": TODAY, "comparables": [sale(90, log_offset=offset)]}
    with pytest.raises(BadFindings, match="log_offset of comparable 1"):
        appraised_by_the_app(document)
