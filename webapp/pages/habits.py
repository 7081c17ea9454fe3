"""What a reader is used to: language, how numbers, money and days are written, and what lengths are in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from babel.core import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.numbers import get_decimal_symbol
from babel.units import format_unit

from webapp.appraisal.money import rounded
from webapp.pages.figures import plain_figure
from webapp.pages.money import minor_digits, say_money

Json = dict[str, Any]
Unit = Literal["mm", "inch"]

MM_PER_INCH = 25.4
# Territories where people measure in inches.
_INCHES = ("US", "LR", "MM")
# English has the day first and the month in letters, wherever it is read.
_ENGLISH_DAYS = Locale("en", "GB")


@dataclass(frozen=True, slots=True)
class Habits:
    """How one reader is written to. `locale` speaks `language`."""

    language: str
    locale: Locale
    unit: Unit

    def figure(self, value: float) -> str:
        """A figure with at most three decimals and thin spaces between thousands."""
        return self.pointed(plain_figure(value))

    def pointed(self, written: str) -> str:
        """A figure that was written with a decimal point, with the reader's sign for it."""
        return written if self.language == "en" else written.replace(".", get_decimal_symbol(self.locale))

    def length(self, mm: float) -> str:
        """A length: millimetres to the tenth; inches to the hundredth, from ten on to the tenth."""
        inches = mm / MM_PER_INCH
        if self.unit == "mm":
            return format_unit(mm, "length-millimeter", "short", format="#,##0.#", locale=self.locale)
        form = "#,##0.##" if abs(inches) < 10 else "#,##0.#"
        return format_unit(inches, "length-inch", "short", format=form, locale=self.locale)

    def hours(self, value: float) -> str:
        """Hours of work: minutes below three quarters, halves below ten."""
        if value < 0.75:
            return f"{max(5, math.floor(value * 12 + 0.5) * 5)} min"
        return f"{self.figure(math.floor(2 * value + 0.5) / 2 if value < 10 else math.floor(value + 0.5))} h"

    def day(self, day: date) -> str:
        """A day with its month in letters."""
        return format_date(
            day, "d MMMM y" if self.language == "en" else "long",
            locale=_ENGLISH_DAYS if self.language == "en" else self.locale,
        )  # fmt: skip

    def exactly(self, amount: float, currency: str) -> str:
        """An amount that somebody named."""
        return say_money(amount, currency, self.locale)

    def money(self, amount: float, currency: str, share: float) -> str:
        """An amount of the engine, rounded for the eye by `share`."""
        return self.exactly(rounded(amount, share, minor_digits(currency)), currency)

    def listed(self, labels: Sequence[str]) -> str:
        """Labels of the pack one after another, within a sentence."""
        return ", ".join(self.label(label) for label in labels)

    def label(self, label: str) -> str:
        """A label within a sentence: in English its first letter is small, but for an abbreviation's."""
        if self.language != "en" or not label[1:2].islower():
            return label
        return label[0].lower() + label[1:]


def habits_of(language: str, wanted: Sequence[str], unit: str | None) -> Habits:
    """The habits of a reader who asks for these locales, best first; `unit` where it was chosen.

    The locale is the first wanted one of the language, else the language's own.
    """
    locales = [found for tag in wanted if (found := _locale(tag)) is not None]
    locale = next((one for one in locales if one.language == language), Locale(language))
    first = locales[0] if locales else locale
    usual: Unit = "inch" if first.territory in _INCHES else "mm"
    return Habits(language, locale, "inch" if unit == "inch" else "mm" if unit == "mm" else usual)


def _locale(tag: str) -> Locale | None:
    try:
        return Locale.parse(tag.replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        return None
