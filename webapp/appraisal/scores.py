"""Completeness, originality and calibration, each as low, likely, high in 0..100 (contract §2)."""

from dataclasses import dataclass

from webapp.appraisal.prepared import Prepared
from webapp.appraisal.standing import Standing


@dataclass(frozen=True, slots=True)
class Spread:
    """Three figures of one score."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Scores:
    """The three scores of a set."""

    completeness: Spread
    originality: Spread
    calibration: Spread


def foreign_checks(prepared: Prepared, standing: Standing) -> frozenset[int]:
    """The checks on crystal and book where the part is there (state 1) and belongs to another set."""
    found = standing.matches
    pairs = ((prepared.crystal_check, found.crystal), (prepared.book_check, found.serial))
    return frozenset(
        index
        for index, fits in pairs
        if fits is False
        and index >= 0
        and standing.chosen[index] >= 0
        and prepared.checks[index].options[standing.chosen[index]].state == 1
    )


def scores(prepared: Prepared, standing: Standing) -> Scores:
    """The scores of a set; an unanswered check gives its worst, expected and best."""
    foreign = foreign_checks(prepared, standing)
    totals = [0.0, 0.0, 0.0]
    calibration = [0.0, 0.0, 0.0]
    weight = calibration_weight = 0.0
    for part in prepared.parts:
        check = prepared.checks[part.check]
        chosen = standing.chosen[part.check]
        states = (
            (check.options[chosen].state,) * 3
            if chosen >= 0
            else (check.worst_state, check.state, check.best_state)
        )
        weight += part.weight
        for i in range(3):
            totals[i] += part.weight * states[i]
        if part.calibration:
            calibration_weight += part.weight
            if part.check in foreign:
                states = (0.0, 0.0, 0.0)
            for i in range(3):
                calibration[i] += part.weight * states[i]
    return Scores(
        Spread(*(100 * total / weight for total in totals)),
        _originality(prepared, standing),
        Spread(*(100 * total / calibration_weight for total in calibration)),
    )


def _originality(prepared: Prepared, standing: Standing) -> Spread:
    low = likely = high = 100.0
    for index, check in enumerate(prepared.checks):
        if not standing.shown[index]:
            continue
        chosen = standing.chosen[index]
        if chosen >= 0:
            kept = check.options[chosen].kept
            low, likely, high = low * kept, likely * kept, high * kept
        else:
            low, likely, high = low * check.worst_kept, likely * check.kept, high * check.best_kept
    return Spread(low, likely, high)
