"""The figures of rule rows as people read them. Twin of static/js/ui/rule_figures.js."""

import math
from collections.abc import Sequence
from decimal import Decimal

from webapp.pages.figures import rounded_figure
from webapp.pages.reading_habits import reader
from webapp.pages.texts import _


def figure(value: float) -> str:
    """A figure with at most three decimals and thin spaces between thousands."""
    return reader().figure(value)


def tenths(value: float) -> float:
    """A value rounded to tenths by its size, halves upward."""
    size = math.floor(abs(value) * 10 + 0.5) / 10
    return math.copysign(size, value) if size else 0.0


def change(log_effect: float) -> str:
    """What a log effect does to a price in percent, with its sign and without the word for percent."""
    percent = tenths(100 * (math.exp(log_effect) - 1))
    if percent == 0:
        return "±0"
    return ("+" if percent > 0 else "−") + figure(abs(percent))


def percent(log_effect: float) -> str:
    """The same with its percent sign."""
    return f"{change(log_effect)} %"


def effect(effect: Sequence[float]) -> str:
    """A log effect [mean, sd]: its percent, and in brackets those one standard deviation to each side."""
    mean, sd = effect
    if not sd:
        return percent(mean)
    return _(
        "{middle} ({low} to {high})",
        middle=percent(mean), low=change(mean - sd), high=percent(mean + sd),
    )  # fmt: skip


def spread(sd: float) -> str:
    """How far one standard deviation of a log price reaches to each side."""
    return _("{low} to {high}", low=change(-sd), high=percent(sd))


def of_hundred(share: float) -> str:
    """A share as so many of 100."""
    return _("{count} of 100", count=figure(tenths(100 * share)))


def of_whole(share: float) -> str:
    """A share in percent."""
    return f"{figure(tenths(100 * share))} %"


def estimate(low_likely_high: Sequence[float], unit: str) -> str:
    """Three estimates with their unit."""
    low, likely, high = low_likely_high
    if low == high:
        return f"{figure(likely)} {unit}"
    return _(
        "{low} to {high} {unit}, likely {likely}",
        low=figure(low), high=figure(high), unit=unit, likely=figure(likely),
    )  # fmt: skip


def inches(value: float) -> str:
    """Inches to the ten-thousandth, in which drills are listed."""
    return _("{inches} in", inches=reader().pointed(rounded_figure(Decimal(value), "0.0001")))


def names(words: Sequence[str], between: str = "and") -> str:
    """Words in one line: "a, b and c", or with "or"."""
    if len(words) < 2:
        return "".join(words)
    first, last = ", ".join(words[:-1]), words[-1]
    if between == "or":
        return _("{first} or {last}", first=first, last=last)
    return _("{first} and {last}", first=first, last=last)


def supply(volts: Sequence[float]) -> str:
    """The sentence for a supply from the lowest to the highest voltage."""
    return _("Supply: {low} to {high} V.", low=figure(volts[0]), high=figure(volts[1]))
