"""A lot as a mixed-integer linear programme, solved to proven optimality by HiGHS (contract §9).

A way of each set is a whole number 0 or 1; how many pieces go from one state of a stock to takers of
another is not: with the ways fixed it is a transport problem, whose corners are whole (Hoffman and Kruskal
1956). Source of the solver: Huangfu and Hall 2018.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from webapp.appraisal.lot.greedy import choice_value, way_hours, way_value
from webapp.appraisal.lot.problem import Problem
from webapp.appraisal.lot.settling import AS_IS, BREAK

# A plan is proven when no other can be better by more than this share of it.
PROVEN = 1e-9

Report = Callable[[float, float], bool]


@dataclass(frozen=True, slots=True)
class Solution:
    """The ways chosen, one a set, and how far the optimum can lie above them: a share of their value."""

    choice: list[int]
    gap: float
    proven: bool


@dataclass(slots=True)
class Programme:
    """Columns (gain, whole or not, upper limit) and rows (lower limit, upper limit, terms by column)."""

    gains: list[float] = field(default_factory=list)
    uppers: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[tuple[float, float, dict[int, float]]] = field(default_factory=list)
    ways: list[list[int]] = field(default_factory=list)

    def column(self, gain: float, upper: float, whole: bool = False) -> int:
        """A new column; returns its number."""
        self.gains.append(gain)
        self.uppers.append(upper)
        self.whole.append(whole)
        return len(self.gains) - 1


def programme(problem: Problem, hours_limit: float | None) -> Programme:
    """The programme of a lot; hours may be limited."""
    built = Programme()
    for index, lot_set in enumerate(problem.sets):
        count = 2 + len(lot_set.completes)
        built.ways.append(
            [built.column(way_value(problem, index, way), 1.0, whole=True) for way in range(count)]
        )
        built.rows.append((1.0, 1.0, dict.fromkeys(built.ways[-1], 1.0)))
    if hours_limit is not None:
        hours = {
            column: way_hours(problem, index, way)
            for index, columns in enumerate(built.ways)
            for way, column in enumerate(columns)
            if way != AS_IS
        }
        built.rows.append((-float("inf"), hours_limit, hours))
    _exchange(built, problem)
    return built


def _exchange(built: Programme, problem: Problem) -> None:
    """What goes from the pieces of each stock, by state and worth, to its takers, by the state to beat."""
    supply: dict[int, dict[tuple[float, float], tuple[float, dict[int, float]]]] = {}
    demand: dict[int, dict[float, dict[int, float]]] = {}
    for index, lot_set in enumerate(problem.sets):
        for give in lot_set.gives:
            levels = supply.setdefault(give.stock, {})
            fixed, terms = levels.setdefault((give.counted, give.worth), (0.0, {}))
            terms[built.ways[index][BREAK]] = 1.0
        for number, complete in enumerate(lot_set.completes):
            for need in complete.takes:
                terms = demand.setdefault(need.stock, {}).setdefault(need.counted, {})
                terms[built.ways[index][number + 2]] = 1.0
    for spare in problem.spares:
        levels = supply.setdefault(spare.stock, {})
        fixed, terms = levels.setdefault((spare.counted, spare.worth), (0.0, {}))
        levels[spare.counted, spare.worth] = (fixed + spare.count, terms)
    for stock in sorted({*demand, *(want.stock for want in problem.wants)}):
        _stock(built, problem, stock, supply.get(stock, {}), demand.get(stock, {}))


def _stock(
    built: Programme,
    problem: Problem,
    stock: int,
    supply: dict[tuple[float, float], tuple[float, dict[int, float]]],
    demand: dict[float, dict[int, float]],
) -> None:
    buy = problem.stocks[stock].buy
    inf = float("inf")
    from_level: dict[tuple[float, float], dict[int, float]] = {level: {} for level in supply}
    for to_beat, terms in sorted(demand.items()):
        # What comes in, given or bought, is what the completed sets take.
        balance = {column: -value for column, value in terms.items()}
        for (state, worth), out in from_level.items():
            if state > to_beat:
                column = built.column(-worth, inf)
                balance[column] = out[column] = 1.0
        if buy is not None:
            balance[built.column(-buy, inf)] = 1.0
        built.rows.append((0.0, 0.0, balance))
    for want in problem.wants:
        if want.stock != stock:
            continue
        met = {}
        for (state, worth), out in from_level.items():
            if state > want.counted:
                column = built.column(want.worth - worth, inf)
                met[column] = out[column] = 1.0
        if met:
            built.rows.append((0.0, float(want.count), met))
    for level, out in from_level.items():
        if out:
            fixed, terms = supply[level]
            built.rows.append((-inf, fixed, out | {column: -value for column, value in terms.items()}))


def solve(problem: Problem, hours_limit: float | None, report: Report, seconds: float) -> Solution:
    """The best ways, proven. Raises ImportError where this machine has no solver.

    `report` is told the best value so far and the bound, a few times a second, and answers whether to go
    on. When it says no, or after `seconds`, the best so far comes back with its gap.
    """
    if not problem.sets:
        return Solution([], 0.0, True)
    built = programme(problem, hours_limit)
    solver = _loaded(built, seconds)
    # Everything kept as it stands: a plan in hand, whatever comes.
    kept = [AS_IS] * len(problem.sets)
    solver.setSolution(len(built.ways), [ways[AS_IS] for ways in built.ways], [1.0] * len(built.ways))
    _listen(solver, report)
    solver.run()
    values = solver.getSolution().col_value
    choice = [max(range(len(ways)), key=lambda way: values[ways[way]]) for ways in built.ways]
    best, bound = choice_value(problem, choice), min(solver.getInfo().mip_dual_bound, _if_free(problem))
    if not best >= choice_value(problem, kept):
        choice, best = kept, choice_value(problem, kept)
    gap = max(0.0, bound - best) / max(1.0, abs(best))
    return Solution(choice, 0.0 if gap <= PROVEN else gap, gap <= PROVEN)


def _if_free(problem: Problem) -> float:
    """What no plan can exceed: every set in the way that would be best if parts cost nothing."""
    met = sum(want.worth * want.count for want in problem.wants)
    ways = (range(2 + len(lot_set.completes)) for lot_set in problem.sets)
    return met + sum(max(way_value(problem, at, way) for way in own) for at, own in enumerate(ways))


def _loaded(built: Programme, seconds: float) -> Any:
    # Loaded here: most commands never solve a lot, and it brings numpy with it.
    import highspy

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(built.gains), len(built.rows)
    lp.col_cost_ = built.gains
    lp.col_lower_, lp.col_upper_ = [0.0] * len(built.gains), built.uppers
    lp.row_lower_, lp.row_upper_ = [row[0] for row in built.rows], [row[1] for row in built.rows]
    kinds = highspy.HighsVarType
    lp.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in built.whole]
    lp.sense_ = highspy.ObjSense.kMaximize
    starts: list[int] = [0]
    columns: list[int] = []
    terms: list[float] = []
    for _, _, row in built.rows:
        columns.extend(row.keys())
        terms.extend(row.values())
        starts.append(len(columns))
    matrix = lp.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = lp.num_col_, lp.num_row_
    matrix.start_, matrix.index_, matrix.value_ = starts, columns, terms
    solver: Any = highspy.Highs()  # type: ignore[no-untyped-call]
    for name, value in (
        ("output_flag", False), ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-7), ("time_limit", seconds),
        ("mip_feasibility_tolerance", 1e-9), ("primal_feasibility_tolerance", 1e-9),
    ):  # fmt: skip
        solver.setOptionValue(name, value)
    solver.passModel(lp)
    return solver


def _listen(solver: Any, report: Report) -> None:
    last = time.monotonic()

    def heard(event: Any) -> None:
        nonlocal last
        now = time.monotonic()
        if now - last >= 0.25:
            last = now
            if not report(event.data_out.mip_primal_bound, event.data_out.mip_dual_bound):
                event.interrupt()

    solver.cbMipInterrupt.subscribe(heard)
