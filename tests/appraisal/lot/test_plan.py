"""The plan of a lot: proven against all others, whole in its sums, and never hurt by one set more."""

import itertools
import math
import random
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest
from scipy.optimize import linprog

from tests.support.lots import plain_choices, problem_of, random_choice, random_lot
from webapp.appraisal.lot.greedy import choice_hours, choice_value, greedy_choice
from webapp.appraisal.lot.plan import Bidding, Proof, lot_plan
from webapp.appraisal.lot.problem import Problem
from webapp.appraisal.lot.settling import Piece, Taker, settle
from webapp.appraisal.lot.solving import Solved, plan_of, solved

pytestmark = pytest.mark.timeout(900)

Json = dict[str, Any]
BIDDING = Bidding(None, 0.25)


def go_on(_: float, __: float) -> bool:
    return True


def planned(problem: Problem, hours_limit: float | None = None) -> Json:
    """The proven plan, as a document."""
    return plan_of(problem, BIDDING, solved(problem, hours_limit, go_on))


def all_choices(problem: Problem) -> Iterator[tuple[int, ...]]:
    return itertools.product(*(range(2 + len(one.completes)) for one in problem.sets))


def by_exchange(problem: Problem, choice: Sequence[int]) -> float:
    """What a choice of ways brings, its exchange found by scipy's linear programme instead of ours."""
    base = sum(want.worth * want.count for want in problem.wants)
    sides: dict[int, tuple[list[tuple[float, float]], list[tuple[float, float]]]] = {}
    for one, way in zip(problem.sets, choice, strict=True):
        if way == 0:
            base += one.as_is
        elif way == 1:
            base += one.broken - problem.hour_rate * one.break_hours
            for give in one.gives:
                sides.setdefault(give.stock, ([], []))[1].append((give.counted, give.worth))
        else:
            complete = one.completes[way - 2]
            base += complete.value - problem.hour_rate * complete.hours
            for need in complete.takes:
                buy = problem.stocks[need.stock].buy
                sides.setdefault(need.stock, ([], []))[0].append(
                    (need.counted, math.inf if buy is None else buy)
                )
    for spare in problem.spares:
        sides.setdefault(spare.stock, ([], []))[1].extend([(spare.counted, spare.worth)] * spare.count)
    for want in problem.wants:
        sides.setdefault(want.stock, ([], []))[0].extend([(want.counted, want.worth)] * want.count)
    return base - sum(cheapest(*side) for side in sides.values())


def cheapest(takers: list[tuple[float, float]], pieces: list[tuple[float, float]]) -> float:
    """The least cost of an exchange within one stock, by scipy (HiGHS' simplex on the plain assignment)."""
    if not takers:
        return 0.0
    costs, rows, limits = [], [], []
    pairs = [
        (t, p) for t, taker in enumerate(takers) for p, piece in enumerate(pieces) if piece[0] > taker[0]
    ]
    without = [t for t, taker in enumerate(takers) if taker[1] < math.inf]
    costs = [pieces[p][1] for _, p in pairs] + [takers[t][1] for t in without]
    if not costs:
        return math.inf
    for p in range(len(pieces)):
        rows.append([float(p == other) for _, other in pairs] + [0.0] * len(without))
        limits.append(1.0)
    served = [
        [float(t == one) for one, _ in pairs] + [float(t == one) for one in without]
        for t in range(len(takers))
    ]
    found = linprog(costs, A_ub=rows or None, b_ub=limits or None, A_eq=served, b_eq=[1.0] * len(takers))
    return float(found.fun) if found.status == 0 else math.inf


def test_the_plan_is_the_best_of_all_that_there_are(sweep: Callable[[int], Sequence[int]]) -> None:
    """Exhaustive search over all ways of up to six sets, each exchange by scipy."""
    tried = 0
    for seed in sweep(1600):
        lot = random_lot(random.Random(seed))
        problem, limit = problem_of(lot), lot["hours_limit"]
        if math.prod(2 + len(one.completes) for one in problem.sets) > 600:
            continue
        best = max(
            choice_value(problem, choice)
            for choice in all_choices(problem)
            if limit is None or choice_hours(problem, choice) <= limit
        )
        found = solved(problem, limit, go_on)
        assert found.proven, seed
        assert by_exchange(problem, found.choice) == pytest.approx(best, rel=1e-9, abs=1e-7), seed
        assert limit is None or choice_hours(problem, found.choice) <= limit + 1e-6, seed
        tried += 1
    assert tried >= len(sweep(1600)) / 2


def test_an_exchange_costs_what_the_best_assignment_costs(sweep: Callable[[int], Sequence[int]]) -> None:
    """Checked against scipy.optimize.linprog on every taker and piece."""
    states = [0.0, 0.3, 0.5, 0.7, 1.0]
    for seed in sweep(6000):
        rng = random.Random(seed)
        prices = [3.0, 7.5, 20.0, math.inf]
        takers = [Taker(i, rng.choice(states), rng.choice(prices)) for i in range(rng.randint(0, 5))]
        pieces = [Piece(i, rng.choice(states), rng.choice([0.0, 2.0, 9.0, 30.0]), False) for i in range(5)]
        expected = cheapest(
            [(t.counted, t.otherwise) for t in takers], [(p.counted, p.worth) for p in pieces]
        )
        settled = settle(takers, pieces)
        assert settled.cost == pytest.approx(expected), seed
        assert all(piece.counted > taker.counted for taker, piece in settled.moves)


