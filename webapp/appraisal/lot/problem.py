"""A lot as a choice of ways: for each set its ways, for each kind of part who can give and who needs it.

Parts are kept as one stock a kind, model and state, so that who gives to whom can be settled afterwards.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from webapp.appraisal.lot.parts import Kinds, kinds_of
from webapp.appraisal.lot.sets import Completed, Entry, Seen, completed, part_worth, seen

# Ways to complete double with each part that nobody sells; of more than these the dearest count.
MOST_UNSOLD = 6


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of part of one model; what one costs (None where nobody sells it) in the lot's currency."""

    group: str
    part: str
    buy: float | None
    buy_variance: float


@dataclass(frozen=True, slots=True)
class Need:
    """A part that a set lacks: its stock, and the state that a better one has to beat."""

    stock: int
    counted: float


@dataclass(frozen=True, slots=True)
class Give:
    """A part that a broken set has: its stock and state, what it would fetch, and whether nobody looked."""

    stock: int
    counted: float
    worth: float
    unchecked: bool


@dataclass(frozen=True, slots=True)
class Complete:
    """One way to complete a set: what it is worth then less materials, the hours, the parts it takes."""

    value: float
    hours: float
    takes: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class LotSet:
    """One set in the lot: kept, completed in one of several ways, or broken. `broken` has no hour paid."""

    group: str
    owned: bool
    as_is: float
    broken: float
    break_hours: float
    gives: tuple[Give, ...]
    completes: tuple[Complete, ...]


@dataclass(frozen=True, slots=True)
class Figures:
    """What a set's ways rest on: its own figures, and those of each way to complete it."""

    seen: Seen
    completed: tuple[Completed, ...]


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """A part that the user has (`spare`, in `state`) or looks for (`want`); `worth` of one to the user."""

    kind: str
    family: str
    model_sheet: str | None
    part: str
    state: float = 1.0
    count: int = 1
    worth: float | None = None


@dataclass(frozen=True, slots=True)
class Shelved:
    """A shelf row that can serve this lot: its place on the list, stock, state, pieces, worth of each."""

    row: int
    stock: int
    counted: float
    count: int
    worth: float


@dataclass(frozen=True, slots=True)
class Problem:
    """All that a plan is made from. Money in the lot's currency; `figures` for those who tell its range."""

    sets: tuple[LotSet, ...]
    stocks: tuple[Stock, ...]
    spares: tuple[Shelved, ...]
    wants: tuple[Shelved, ...]
    hour_rate: float
    figures: tuple[Figures, ...] = ()


def group_of(family: str, model_sheet: str | None) -> str:
    """Sets of one family and model exchange parts, and those without a model sheet among themselves."""
    return f"{family}/{model_sheet or ''}"


def lot_problem(entries: Sequence[Entry], shelf: Sequence[ShelfRow], hour_rate: float) -> Problem:
    """The lot's sets with the ways that each has, and the stocks that tie them together."""
    kinds: dict[str, Kinds] = {}
    rates: dict[str, float] = {}
    found = []
    for entry in entries:
        group = group_of(entry.prepared.pack["family"], entry.model_sheet)
        kinds.setdefault(group, kinds_of(entry.prepared))
        rates[group] = entry.findings.rate
        found.append((group, seen(entry, kinds[group])))
    stocks, at = _stocks(kinds, rates)
    spares, wants = _shelved(shelf, kinds, rates, at)
    gives = [_gives(one, group, at) for group, one in found]
    better = _on_offer(gives, spares)
    sets, figures = [], []
    for (group, one), given in zip(found, gives, strict=True):
        ways = [(completed(one, parts), parts) for parts in _fillings(one, group, at, better)]
        completes = tuple(
            Complete(
                then.mean - then.materials,
                then.hours,
                tuple(Need(at[group, one.kinds.parts[part].id], one.counted[part]) for part in parts),
            )
            for then, parts in ways
        )
        hours = one.entry.prepared.break_hours_mean
        owned, broken = one.entry.owned, one.parts.mean
        sets.append(LotSet(group, owned, one.market.mean, broken, hours, given, completes))
        figures.append(Figures(one, tuple(then for then, _ in ways)))
    return Problem(tuple(sets), stocks, spares, wants, hour_rate, tuple(figures))


