"""A scripted user who triages a lot by the quick round: her taps, and what her plan is worth in truth."""

import random
from dataclasses import replace
from typing import Any

from tests.support.packs import pack_for, prepared_for
from webapp.appraisal.findings import read_findings
from webapp.appraisal.lot.greedy import choice_value
from webapp.appraisal.lot.looks import Prices, quick_looks
from webapp.appraisal.lot.problem import LotSet, Problem, lot_problem
from webapp.appraisal.lot.sets import Entry
from webapp.appraisal.lot.solving import solved

Json = dict[str, Any]

# Far below whatever a set is worth: a way that is not to be taken.
NEVER = -1e6


def drawn_truth(rng: random.Random, sheet: str, worked_over: bool = False) -> dict[str, str]:
    """All answers of one set, each drawn as often as the tables say it is met.

    One that was worked over has each rare answer more often: with the square root of its prior.
    """
    power = 0.5 if worked_over else 1.0
    answers: dict[str, str] = {}
    for check in pack_for(sheet)["checks"]:
        shown = check["shown_if"]
        if shown and answers.get(shown["check"]) not in shown["options"]:
            continue
        options = check["options"]
        answers[check["id"]] = rng.choices(options, [option["prior"] ** power for option in options])[0]["id"]
    return answers


def problem_with(sheets: list[str], answers: list[dict[str, str]], hour_rate: float) -> Problem:
    """The lot with what is known of each set."""
    entries = []
    for sheet, known in zip(sheets, answers, strict=True):
        prepared = prepared_for(sheet)
        document = {"family": prepared.pack["family"], "answers": known, "hour_rate": hour_rate}
        entries.append(Entry(prepared, read_findings(document, prepared), sheet))
    return lot_problem(entries, (), hour_rate)


def triaged(
    sheets: list[str], truth: list[dict[str, str]], hour_rate: float
) -> tuple[list[dict[str, str]], int]:
    """What the quick round finds out, and its taps: one an answer, and one for the next set."""
    known: list[dict[str, str]] = [{} for _ in sheets]
    taps = 0
    for index in range(len(sheets)):
        while True:
            problem = problem_with(sheets, known, hour_rate)
            looks = quick_looks(problem, index, Prices(problem))
            if not looks:
                break
            check = looks[0].check
            known[index][check] = truth[index][check]
            taps += 1
        taps += 1
    return known, taps


def worth_in_truth(choice: list[int], truth: Problem) -> float:
    """What the ways of a plan bring once everything is known: kept, broken or completed as planned."""
    forced = replace(truth, sets=tuple(map(_forced, truth.sets, choice)), figures=())
    found = solved(forced, None, lambda *_: True)
    return choice_value(forced, found.choice)


def best_in_truth(truth: Problem) -> float:
    """What the best plan with everything answered brings."""
    return choice_value(truth, solved(truth, None, lambda *_: True).choice)


def _forced(lot_set: LotSet, way: int) -> LotSet:
    if way == 0:
        return replace(lot_set, broken=NEVER, gives=(), completes=())
    if way == 1:
        return replace(lot_set, as_is=NEVER, completes=())
    kept = NEVER if lot_set.completes else lot_set.as_is
    return replace(lot_set, as_is=kept, broken=NEVER, gives=())
