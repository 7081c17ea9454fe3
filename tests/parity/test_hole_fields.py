"""Where a hole sits and how it was measured never reach the engine: the appraisal is the same without."""

import random
from collections.abc import Callable, Sequence
from typing import Any

from tests.support.packs import FAMILY, pack_for
from tests.support.phone import Phone

Json = dict[str, Any]

BOTH = """
const load = (name) => import(`${document.documentElement.dataset.base}js/${name}.js`);
const files = ['store/found_set', 'store/packs', 'kernel/findings', 'kernel/appraise'];
const [{ FoundSet }, packs, { readFindings }, { appraise }] = await Promise.all(files.map(load));
await packs.loadReasons(args[0]);
const prepared = await packs.prepareFor(args[0], null);
const base = { id: 'a', family: args[0], model_sheet: null, created: '', demo: false };
const of = (holes) => {
  const row = { key: 'check/added-holes', value: { option: 'some', holes }, changed: '' };
  const document = new FoundSet(base, [row, { key: 'asking', value: 80, changed: '' }]).findings(prepared);
  return JSON.stringify([document, appraise(prepared, readFindings(document, prepared).findings, 2)]);
};
return args[1].map(([bare, whole]) => of(bare) === of(whole));
"""


def _case(seed: int) -> list[list[Json]]:
    chance = random.Random(seed)
    places = [place["id"] for place in pack_for()["holes"]["places"]]
    bare = [
        {
            "place": chance.choice(places),
            "diameter_mm": chance.uniform(0.1, 200),
            "as_found": chance.choice(["open", "plugged", "enlarged"]),
        }
        for _ in range(chance.randint(1, 8))
    ]
    more = {
        "photo": "p",
        "by_eye": True,
        "x_mm": 1.5,
        "y_mm": 200.1,
        "plus_minus_mm": 0.4,
        "in_photo": [9, 8.5, 3],
    }
    return [bare, [{**hole, **{key: more[key] for key in more if chance.random() < 0.6}} for hole in bare]]


def test_an_appraisal_is_the_same_with_and_without_what_the_map_and_photos_know(
    opened_phone: Phone, sweep: Callable[[int], Sequence[int]]
) -> None:
    cases = [_case(seed) for seed in sweep(1000)]
    assert any(bare != whole for bare, whole in cases)
    assert opened_phone.js(BOTH, FAMILY, cases) == [True] * len(cases)
