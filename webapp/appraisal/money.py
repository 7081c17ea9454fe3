"""How money is rounded for the eye (contract §10). The engines themselves never round."""

import math


def money_step(value: float, share: float, minor_digits: int) -> tuple[int, int]:
    """The display step of an amount as (m, n), meaning m·10ⁿ with m one of 1, 2, 5.

    The largest step that is at most `share` of the amount, never finer than the currency's
    minor unit of `minor_digits` decimals.
    """
    limit = abs(value) * share * (1 + 1e-12)
    if limit <= _power(-minor_digits):
        return 1, -minor_digits
    n = math.floor(math.log10(limit))
    for m, exponent in ((10, n), (5, n), (2, n), (1, n), (5, n - 1)):
        if m * _power(exponent) <= limit:
            return (1, exponent + 1) if m == 10 else (m, exponent)
    return 1, n


def rounded(value: float, share: float, minor_digits: int, down: bool = False) -> float:
    """The amount as shown: to the nearest step, halves upward; with `down`, the step at or below it.

    The magnitude is rounded, then signed; 0 shows 0.
    """
    if value == 0:
        return 0.0
    m, n = money_step(value, share, minor_digits)
    steps = abs(value) * _power(-n) / m if n < 0 else abs(value) / (m * _power(n))
    # The last digits of the division must not push a half, or a whole step, to the wrong side.
    whole = math.floor(steps + (1e-9 if down else 0.5 + 1e-9))
    amount = whole * m / _power(-n) if n < 0 else whole * m * _power(n)
    return math.copysign(amount, value) if amount else 0.0


def _power(exponent: int) -> float:
    """Ten to a whole power, exact from 10⁰ upward."""
    return float(10**exponent) if exponent >= 0 else 1.0 / float(10**-exponent)


def logarithmic_mean(x: float, y: float) -> float:
    """L(x, y) = (x − y)/(ln x − ln y), L(x, x) = x, for positive x and y.

    Source: Ang 2004 (logarithmic mean Divisia decomposition). Near x = y the quotient loses its
    digits; there the series of atanh gives the same to 1e-16.
    """
    ratio = (x - y) / (x + y)
    if abs(ratio) < 1e-3:
        square = ratio * ratio
        return (x + y) / 2 / (1 + square / 3 + square * square / 5)
    return (x - y) / (math.log(x) - math.log(y))
