"""What stands of several operations on one record: the server's merging and the phone's say the same."""

import json
import random
from collections.abc import Callable, Sequence
from typing import Any

from tests.support.phone import Phone
from webapp.notebook.merging import Record, heads

PHONE = """
const base = document.documentElement.dataset.base;
const { differ, headsOf } = await import(base + 'js/store/operations.js');
return JSON.stringify(JSON.parse(args[0]).map((known) => {
  const heads = headsOf(known);
  return [heads.map(({ id }) => id), differ(heads)];
}));
"""
VALUES = (
    None, "gone", 4, 4.0, 0.1, True, {"a": 1, "b": [1, {"c": None}]}, {"b": [1, {"c": None}], "a": 1}, [],
)  # fmt: skip


def _operations(chance: random.Random) -> list[dict[str, Any]]:
    """Operations of one record, each replacing some of any others, also unknown and later ones."""
    ids = [f"{chance.randrange(16**6):06x}" for _ in range(chance.randint(1, 8))]
    return [
        {
            "id": name, "device": chance.choice("abc"), "time": chance.randint(1, 4),
            "after": chance.sample([*ids, "unknown"], chance.randint(0, 2)), "value": chance.choice(VALUES),
        }
        for name in dict.fromkeys(ids)
    ]  # fmt: skip


def test_heads_and_conflicts_are_the_same_on_server_and_phone_in_any_order(
    opened_phone: Phone, sweep: Callable[..., Sequence[int]]
) -> None:
    records = [_operations(random.Random(seed)) for seed in sweep(5000)]
    here = [[[head["id"] for head in heads(known)], Record(heads(known)).in_conflict] for known in records]
    assert json.loads(opened_phone.js(PHONE, json.dumps(records))) == here
    for seed, known in enumerate(records):
        random.Random(seed).shuffle(known)
    assert json.loads(opened_phone.js(PHONE, json.dumps(records))) == here
    assert {len(names) for names, _ in here} >= {1, 2, 3}
    assert {differing for _, differing in here} == {True, False}
