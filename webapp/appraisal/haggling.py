"""What to point at when the price is talked about, and what all the rest adds up to."""

from dataclasses import dataclass

from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reasons import Reason


@dataclass(frozen=True, slots=True)
class Sum:
    """How many findings, and what they are worth together."""

    count: int
    amount: float


@dataclass(frozen=True, slots=True)
class Haggling:
    """The points, the largest first, and what all else adds up to.

    Amounts are those of contract §11: points, others, in favour and not checked add up to P50 − R.
    """

    points: tuple[Reason, ...]
    others: Sum
    in_favour: Sum
    not_checked: float


def haggling(prepared: Prepared, rows: list[Reason], middle: float) -> Haggling:
    """The points among the reasons; less than the table's share of the middle price is not brought up."""
    model = prepared.pack["model"]
    found = [row for row in rows if row.what != "not checked"]
    least = model["point_share"] * middle
    points = [row for row in found if row.amount < 0 and -row.amount >= least][: int(model["points"])]
    others = [row for row in found if row.amount < 0 and row not in points]
    better = [row for row in found if row.amount > 0]
    return Haggling(
        tuple(points),
        Sum(len(others), sum(row.amount for row in others)),
        Sum(len(better), sum(row.amount for row in better)),
        sum(row.amount for row in rows if row.what == "not checked"),
    )
