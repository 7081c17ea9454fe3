"""What if a finding were mended: what that adds, what it takes, and which mends are worth doing.

What a finding takes off is its amount of contract §11; hours and materials are those of its tasks (§7).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.appraisal.effort import task_estimate
from webapp.appraisal.findings import Findings
from webapp.appraisal.numbers import Numbers
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reasons import Reason, money_scale
from webapp.appraisal.standing import hole_effect, hole_severity, hole_size

# Effects of a part that belongs to another radio, and the part that would have to be found.
FOREIGN = {"crystal_foreign": "crystal_part", "book_foreign": "book_part"}


@dataclass(frozen=True, slots=True)
class Mend:
    """One finding mended by itself.

    `gain`: what it takes off now; `hours` and `materials` as (mean, variance); `net`: gain less materials and
    paid hours; `per_hour`: gain less materials for each hour, None without hours; `then`: what the market
    would pay for it then, at P10, P50 and P90; `in_aim`: the user's aim includes all of its tasks; `shared`:
    another mend calls one of them.
    """

    what: str
    option: str | None
    gain: float
    hours: tuple[float, float]
    materials: tuple[float, float]
    tasks: tuple[int, ...]
    in_aim: bool
    shared: bool
    net: float
    per_hour: float | None
    then: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Work:
    """What a mend takes away from the log price and its variance, and the items of each task."""

    effect: float
    variance: float
    items: dict[int, int]


def mends(prepared: Prepared, findings: Findings, now: Numbers, rows: list[Reason]) -> list[Mend]:
    """Every finding that lowers the price and that some work mends, the best gain an hour first."""
    works = [(row, work) for row in rows if (work := _work(prepared, findings, now, row)) is not None]
    callers = [task for _, work in works for task in work.items]
    found = [_mend(prepared, findings, now, row, work, callers) for row, work in works]
    return sorted(found, key=lambda mend: -(math.inf if mend.per_hour is None else mend.per_hour))


@dataclass(frozen=True, slots=True)
class Lasting:
    """What a finding takes off for good: all of it, or what its mend leaves."""

    what: str
    option: str | None
    amount: float


def lasting(rows: list[Reason], mended: list[Mend]) -> list[Lasting]:
    """What no work of the tables takes back; with the gains of the mends it is all that lowers the price."""
    gains = {mend.what: mend.gain for mend in mended}
    left = ((row, row.amount + gains.get(row.what, 0.0)) for row in rows if row.what != "not checked")
    # A mend that leaves nothing leaves no noise either.
    return [Lasting(row.what, row.option, amount) for row, amount in left if amount < -1e-9 * abs(row.amount)]


def _work(prepared: Prepared, findings: Findings, now: Numbers, row: Reason) -> _Work | None:
    if row.amount >= 0 or row.what == "not checked":
        return None
    if row.what == "holes" and now.standing.drilled is not None:
        return _filled(prepared, findings, now.standing.drilled.severity)
    effects = prepared.pack["effects"]
    if row.what in FOREIGN:
        wanted = effects[FOREIGN[row.what]]
        items = _once(n for n, task in enumerate(prepared.pack["tasks"]) if task.get("part") == wanted)
        return _Work(row.log_effect, effects[row.what][1] ** 2, items) if items else None
    if row.what not in prepared.check_index:
        return None
    check = prepared.checks[prepared.check_index[row.what]]
    option = check.options[check.index_of[str(row.option)]]
    return _Work(option.own_mean, option.own_variance, _once(option.tasks)) if option.fixable else None


def _once(tasks: Iterable[int]) -> dict[int, int]:
    return dict.fromkeys(tasks, 1)


def _filled(prepared: Prepared, findings: Findings, now_severity: float) -> _Work | None:
    """All holes that can be filled, filled, whatever the aim."""
    severity = 0.0
    items: dict[int, int] = {}
    for hole in findings.holes:
        size, found = hole_size(prepared.pack, hole), hole_severity(prepared.pack, hole)
        fixable = float(size["fixable"])  # type: ignore[arg-type]
        if fixable > 0:
            task = prepared.task_index[str(size["task"])]
            items[task] = items.get(task, 0) + 1
        severity += found * (1 - fixable)
    before, variance = hole_effect(prepared.pack, now_severity)
    after, kept = hole_effect(prepared.pack, severity)
    return _Work(before - after, variance - kept, items) if items else None


def _mend(
    prepared: Prepared, findings: Findings, now: Numbers, row: Reason, work: _Work, callers: list[int]
) -> Mend:
    estimates = [task_estimate(prepared.tasks[task], items) for task, items in work.items.items()]
    hours, materials = (
        (sum(pair[at][0] for pair in estimates), sum(pair[at][1] for pair in estimates)) for at in (0, 1)
    )
    materials = (materials[0] * findings.rate, materials[1] * findings.rate**2)
    gain = -work.effect * money_scale(now.market)
    kept = gain - materials[0]
    median = now.market.log_median - work.effect
    z90 = prepared.pack["model"]["z90"]
    reach = z90 * math.sqrt(max(0.0, now.market.variance - work.variance))
    return Mend(
        what=row.what,
        option=row.option,
        gain=gain,
        hours=hours,
        materials=materials,
        tasks=tuple(work.items),
        in_aim=all(prepared.aims[findings.aim].in_aim[task] for task in work.items),
        shared=any(callers.count(task) > 1 for task in work.items),
        net=kept - findings.hour_rate * hours[0],
        per_hour=kept / hours[0] if hours[0] > 0 else None,
        then=(
            max(math.exp(median - reach), now.parts.quantile(-z90)),
            max(math.exp(median), now.parts.quantile(0.0)),
            max(math.exp(median + reach), now.parts.quantile(z90)),
        ),
    )