def _stocks(
    kinds: dict[str, Kinds], rates: dict[str, float]
) -> tuple[tuple[Stock, ...], dict[tuple[str, str], int]]:
    stocks = tuple(
        Stock(group, part.id, _paid(part.buy, rates[group]), part.buy_variance * rates[group] ** 2)
        for group, own in kinds.items()
        for part in own.parts
    )
    return stocks, {(stock.group, stock.part): index for index, stock in enumerate(stocks)}


def _paid(price: float | None, rate: float) -> float | None:
    return None if price is None else price * rate


def _gives(one: Seen, group: str, at: dict[tuple[str, str], int]) -> tuple[Give, ...]:
    return tuple(
        Give(
            at[group, kind.id],
            one.counted[index],
            part_worth(one, index)[0],
            one.standing.chosen[kind.check] < 0,
        )
        for index, kind in enumerate(one.kinds.parts)
        if kind.moves and one.counted[index] > 0
    )


def _on_offer(gives: Iterable[tuple[Give, ...]], spares: Iterable[Shelved]) -> dict[int, float]:
    """Per stock the best state that any set or spare has."""
    better: dict[int, float] = {}
    for given in gives:
        for give in given:
            better[give.stock] = max(better.get(give.stock, 0.0), give.counted)
    for spare in spares:
        better[spare.stock] = max(better.get(spare.stock, 0.0), spare.counted)
    return better


def _fillings(
    one: Seen, group: str, at: dict[tuple[str, str], int], better: dict[int, float]
) -> list[list[int]]:
    """All ways to complete a set: every part that is sold, and any of those that only others have."""
    lacking = [index for index, state in enumerate(one.counted) if state < 1]
    sold = [index for index in lacking if one.kinds.parts[index].buy is not None]
    unsold = [
        index
        for index in lacking
        if one.kinds.parts[index].buy is None
        and one.kinds.parts[index].moves
        and better.get(at[group, one.kinds.parts[index].id], 0.0) > one.counted[index]
    ]
    unsold = sorted(sorted(unsold, key=lambda index: (-_gain(one, index), index))[:MOST_UNSOLD])
    chosen = [more for count in range(len(unsold), -1, -1) for more in combinations(unsold, count)]
    return [parts for more in chosen if (parts := sorted((*sold, *more)))]


def _gain(one: Seen, part: int) -> float:
    kind = one.kinds.parts[part]
    return one.entry.prepared.checks[kind.check].options[kind.best].mean - one.found.mean[kind.check]


def _shelved(
    shelf: Sequence[ShelfRow],
    kinds: dict[str, Kinds],
    rates: dict[str, float],
    at: dict[tuple[str, str], int],
) -> tuple[tuple[Shelved, ...], tuple[Shelved, ...]]:
    """The spares and wants that concern a kind of set in this lot."""
    spares, wants = [], []
    for index, row in enumerate(shelf):
        group = group_of(row.family, row.model_sheet)
        kind = (
            next((part for part in kinds[group].parts if part.id == row.part), None)
            if group in kinds
            else None
        )
        if kind is None or row.count < 1:
            continue
        rate, stock = rates[group], at[group, row.part]
        if row.kind == "spare":
            spares.append(Shelved(index, stock, row.state, row.count, kind.worth * row.state * rate))
        elif kind.moves:
            usual = (kind.worth if kind.buy is None else kind.buy) * rate
            wants.append(Shelved(index, stock, 0.0, row.count, usual if row.worth is None else row.worth))
    return tuple(spares), tuple(wants)


def without_lot(problem: Problem) -> Problem:
    """What the user has already: own sets and shelf, as if there were no lot."""
    own = tuple(lot_set for lot_set in problem.sets if lot_set.owned)
    return Problem(own, problem.stocks, problem.spares, problem.wants, problem.hour_rate)
