"""A good plan without a solver: the best single change, or pair of changes, until none pays."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from webapp.appraisal.lot.problem import Problem
from webapp.appraisal.lot.settling import AS_IS, BREAK, Sides, all_sides, settle, shelf_sides, sides_of

Change = tuple[int, int]
# In a long list the sets that lose most by being broken are not worth the time.
MOST_DONORS = 12


def way_value(problem: Problem, index: int, way: int) -> float:
    """What a set brings under a way, its work paid; parts that it takes or gives are counted apart."""
    lot_set = problem.sets[index]
    paid = problem.hour_rate * way_hours(problem, index, way)
    if way == AS_IS:
        return lot_set.as_is
    if way == BREAK:
        return lot_set.broken - paid
    return lot_set.completes[way - 2].value - paid


def way_hours(problem: Problem, index: int, way: int) -> float:
    """The hours that a way takes."""
    lot_set = problem.sets[index]
    if way == AS_IS:
        return 0.0
    return lot_set.break_hours if way == BREAK else lot_set.completes[way - 2].hours


def choice_value(problem: Problem, choice: Sequence[int]) -> float:
    """What the whole lot brings under a choice of ways; −∞ where a way lacks what cannot be bought."""
    met = sum(want.worth * want.count for want in problem.wants)
    paid = sum(settle(*sides).cost for sides in all_sides(problem, choice).values())
    return met + sum(way_value(problem, index, way) for index, way in enumerate(choice)) - paid


def choice_hours(problem: Problem, choice: Sequence[int]) -> float:
    """The hours that a choice of ways takes."""
    return sum(way_hours(problem, index, way) for index, way in enumerate(choice))


@dataclass(slots=True)
class _Ledger:
    """A choice of ways with the sides and the cost of every stock, kept up to date."""

    problem: Problem
    choice: list[int]
    sides: dict[int, Sides]
    costs: dict[int, float]
    contributions: dict[Change, dict[int, Sides]] = field(default_factory=dict)

    @classmethod
    def begin(cls, problem: Problem) -> "_Ledger":
        """Everything kept as it stands."""
        sides = shelf_sides(problem)
        return cls(problem, [AS_IS] * len(problem.sets), sides, {s: settle(*sides[s]).cost for s in sides})

    def brings(self, index: int, way: int) -> dict[int, Sides]:
        if (index, way) not in self.contributions:
            self.contributions[index, way] = sides_of(self.problem, index, way)
        return self.contributions[index, way]

    def after(self, changes: Sequence[Change], all_of_them: bool = False) -> dict[int, Sides]:
        """The stocks that changes touch, as they would be then: those that somebody takes from, or all."""
        changed = {index for index, _ in changes}
        stocks = {s for i in changed for s in self.brings(i, self.choice[i])}
        stocks |= {s for index, way in changes for s in self.brings(index, way)}
        then: dict[int, Sides] = {}
        takes = {s for index, way in changes if way > BREAK for s in self.brings(index, way)}
        for stock in sorted(stocks):
            if not all_of_them and not self.sides.get(stock, ([], []))[0] and stock not in takes:
                # Pieces that nobody wants cost nothing, however many there are.
                continue
            takers, pieces = self.sides.get(stock, ([], []))
            left = (
                [one for one in takers if one.who not in changed],
                [one for one in pieces if one.holder not in changed],
            )
            for index, way in changes:
                more = self.brings(index, way).get(stock, ([], []))
                left[0].extend(more[0])
                left[1].extend(more[1])
            then[stock] = left
        return then

    def gain_if_free(self, changes: Sequence[Change]) -> float:
        """What changes would bring if the parts that they take cost nothing."""
        return sum(
            way_value(self.problem, index, way) - way_value(self.problem, index, self.choice[index])
            for index, way in changes
        )

    def gain(self, changes: Sequence[Change]) -> float:
        """What changes bring; −∞ where a way would lack what cannot be bought."""
        total = self.gain_if_free(changes)
        for stock, sides in self.after(changes).items():
            cost = settle(*sides).cost
            if cost == math.inf:
                return -math.inf
            total += self.costs.get(stock, 0.0) - cost
        return total

    def extra_hours(self, changes: Sequence[Change]) -> float:
        return sum(
            way_hours(self.problem, index, way) - way_hours(self.problem, index, self.choice[index])
            for index, way in changes
        )

    def apply(self, changes: Sequence[Change]) -> None:
        for stock, sides in self.after(changes, all_of_them=True).items():
            self.sides[stock], self.costs[stock] = sides, settle(*sides).cost
        for index, way in changes:
            self.choice[index] = way


def greedy_choice(problem: Problem, hours_limit: float | None) -> list[int]:
    """Ways that no single change and no pair of a donor and a receiver betters, within the hours.

    Never worth less than keeping all as they stand, or breaking all.
    """
    ledger = _Ledger.begin(problem)
    members: dict[str, list[int]] = {}
    for index, lot_set in enumerate(problem.sets):
        members.setdefault(lot_set.group, []).append(index)
    left = math.inf if hours_limit is None else hours_limit
    # Kinds of sets share nothing but the hours.
    pools = list(members.values()) if hours_limit is None else [list(range(len(problem.sets)))]
    for pool in pools:
        for _ in range(4 * len(pool) + 20):
            changes = _best(ledger, _singles(ledger, pool), left)
            changes = changes or _best(ledger, _pairs(ledger, pool), left)
            if not changes:
                break
            left -= ledger.extra_hours(changes)
            ledger.apply(changes)
    broken = [BREAK] * len(problem.sets)
    within = hours_limit is None or choice_hours(problem, broken) <= hours_limit
    if within and choice_value(problem, broken) > choice_value(problem, ledger.choice):
        return broken
    return ledger.choice


def _best(ledger: _Ledger, candidates: Iterator[tuple[Change, ...]], left: float) -> tuple[Change, ...]:
    """The changes that bring most (most an hour, where hours are short); empty when none brings anything."""
    best: tuple[Change, ...] = ()
    most = 0.0
    for changes in candidates:
        hours = ledger.extra_hours(changes)
        if hours > left or _hopeless(ledger, changes):
            continue
        gain = ledger.gain(changes)
        least = 1e-9 * (1 + abs(gain))
        if gain <= least:
            continue
        rank = gain if left == math.inf else gain / max(hours, 1e-3)
        # Engines differ in the last digits: what is as good as equal goes to the one that came first.
        if rank > most + 1e-9 * (1 + abs(rank)):
            best, most = changes, rank
    return best


def _hopeless(ledger: _Ledger, changes: tuple[Change, ...]) -> bool:
    """Whether a set is to be completed that would bring nothing even with its parts for nothing."""
    begins = all(ledger.choice[index] == AS_IS for index, _ in changes)
    return begins and any(way > BREAK for _, way in changes) and ledger.gain_if_free(changes) <= 0


def _singles(ledger: _Ledger, members: list[int]) -> Iterator[tuple[Change, ...]]:
    for index in members:
        for way in range(2 + len(ledger.problem.sets[index].completes)):
            if way != ledger.choice[index]:
                yield ((index, way),)


def _pairs(ledger: _Ledger, members: list[int]) -> Iterator[tuple[Change, ...]]:
    """A set completed with what another is broken for."""
    sets = ledger.problem.sets
    kept = [index for index in members if ledger.choice[index] == AS_IS]
    donors = sorted(kept, key=lambda index: (-ledger.gain_if_free([(index, BREAK)]), index))[:MOST_DONORS]
    for index in members:
        if ledger.choice[index] == BREAK:
            continue
        for donor in donors:
            if donor != index and sets[donor].group == sets[index].group:
                for number in range(len(sets[index].completes)):
                    yield ((index, number + 2), (donor, BREAK))
