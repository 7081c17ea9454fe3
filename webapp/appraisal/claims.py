"""A seller's claims beside what a buyer found: what agrees, what differs, and what the differences are worth.

What is not checked stands as it was told. So the differences lead from the price of what was told to that of
the same with every difference in it, and their log effects add up to just that. Amounts are those of
contract §11, by the money scale of the buyer's own appraisal.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from webapp.appraisal.claimed_holes import Links, Pairs, curve_effects, pair_holes, severity_changes
from webapp.appraisal.findings import Findings
from webapp.appraisal.matching import plain_serial
from webapp.appraisal.numbers import Numbers
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import coverage_effect, misfits, shares
from webapp.appraisal.reasons import money_scale
from webapp.appraisal.standing import Standing, stand

AGREES, DIFFERS, OPEN = "agrees", "differs", "not checked"
NO_LINKS = Links()


def _spelled(text: str) -> str:
    return " ".join(re.findall(r"[^ \t\r\n]+", text.lower()))


def _numbered(text: str) -> str:
    return plain_serial(text) or _spelled(text)


def _as_it_is(value: Any) -> Any:
    return value


# Figures by what their check asks: where they stand in the findings, and what of them is compared.
FIGURES: dict[str, tuple[str, Callable[[Any], Any]]] = {
    "nameplate": ("nameplate", _spelled),
    "serial": ("serial", _numbered),
    "order": ("order", _spelled),
    "coverage": ("coverage_khz", _as_it_is),
    "crystal": ("crystal_khz", _as_it_is),
    "book": ("book_serial", _numbered),
    "heaters": ("heater_strings", _as_it_is),
}
# Figures from which each comparison is made, the one that its change is laid to first.
_COMPARED = {
    "crystal": ("figure/crystal", "figure/coverage"),
    "serial": ("figure/book", "figure/serial"),
    "heaters": ("figure/heaters",),
    "designation": ("figure/nameplate",),
    "finish": (),
}


@dataclass(frozen=True, slots=True)
class Claim:
    """`check/<id>`, `figure/<what is asked>` or `hole/<number in the list>`, and how it stands."""

    id: str
    state: str


@dataclass(frozen=True, slots=True)
class Difference:
    """A claim that differs, or `untold/<number>` for a found hole that nobody told of; what it is worth."""

    id: str
    log_effect: float
    amount: float


@dataclass(frozen=True, slots=True)
class Checked:
    """The claims in the order of the walk, the differences likewise, and what these are worth together.

    `holes`: for each told hole the number of the found one, or None.
    """

    claims: tuple[Claim, ...]
    differences: tuple[Difference, ...]
    checked: int
    amount: float
    holes: tuple[int | None, ...]


def claims(
    prepared: Prepared, now: Numbers, found: Findings, told: Findings, links: Links = NO_LINKS
) -> Checked:
    """The claims of `told` beside `found`, of which `now` holds the numbers, in the currency of `found`.

    What was told of a follow-up falls away with the answer that opened it.
    """
    told = replace(told, aim=found.aim, region=found.region)
    before = stand(prepared, told)
    none_found = _says_none(prepared, now.standing)
    pairs = pair_holes(prepared.pack, told.holes, found.holes, links, none_found)
    states = dict(_states(prepared, before, now.standing, told, found, pairs))
    effects = _effects(prepared, before, told, found, states)
    changes = severity_changes(prepared.pack, told.holes, found.holes, pairs)
    if not told.holes and before.chosen[prepared.hole_check] >= 0:
        # That there are none, or some, was told as an answer, and stands or falls as one.
        changes = {}
    effects |= curve_effects(prepared.pack, told.holes, changes)
    scale = money_scale(now.market)
    order = [*(name for name, state in states.items() if state == DIFFERS), *changes]
    differences = [Difference(name, effects[name], effects[name] * scale) for name in dict.fromkeys(order)]
    return Checked(
        tuple(Claim(name, state) for name, state in states.items()),
        tuple(differences),
        sum(state != OPEN for state in states.values()),
        sum(row.amount for row in differences),
        pairs.found,
    )


def _says_none(prepared: Prepared, standing: Standing) -> bool:
    check = prepared.checks[prepared.hole_check]
    chosen = standing.chosen[prepared.hole_check]
    return chosen >= 0 and check.options[chosen].id == "none"


def _states(
    prepared: Prepared, before: Standing, after: Standing, told: Findings, found: Findings, pairs: Pairs
) -> Iterator[tuple[str, str]]:
    """Every claim and how it stands, check by check, each with its figure or its holes behind it."""
    for index, check in enumerate(prepared.checks):
        claimed, chosen = before.chosen[index], after.chosen[index]
        listed = index == prepared.hole_check and bool(told.holes)
        if claimed >= 0 and not listed and not _differs_above(prepared, before, after, index):
            yield f"check/{check.id}", OPEN if chosen < 0 else AGREES if chosen == claimed else DIFFERS
        asked = prepared.pack["checks"][index].get("asks")
        if asked in FIGURES:
            key, compared = FIGURES[asked]
            one, other = getattr(told, key), getattr(found, key)
            if one:
                same = other and compared(one) == compared(other)
                yield f"figure/{asked}", OPEN if not other else AGREES if same else DIFFERS
        if listed:
            for at, number in enumerate(pairs.found):
                seen = number is not None or at in pairs.gone
                yield f"hole/{at}", OPEN if not seen else AGREES if at in pairs.agreeing else DIFFERS


def _differs_above(prepared: Prepared, before: Standing, after: Standing, index: int) -> bool:
    parent = prepared.checks[index].parent
    while parent >= 0:
        if after.chosen[parent] >= 0 and after.chosen[parent] != before.chosen[parent]:
            return True
        parent = prepared.checks[parent].parent
    return False


def _effects(
    prepared: Prepared, before: Standing, told: Findings, found: Findings, states: dict[str, str]
) -> dict[str, float]:
    """The log effect of each answer and figure that differs."""
    after = stand(prepared, _with_differences(prepared, told, found, states))
    old, new = (shares(prepared, standing, told.aim) for standing in (before, after))
    effects = {name: 0.0 for name, state in states.items() if state == DIFFERS}
    for index, check in enumerate(prepared.checks):
        if f"check/{check.id}" in effects:
            effects[f"check/{check.id}"] = new.mean[index] - old.mean[index]
    if "figure/coverage" in effects:
        effects["figure/coverage"] = (
            coverage_effect(prepared, after).mean - coverage_effect(prepared, before).mean
        )
    for name, change in _misfit_changes(prepared, before, after).items():
        effects[next(source for source in _sources(prepared, name) if source in effects)] += change
    return effects


def _with_differences(
    prepared: Prepared, told: Findings, found: Findings, states: dict[str, str]
) -> Findings:
    """What was told, with what was found in the place of all that differs, follow-ups included."""
    answers = dict(told.answers)
    for check in prepared.checks:
        if states.get(f"check/{check.id}") == DIFFERS:
            for one in _tree(prepared, prepared.check_index[check.id]):
                answers.pop(one, None)
                if one in found.answers:
                    answers[one] = found.answers[one]
    differing = [asked for asked in FIGURES if states.get(f"figure/{asked}") == DIFFERS]
    figures = {FIGURES[asked][0]: getattr(found, FIGURES[asked][0]) for asked in differing}
    hole_check = f"check/{prepared.checks[prepared.hole_check].id}"
    holes = found.holes if states.get(hole_check) == DIFFERS else told.holes
    return replace(told, answers=answers, holes=holes, **figures)


def _tree(prepared: Prepared, index: int) -> Iterator[str]:
    """A check and all follow-ups that hang on it."""
    yield prepared.checks[index].id
    for child, check in enumerate(prepared.checks):
        if check.parent == index:
            yield from _tree(prepared, child)


def _misfit_changes(prepared: Prepared, before: Standing, after: Standing) -> dict[str, float]:
    """By comparison, what no longer fits, or fits now, adds to the logarithm of the price."""
    changes: dict[str, float] = {}
    for sign, standing in ((-1, before), (1, after)):
        for _, comparison, effect in misfits(prepared, standing):
            changes[comparison] = changes.get(comparison, 0.0) + sign * effect.mean
    return {comparison: change for comparison, change in changes.items() if change != 0}


def _sources(prepared: Prepared, comparison: str) -> Iterator[str]:
    """The claims that a comparison rests on, the one that its change is laid to first."""
    yield from _COMPARED[comparison]
    answers = {
        "crystal": [prepared.crystal_check],
        "serial": [prepared.book_check],
        "finish": [index for _, index in prepared.comparable],
    }
    for index in answers.get(comparison, []):
        while index >= 0:
            yield f"check/{prepared.checks[index].id}"
            index = prepared.checks[index].parent
