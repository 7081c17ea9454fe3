"""What to look at next, and when to stop: expected value of information (contract §8).

Sources: Raiffa and Schlaifer 1961; Howard 1966; Black 1976 for the closed form.
"""

import math
from dataclasses import dataclass

from webapp.appraisal.findings import Findings
from webapp.appraisal.normal import normal_cdf
from webapp.appraisal.prepared import Check, Prepared
from webapp.appraisal.price import Market, Shares
from webapp.appraisal.standing import Standing
from webapp.appraisal.worth import InParts, Mending, Worth, fair


@dataclass(frozen=True, slots=True)
class Look:
    """One check worth a look: its expected value, in money of the appraisal, and its seconds."""

    check: int
    evi: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Looking:
    """All that is left to look at: its value, the threshold below which to stop, and the looks in order.

    With an asking price both are money; without, both are variances of the log price.
    """

    value: float
    threshold: float
    looks: list[Look]


@dataclass(frozen=True, slots=True)
class Now:
    """The state of the appraisal that a further answer would change."""

    prepared: Prepared
    standing: Standing
    findings: Findings
    found: Shares
    market: Market
    parts: InParts
    mending: Mending
    worth: Worth


def looking(now: Now) -> Looking:
    """The looks in order of expected value per second, and whether they are worth the time."""
    prepared, asking = now.prepared, now.findings.asking
    left = [
        index
        for index, check in enumerate(prepared.checks)
        if now.standing.shown[index]
        and now.standing.chosen[index] < 0
        and check.id not in now.findings.unseen
    ]
    spread = sum(prepared.checks[index].spread for index in left)
    model = prepared.pack["model"]
    money = model["look_share"] * max(asking or 0.0, now.worth.value)
    if asking is None:
        value, threshold = spread, model["spread_share"] * now.market.variance
    else:
        value, threshold = value_of_all(now.worth.value, asking, spread), money
    looks = [_look(now, index) for index in left]
    floor = model["evi_floor"] * money
    looks.sort(
        key=lambda look: (
            -(look.evi / look.seconds if look.evi >= floor else 0.0),
            -(prepared.checks[look.check].spread / look.seconds),
            look.check,
        )
    )
    return Looking(value, threshold, looks)


def value_of_all(worth: float, asking: float, spread: float) -> float:
    """Value of looking at everything left: W·Φ(d₁) − A·Φ(d₂) − max(0, W − A), W taken as lognormal."""
    if asking == 0 or spread <= 0 or worth <= 0:
        return 0.0
    s = math.sqrt(spread)
    d1 = (math.log(worth / asking) + spread / 2) / s
    return worth * normal_cdf(d1) - asking * normal_cdf(d1 - s) - max(0.0, worth - asking)


def _look(now: Now, index: int) -> Look:
    check = now.prepared.checks[index]
    asking = now.findings.asking
    if asking is None:
        z90 = now.prepared.pack["model"]["z90"]
        width = fair(now.market, now.parts, z90) - fair(now.market, now.parts, -z90)
        after = sum(
            option.prior * _width(now, check, index, number, z90)
            for number, option in enumerate(check.options)
        )
        return Look(index, width - after, check.seconds)
    base_cost = _cost_without(now, index)
    gain = sum(
        option.prior * max(0.0, _worth_if(now, check, index, number, base_cost) - asking)
        for number, option in enumerate(check.options)
    )
    return Look(index, gain - max(0.0, now.worth.value - asking), check.seconds)


def _parts_mean_if(now: Now, check: Check, number: int) -> float:
    if check.part < 0:
        return now.parts.mean
    part = now.prepared.parts[check.part]
    t: float = now.prepared.pack["sell_through"] * now.findings.rate
    return now.parts.mean + t * part.salvage_mean * (check.options[number].state - check.state)


def _worth_if(now: Now, check: Check, index: int, number: int, base_cost: float) -> float:
    """W with option `number` as the answer: each sum with this check's share exchanged.

    The follow-ups that it would open count as open, whatever was once answered there: so the
    answers' worths average to today's, and no look is worth less than nothing.
    """
    view = now.prepared.aims[now.findings.aim]
    as_is = now.market.mean * (check.options[number].factor / now.found.factor[index])
    restored = view.option_factors[index][number] / now.found.restored[index]
    restored_mean = now.market.restored_mean * restored
    cost = base_cost
    calls = view.mend_calls[index]
    for task, weight in calls.open:
        q = 1.0 if task in calls.options[number] else 1.0 - _product_without(now, task, weight)
        cost += q * now.mending.cost[task]
    return max(as_is, restored_mean - cost, _parts_mean_if(now, check, number))


def _product_without(now: Now, task: int, weight: float) -> float:
    """Probability that no other check or hole calls the task."""
    calls = now.mending.calls
    own = 1.0 - weight
    if own > 0:
        return 0.0 if calls.zeros[task] else calls.product[task] / own
    return 0.0 if calls.zeros[task] > 1 else calls.product[task]


def _cost_without(now: Now, index: int) -> float:
    """The cost of mending less that of the tasks which this check calls."""
    view = now.prepared.aims[now.findings.aim]
    cost = now.mending.total
    for task, _ in view.mend_calls[index].open:
        cost -= now.mending.calls.probability(task) * now.mending.cost[task]
    return cost


def _width(now: Now, check: Check, index: int, number: int, z90: float) -> float:
    """P90 − P10 of the fair price with option `number` as the answer."""
    option = check.options[number]
    mean = option.mean + sum(now.prepared.checks[child].mean for child in option.opens)
    market = Market(
        now.market.log_reference,
        now.market.reference_variance,
        now.market.log_median - now.found.mean[index] + mean,
        max(0.0, now.market.variance - now.found.variance[index] + option.variance),
        now.market.mean,
        now.market.restored_mean,
    )
    parts = now.parts
    if check.part >= 0:
        parts = InParts(_parts_mean_if(now, check, number), _parts_variance_if(now, check, number))
    return fair(market, parts, z90) - fair(market, parts, -z90)


def _parts_variance_if(now: Now, check: Check, number: int) -> float:
    part = now.prepared.parts[check.part]
    t: float = now.prepared.pack["sell_through"] * now.findings.rate
    state = check.options[number].state
    square = part.salvage_variance + part.salvage_mean**2
    before = t * t * check.state_square * square - (t * check.state * part.salvage_mean) ** 2
    return now.parts.variance - before + t * t * state * state * part.salvage_variance
