"""Three ways to use a set, and what it is worth to this user (contract §4)."""

import math
from dataclasses import dataclass

from webapp.appraisal.effort import Called, called, task_estimate
from webapp.appraisal.findings import Findings
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import Market
from webapp.appraisal.standing import Standing

WAYS = ("as_is", "restored", "parts")


@dataclass(frozen=True, slots=True)
class InParts:
    """The set broken for parts: mean and variance, the work of breaking paid."""

    mean: float
    variance: float

    def quantile(self, z: float) -> float:
        """Normal quantile, never below 0."""
        return max(0.0, self.mean + z * math.sqrt(max(0.0, self.variance)))


@dataclass(frozen=True, slots=True)
class Mending:
    """The work that mends: which tasks it calls, what each costs this user, and the total expected."""

    calls: Called
    cost: list[float]
    total: float


@dataclass(frozen=True, slots=True)
class Worth:
    """The largest of the three means, and the way that gives it."""

    value: float
    way: str


def in_parts(prepared: Prepared, standing: Standing, findings: Findings) -> InParts:
    """Mean and variance of the parts sold singly, less the hours of breaking."""
    t = prepared.pack["sell_through"] * findings.rate
    mean = -findings.hour_rate * prepared.break_hours_mean
    variance = 0.0
    for part in prepared.parts:
        check = prepared.checks[part.check]
        chosen = standing.chosen[part.check]
        state = check.options[chosen].state if chosen >= 0 else check.state
        square = state * state if chosen >= 0 else check.state_square
        share = t * state * part.salvage_mean
        mean += share
        variance += t * t * square * (part.salvage_variance + part.salvage_mean**2) - share * share
    return InParts(mean, variance)


def mending(prepared: Prepared, standing: Standing, findings: Findings) -> Mending:
    """Expected materials and paid hours of the tasks called by mended options and mended holes."""
    view = prepared.aims[findings.aim]
    holes = standing.drilled.mended_tasks if standing.drilled is not None else {}
    calls = called(prepared, standing, view.mend_calls, holes)
    cost = []
    total = 0.0
    for index, task in enumerate(prepared.tasks):
        hours, materials = task_estimate(task, calls.items.get(index, 0))
        cost.append(materials[0] * findings.rate + findings.hour_rate * hours[0])
        total += calls.probability(index) * cost[index]
    return Mending(calls, cost, total)


def worth(as_is: float, restored: float, parts: float) -> Worth:
    """The best of the three means; ways within 1e-9 of each other are told apart by their order."""
    best = max(as_is, restored, parts)
    near = best - 1e-9 * max(1.0, abs(best))
    way = WAYS[0] if as_is >= near else WAYS[1] if restored >= near else WAYS[2]
    return Worth(best, way)


def fair(market: Market, parts: InParts, z: float) -> float:
    """What the market would pay at a quantile: the larger of as it stands and in parts."""
    return max(market.quantile(z), parts.quantile(z))
