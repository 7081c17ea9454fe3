"""Lot files with something broken anywhere in them: a plan or one sentence, never anything else."""

import json
import random
from collections.abc import Callable, Sequence
from typing import Any

from tests.support.lots import random_lot
from tests.support.packs import TODAY, shipped
from webapp.errors import UnderchassisError
from webapp.lot_command import Progress, lot_document

JUNK: tuple[Any, ...] = (
    None, True, -1, 0, 1e400, float("nan"), 10**30, 0.5, "", "x", "tern-b", "\ud800", "1e9",
    [], [1], [[]], [None], {}, {"a": 1}, {"kind": "spare"}, {"family": "control-box"},
)  # fmt: skip


def broken(document: Any, rng: random.Random) -> Any:
    """The document with one value in it replaced, dropped or doubled."""
    if isinstance(document, dict) and document and rng.random() < 0.85:
        key = rng.choice(sorted(document))
        if rng.random() < 0.1:
            return {name: value for name, value in document.items() if name != key}
        return {**document, key: broken(document[key], rng)}
    if isinstance(document, list) and document and rng.random() < 0.85:
        at = rng.randrange(len(document))
        if rng.random() < 0.1:
            return [*document, document[at]]
        return [*document[:at], broken(document[at], rng), *document[at + 1 :]]
    return rng.choice(JUNK)


def test_a_lot_file_broken_anywhere_gives_a_plan_or_one_sentence(
    sweep: Callable[[int], Sequence[int]],
) -> None:
    said, planned = [], 0
    for seed in sweep(2000):
        rng = random.Random(seed)
        lot = broken(random_lot(rng, 3), rng)
        try:
            plan = lot_document(shipped(), lot, TODAY, Progress())
        except UnderchassisError as refusal:
            said.append((seed, str(refusal)))
        else:
            planned += 1
            assert json.loads(json.dumps(plan, allow_nan=False)) == plan, seed
    assert [row for row in said if "\n" in row[1] or not row[1].endswith((".", "?", "]", "}", '"'))] == []
    assert len(said) > planned > 0
