"""The reference price from the family's prior and from comparable sales (contract §5).

Sources: Raiffa and Schlaifer 1961 (normal-normal updating); Huber 1964 (weights, 1.345).
"""

import math
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.appraisal.findings import Comparable, Findings
from webapp.appraisal.prepared import Pack

DAYS_A_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class Weighed:
    """One comparable as it counts: `price` in the pack's currency, in today's money and the reference state.

    `month` is the month whose index was used, None where nothing was indexed. `recency` and `huber` are
    its two weights, `share` its part of the posterior's precision; without `used` all three are 0 and the
    comparable stays out for want of a rate.
    """

    used: bool
    price: float
    month: str | None
    recency: float
    huber: float
    share: float


_LEFT_OUT = Weighed(False, 0.0, None, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class ReferencePrice:
    """ln R with its variance (without the scatter between like sets), and what each comparable did."""

    log_median: float
    variance: float
    comparables: tuple[Weighed, ...] = ()


def reference_price(pack: Pack, findings: Findings) -> ReferencePrice:
    """The posterior of the reference price, in the pack's currency."""
    reference = pack["reference"]
    prior_mean, prior_variance = math.log(reference["median"]), reference["log_sd"] ** 2
    if not findings.comparables:
        return ReferencePrice(prior_mean, prior_variance)
    read = [_read(pack, findings, comparable) for comparable in findings.comparables]
    seen = [one for one in read if one is not None]
    mean, variance, huber = posterior(
        prior_mean,
        prior_variance,
        [(one.log_price, one.variance, one.recency) for one in seen],
        reference["comparable_log_sd"],
        pack["model"]["huber"],
    )
    weights = iter(huber)
    weighed = (_LEFT_OUT if one is None else _weighed(one, next(weights), variance) for one in read)
    return ReferencePrice(mean, variance, tuple(weighed))


def _weighed(one: "_Observation", huber: float, variance: float) -> Weighed:
    share = huber * one.recency / one.variance * variance
    return Weighed(True, math.exp(one.log_price), one.month, one.recency, huber, share)


def posterior(
    prior_mean: float,
    prior_variance: float,
    seen: Sequence[tuple[float, float, float]],
    spread: float,
    tuning: float,
) -> tuple[float, float, list[float]]:
    """Mean, variance and Huber weights of a normal mean after (value, variance, weight) observations.

    Residuals are standardised by `spread`; 20 rounds, or until the mean moves by less than 1e-10.
    """
    huber = [1.0] * len(seen)
    mean, precision = _updated(prior_mean, prior_variance, seen, huber)
    for _ in range(20):
        residuals = [abs(value - mean) / spread for value, _, _ in seen]
        huber = [1.0 if z <= tuning else tuning / z for z in residuals]
        before = mean
        mean, precision = _updated(prior_mean, prior_variance, seen, huber)
        if abs(mean - before) < 1e-10:
            break
    return mean, 1 / precision, huber


def _updated(
    prior_mean: float, prior_variance: float, seen: Sequence[tuple[float, float, float]], huber: list[float]
) -> tuple[float, float]:
    precision, weighted = 1 / prior_variance, prior_mean / prior_variance
    for (value, variance, weight), h in zip(seen, huber, strict=True):
        precision += h * weight / variance
        weighted += h * weight * value / variance
    return weighted / precision, precision


@dataclass(frozen=True, slots=True)
class _Observation:
    log_price: float
    variance: float
    recency: float
    month: str | None


def _read(pack: Pack, findings: Findings, comparable: Comparable) -> _Observation | None:
    """The comparable as an observation of ln R; None when its currency has no rate."""
    rate = _rate(pack, findings, comparable)
    if rate is None:
        return None
    reference, today = pack["reference"], findings.today
    assert today is not None
    years = (today - comparable.date).days / DAYS_A_YEAR
    factor, month = 1.0, None
    if comparable.currency == reference["currency"]:
        factor, month = indexed(pack["index"], comparable.date, today)
    variance = reference["comparable_log_sd"] ** 2
    offset = comparable.log_offset
    if offset is None:
        offset = pack["state_offsets"].get(comparable.state or "", 0.0)
    if comparable.kind == "asked":
        offset += reference["asked"][0]
        variance += reference["asked"][1] ** 2
    log_price = math.log(comparable.price / rate * factor) - offset
    return _Observation(log_price, variance, 2 ** (-years / reference["half_life_years"]), month)


def _rate(pack: Pack, findings: Findings, comparable: Comparable) -> float | None:
    """Units of the comparable's currency for one of the pack's."""
    if comparable.currency == pack["reference"]["currency"]:
        return 1.0
    if comparable.rate is not None:
        return comparable.rate
    return findings.rate if comparable.currency == findings.currency else None


def indexed(index: Mapping[str, Any], then: date, today: date) -> tuple[float, str | None]:
    """What a sum of `then` is in today's money, and the month that stood for then.

    Each date goes by the latest published month not after it; before the series nothing is indexed (1, None).
    """
    months = sorted(index)
    at = bisect_right(months, then.isoformat()[:7]) - 1
    now = bisect_right(months, today.isoformat()[:7]) - 1
    if at < 0 or now < 0:
        return 1.0, None
    return index[months[now]] / index[months[at]], months[at]
