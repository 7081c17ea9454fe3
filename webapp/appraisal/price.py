"""The price as it stands and restored: a semi-log hedonic model (contract §3, §4).

Sources: Rosen 1974; Halvorsen and Palmquist 1980.
"""

import math
from dataclasses import dataclass

from webapp.appraisal.findings import Findings
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reference import Weighed, reference_price
from webapp.appraisal.scores import foreign_checks
from webapp.appraisal.standing import Standing, hole_effect


@dataclass(frozen=True, slots=True)
class Shares:
    """Per check, as if it were shown, with the follow-ups its answer opens.

    `mean`, `variance`: log effect; `factor`: exact mean of the price; `restored`: the same when mended.
    """

    mean: list[float]
    variance: list[float]
    factor: list[float]
    restored: list[float]


@dataclass(frozen=True, slots=True)
class Effect:
    """One computed log effect: mean, variance and exact-mean factor."""

    mean: float
    variance: float
    factor: float


@dataclass(frozen=True, slots=True)
class Market:
    """The lognormal price: μ, σ², the exact mean, the mean when mended (work not paid yet)."""

    log_reference: float
    reference_variance: float
    log_median: float
    variance: float
    mean: float
    restored_mean: float
    comparables: tuple[Weighed, ...] = ()

    def quantile(self, z: float) -> float:
        """exp(μ + z·σ), in the appraisal's currency."""
        return math.exp(self.log_median + z * math.sqrt(self.variance))


def known_effect(pair: list[float]) -> Effect:
    """The effect of a [mean, sd] row that certainly holds."""
    mean, sd = pair
    return Effect(mean, sd * sd, math.exp(mean + sd * sd / 2))


def coverage_effect(prepared: Prepared, standing: Standing) -> Effect:
    """In band, out of band, or, while coverage or region are unknown, the mixture of the two."""
    effects = prepared.pack["effects"]
    inside = known_effect(effects["coverage_in_band"])
    outside = known_effect(effects["coverage_out_of_band"])
    if standing.overlap_khz is not None:
        return inside if standing.overlap_khz >= prepared.pack["model"]["overlap_khz"] else outside
    p = effects["in_band_prior"]
    mean = p * inside.mean + (1 - p) * outside.mean
    square = p * (inside.variance + inside.mean**2) + (1 - p) * (outside.variance + outside.mean**2)
    return Effect(mean, square - mean * mean, p * inside.factor + (1 - p) * outside.factor)


def misfits(prepared: Prepared, standing: Standing) -> list[tuple[str, str, Effect]]:
    """What does not fit (contract §6): name of the effect, of the comparison, and the effect itself.

    A crystal or book of another set counts only while its check says that one is there (contract §3). A
    family without grounds for an effect has none: a supply may come with a model sheet alone.
    """
    effects, found = prepared.pack["effects"], standing.matches
    foreign = foreign_checks(prepared, standing)
    judged = (
        ("crystal_foreign", "crystal", prepared.crystal_check in foreign),
        ("book_foreign", "serial", prepared.book_check in foreign),
        ("heaters_misfit", "heaters", found.heaters is False),
        ("designation_misfit", "designation", found.designation is False),
        ("finish_misfit", "finish", found.finish is False),
    )
    return [
        (name, comparison, known_effect(effects[name]))
        for name, comparison, bad in judged
        if bad and comparison in effects
    ]


def shares(prepared: Prepared, standing: Standing, aim: str) -> Shares:
    """Each check's share in price and restored price, deepest follow-ups first."""
    count = len(prepared.checks)
    found = Shares([0.0] * count, [0.0] * count, [1.0] * count, [1.0] * count)
    view = prepared.aims[aim]
    for index in prepared.parents_last:
        check = prepared.checks[index]
        chosen = standing.chosen[index]
        if chosen < 0:
            found.mean[index] = check.mean
            found.variance[index] = check.variance
            found.factor[index] = check.factor
            found.restored[index] = view.factors[index]
            continue
        option = check.options[chosen]
        mean, variance, factor = option.own_mean, option.own_variance, option.own_factor
        restored = view.own_factors[index][chosen]
        for child in option.opens:
            mean += found.mean[child]
            variance += found.variance[child]
            factor *= found.factor[child]
            restored *= found.restored[child]
        found.mean[index], found.variance[index] = mean, variance
        found.factor[index], found.restored[index] = factor, restored
    if standing.drilled is not None:
        index = prepared.hole_check
        mean, variance = hole_effect(prepared.pack, standing.drilled.severity)
        found.mean[index], found.variance[index] = mean, variance
        found.factor[index] = math.exp(mean + variance / 2)
        mean, variance = hole_effect(prepared.pack, standing.drilled.restored_severity)
        found.restored[index] = math.exp(mean + variance / 2)
    return found


def market(prepared: Prepared, standing: Standing, found: Shares, findings: Findings) -> Market:
    """The price law of the set in the appraisal's currency."""
    reference = reference_price(prepared.pack, findings)
    log_reference = reference.log_median + math.log(findings.rate)
    reference_variance = reference.variance + prepared.pack["reference"]["market_log_sd"] ** 2
    mean, variance, factor = log_reference, reference_variance, 1.0
    restored = 1.0
    for index in prepared.always_shown:
        mean += found.mean[index]
        variance += found.variance[index]
        factor *= found.factor[index]
        restored *= found.restored[index]
    for effect in (coverage_effect(prepared, standing), *(row[2] for row in misfits(prepared, standing))):
        mean += effect.mean
        variance += effect.variance
        factor *= effect.factor
        restored *= effect.factor
    base = math.exp(log_reference + reference_variance / 2)
    return Market(
        log_reference,
        reference_variance,
        mean,
        variance,
        base * factor,
        base * restored,
        reference.comparables,
    )
