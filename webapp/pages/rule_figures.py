"""The figures of rule rows as people read them. Twin of static/js/ui/rule_figures.js."""

import math
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal


def figure(value: float) -> str:
    """A figure with at most three decimals and thin spaces between thousands."""
    # Browsers round the figure as it is written, not the double behind it, with halves upward.
    return _decimals(Decimal(str(value)), "0.001").replace(",", "\u202f")


def _decimals(value: Decimal, step: str) -> str:
    """Rounded to a step, halves upward, without trailing zeros."""
    return f"{value.quantize(Decimal(step), ROUND_HALF_UP):,f}".rstrip("0").rstrip(".")


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
    return percent(mean) + (f" ({change(mean - sd)} to {percent(mean + sd)})" if sd else "")


def spread(sd: float) -> str:
    """How far one standard deviation of a log price reaches to each side."""
    return f"{change(-sd)} to {percent(sd)}"


def of_hundred(share: float) -> str:
    """A share as so many of 100."""
    return f"{figure(tenths(100 * share))} of 100"


def of_whole(share: float) -> str:
    """A share in percent."""
    return f"{figure(tenths(100 * share))} %"


def estimate(low_likely_high: Sequence[float], unit: str) -> str:
    """Three estimates with their unit."""
    low, likely, high = low_likely_high
    if low == high:
        return f"{figure(likely)} {unit}"
    return f"{figure(low)} to {figure(high)} {unit}, likely {figure(likely)}"


def inches(value: float) -> str:
    """Inches to the ten-thousandth, in which drills are listed."""
    return f"{_decimals(Decimal(value), '0.0001')} in"


def names(words: Sequence[str], last: str = "and") -> str:
    """Words in one line: "a, b and c"."""
    return f" {last} ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)


def supply(volts: Sequence[float]) -> str:
    """The sentence for a supply from the lowest to the highest voltage."""
    return f"Supply: {figure(volts[0])} to {figure(volts[1])} V."
