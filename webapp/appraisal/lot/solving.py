"""From a lot to its plan: proven, or as good as found by the time that it had to end.

Where this machine has no solver, the greedy plan stands, marked as such.
"""

from dataclasses import dataclass
from typing import Any

from webapp.appraisal.lot.greedy import choice_value, greedy_choice
from webapp.appraisal.lot.plan import Bidding, Proof, lot_plan
from webapp.appraisal.lot.problem import Problem, without_lot
from webapp.appraisal.lot.programme import Report, solve

# Seconds: some three times what two thousand sets took.
LONGEST = 30.0


@dataclass(frozen=True, slots=True)
class Solved:
    """The ways chosen with their proof, and what the user's own sets and shelf bring without the lot.

    `gap` as in `Proof`.
    """

    choice: list[int]
    gap: float | None
    proven: bool
    alone: float


def solved(problem: Problem, hours_limit: float | None, report: Report, seconds: float = LONGEST) -> Solved:
    """The best ways for the lot; `report` as in `solve`."""
    own = without_lot(problem)
    try:
        first = solve(own, hours_limit, report, seconds)
        found = solve(problem, hours_limit, report, seconds)
    except ImportError:
        alone = choice_value(own, greedy_choice(own, hours_limit))
        return Solved(greedy_choice(problem, hours_limit), None, False, alone)
    return Solved(found.choice, found.gap, found.proven, choice_value(own, first.choice))


def plan_of(problem: Problem, bidding: Bidding, found: Solved) -> dict[str, Any]:
    """The plan of what was solved, as a document."""
    return lot_plan(problem, found.choice, bidding, Proof(found.gap, found.proven, found.alone))