def test_no_plan_is_worse_than_touching_nothing_or_breaking_all(
    sweep: Callable[[int], Sequence[int]],
) -> None:
    for seed in sweep(800):
        lot = random_lot(random.Random(seed), 12)
        problem, limit = problem_of(lot), lot["hours_limit"]
        plain = [
            choice_value(problem, choice)
            for choice in plain_choices(problem)
            if limit is None or choice_hours(problem, choice) <= limit
        ]
        greedy, exact = greedy_choice(problem, limit), solved(problem, limit, go_on).choice
        assert choice_value(problem, greedy) >= max(plain) - 1e-9, seed
        assert choice_value(problem, exact) >= choice_value(problem, greedy) - 1e-6, seed
        for choice in (greedy, exact):
            assert limit is None or choice_hours(problem, choice) <= limit + 1e-6


def test_a_set_more_never_lowers_the_optimum(sweep: Callable[[int], Sequence[int]]) -> None:
    for seed in sweep(400):
        lot = random_lot(random.Random(seed), 8) | {"hours_limit": None}
        values = []
        for count in range(len(lot["sets"]) + 1):
            problem = problem_of(lot | {"sets": lot["sets"][:count]})
            values.append(choice_value(problem, solved(problem, None, go_on).choice))
        assert all(after >= before - 1e-6 for before, after in itertools.pairwise(values)), seed


def test_parts_are_given_once_from_broken_sets_within_their_kind_and_bought_only_where_sold(
    sweep: Callable[[int], Sequence[int]],
) -> None:
    moved = 0
    for seed in sweep(1000):
        lot = random_lot(random.Random(seed), 10)
        problem = problem_of(lot)
        plan = planned(problem, lot["hours_limit"])
        kinds = [(one["family"], one["model_sheet"]) for one in lot["sets"]]
        kinds += [
            (r["findings"]["family"], r["findings"]["model_sheet"]) for r in lot["shelf"] if "findings" in r
        ]
        shelf = [(row.get("family"), row.get("model_sheet")) for row in lot["shelf"]]

        def kind_of(who: Any, kinds: list[Any] = kinds, shelf: list[Any] = shelf) -> Any:
            return kinds[who] if isinstance(who, int) else shelf[int(who.split()[1])]

        given = [(move["part"], move["from"]) for move in plan["moves"] if isinstance(move["from"], int)]
        assert len(given) == len(set(given)), seed
        for move in plan["moves"]:
            moved += 1
            assert kind_of(move["from"]) == kind_of(move["to"]), seed
            if isinstance(move["from"], int):
                assert plan["sets"][move["from"]]["way"] == "break", seed
            if isinstance(move["to"], int):
                assert plan["sets"][move["to"]]["way"] == "complete", seed
        for row, part in [(row, row["part"]) for row in plan["salvage"]]:
            assert plan["sets"][row["from"]]["way"] == "break", seed
            assert (part, row["from"]) not in given, seed
        taken = [(row["part"], row["for"]) for row in plan["buys"]]
        taken += [(move["part"], move["to"]) for move in plan["moves"] if isinstance(move["to"], int)]
        assert len(taken) == len(set(taken)), seed
    assert moved > 0


def test_the_shown_figures_add_up_to_the_total_under_any_ways(sweep: Callable[[int], Sequence[int]]) -> None:
    for seed in sweep(1000):
        rng = random.Random(seed)
        lot = random_lot(rng, 10)
        problem = problem_of(lot)
        plan = lot_plan(problem, random_choice(problem, rng), BIDDING, Proof(None, False, 12.5))
        total = sum(row["value"] for row in plan["sets"]) + plan["to_shelf"] - plan["from_shelf"]
        total -= sum(row["cost"] for row in plan["buys"]) + plan["materials"] + plan["alone"]
        total -= lot["hour_rate"] * plan["hours"]
        assert plan["total"] == pytest.approx(total, abs=1e-6), seed
        left = sum(row["worth"] for row in plan["salvage"])
        assert left == pytest.approx(sum(r["value"] for r in plan["sets"] if r["way"] == "break")), seed
        assert plan["hours"] == pytest.approx(sum(row["hours"] for row in plan["sets"]))
        assert plan["bid"] == pytest.approx(max(0.0, plan["total"]) * 0.75)


def test_the_range_holds_the_total_and_grows_narrower_with_more_sets_of_many_kinds() -> None:
    few = planned(problem_of({"sets": [{"family": "control-box"}]}))
    families = ("control-box", "supply-unit", "frequency-meter", "aircraft-receiver")
    many = planned(problem_of({"sets": [{"family": family} for family in families]}))
    widths = [math.log(plan["range"]["high"] / plan["range"]["low"]) for plan in (few, many)]
    assert widths[1] < widths[0]
    assert all(plan["range"]["low"] < plan["total"] < plan["range"]["high"] for plan in (few, many))


def test_sets_of_one_kind_share_the_doubt_about_their_reference_price() -> None:
    one = {"family": "aircraft-receiver", "model_sheet": "plover-a"}
    like = planned(problem_of({"sets": [one] * 4}))
    unlike = planned(problem_of({"sets": [one | {"model_sheet": f"plover-{x}"} for x in "abc"] + [one]}))
    widths = [math.log(plan["range"]["high"] / plan["range"]["low"]) for plan in (like, unlike)]
    assert widths[0] > widths[1]


def test_a_search_that_is_told_to_stop_gives_a_plan_with_its_gap() -> None:
    lot = random_lot(random.Random(5), 60)
    problem = problem_of(lot | {"hours_limit": None})
    found = solved(problem, None, go_on, seconds=0.0)
    assert isinstance(found, Solved)
    assert choice_value(problem, found.choice) >= choice_value(problem, plain_choices(problem)[0])
    best = choice_value(problem, solved(problem, None, go_on).choice)
    now = choice_value(problem, found.choice)
    assert found.gap is not None
    assert now + found.gap * max(1.0, abs(now)) >= best - 1e-6
