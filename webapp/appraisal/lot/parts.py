"""What the parts of one kind of set mean to a lot: what fits a better one, what it costs, what it fetches."""

from dataclasses import dataclass

from webapp.appraisal.prepared import Check, Pack, Prepared, three_point

# A plate, a serial number or a book of one serial names one set; in another it would be a forgery.
_NAMING = ("nameplate", "serial")


@dataclass(frozen=True, slots=True)
class LotPart:
    """One part: its check, the best option there, and whether it can go from one set to another.

    `buy` and `buy_variance`: what one costs (three-point), None where nobody sells it; `worth`: what a part
    in state 1 is expected to fetch. Money in the pack's currency.
    """

    id: str
    check: int
    best: int
    moves: bool
    buy: float | None
    buy_variance: float
    worth: float


@dataclass(frozen=True, slots=True)
class Kinds:
    """The parts in the order of the pack, and per task the price (mean, variance) of the part that its
    materials contain: in a lot that part is paid, or given, by itself.
    """

    parts: tuple[LotPart, ...]
    contained: tuple[tuple[float, float], ...]


def kinds_of(prepared: Prepared) -> Kinds:
    """What the parts of a pack mean to a lot."""
    parts = tuple(_part(prepared, index) for index in range(len(prepared.parts)))
    prices = {part.id: (part.buy or 0.0, part.buy_variance) for part in parts}
    contained = tuple(prices.get(task.get("part"), (0.0, 0.0)) for task in prepared.pack["tasks"])
    return Kinds(parts, contained)


def _part(prepared: Prepared, index: int) -> LotPart:
    part, raw = prepared.parts[index], prepared.pack["parts"][index]
    buy, variance = (None, 0.0) if raw["buy"] is None else three_point(raw["buy"])
    return LotPart(
        id=part.id,
        check=part.check,
        best=_best_option(prepared.checks[part.check]),
        moves=_moves(prepared.pack, raw, part.check, part.salvage_mean),
        buy=buy,
        buy_variance=variance,
        worth=prepared.pack["sell_through"] * part.salvage_mean,
    )


def _best_option(check: Check) -> int:
    """The option with the highest state, then the highest mean effect, then the first."""
    options = check.options
    return min(range(len(options)), key=lambda at: (-options[at].state, -options[at].mean, at))


def _moves(pack: Pack, raw: Pack, check: int, salvage: float) -> bool:
    """Whether a part can be handed to another set of its kind: it fits, comes out whole and names nothing."""
    sheet = pack.get("sheet")
    if pack["checks"][check].get("asks") in _NAMING or salvage <= 0:
        return False
    if raw["id"] == pack["effects"]["book_part"] and (sheet or {}).get("book") != "by model":
        return False
    return sheet is not None or bool(raw["fits_family"])
