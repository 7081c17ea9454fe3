"""One set of a lot in figures: as it stands, completed with certain parts, broken (contract §9)."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.appraisal.effort import task_estimate
from webapp.appraisal.findings import Findings
from webapp.appraisal.lot.parts import Kinds, LotPart
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import Market, Shares, market, misfits, shares
from webapp.appraisal.scores import foreign_checks
from webapp.appraisal.standing import Standing, stand
from webapp.appraisal.worth import InParts, in_parts

# A crystal or book of another set is replaced with its effect; by the check it hangs on.
_FOREIGN = {"crystal_foreign": "crystal_check", "book_foreign": "book_check"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One set that joins a plan: its pack, what was found, its sheet, and whether it is owned already."""

    prepared: Prepared
    findings: Findings
    model_sheet: str | None = None
    owned: bool = False


@dataclass(frozen=True, slots=True)
class Seen:
    """One set's own figures. Per part `counted` is the state that plans go by: what was found, else 1 or 0.

    `log_reference_variance` is the doubt about the reference price that all sets of its kind share;
    `parts` is the set in parts with no hour paid.
    """

    entry: Entry
    kinds: Kinds
    standing: Standing
    found: Shares
    market: Market
    log_reference_variance: float
    parts: InParts
    counted: tuple[float, ...]
    foreign: frozenset[int]


@dataclass(frozen=True, slots=True)
class Completed:
    """A set completed with certain parts: exact mean and log law of its price then, and the work.

    `work_variance`: of hours × rate and materials together, in money.
    """

    mean: float
    log_median: float
    log_variance: float
    hours: float
    materials: float
    work_variance: float


def seen(entry: Entry, kinds: Kinds) -> Seen:
    """The figures of one set; its findings carry the lot's currency, rate and hour rate."""
    prepared, findings = entry.prepared, entry.findings
    standing = stand(prepared, findings)
    found = shares(prepared, standing, findings.aim)
    price = market(prepared, standing, found, findings)
    parts = in_parts(prepared, standing, findings)
    foreign = foreign_checks(prepared, standing)
    scatter = prepared.pack["reference"]["market_log_sd"] ** 2
    return Seen(
        entry=entry,
        kinds=kinds,
        standing=standing,
        found=found,
        market=price,
        log_reference_variance=max(0.0, price.reference_variance - scatter),
        parts=InParts(parts.mean + findings.hour_rate * prepared.break_hours_mean, parts.variance),
        counted=tuple(_counted(prepared, standing, foreign, kind) for kind in kinds.parts),
        foreign=foreign,
    )


def _counted(prepared: Prepared, standing: Standing, foreign: frozenset[int], kind: LotPart) -> float:
    """The state found; a part not checked counts as there when that is at least as likely as not."""
    if kind.check in foreign:
        return 0.0
    check, chosen = prepared.checks[kind.check], standing.chosen[kind.check]
    if chosen >= 0:
        return check.options[chosen].state
    return 1.0 if check.state >= prepared.pack["model"]["counts_as_there"] else 0.0


def expected_state(one: Seen, part: int) -> float:
    """What the part's salvage is weighed by: the state found, else the expected one."""
    index = one.kinds.parts[part].check
    check, chosen = one.entry.prepared.checks[index], one.standing.chosen[index]
    return check.options[chosen].state if chosen >= 0 else check.state


def part_worth(one: Seen, part: int) -> tuple[float, float]:
    """What a part of this set is expected to fetch, and the variance of that, in the lot's currency."""
    index = one.kinds.parts[part].check
    check, chosen = one.entry.prepared.checks[index], one.standing.chosen[index]
    salvage = one.entry.prepared.parts[part]
    t = one.entry.prepared.pack["sell_through"] * one.entry.findings.rate
    state = expected_state(one, part)
    square = state * state if chosen >= 0 else check.state_square
    share = t * state * salvage.salvage_mean
    return share, t * t * square * (salvage.salvage_variance + salvage.salvage_mean**2) - share * share


def completed(one: Seen, parts: Sequence[int]) -> Completed:
    """The set with these parts (by index) at their best option, their follow-ups open."""
    checks = one.entry.prepared.checks
    mean, median, variance = one.market.mean, one.market.log_median, one.market.variance
    replaced = [one.kinds.parts[part] for part in parts]
    for kind in replaced:
        best = checks[kind.check].options[kind.best]
        mean *= best.factor / one.found.factor[kind.check]
        median += best.mean - one.found.mean[kind.check]
        variance += best.variance - one.found.variance[kind.check]
    gone = {kind.check for kind in replaced} & one.foreign
    for name, _, effect in misfits(one.entry.prepared, one.standing) if gone else ():
        if name in _FOREIGN and getattr(one.entry.prepared, _FOREIGN[name]) in gone:
            mean /= effect.factor
            median -= effect.mean
            variance -= effect.variance
    return _with_work(one, replaced, mean, median, max(0.0, variance))


def _with_work(one: Seen, replaced: list[LotPart], mean: float, median: float, variance: float) -> Completed:
    """Hours and materials of the tasks that the replaced options called, each once (contract §7)."""
    findings, tasks = one.entry.findings, one.entry.prepared.tasks
    items = one.standing.drilled.tasks if one.standing.drilled is not None else {}
    hours = materials = spread = 0.0
    for task, open_share in sorted(_not_called(one, replaced).items()):
        q = 1 - open_share
        time, bought = task_estimate(tasks[task], items.get(task, 0))
        bought = without_part(one.kinds, task, bought)
        for rate, law in ((findings.hour_rate, time), (findings.rate, bought)):
            spread += rate * rate * (q * (law[1] + law[0] * law[0]) - (q * law[0]) ** 2)
        hours += q * time[0]
        materials += q * bought[0] * findings.rate
    return Completed(mean, median, variance, hours, materials, max(0.0, spread))


def without_part(kinds: Kinds, task: int, materials: tuple[float, float]) -> tuple[float, float]:
    """The materials of a task without the part that it finds and fits: (mean, variance)."""
    price, variance = kinds.contained[task]
    return max(0.0, materials[0] - price), max(0.0, materials[1] - variance)


def _not_called(one: Seen, replaced: list[LotPart]) -> dict[int, float]:
    """Per task the probability that no replaced option called it."""
    left: dict[int, float] = {}
    for kind in replaced:
        check, chosen = one.entry.prepared.checks[kind.check], one.standing.chosen[kind.check]
        calling = [(1.0, check.options[chosen])] if chosen >= 0 else [(o.prior, o) for o in check.options]
        weights: dict[int, float] = {}
        for prior, option in calling:
            for task in dict.fromkeys(option.tasks):
                weights[task] = weights.get(task, 0.0) + prior
        for task, weight in weights.items():
            left[task] = left.get(task, 1.0) * (1 - min(1.0, weight))
    return left


def quantiles(log_median: float, log_variance: float, z: float) -> tuple[float, float]:
    """The points of a lognormal law at −z and z."""
    reach = z * math.sqrt(log_variance)
    return math.exp(log_median - reach), math.exp(log_median + reach)
