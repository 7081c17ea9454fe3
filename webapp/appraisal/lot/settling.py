"""Who gives what to whom, once it is chosen which sets are completed and which broken.

For each stock: whoever asks for the best state chooses first, and takes the piece that would fetch least.
As every piece that suits a demanding taker suits a modest one, a later taker who gains more may step into
an earlier one's place; that keeps the gain of all together the greatest (exchange argument on nested lists).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.appraisal.lot.problem import Problem

AS_IS, BREAK = 0, 1


@dataclass(frozen=True, slots=True)
class Piece:
    """One part that could be handed over: who has it (a set, or −1 − shelf row), its state, its worth."""

    holder: int
    counted: float
    worth: float
    unchecked: bool


@dataclass(frozen=True, slots=True)
class Taker:
    """Who needs a part (a set, or −1 − shelf row): the state to beat, and what going without it costs."""

    who: int
    counted: float
    otherwise: float


@dataclass(frozen=True, slots=True)
class Settled:
    """One stock settled: who takes which piece, and who goes without (buys it, or is a want unmet).

    `cost`: what the pieces would have fetched and what going without costs; infinite where somebody goes
    without what cannot be bought.
    """

    moves: tuple[tuple[Taker, Piece], ...]
    without: tuple[Taker, ...]
    cost: float


Sides = tuple[list[Taker], list[Piece]]


def sides_of(problem: Problem, index: int, way: int) -> dict[int, Sides]:
    """What one set takes and gives under a way (0 keep, 1 break, 2… complete), by stock."""
    lot_set = problem.sets[index]
    if way == AS_IS:
        return {}
    if way == BREAK:
        return {
            give.stock: ([], [Piece(index, give.counted, give.worth, give.unchecked)])
            for give in lot_set.gives
        }
    return {
        need.stock: ([Taker(index, need.counted, _without(problem, need.stock))], [])
        for need in lot_set.completes[way - 2].takes
    }


def _without(problem: Problem, stock: int) -> float:
    buy = problem.stocks[stock].buy
    return math.inf if buy is None else buy


def shelf_sides(problem: Problem) -> dict[int, Sides]:
    """What the shelf gives and takes, by stock."""
    sides: dict[int, Sides] = {}
    for spare in problem.spares:
        piece = Piece(-1 - spare.row, spare.counted, spare.worth, False)
        sides.setdefault(spare.stock, ([], []))[1].extend([piece] * spare.count)
    for want in problem.wants:
        taker = Taker(-1 - want.row, want.counted, want.worth)
        sides.setdefault(want.stock, ([], []))[0].extend([taker] * want.count)
    return sides


def all_sides(problem: Problem, choice: Sequence[int]) -> dict[int, Sides]:
    """Who takes and who gives, by stock, under a choice of ways."""
    sides = shelf_sides(problem)
    for index, way in enumerate(choice):
        for stock, (takers, pieces) in sides_of(problem, index, way).items():
            mine = sides.setdefault(stock, ([], []))
            mine[0].extend(takers)
            mine[1].extend(pieces)
    return sides


def settle(takers: Sequence[Taker], pieces: Sequence[Piece]) -> Settled:
    """The exchange within one stock that costs least."""
    free = sorted(pieces, key=lambda piece: (piece.worth, piece.holder))
    held: list[tuple[Taker, Piece]] = []
    without: list[Taker] = []
    for taker in sorted(takers, key=lambda one: (-one.counted, -one.otherwise, one.who)):
        at = next((at for at, piece in enumerate(free) if piece.counted > taker.counted), -1)
        weakest = min(range(len(held)), key=lambda at: (held[at][0].otherwise, at), default=-1)
        # What a piece costs, and what it costs to send away the one who misses his least.
        from_free = free[at].worth if at >= 0 else math.inf
        from_held = held[weakest][0].otherwise if weakest >= 0 else math.inf
        if from_free <= from_held and from_free < taker.otherwise:
            held.append((taker, free.pop(at)))
        elif from_held < taker.otherwise:
            without.append(held[weakest][0])
            held[weakest] = (taker, held[weakest][1])
        else:
            without.append(taker)
    cost = sum(piece.worth for _, piece in held) + sum(taker.otherwise for taker in without)
    return Settled(tuple(held), tuple(without), cost)
