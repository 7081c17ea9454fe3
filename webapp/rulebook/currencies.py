"""Decimals of currencies by ISO 4217, for the pack: a browser's own list differs from it."""

from functools import cache

from babel.numbers import get_currency_precision, list_currencies

USUAL = 2


@cache
def unusual_minor_digits() -> dict[str, int]:
    """Currency code → decimals of its minor unit, for the codes that do not have the usual two."""
    digits = {code: get_currency_precision(code) for code in sorted(list_currencies())}
    return {code: count for code, count in digits.items() if count != USUAL}
