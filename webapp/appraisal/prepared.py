"""A pack made ready for arithmetic: every sum that does not depend on findings, taken once."""

import math
from dataclasses import dataclass, field
from typing import Any

Pack = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Option:
    """One answer of a check.

    `mean`, `variance` and `factor` are its share while the check is open (follow-ups inside);
    `own_mean`, `own_variance` and `own_factor` count once it is the answer.
    """

    id: str
    prior: float
    state: float
    mean: float
    variance: float
    factor: float
    own_mean: float
    own_variance: float
    own_factor: float
    fixable: bool
    kept: float
    tasks: tuple[int, ...]
    opens: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """One check; `mean`, `variance` and `factor` are those of the unanswered mixture (contract §3)."""

    id: str
    seconds: float
    part: int
    parent: int
    options: tuple[Option, ...]
    index_of: dict[str, int]
    mean: float
    variance: float
    factor: float
    spread: float
    state: float
    state_square: float
    worst_state: float
    best_state: float
    kept: float
    worst_kept: float
    best_kept: float


@dataclass(frozen=True, slots=True)
class Part:
    """A part: weight in the scores, salvage mean and variance (three-point), and its check."""

    id: str
    weight: float
    calibration: bool
    salvage_mean: float
    salvage_variance: float
    check: int


@dataclass(frozen=True, slots=True)
class Task:
    """A task: hours and materials as (mean, variance), set-up and per item."""

    id: str
    aims: frozenset[str]
    hours: tuple[float, float]
    materials: tuple[float, float]
    each_hours: tuple[float, float]
    each_materials: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Calls:
    """Which tasks of one aim a check calls: per option, and with their prior weights while it is open."""

    options: tuple[tuple[int, ...], ...]
    open: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class AimView:
    """The pack as seen by one aim: what the work mends, and which tasks it takes (contract §4, §7).

    `own_factors` count for an answer, `option_factors` for one that might be given (its follow-ups
    open), `factors` for the open check.
    """

    in_aim: tuple[bool, ...]
    own_factors: tuple[tuple[float, ...], ...]
    option_factors: tuple[tuple[float, ...], ...]
    factors: tuple[float, ...]
    calls: tuple[Calls, ...]
    mend_calls: tuple[Calls, ...]


@dataclass(frozen=True, slots=True)
class Prepared:
    """A pack ready for arithmetic.

    `comparable`: what is asked (service, finish) and the check that asks it, where answers can be compared.
    """

    pack: Pack
    checks: tuple[Check, ...]
    check_index: dict[str, int]
    parents_last: tuple[int, ...]
    always_shown: tuple[int, ...]
    hole_check: int
    crystal_check: int
    book_check: int
    comparable: tuple[tuple[str, int], ...]
    parts: tuple[Part, ...]
    tasks: tuple[Task, ...]
    task_index: dict[str, int]
    break_hours_mean: float
    aims: dict[str, AimView] = field(default_factory=dict)


def three_point(triple: list[float]) -> tuple[float, float]:
    """Mean and variance of a (low, likely, high) estimate: (l + 4m + h)/6 and ((h − l)/6)².

    Source: Malcolm, Roseboom, Clark and Fazar 1959.
    """
    low, likely, high = triple
    return (low + 4 * likely + high) / 6, ((high - low) / 6) ** 2


def prepare(pack: Pack) -> Prepared:
    """The pack with its sums taken. The pack must have come from the compiler, which has checked it."""
    check_index = {check["id"]: index for index, check in enumerate(pack["checks"])}
    part_index = {part["id"]: index for index, part in enumerate(pack["parts"])}
    task_index = {task["id"]: index for index, task in enumerate(pack["tasks"])}
    parents = [
        check_index[check["shown_if"]["check"]] if check["shown_if"] else -1 for check in pack["checks"]
    ]
    checks = tuple(
        _check(pack, index, parents[index], part_index, task_index) for index in range(len(pack["checks"]))
    )

    def covering(part_id: str | None) -> int:
        part = part_index.get(part_id, -2) if part_id is not None else -2
        return next((i for i, check in enumerate(checks) if check.part == part), -1)

    prepared = Prepared(
        pack=pack,
        checks=checks,
        check_index=check_index,
        parents_last=_parents_last(parents),
        always_shown=tuple(index for index, parent in enumerate(parents) if parent < 0),
        hole_check=next(i for i, check in enumerate(pack["checks"]) if check["asks_holes"]),
        crystal_check=covering(pack["effects"]["crystal_part"]),
        book_check=covering(pack["effects"]["book_part"]),
        comparable=tuple(
            (check["asks"], index)
            for index, check in enumerate(pack["checks"])
            if check.get("asks") in ("service", "finish")
        ),
        parts=_parts(pack, checks),
        tasks=tuple(_task(task) for task in pack["tasks"]),
        task_index=task_index,
        break_hours_mean=three_point(pack["break_hours"])[0],
    )
    for aim in pack["aims"]:
        prepared.aims[aim["id"]] = _aim_view(prepared, aim["id"])
    return prepared


