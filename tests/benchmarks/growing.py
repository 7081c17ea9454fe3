"""The time of a full ranking grows with the checks and not faster, in both engines.

The packs are made from the shipped family's single checks, repeated under new names with parts of their own;
effects and salvage prices are divided among the copies, so that the price stays that of one set.
"""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

from tests.benchmarks.engines import CLOCK
from tests.benchmarks.stand import app, phone, seconds_each
from tests.benchmarks.table import Row
from tests.support.packs import FAMILY, pack_for
from tests.support.twin import Kernel
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import next_looks, numbers
from webapp.appraisal.prepared import prepare

Json = dict[str, Any]

COUNTS = (36, 360, 3600)
# A hundred times the checks may take this much longer a check: caches are finite.
MOST = 2.0

MEASURE = (
    CLOCK
    + """
const [names, raw] = JSON.parse(args[0]);
return JSON.stringify(names.map((name) => {
  const prepared = kernel.prepare(packs.get(name));
  const { findings } = kernel.readFindings(raw, prepared);
  const now = kernel.numbers(prepared, findings);
  return rounds(() => kernel.nextLooks(prepared, findings, now), Math.ceil(36000 / prepared.checks.length));
}));
"""
)


def grown(count: int) -> Json:
    """The shipped family's pack with this many checks; it stays a valid pack."""
    pack = pack_for()
    # Follow-ups are left out, and so are the checks that open them, whose effects depend on them.
    openers = {check["shown_if"]["check"] for check in pack["checks"] if check["shown_if"]}
    single = [check for check in pack["checks"] if not check["shown_if"] and check["id"] not in openers]
    single.sort(key=lambda check: not check["asks_holes"])
    base = single[: COUNTS[0]]
    parts = {part["id"]: part for part in pack["parts"]}
    copies = count // len(base)
    checks, own_parts = [], []
    for copy in range(copies):
        for check in base:
            part = check["part"] and parts[check["part"]]
            if part:
                salvage = [price / copies for price in part["salvage"]]
                own_parts.append({**part, "id": f"{part['id']}-{copy}", "salvage": salvage})
            checks.append(_copy(check, copy, copies))
    effects = {**pack["effects"], "crystal_part": None}
    return {**pack, "checks": checks, "parts": own_parts, "effects": effects}


def _copy(check: Json, copy: int, copies: int) -> Json:
    options = [
        {**option, "log_effect": [figure / copies for figure in option["log_effect"]]}
        for option in check["options"]
    ]
    return {
        **check,
        "id": f"{check['id']}-{copy}",
        "part": check["part"] and f"{check['part']}-{copy}",
        "asks_holes": check["asks_holes"] and copy == 0,
        "options": options,
    }


def rows(folder: Path) -> Iterator[Row]:
    """Time a check of the ranking at 36, 360 and 3,600 checks."""
    packs = {f"{count} checks": grown(count) for count in COUNTS}
    raw = {"family": FAMILY, "asking": 60}
    with app(folder) as server, phone(folder) as user:
        server.start()
        kernel = Kernel(user, server.url)
        for name, pack in packs.items():
            kernel.give(name, pack)
        milliseconds = kernel.run(MEASURE, [list(packs), raw])
    yield _row("browser", [taken * 1e3 for taken in milliseconds])
    seconds = []
    for pack in packs.values():
        prepared = prepare(pack)
        findings = read_findings(raw, prepared)
        work = partial(next_looks, prepared, findings, numbers(prepared, findings))
        seconds.append(seconds_each(work, max(1, 720 // len(pack["checks"])), 5))
    yield _row("Python", [taken * 1e6 for taken in seconds])


def _row(engine: str, microseconds: list[float]) -> Row:
    each = [taken / count for taken, count in zip(microseconds, COUNTS, strict=True)]
    ratio = each[-1] / each[0]
    figures = ", ".join(f"{figure:.3g}" for figure in each)
    counts = ", ".join(f"{count:,}" for count in COUNTS)
    return Row(
        f"{engine}: ranking, µs a check at {counts}",
        f"last ≤ {MOST:g} × first",
        f"{figures} (× {ratio:.2f})",
        ratio <= MOST,
    )
