"""What to do about the asking price (contract §4)."""

from dataclasses import dataclass

from webapp.appraisal.money import rounded


@dataclass(frozen=True, slots=True)
class Verdict:
    """One of the five words, and the offer where one is made (unrounded, appraisal currency)."""

    word: str
    offer: float | None


@dataclass(frozen=True, slots=True)
class Stakes:
    """What the verdict weighs: worth to this user, what the market would pay, and what is asked."""

    worth: float
    low: float
    mid: float
    high: float
    asking: float | None


def verdict(stakes: Stakes, look_value: float, threshold: float, share: float, minor_digits: int) -> Verdict:
    """Pay it, offer less, leave it, look first, or no price yet."""
    asking = stakes.asking
    if asking is None:
        return Verdict("no price yet", None)
    if look_value >= threshold:
        return Verdict("look first", None)
    if asking > max(stakes.worth, stakes.high):
        return Verdict("leave it", None)
    if asking > min(stakes.worth, stakes.high):
        offer = min(stakes.worth, stakes.mid)
        shown = rounded(offer, share, minor_digits, down=True)
        if shown in (0.0, rounded(asking, share, minor_digits)):
            return Verdict("offer less", None)
        return Verdict("offer less", offer)
    return Verdict("pay it", None)
