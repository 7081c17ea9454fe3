"""The seller's verdict: what to ask, below what the parts bring more, and which looks pay before selling.

Whoever has the set already has paid for it: an asking price of 0 in contract §8, so a look is worth what it
adds to the best of the three ways.
"""

import math
from dataclasses import dataclass, replace

from webapp.appraisal.findings import Findings
from webapp.appraisal.looking import Looking
from webapp.appraisal.numbers import Numbers, fair_range, next_looks
from webapp.appraisal.prepared import Prepared


@dataclass(frozen=True, slots=True)
class SellingLook:
    """One look before selling: its worth by changing the way to sell, and how far it narrows the range."""

    check: int
    seconds: float
    worth: float
    narrows: float


@dataclass(frozen=True, slots=True)
class Selling:
    """`ask`: from which the usual haggling ends at the middle; `floor`: what the parts bring, never below 0.

    `worth`, `way`: the best of the three means. `looks` in order of narrowing per second; they pay
    while `left`, the variance they may still settle, is at least `threshold`.
    """

    ask: float
    floor: float
    worth: float
    way: str
    left: float
    threshold: float
    looks: list[SellingLook]


def selling(prepared: Prepared, findings: Findings, now: Numbers) -> Selling:
    """The seller's figures, in the appraisal's currency."""
    narrowing = next_looks(prepared, replace(findings, asking=None), now)
    deciding = _by_check(next_looks(prepared, replace(findings, asking=0.0), now))
    return Selling(
        ask=fair_range(prepared, now)["mid"] * math.exp(prepared.pack["reference"]["asked"][0]),
        floor=max(0.0, now.parts.mean),
        worth=now.worth.value,
        way=now.worth.way,
        left=narrowing.value,
        threshold=narrowing.threshold,
        looks=[
            SellingLook(look.check, look.seconds, deciding[look.check], look.evi) for look in narrowing.looks
        ],
    )


def _by_check(looking: Looking) -> dict[int, float]:
    return {look.check: look.evi for look in looking.looks}
