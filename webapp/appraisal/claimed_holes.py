"""The added holes that a seller told of beside those that a buyer found."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.appraisal.findings import Hole
from webapp.appraisal.money import logarithmic_mean
from webapp.appraisal.prepared import Pack
from webapp.appraisal.standing import hole_severity, hole_size


@dataclass(frozen=True, slots=True)
class Links:
    """What the buyer said of single holes told of.

    `answers`: for each hole found the number of the told one that it answers, or None; `gone`: the told ones
    that are not there.
    """

    answers: tuple[int | None, ...] = ()
    gone: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Pairs:
    """Which found hole each told one is (None: not looked at), those not there, those nobody told of.

    `agreeing`: the told holes whose found ones are as told.
    """

    found: tuple[int | None, ...]
    agreeing: frozenset[int]
    gone: frozenset[int]
    untold: tuple[int, ...]


def pair_holes(
    pack: Pack, told: Sequence[Hole], found: Sequence[Hole], links: Links, none_found: bool
) -> Pairs:
    """The holes told of and found, pair by pair; `none_found`: the buyer says that there are none.

    What the buyer linked is a pair, and agrees when nothing differs. What he listed by himself is a pair
    where place, state and row of size are alike: more than that, two who judge by eye cannot tell.
    """
    pairs: list[int | None] = [None] * len(told)
    left = dict(enumerate(found))
    for number, answered in enumerate(links.answers[: len(found)]):
        if answered is not None and 0 <= answered < len(told) and pairs[answered] is None:
            pairs[answered] = number
            del left[number]
    agreeing = {at for at, number in enumerate(pairs) if number is not None and found[number] == told[at]}
    gone = {at for at, number in enumerate(pairs) if number is None and (none_found or at in links.gone)}
    for exactly in (True, False):
        for at, hole in enumerate(told):
            if pairs[at] is not None or at in gone:
                continue
            same = next((n for n, other in left.items() if _alike(pack, hole, other, exactly)), None)
            if same is not None:
                pairs[at] = same
                agreeing.add(at)
                del left[same]
    return Pairs(tuple(pairs), frozenset(agreeing), frozenset(gone), tuple(left))


def _alike(pack: Pack, one: Hole, other: Hole, exactly: bool) -> bool:
    if exactly:
        return one == other
    placed = one.place == other.place and one.as_found == other.as_found
    return placed and hole_size(pack, one) is hole_size(pack, other)


def severity_changes(
    pack: Pack, told: Sequence[Hole], found: Sequence[Hole], pairs: Pairs
) -> dict[str, float]:
    """What each difference adds to the severity: `hole/<told>` in order, then `untold/<found>`."""
    changes = {}
    for at, (hole, number) in enumerate(zip(told, pairs.found, strict=True)):
        if at in pairs.gone:
            changes[f"hole/{at}"] = -hole_severity(pack, hole)
        elif number is not None and at not in pairs.agreeing:
            changes[f"hole/{at}"] = hole_severity(pack, found[number]) - hole_severity(pack, hole)
    return changes | {f"untold/{number}": hole_severity(pack, found[number]) for number in pairs.untold}


def curve_effects(pack: Pack, told: Sequence[Hole], changes: Mapping[str, float]) -> dict[str, float]:
    """The log effect of each change of severity; they add up to that of all on the curve −a·ln(1 + S/b).

    Each has its part of the severity, by the logarithmic mean of the curve's two ends (as in contract §11).
    """
    law = pack["holes"]
    before = law["b"] + sum(hole_severity(pack, hole) for hole in told)
    slope = -law["a"] / logarithmic_mean(before + sum(changes.values()), before)
    return {name: slope * change for name, change in changes.items()}
