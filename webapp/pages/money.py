"""Money in words and figures, by the library's ISO 4217 and locale tables."""

from babel.core import Locale
from babel.numbers import format_currency, get_currency_precision, get_currency_symbol, list_currencies

from webapp.errors import BadFindings, Sentence, did_you_mean

_LOCALE = Locale("en")


def minor_digits(currency: str) -> int:
    """Decimals of a currency's minor unit by ISO 4217; raises BadFindings for a code not in the list."""
    if currency not in list_currencies():
        raise BadFindings(
            Sentence('"{currency}" is not a currency code of ISO 4217.', currency=currency),
            did_you_mean(currency, sorted(list_currencies())),
        )
    return get_currency_precision(currency)


def say_money(amount: float, currency: str, locale: Locale = _LOCALE) -> str:
    """An amount already rounded for the eye, with its currency; decimals only where it has any."""
    decimals = "" if amount == int(amount) else "." + "0" * max(1, minor_digits(currency))
    if locale.language == "en":
        locale = _LOCALE
        # A sign stands close to the figure, letters do not: $240, but CHF 240.
        sign = "¤\xa0" if get_currency_symbol(currency, _LOCALE)[-1].isalpha() else "¤"
        form = f"{sign}#,##0{decimals}"
    else:
        form = locale.currency_formats["standard"].pattern.replace(".00", decimals)
    return format_currency(amount, currency, form, locale=locale, currency_digits=False)