def _parents_last(parents: list[int]) -> tuple[int, ...]:
    """Check indices, deepest follow-ups first."""

    def depth(index: int) -> int:
        return 0 if parents[index] < 0 else 1 + depth(parents[index])

    return tuple(sorted(range(len(parents)), key=lambda index: (-depth(index), index)))


def _check(
    pack: Pack, index: int, parent: int, part_index: dict[str, int], task_index: dict[str, int]
) -> Check:
    raw = pack["checks"][index]
    options = tuple(_option(pack, raw["id"], option, task_index) for option in raw["options"])
    mean = sum(o.prior * o.mean for o in options)
    return Check(
        id=raw["id"],
        seconds=raw["seconds"],
        part=part_index[raw["part"]] if raw["part"] is not None else -1,
        parent=parent,
        options=options,
        index_of={option.id: number for number, option in enumerate(options)},
        mean=mean,
        variance=sum(o.prior * (o.variance + o.mean * o.mean) for o in options) - mean * mean,
        factor=sum(o.prior * o.factor for o in options),
        spread=sum(o.prior * o.mean * o.mean for o in options) - mean * mean,
        state=sum(o.prior * o.state for o in options),
        state_square=sum(o.prior * o.state * o.state for o in options),
        worst_state=min(o.state for o in options),
        best_state=max(o.state for o in options),
        kept=sum(o.prior * o.kept for o in options),
        worst_kept=min(o.kept for o in options),
        best_kept=max(o.kept for o in options),
    )


def _option(pack: Pack, check_id: str, raw: dict[str, Any], task_index: dict[str, int]) -> Option:
    mean, sd = raw["log_effect"]
    own_mean, own_sd = raw["log_effect_open"] or raw["log_effect"]
    own_factor = math.exp(own_mean + own_sd * own_sd / 2)
    opens = tuple(
        index
        for index, check in enumerate(pack["checks"])
        if check["shown_if"]
        and check["shown_if"]["check"] == check_id
        and raw["id"] in check["shown_if"]["options"]
    )
    return Option(
        id=raw["id"],
        prior=raw["prior"],
        state=raw["state"] if raw["state"] is not None else 0.0,
        mean=mean,
        variance=sd * sd,
        factor=raw["mean_factor"] if raw["mean_factor"] is not None else own_factor,
        own_mean=own_mean,
        own_variance=own_sd * own_sd,
        own_factor=own_factor,
        fixable=raw["fixable"],
        kept=1 - raw["originality"],
        tasks=tuple(task_index[task] for task in raw["tasks"]),
        opens=opens,
    )


def _parts(pack: Pack, checks: tuple[Check, ...]) -> tuple[Part, ...]:
    covering = {check.part: index for index, check in enumerate(checks) if check.part >= 0}
    parts = []
    for index, raw in enumerate(pack["parts"]):
        mean, variance = three_point(raw["salvage"])
        parts.append(Part(raw["id"], raw["weight"], raw["calibration"], mean, variance, covering[index]))
    return tuple(parts)


def _task(raw: dict[str, Any]) -> Task:
    each = raw["each"] or {"hours": [0, 0, 0], "materials": [0, 0, 0]}
    return Task(
        id=raw["id"],
        aims=frozenset(raw["aims"]),
        hours=three_point(raw["set_up"]["hours"]),
        materials=three_point(raw["set_up"]["materials"]),
        each_hours=three_point(each["hours"]),
        each_materials=three_point(each["materials"]),
    )


def _aim_view(prepared: Prepared, aim: str) -> AimView:
    in_aim = tuple(aim in task.aims for task in prepared.tasks)
    own_factors, option_factors, factors, calls, mend_calls = [], [], [], [], []
    for check in prepared.checks:
        mended = [option.fixable and all(in_aim[task] for task in option.tasks) for option in check.options]
        pairs = list(zip(check.options, mended, strict=True))
        own_factors.append(tuple(1.0 if mend else option.own_factor for option, mend in pairs))
        option_factors.append(tuple(1.0 if mend else option.factor for option, mend in pairs))
        factors.append(sum(o.prior * f for o, f in zip(check.options, option_factors[-1], strict=True)))
        calls.append(_calls(check, [tuple(t for t in o.tasks if in_aim[t]) for o in check.options]))
        mend_calls.append(_calls(check, [option.tasks if mend else () for option, mend in pairs]))
    return AimView(
        in_aim, tuple(own_factors), tuple(option_factors), tuple(factors), tuple(calls), tuple(mend_calls)
    )


def _calls(check: Check, by_option: list[tuple[int, ...]]) -> Calls:
    """Per option the tasks, and per task the prior weight of the options that call it."""
    weights: dict[int, float] = {}
    for option, tasks in zip(check.options, by_option, strict=True):
        for task in dict.fromkeys(tasks):
            weights[task] = weights.get(task, 0.0) + option.prior
    open_weights = tuple((task, min(1.0, weight)) for task, weight in sorted(weights.items()))
    return Calls(tuple(tuple(dict.fromkeys(tasks)) for tasks in by_option), open_weights)
