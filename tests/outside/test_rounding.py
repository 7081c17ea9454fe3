"""Rounding of money against exact decimals, and minor units against the published list."""

from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

import pytest
from babel.core import get_global
from babel.numbers import list_currencies
from hypothesis import example, given
from hypothesis import strategies as st

from tests.support.packs import FAMILY
from tests.support.phone import Phone
from webapp.appraisal.money import rounded
from webapp.errors import BadFindings
from webapp.pages.money import minor_digits, say_money

PHONES_DIGITS = """
const [{ minorDigits }, { loadPack }] = await Promise.all(['ui/money.js', 'store/packs.js']
  .map((file) => import(`${document.documentElement.dataset.base}js/${file}`)));
const pack = await loadPack(args[1]);
return Object.fromEntries(args[0].map((code) => [code, minorDigits(code, pack)]));
"""
STEPS = [Decimal(m).scaleb(n) for n in range(-6, 14) for m in (1, 2, 5)]


def exact(value: Decimal, digits: int, rounding: str) -> Decimal:
    """Contract §10 in exact decimals: the largest step of 1, 2, 5 within 2 %, or the minor unit."""
    finest = Decimal(1).scaleb(-digits)
    step = max([finest, *(step for step in STEPS if finest <= step <= value * Decimal("0.02"))])
    return (value / step).quantize(Decimal(1), rounding=rounding) * step


amounts = st.decimals(min_value=0, max_value=10**8, places=2)


@example(Decimal("1.13"), 2)
@example(Decimal("2.05"), 3)
@given(amounts, st.sampled_from([0, 2, 3]))
def test_amounts_round_as_in_exact_decimals_halves_upward(value: Decimal, digits: int) -> None:
    """Source: decimal.ROUND_HALF_UP of the standard library."""
    expected = exact(value, digits, ROUND_HALF_UP)
    assert rounded(float(value), 0.02, digits) == pytest.approx(float(expected), rel=1e-12)


@given(amounts, st.sampled_from([0, 2, 3]))
def test_offers_round_down_as_in_exact_decimals(value: Decimal, digits: int) -> None:
    """Source: decimal.ROUND_FLOOR of the standard library."""
    expected = exact(value, digits, ROUND_FLOOR)
    assert rounded(float(value), 0.02, digits, down=True) == pytest.approx(float(expected), rel=1e-12)


@pytest.mark.parametrize("whole", range(1, 200, 2))
def test_every_half_of_a_step_goes_upward_and_never_to_the_even_neighbour(whole: int) -> None:
    """Source: the same. Amounts from 100 to 249 move in steps of 2: odd amounts are halves."""
    value = 100 + whole % 149
    if value % 2 == 0:
        value += 1
    assert rounded(float(value), 0.02, 2) == value + 1


@pytest.mark.parametrize(
    ("currency", "digits"),
    [
        ("USD", 2), ("EUR", 2), ("GBP", 2), ("CHF", 2), ("SEK", 2), ("JPY", 0), ("KRW", 0), ("ISK", 0),
        ("CLP", 0), ("KWD", 3), ("BHD", 3), ("TND", 3), ("JOD", 3),
    ],
)  # fmt: skip
def test_minor_units_are_those_of_iso_4217(currency: str, digits: int) -> None:
    """Source: ISO 4217, list of currencies, column of minor units."""
    assert minor_digits(currency) == digits


def test_every_listed_currency_has_the_minor_unit_of_the_published_data() -> None:
    """Source: the Unicode CLDR supplemental currency data that comes with babel."""
    published = get_global("currency_fractions")
    for currency in list_currencies():
        assert minor_digits(currency) == published.get(currency, published["DEFAULT"])[0], currency


def test_the_phone_rounds_every_currency_to_the_same_minor_unit(opened_phone: Phone) -> None:
    """Source: ISO 4217 through babel; a browser's own list gives the forint and three others no decimals."""
    found = opened_phone.js(PHONES_DIGITS, sorted(list_currencies()), FAMILY)
    assert found == {code: minor_digits(code) for code in list_currencies()}


@pytest.mark.parametrize("code", ["QQQ", "usd", "", "US", "EURO"])
def test_a_code_that_is_not_on_the_list_is_refused(code: str) -> None:
    """Source: the list of ISO 4217 codes that comes with babel."""
    assert code not in list_currencies()
    with pytest.raises(BadFindings, match=r"not a currency code of ISO 4217"):
        minor_digits(code)


@pytest.mark.parametrize(
    ("amount", "currency", "said"),
    [
        (240.0, "USD", "$240"),
        (0.0, "USD", "$0"),
        (47.5, "USD", "$47.50"),
        (0.37, "EUR", "€0.37"),
        (1240.0, "GBP", "£1,240"),
        (1240.0, "JPY", "¥1,240"),
        (240.0, "CHF", "CHF\xa0240"),
        (3.2, "KWD", "KWD\xa03.200"),
        (-12.0, "USD", "-$12"),
    ],
)
def test_money_is_written_with_its_currency_and_decimals_only_where_it_has_any(
    amount: float, currency: str, said: str
) -> None:
    """Source: the English forms of the Unicode CLDR, through babel."""
    assert say_money(amount, currency) == said
