"""Which looks would change the plan of a lot most: by the expected absolute change of its worth.

One look at a time, the other sets as they stand now. A part costs what it would fetch where a set of the
lot that is better broken has it, else what it costs to buy.
"""

from dataclasses import dataclass

from webapp.appraisal.effort import task_estimate
from webapp.appraisal.lot.problem import Complete, LotSet, Problem
from webapp.appraisal.lot.sets import Seen, expected_state, without_part
from webapp.appraisal.prepared import Check


@dataclass(frozen=True, slots=True)
class LotLook:
    """One check of one set: the expected absolute change of the plan's worth, in money, and its seconds."""

    set: int
    check: str
    change: float
    seconds: float


@dataclass(frozen=True, slots=True)
class _Ways:
    """One set's ways now: the mean as it stands, a way to complete it, its cost, and broken."""

    as_is: float
    mean: float
    cost: float
    takes: frozenset[int]
    broken: float

    def best(self) -> float:
        return max(self.as_is, self.mean - self.cost, self.broken)


class Prices:
    """What a part of each stock costs a set of the lot."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._had: dict[int, list[tuple[float, int]]] = {}
        self._offered: dict[int, list[tuple[float, int]]] = {}
        for index, lot_set in enumerate(problem.sets):
            spare = lot_set.broken - problem.hour_rate * lot_set.break_hours > lot_set.as_is
            for give in lot_set.gives:
                _keep_two(self._had.setdefault(give.stock, []), (give.worth, index))
                if spare:
                    _keep_two(self._offered.setdefault(give.stock, []), (give.worth, index))

    def of(self, stock: int, taker: int) -> float:
        """The price of one part for a set (by its place in the lot); 0 where nobody is known to have it."""
        offered = [worth for worth, index in self._offered.get(stock, ()) if index != taker]
        if offered:
            return min(offered)
        buy = self._problem.stocks[stock].buy
        if buy is not None:
            return buy
        return min((worth for worth, index in self._had.get(stock, ()) if index != taker), default=0.0)


def _keep_two(cheapest: list[tuple[float, int]], offer: tuple[float, int]) -> None:
    """Of many offers only the two cheapest count: the taker's own may be one of them."""
    cheapest.append(offer)
    cheapest.sort()
    del cheapest[2:]


def set_looks(problem: Problem, index: int, prices: Prices) -> list[LotLook]:
    """The open checks of one set, the greatest change per second first."""
    one = problem.figures[index].seen
    now = _ways(problem, index, prices)
    stocks = {
        stock.part: at for at, stock in enumerate(problem.stocks) if stock.group == problem.sets[index].group
    }
    part_of = {kind.check: at for at, kind in enumerate(one.kinds.parts)}
    looks = []
    for at, check in enumerate(one.entry.prepared.checks):
        if not one.standing.shown[at] or one.standing.chosen[at] >= 0:
            continue
        if check.id in one.entry.findings.unseen:
            continue
        part = part_of.get(at)
        stock = None if part is None else stocks[one.kinds.parts[part].id]
        price = 0.0 if stock is None else prices.of(stock, index)
        change = sum(
            option.prior * abs(_if(one, now, at, number, part, stock, price).best() - now.best())
            for number, option in enumerate(check.options)
        )
        looks.append(LotLook(index, check.id, change, check.seconds))
    return sorted(looks, key=lambda look: -look.change / look.seconds)


def quick_looks(problem: Problem, index: int, prices: Prices) -> list[LotLook]:
    """Those worth asking in a quick round: what would change little is left out, and the list ends early."""
    one = problem.figures[index].seen
    model = one.entry.prepared.pack["model"]
    least = model["lot_look_share"] * _ways(problem, index, prices).best()
    given = sum(chosen >= 0 for chosen in one.standing.chosen) + len(one.entry.findings.unseen)
    looks = [look for look in set_looks(problem, index, prices) if look.change >= least]
    return looks[: max(0, int(model["lot_looks"]) - given)]


def _ways(problem: Problem, index: int, prices: Prices) -> _Ways:
    lot_set, figures = problem.sets[index], problem.figures[index]
    broken = lot_set.broken - problem.hour_rate * lot_set.break_hours
    best = _Ways(lot_set.as_is, lot_set.as_is, 0.0, frozenset(), broken)
    for number, (complete, then) in enumerate(zip(lot_set.completes, figures.completed, strict=True)):
        cost = then.materials + problem.hour_rate * then.hours + _paid(complete, lot_set, prices, index)
        way = _Ways(lot_set.as_is, then.mean, cost, frozenset(n.stock for n in complete.takes), broken)
        if number == 0 or way.mean - way.cost > best.mean - best.cost:
            best = way
    return best


def _paid(complete: Complete, lot_set: LotSet, prices: Prices, index: int) -> float:
    return sum(prices.of(need.stock, index) for need in complete.takes)


def _if(
    one: Seen, now: _Ways, at: int, number: int, part: int | None, stock: int | None, price: float
) -> _Ways:
    """The ways with option `number` of check `at` as the answer, its follow-ups open."""
    check = one.entry.prepared.checks[at]
    option, open_factor = check.options[number], one.found.factor[at]
    as_is = now.as_is * option.factor / open_factor
    if part is None or stock is None:
        return _Ways(as_is, now.mean * option.factor / open_factor, now.cost, now.takes, now.broken)
    kind = one.kinds.parts[part]
    best = check.options[kind.best].factor
    fetched = kind.worth * one.entry.findings.rate * (option.state - expected_state(one, part))
    taken, lacking = stock in now.takes, option.state < 1
    if taken and not lacking:
        mean, cost = now.mean * option.factor / best, now.cost - price - _usual_work(one, check)
    elif taken:
        mean, cost = now.mean, now.cost + _work(one, check, number) - _usual_work(one, check)
    elif lacking and kind.buy is not None:
        mean, cost = now.mean * best / open_factor, now.cost + price + _work(one, check, number)
    else:
        mean, cost = now.mean * option.factor / open_factor, now.cost
    return _Ways(as_is, mean, cost, now.takes, now.broken + fetched)


def _work(one: Seen, check: Check, number: int) -> float:
    """What the tasks of an option cost this user, as if nothing else called them."""
    findings, tasks = one.entry.findings, one.entry.prepared.tasks
    total = 0.0
    for task in check.options[number].tasks:
        hours, materials = task_estimate(tasks[task], 0)
        total += without_part(one.kinds, task, materials)[0] * findings.rate + hours[0] * findings.hour_rate
    return total


def _usual_work(one: Seen, check: Check) -> float:
    return sum(option.prior * _work(one, check, number) for number, option in enumerate(check.options))
