"""How wide the range is, and from what: the variance of the log price taken apart (contract §3)."""

import math
from dataclasses import dataclass

from webapp.appraisal.looking import Looking
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import Market, coverage_effect, misfits
from webapp.appraisal.standing import Standing, hole_effect


@dataclass(frozen=True, slots=True)
class Part:
    """One source of doubt: `reference`, `scatter`, a check, `coverage` or a misfit.

    `found`: whether it stays with what was found; a look may still settle what was not.
    """

    what: str
    variance: float
    share: float
    found: bool


@dataclass(frozen=True, slots=True)
class Spread:
    """σ of the log price, its parts, the largest first, and P10 and P90 once all that can be is looked at."""

    log_sd: float
    parts: list[Part]
    settled: tuple[float, float]


def spread(prepared: Prepared, standing: Standing, market: Market, ahead: Looking) -> Spread:
    """The parts add up to σ². `settled` takes off what the looks ahead are expected to settle."""
    scatter = prepared.pack["reference"]["market_log_sd"] ** 2
    rows = [("reference", market.reference_variance - scatter, True), ("scatter", scatter, True)]
    for index, check in enumerate(prepared.checks):
        if not standing.shown[index]:
            continue
        chosen = standing.chosen[index]
        if chosen < 0:
            rows.append((check.id, check.variance, False))
        elif index == prepared.hole_check and standing.drilled is not None:
            rows.append((check.id, hole_effect(prepared.pack, standing.drilled.severity)[1], True))
        else:
            rows.append((check.id, check.options[chosen].own_variance, True))
    rows.append(("coverage", coverage_effect(prepared, standing).variance, standing.overlap_khz is not None))
    rows += [(name, effect.variance, True) for name, _, effect in misfits(prepared, standing)]
    rows.sort(key=lambda row: -row[1])
    left = sum(prepared.checks[look.check].spread for look in ahead.looks)
    reach = prepared.pack["model"]["z90"] * math.sqrt(max(0.0, market.variance - left))
    return Spread(
        math.sqrt(market.variance),
        [Part(what, part, part / market.variance, found) for what, part, found in rows if part > 0],
        (math.exp(market.log_median - reach), math.exp(market.log_median + reach)),
    )
