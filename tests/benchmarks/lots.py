"""A bulk lot: proving its plan, the whole command, a quick round, and the list of 200 sets under a finger.

The list is scrolled and sorted by real touches on a processor four times slower than this one: a swipe, and
while the list still runs on, a tap on one of its orders. A tap counts as dropped when the order is not the
one tapped within a second.
"""

import json
import random
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.benchmarks.stand import app, phone
from tests.benchmarks.table import Row, at_least, at_most, note
from tests.support.lots import problem_of, random_lot
from tests.support.phone import Phone
from tests.support.table import Table
from tests.support.triage import best_in_truth, drawn_truth, problem_with, triaged, worth_in_truth
from webapp.appraisal.lot.programme import Solution, solve

LOTS = 8
SLOWER, TAPS, IN_TIME = 4, 60, 1.0
MIXED = ["tern-b"] * 5 + ["plover-b"] * 3 + ["knot"] * 2 + ["dunlin", "curlew"]
# Where the button of an order lies, once the finger has swept the list.
AIM = """
const buttons = [...document.querySelectorAll('.lot-orders button')];
const others = buttons.filter((one) => one.getAttribute('aria-pressed') !== 'true');
const button = others[args[0] % others.length];
const box = button.getBoundingClientRect();
button.dataset.aimed = String(args[0]);
return [box.x + box.width / 2, box.y + box.height / 2];
"""
DONE = """
const button = document.querySelector(`.lot-orders button[data-aimed="${args[0]}"]`);
return button.getAttribute('aria-pressed') === 'true';
"""


def rows(folder: Path) -> Iterator[Row]:
    """The solver, the command, the quick round, then the list."""
    for count, limit in ((200, 0.5), (2000, 10.0)):
        document = _lot(count)
        seconds, solution = _solved(document)
        yield at_most(f"optimum of {count} sets proven", limit, seconds, "s", f"gap {solution.gap:g}")
    yield at_most("underchassis lot, 200 sets", 3.0, _command(folder, _lot(200)), "s")
    yield from _quick_rounds()
    with app(folder) as server, phone(folder) as user:
        server.start()
        table = Table(user, server.url)
        yield from _list(table)


def _lot(count: int) -> dict[str, Any]:
    rng = random.Random(count)
    sets: list[Any] = []
    while len(sets) < count:
        sets += random_lot(rng, 40)["sets"]
    return {"sets": sets[:count], "hour_rate": 6}


def _solved(document: dict[str, Any]) -> tuple[float, Solution]:
    problem = problem_of(document)
    taken = []
    for _ in range(3):
        begin = time.perf_counter()
        solution = solve(problem, None, lambda *_: True, 60.0)
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken), solution


def _command(folder: Path, document: dict[str, Any]) -> float:
    path = folder / "lot.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    command = [str(Path(sys.executable).with_name("underchassis")), "lot", str(path)]
    taken = []
    for _ in range(3):
        begin = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def _quick_rounds() -> Iterator[Row]:
    """Lots of twelve as the tables meet them, and lots of which half was worked over."""
    for name, share in (("as usual", 0.0), ("half worked over", 0.5)):
        taps, shares = [], []
        for seed in range(LOTS):
            rng = random.Random(seed)
            truth = [drawn_truth(rng, sheet, rng.random() < share) for sheet in MIXED]
            known, tapped = triaged(MIXED, truth, 6.0)
            plan = solve(problem_with(MIXED, known, 6.0), None, lambda *_: True, 60.0)
            everything = problem_with(MIXED, truth, 6.0)
            taps.append(tapped / len(MIXED))
            shares.append(100 * worth_in_truth(plan.choice, everything) / best_in_truth(everything))
        yield at_most(f"quick round of 12 sets, {name}: taps a set", 9, max(taps), "taps")
        beside = f"worst of {LOTS} lots {min(shares):.1f}"
        yield at_least("  its plan's worth against full knowledge", 95, statistics.fmean(shares), "%", beside)


def _list(table: Table) -> Iterator[Row]:
    user = table.phone
    table.open()
    table.tap(".notebook > .button", "New lot")
    table.type(".lot-add input[name=many]", "200")
    table.type(".lot-add input[name=first]", "1")
    table.tap(".lot-add .button", "Add them all")
    table.find(".lot-said", "200 sets added")
    table.open("#" + user.driver.current_url.partition("#")[2].removesuffix("/add"))
    user.until(
        lambda _: user.js("return document.querySelector('.lot-orders')?.hidden === false"), "the plan"
    )
    _devtools(user, "Emulation.setCPUThrottlingRate", rate=SLOWER)
    answered = []
    for tap in range(TAPS):
        _swipe(user, up=tap % 2 == 0)
        place = user.js(AIM, tap)
        begin = time.perf_counter()
        _touch(user, place)
        while not user.js(DONE, tap) and time.perf_counter() - begin < IN_TIME:
            pass
        answered.append(time.perf_counter() - begin)
    dropped = sum(seconds >= IN_TIME for seconds in answered)
    yield at_most(f"list of 200 sets, {SLOWER}× slower: taps dropped of {TAPS}", 0, dropped, "taps")
    yield note("  from touch to the new order, median", 1000 * statistics.median(answered), "ms")


def _swipe(user: Phone, *, up: bool) -> None:
    """A quick swipe over the list; it runs on for a while after."""
    _devtools(
        user, "Input.synthesizeScrollGesture",
        x=180, y=320, yDistance=-300 if up else 300, speed=2500, gestureSourceType="touch",
    )  # fmt: skip


def _touch(user: Phone, place: list[float]) -> None:
    point = {"x": place[0], "y": place[1]}
    _devtools(user, "Input.dispatchTouchEvent", type="touchStart", touchPoints=[point])
    time.sleep(0.05)
    _devtools(user, "Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])


def _devtools(user: Phone, name: str, **parameters: Any) -> None:
    user.driver.execute_cdp_cmd(name, parameters)
