"""Random lots for tests: sets of few kinds, so that they have parts for one another, and a shelf."""

import math
import random
from collections.abc import Sequence
from typing import Any

from tests.support.packs import kinds, pack_for, prepared_for
from tests.support.random_findings import random_findings
from webapp.appraisal.lot.greedy import choice_value
from webapp.appraisal.lot.problem import Problem, lot_problem
from webapp.appraisal.lot.reading import Lot, read_lot
from webapp.appraisal.prepared import Prepared

Json = dict[str, Any]

# Keys of a set's findings that a lot decides for all of its sets.
_LOT_DECIDES = ("asking", "hour_rate", "currency", "rate", "comparables", "today")


def random_lot(rng: random.Random, most: int = 6) -> Json:
    """A lot document of up to so many sets, of one to three kinds, wrecks among them."""
    chosen = rng.sample(kinds(), rng.choice([1, 1, 2, 3]))
    rate = rng.choice([0, 0, 2, 6, 20])
    lot: Json = {
        "sets": [_set(rng, *rng.choice(chosen)) for _ in range(rng.randint(0, most))],
        "asking": rng.choice([None, 0, 150, 900]),
        "margin": rng.choice([0, 0.25, 1]),
        "hour_rate": rate,
        "hours_limit": rng.choice([None, None, 0, 4, 15]),
        "shelf": [_row(rng, *rng.choice(chosen)) for _ in range(rng.choice([0, 0, 1, 4]))],
    }
    if rng.random() < 0.2:
        lot |= {"currency": "EUR", "rate": 0.9}
    return lot


def _set(rng: random.Random, family: str, sheet: str | None) -> Json:
    pack = pack_for(sheet, family)
    findings = random_findings(pack, rng)
    for key in _LOT_DECIDES:
        findings.pop(key, None)
    if rng.random() < 0.4:
        # Whole but for a few parts: completing such a one can pay.
        for check in pack["checks"]:
            if check["part"]:
                by_state = sorted(check["options"], key=lambda option: -option["state"])
                findings["answers"][check["id"]] = by_state[0 if rng.random() < 0.9 else -1]["id"]
        findings["unseen"] = [one for one in findings["unseen"] if one not in findings["answers"]]
    return findings


def _row(rng: random.Random, family: str, sheet: str | None) -> Json:
    kind = rng.choice(["spare", "spare", "want", "donor"])
    if kind == "donor":
        return {"kind": kind, "findings": _set(rng, family, sheet)}
    part = rng.choice(pack_for(sheet, family)["parts"])["id"]
    row: Json = {"kind": kind, "family": family, "model_sheet": sheet, "part": part}
    if rng.random() < 0.5:
        row["count"] = rng.randint(0, 3)
    if kind == "spare":
        row["state"] = rng.choice([1, 0.7, 0.3])
    elif rng.random() < 0.5:
        row["worth"] = rng.choice([0, 5, 60])
    return row


def prepared_of(document: Json) -> Prepared:
    """The prepared pack that a findings document names."""
    return prepared_for(document.get("model_sheet"), document["family"])


def lot_of(document: Json) -> Lot:
    """The lot of a document, as the command reads it."""
    return read_lot(document, prepared_of)


def problem_of(document: Json) -> Problem:
    """The lot of a document as a choice of ways."""
    lot = lot_of(document)
    return lot_problem(lot.entries, lot.shelf, lot.hour_rate)


def random_choice(problem: Problem, rng: random.Random) -> list[int]:
    """A way for each set, taken at random, such that no part is wanting."""
    for _ in range(20):
        choice = [rng.randrange(2 + len(lot_set.completes)) for lot_set in problem.sets]
        if choice_value(problem, choice) > -math.inf:
            return choice
    return [rng.randrange(2) for _ in problem.sets]


def plain_choices(problem: Problem) -> Sequence[list[int]]:
    """Nothing touched, and everything broken."""
    return [0] * len(problem.sets), [1] * len(problem.sets)
