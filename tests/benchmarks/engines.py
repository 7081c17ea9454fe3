"""The two engines alone, on random sets between empty and full: one appraisal, and one full ranking.

Each figure is the median of rounds of many repetitions. The twin runs in the browser, unthrottled, in rounds
long enough for its coarse clock; a loop of plain multiplications beside it says how fast the machine was.
"""

import json
import random
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

from tests.benchmarks.stand import app, phone, seconds_each
from tests.benchmarks.table import Row, at_most, note
from tests.support.packs import FAMILY, pack_for, prepared_for
from tests.support.random_findings import random_findings
from tests.support.twin import Kernel
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import next_looks, numbers

SETS = 20
SALES = 500

CLOCK = """
const rounds = (work, times) => {
  const taken = [];
  for (let round = 0; round < 15; round += 1) {
    const begin = performance.now();
    for (let time = 0; time < times; time += 1) work(time);
    taken.push((performance.now() - begin) / times);
  }
  return taken.sort((a, b) => a - b)[7];
};
"""
MEASURE = (
    CLOCK
    + """
const [raws, empty, sold] = JSON.parse(args[0]);
const prepared = kernel.prepare([...packs.values()][0]);
const read = (raw) => kernel.readFindings(raw, prepared).findings;
const sets = raws.map(read);
globalThis.sink = 0;
const multiplications = () => {
  let product = 1;
  for (let n = 0; n < 1e6; n += 1) product *= 1.0000000001;
  sink += product;
};
const multiply = rounds(multiplications, 10) / 1e6;
// As on a walk round: one set tapped many times, then the next.
const tapped = (n) => sets[Math.floor(n / 50) % sets.length];
const one = rounds((n) => { sink += kernel.numbers(prepared, tapped(n)).worth.value; }, 4000);
const ranked = empty.map(read).map((findings) => {
  const now = kernel.numbers(prepared, findings);
  return rounds(() => { sink += kernel.nextLooks(prepared, findings, now).looks.length; }, 400);
});
const many = read(sold);
const sales = rounds(() => { sink += kernel.referencePrice(prepared.pack, many).logMedian; }, 20);
return JSON.stringify({ multiply, one, ranked, sales });
"""
)


def rows(folder: Path) -> Iterator[Row]:
    """Both engines on the shipped family."""
    rng = random.Random(1)
    sets = [random_findings(pack_for(), rng) for _ in range(SETS)]
    # With everything still to be looked at the ranking is longest.
    empty: list[dict[str, Any]] = [{"family": FAMILY, "asking": 60}, {"family": FAMILY}]
    with app(folder) as server, phone(folder) as user:
        server.start()
        kernel = Kernel(user, server.url)
        kernel.shipped(None)
        found = kernel.run(MEASURE, [sets, empty, _sold(rng)])
    multiply = found["multiply"] * 1e6
    times = f"as long as {found['one'] / found['multiply']:.0f} multiplications"
    yield note("browser: one multiplication in a loop", multiply, "ns")
    yield at_most("browser: all numbers of one appraisal", 20, found["one"] * 1e3, "µs", times)
    yield at_most("browser: full ranking", 1, max(found["ranked"]), "ms")
    yield at_most(f"browser: reference price from {SALES} sales", 5, found["sales"], "ms")
    yield from _python(sets, empty)


def _sold(rng: random.Random) -> dict[str, Any]:
    """A set with many comparable sales of all kinds, over twenty years, some far out."""
    states = [None, *pack_for()["state_offsets"]]
    sales = [
        {
            "price": round(190 * rng.lognormvariate(0, 0.6), 2),
            "date": f"{rng.randint(2006, 2025)}-{rng.randint(1, 12):02}-{rng.randint(1, 28):02}",
            "state": rng.choice(states),
            "kind": rng.choice(["sold", "sold", "asked"]),
        }
        for _ in range(SALES)
    ]
    return {"family": FAMILY, "comparables": sales, "today": "2026-11-25"}


def _python(sets: list[dict[str, Any]], empty: list[dict[str, Any]]) -> Iterator[Row]:
    prepared = prepared_for()
    read = [read_findings(json.loads(json.dumps(raw)), prepared) for raw in sets]
    one = seconds_each(lambda: [numbers(prepared, findings) for findings in read], 5) / len(read)
    ranked = []
    for findings in (read_findings(raw, prepared) for raw in empty):
        work = partial(next_looks, prepared, findings, numbers(prepared, findings))
        ranked.append(seconds_each(work, 10))
    yield at_most("Python: all numbers of one appraisal", 0.4, one * 1e3, "ms")
    yield at_most("Python: full ranking", 15, max(ranked) * 1e3, "ms")
