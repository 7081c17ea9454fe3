"""The plan of a lot as a document: what becomes of each set, who gives what to whom, the total, the bid."""

import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from webapp.appraisal.lot.greedy import choice_hours, choice_value
from webapp.appraisal.lot.looks import Prices, set_looks
from webapp.appraisal.lot.problem import Problem
from webapp.appraisal.lot.sets import part_worth, quantiles
from webapp.appraisal.lot.settling import AS_IS, BREAK, Piece, Taker, all_sides, settle

Json = dict[str, Any]
WAYS = ("as_is", "break", "complete")
# More looks than anybody takes before bidding.
_MOST_LOOKS = 20


@dataclass(frozen=True, slots=True)
class Bidding:
    """Asking price of the whole lot (None: not known) and the margin that the user wants, 0..1."""

    asking: float | None
    margin: float


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of the choice: its gap to the optimum (None: greedy), and whether it is proven.

    `alone`: what the user's own sets and shelf would bring without the lot.
    """

    gap: float | None
    proven: bool
    alone: float


@dataclass(frozen=True, slots=True)
class _Exchange:
    """All stocks settled: (stock, taker, piece) and (stock, taker) without."""

    moves: list[tuple[int, Taker, Piece]]
    without: list[tuple[int, Taker]]


def _price(taker: Taker, piece: Piece) -> float:
    """What a part handed over is put down at: what its taker would have paid, else what it would fetch."""
    return piece.worth if math.isinf(taker.otherwise) else taker.otherwise


def lot_plan(problem: Problem, choice: Sequence[int], bidding: Bidding, proof: Proof) -> Json:
    """The plan under a choice of ways (0 keep, 1 break, 2… complete); money unrounded.

    `total` is the sum of the sets' `value` and of `to_shelf`, less `from_shelf`, the buys' `cost`,
    `materials`, `hours` at the hour rate, and `alone`.
    """
    exchange = _exchange(problem, choice)
    sets = [_set(problem, index, choice[index], exchange) for index in range(len(choice))]
    total = _without_noise(choice_value(problem, choice) - proof.alone, proof.alone)
    low, high = _range(problem, choice, exchange, total)
    kept = 1 - bidding.margin
    count = sum(not lot_set.owned for lot_set in problem.sets)
    bid = max(0.0, total) * kept
    return {
        "total": total,
        "range": {"low": low, "high": high},
        "gap": proof.gap,
        "exact": proof.proven,
        "bid": bid,
        "bid_range": {"low": max(0.0, low) * kept, "high": max(0.0, high) * kept},
        "asking": bidding.asking,
        "per_set": {
            "bid": bid / count if count else None,
            "asking": bidding.asking / count if count and bidding.asking is not None else None,
        },
        "hours": choice_hours(problem, choice),
        "materials": sum(row["materials"] for row in sets),
        "from_shelf": sum(piece.worth for _, _, piece in exchange.moves if piece.holder < 0),
        "to_shelf": sum(taker.otherwise for _, taker, _ in exchange.moves if taker.who < 0),
        "alone": proof.alone,
        "sets": sets,
        "moves": [
            {
                "part": problem.stocks[stock].part,
                "from": _name(piece.holder),
                "to": _name(taker.who),
                "unchecked": piece.unchecked,
            }
            for stock, taker, piece in exchange.moves
        ],
        "buys": _buys(problem, exchange),
        "salvage": _salvage(problem, choice, exchange),
        "looks": _looks(problem),
    }


def _without_noise(difference: float, size: float) -> float:
    """A difference of amounts that are alike to the last digits is nothing."""
    return 0.0 if abs(difference) <= 1e-12 * abs(size) else difference


def _name(who: int) -> int | str:
    return who if who >= 0 else f"shelf {-1 - who}"


def _exchange(problem: Problem, choice: Sequence[int]) -> _Exchange:
    moves, without = [], []
    for stock, sides in sorted(all_sides(problem, choice).items()):
        settled = settle(*sides)
        moves += [(stock, taker, piece) for taker, piece in settled.moves]
        without += [(stock, taker) for taker in settled.without]
    moves.sort(key=lambda row: (row[0], row[1].who))
    without.sort(key=lambda row: (row[0], row[1].who))
    return _Exchange(moves, without)


def _buys(problem: Problem, exchange: _Exchange) -> list[Json]:
    return [
        {"part": problem.stocks[stock].part, "for": taker.who, "cost": taker.otherwise}
        for stock, taker in exchange.without
        if taker.who >= 0
    ]


def _left(problem: Problem, index: int, exchange: _Exchange) -> list[int]:
    """The parts of a broken set that nobody takes, by their place in its pack."""
    given = {problem.stocks[stock].part for stock, _, piece in exchange.moves if piece.holder == index}
    return [at for at, kind in enumerate(problem.figures[index].seen.kinds.parts) if kind.id not in given]


def _salvage(problem: Problem, choice: Sequence[int], exchange: _Exchange) -> list[Json]:
    rows = []
    for index, way in enumerate(choice):
        one = problem.figures[index].seen
        for at in _left(problem, index, exchange) if way == BREAK else ():
            worth = part_worth(one, at)[0]
            if worth > 0:
                rows.append({"part": one.kinds.parts[at].id, "from": index, "worth": worth})
    return rows


def _set(problem: Problem, index: int, way: int, exchange: _Exchange) -> Json:
    """What becomes of one set; `per_hour` is what its work adds an hour over keeping it as it stands."""
    lot_set, figures = problem.sets[index], problem.figures[index]
    one, z90 = figures.seen, figures.seen.entry.prepared.pack["model"]["z90"]
    hours = materials = 0.0
    if way == AS_IS:
        value = lot_set.as_is
        low, high = quantiles(one.market.log_median, one.market.variance, z90)
    elif way == BREAK:
        worths = [part_worth(one, at) for at in _left(problem, index, exchange)]
        value, hours = sum(mean for mean, _ in worths), lot_set.break_hours
        reach = z90 * math.sqrt(max(0.0, sum(variance for _, variance in worths)))
        low, high = max(0.0, value - reach), value + reach
    else:
        then = figures.completed[way - 2]
        value, hours, materials = then.mean, then.hours, then.materials
        low, high = quantiles(then.log_median, then.log_variance, z90)
    added = value - materials - lot_set.as_is
    for _, taker, piece in exchange.moves:
        added += _price(taker, piece) * ((piece.holder == index) - (taker.who == index))
    added -= sum(taker.otherwise for _, taker in exchange.without if taker.who == index)
    return {
        "way": WAYS[min(way, 2)],
        "value": value,
        "low": low,
        "high": high,
        "hours": hours,
        "materials": materials,
        "per_hour": added / hours if hours > 0 else None,
        "as_is": lot_set.as_is,
        "complete": lot_set.completes[0].value if lot_set.completes else None,
        "parts": lot_set.broken - problem.hour_rate * lot_set.break_hours,
        "owned": lot_set.owned,
        "open": sum(
            shown and chosen < 0
            for shown, chosen in zip(one.standing.shown, one.standing.chosen, strict=True)
        ),
    }


def _range(problem: Problem, choice: Sequence[int], exchange: _Exchange, total: float) -> tuple[float, float]:
    """P10 and P90 of the total, taken as lognormal by its first two moments (Fenton 1960).

    Prices of one kind share the doubt about their reference; all else is taken as independent.
    """
    variance = 0.0
    shared: dict[str, tuple[float, float]] = {}
    for index, way in enumerate(choice):
        lot_set, figures = problem.sets[index], problem.figures[index]
        one = figures.seen
        if way == BREAK:
            variance += sum(part_worth(one, at)[1] for at in _left(problem, index, exchange))
            continue
        mean, law = lot_set.as_is, one.market.variance
        if way > BREAK:
            then = figures.completed[way - 2]
            mean, law = then.mean, then.log_variance
            variance += then.work_variance
        common = math.expm1(one.log_reference_variance)
        variance += mean * mean * (math.expm1(law) - common)
        shared[lot_set.group] = (shared.get(lot_set.group, (0.0, 0.0))[0] + mean, common)
    variance += sum(mean * mean * common for mean, common in shared.values())
    variance += sum(problem.stocks[stock].buy_variance for stock, taker in exchange.without if taker.who >= 0)
    if total <= 0 or not problem.figures:
        return min(0.0, total), max(0.0, total)
    z90 = problem.figures[0].seen.entry.prepared.pack["model"]["z90"]
    ratio = 1 + variance / (total * total)
    return quantiles(math.log(total / math.sqrt(ratio)), math.log(ratio), z90)


def _looks(problem: Problem) -> list[Json]:
    """The looks of the whole lot that would change the plan most for their time."""
    prices = Prices(problem)
    looks = [look for index in range(len(problem.sets)) for look in set_looks(problem, index, prices)]
    looks.sort(key=lambda look: -look.change / look.seconds)
    return [asdict(look) for look in looks[:_MOST_LOOKS]]
