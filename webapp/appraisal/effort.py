"""What the work takes: three-point estimates over the tasks that the findings call (contract §7).

Source: Malcolm, Roseboom, Clark and Fazar 1959 (PERT).
"""

import math
from dataclasses import dataclass

from webapp.appraisal.findings import Findings
from webapp.appraisal.prepared import Calls, Prepared, Task
from webapp.appraisal.standing import Standing


@dataclass(frozen=True, slots=True)
class Called:
    """How likely each task is not called: the product of the checks' 1 − q, zero factors counted apart."""

    product: list[float]
    zeros: list[int]
    items: dict[int, int]

    def probability(self, task: int) -> float:
        """q, the probability that the task is called."""
        return 1.0 if self.zeros[task] else 1.0 - self.product[task]


@dataclass(frozen=True, slots=True)
class Line:
    """One task of the plan: index, probability, items, and its share of hours and materials if called."""

    task: int
    probability: float
    items: int
    hours: tuple[float, float]
    materials: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Effort:
    """Totals as (mean, variance), and the tasks in working order."""

    hours: tuple[float, float]
    materials: tuple[float, float]
    lines: list[Line]


def called(prepared: Prepared, standing: Standing, calls: tuple[Calls, ...], holes: dict[int, int]) -> Called:
    """Which tasks the shown checks and the listed holes (task → items) call."""
    result = Called([1.0] * len(prepared.tasks), [0] * len(prepared.tasks), holes)
    for index, call in enumerate(calls):
        if not standing.shown[index]:
            continue
        if index == prepared.hole_check and standing.drilled is not None:
            continue
        chosen = standing.chosen[index]
        if chosen >= 0:
            for task in call.options[chosen]:
                result.zeros[task] += 1
        else:
            for task, weight in call.open:
                _multiply(result, task, 1.0 - weight)
    for task in holes:
        result.zeros[task] += 1
    return result


def _multiply(result: Called, task: int, factor: float) -> None:
    if factor > 0:
        result.product[task] *= factor
    else:
        result.zeros[task] += 1


def task_estimate(task: Task, items: int) -> tuple[tuple[float, float], tuple[float, float]]:
    """Hours and materials of a task with n items, each as (mean, variance): set-up plus n times each."""
    n = max(1, items)
    return (
        (task.hours[0] + n * task.each_hours[0], task.hours[1] + n * task.each_hours[1]),
        (task.materials[0] + n * task.each_materials[0], task.materials[1] + n * task.each_materials[1]),
    )


def effort(prepared: Prepared, standing: Standing, findings: Findings) -> Effort:
    """Hours and materials for the user's aim; materials in the appraisal's currency."""
    view = prepared.aims[findings.aim]
    holes = standing.drilled.tasks if standing.drilled is not None else {}
    calls = called(prepared, standing, view.calls, holes)
    totals = [0.0, 0.0, 0.0, 0.0]
    lines = []
    for index, task in enumerate(prepared.tasks):
        q = calls.probability(index)
        if not view.in_aim[index] or q <= 0:
            continue
        items = calls.items.get(index, 0)
        hours, materials = task_estimate(task, items)
        materials = (materials[0] * findings.rate, materials[1] * findings.rate**2)
        for at, (mean, variance) in ((0, hours), (2, materials)):
            totals[at] += q * mean
            totals[at + 1] += q * (variance + mean * mean) - (q * mean) ** 2
        lines.append(Line(index, q, max(1, items), hours, materials))
    return Effort((totals[0], totals[1]), (totals[2], totals[3]), lines)


def p90(estimate: tuple[float, float], z90: float) -> float:
    """The 90 % point of a total given as (mean, variance), by the normal law."""
    return estimate[0] + z90 * math.sqrt(max(0.0, estimate[1]))
