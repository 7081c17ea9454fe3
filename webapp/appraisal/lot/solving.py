"""From a lot to its plan, proven or, where the time ends or nobody waits, as good as found by then."""

from dataclasses import dataclass
from typing import Any

from webapp.appraisal.lot.greedy import choice_value, greedy_choice
from webapp.appraisal.lot.plan import Bidding, Proof, lot_plan
from webapp.appraisal.lot.problem import Problem, without_lot
from webapp.appraisal.lot.programme import Report, Solution, solve

# Seconds: some three times what two thousand sets took.
LONGEST = 30.0


@dataclass(frozen=True, slots=True)
class Solved:
    """The ways chosen with their proof, and what the user's own sets and shelf bring without the lot."""

    solution: Solution
    alone: float


def solved(problem: Problem, hours_limit: float | None, report: Report, seconds: float = LONGEST) -> Solved:
    """The best ways for the lot; `report` as in `solve`."""
    own = without_lot(problem)
    first = solve(own, hours_limit, greedy_choice(own, hours_limit), report, seconds)
    found = solve(problem, hours_limit, greedy_choice(problem, hours_limit), report, seconds)
    return Solved(found, choice_value(own, first.choice))


def plan_of(problem: Problem, bidding: Bidding, found: Solved) -> dict[str, Any]:
    """The plan of what was solved, as a document."""
    proof = Proof(found.solution.gap, found.solution.proven, found.alone)
    return lot_plan(problem, found.solution.choice, bidding, proof)
