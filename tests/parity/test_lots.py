"""A lot's plan on the phone is the engine's: problem, greedy ways, exchange, totals, range, looks."""

import json
import random
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest

from tests.support.comparing import Sizes, differences
from tests.support.lots import lot_of, random_choice, random_lot
from tests.support.table import Table
from tests.support.twin import Kernel
from webapp.appraisal.lot import greedy, looks, plan, problem, sets
from webapp.appraisal.lot.greedy import choice_value, greedy_choice
from webapp.appraisal.lot.looks import Prices, quick_looks, set_looks
from webapp.appraisal.lot.plan import Proof, lot_plan
from webapp.appraisal.lot.problem import Problem, lot_problem, without_lot

Json = dict[str, Any]

OPEN = """
const folder = `${document.documentElement.dataset.base}js/kernel/lot/`;
const names = ['problem', 'greedy', 'plan', 'looks'];
const loaded = await Promise.all(names.map((name) => import(`${folder}${name}.js`)));
globalThis.lots = Object.assign({}, ...loaded);
"""
PLANS = """
const changes = (looks) => Object.fromEntries(looks.map((look) => [look.check, look.change]));
const known = new Map();
const ready = (name) => known.get(name) ?? known.set(name, kernel.prepare(packs.get(name))).get(name);
return JSON.stringify(JSON.parse(args[0]).map(({ lot, choice, alone }) => {
  const entry = ({ owned, ...document }) => {
    const prepared = ready(document.model_sheet ?? document.family);
    const { findings } = kernel.readFindings(document, prepared);
    return { prepared, findings, modelSheet: document.model_sheet, owned };
  };
  const problem = lots.lotProblem(lot.entries.map(entry), lot.shelf, lot.hour_rate);
  const prices = new lots.Prices(problem);
  const plan = (ways, proof) => ({ ...lots.lotPlan(problem, ways, { ...lot, proof }), looks: [] });
  const greedy = lots.greedyChoice(problem, lot.hours_limit);
  return {
    greedy,
    plan: plan(greedy),
    other: plan(choice, { gap: 0, proven: true, alone }),
    looks: problem.sets.map((_, index) => changes(lots.allLooks(problem, index, prices))),
    quick: problem.sets.map((_, index) => lots.setLooks(problem, index).length),
  };
}));
"""


@pytest.fixture
def kernel(table: Table) -> Kernel:
    kernel = Kernel(table.phone, table.address)
    table.phone.js(OPEN)
    return kernel


def test_every_number_of_random_lots_is_the_same_in_both_engines(
    kernel: Kernel, sweep: Callable[[int], Sequence[int]]
) -> None:
    assert list(compared(kernel, sweep(1600))) == []


# One thing each that one engine does otherwise than the other: a name in a module, and what stands there.
OTHERWISE: list[tuple[str, Any, str, Any]] = [
    ("part-paid-twice", sets, "without_part", lambda _kinds, _task, materials: materials),
    ("range-of-one-deviation", plan, "quantiles", lambda at, law, _: sets.quantiles(at, law, 1.0)),
    ("unsold-never-moves", problem, "MOST_UNSOLD", 0),
    ("whole-saving-to-the-donor", plan, "_price", lambda taker, _piece: taker.otherwise),
    ("looks-find-no-work", looks, "_work", lambda _one, _check, _number: 0.0),
    ("hours-for-nothing", greedy, "way_hours", lambda _problem, _index, _way: 0.0),
]


def test_an_engine_that_does_one_thing_otherwise_is_noticed(
    kernel: Kernel, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, module, words, instead in OTHERWISE:
        with monkeypatch.context() as patch:
            patch.setattr(module, words, instead)
            assert any(compared(kernel, range(24))), name


def compared(kernel: Kernel, seeds: Sequence[int]) -> Iterator[str]:
    """The differences between both engines' plans, one by one."""
    cases = [(seed, random_lot(random.Random(seed))) for seed in seeds]
    for _, document in cases:
        for one in [*document["sets"], *(row["findings"] for row in document["shelf"] if "findings" in row)]:
            if (one["model_sheet"] or one["family"]) not in kernel.prepared:
                kernel.shipped(one["model_sheet"], one["family"])
    expected, given = [], []
    for seed, document in cases:
        lot = lot_of(document)
        problem = lot_problem(lot.entries, lot.shelf, lot.hour_rate)
        choice = random_choice(problem, random.Random(seed))
        alone = choice_value(without_lot(problem), greedy_choice(without_lot(problem), lot.hours_limit))
        expected.append(_expected(problem, choice, lot, alone))
        given.append({"lot": _for_the_phone(document), "choice": choice, "alone": alone})
    for (seed, _), wanted, found in zip(cases, expected, kernel.run(PLANS, given), strict=True):
        size = max([abs(row["as_is"]) for row in wanted["plan"]["sets"]], default=0.0) * 10
        for line in differences(wanted, json.loads(json.dumps(found)), Sizes(size)):
            yield f"seed {seed}: {line}"


def _expected(problem: Problem, choice: list[int], lot: Any, alone: float) -> Json:
    prices = Prices(problem)
    greedy = greedy_choice(problem, lot.hours_limit)

    def plan(ways: list[int], proof: Proof) -> Json:
        return {**lot_plan(problem, ways, lot.bidding, proof), "looks": []}

    looks = [
        {look.check: look.change for look in set_looks(problem, index, prices)}
        for index in range(len(problem.sets))
    ]
    return {
        "greedy": greedy,
        "plan": plan(greedy, Proof(None, False, alone)),
        "other": plan(choice, Proof(0, True, alone)),
        "looks": looks,
        "quick": [len(quick_looks(problem, index, prices)) for index in range(len(problem.sets))],
    }


def _for_the_phone(document: Json) -> Json:
    """The lot as a page hands it to the kernel: every set with the lot's money, own sets at the end."""
    money = {key: document[key] for key in ("hour_rate", "currency", "rate") if key in document}
    own = [row["findings"] for row in document["shelf"] if row["kind"] == "donor"]
    entries = [{**one, **money, "owned": False} for one in document["sets"]]
    entries += [{**one, **money, "owned": True} for one in own]
    shelf = [
        {**row, "count": 0, "family": ""} if row["kind"] == "donor" else {"count": 1, **row}
        for row in document["shelf"]
    ]
    keys = ("asking", "margin", "hour_rate", "hours_limit")
    return {"entries": entries, "shelf": shelf, **{key: document[key] for key in keys}}
