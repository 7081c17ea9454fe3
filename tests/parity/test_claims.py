"""What the buyer's phone says of a seller's claims is what the engine says."""

import random
from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import Any

from tests.support.claims import random_found, random_told
from tests.support.comparing import Sizes, differences
from tests.support.packs import kinds, pack_for, prepared_for
from tests.support.table import Table
from tests.support.twin import Kernel
from webapp.appraisal.claimed_holes import Links
from webapp.appraisal.claims import claims
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import numbers

Json = dict[str, Any]

CLAIMS = """
const { claims } = await import(`${document.documentElement.dataset.base}js/kernel/claims.js`);
const known = new Map();
const ready = (name) => known.get(name) ?? known.set(name, kernel.prepare(packs.get(name))).get(name);
return JSON.stringify(JSON.parse(args[0]).map(({ pack, told, found, links }) => {
  const prepared = ready(pack);
  const [said, read] = [told, found].map((raw) => kernel.readFindings(raw, prepared).findings);
  return claims(prepared, kernel.numbers(prepared, read), read, said, links);
}));
"""


def test_random_claims_stand_alike_in_both_engines(
    table: Table, sweep: Callable[[int], Sequence[int]]
) -> None:
    kernel = Kernel(table.phone, table.address)
    packs = kinds()
    rows = []
    for seed in sweep(2000):
        rng = random.Random(seed)
        family, sheet = packs[seed % len(packs)]
        if (sheet or family) not in kernel.prepared:
            kernel.shipped(sheet, family)
        told = random_told(pack_for(sheet, family), rng)
        found, links = random_found(pack_for(sheet, family), told, rng)
        rows.append({"pack": sheet or family, "told": told, "found": found, "links": links})
    for row, twin in zip(rows, kernel.run(CLAIMS, rows), strict=True):
        expected = engine_claims(row)
        money = max([1.0, *(abs(difference["amount"]) for difference in expected["differences"])])
        assert differences(expected, twin, Sizes(money)) == [], row


def engine_claims(row: Json) -> Json:
    """The engine's document for a row of told and found."""
    document = row["found"]
    prepared = prepared_for(document.get("model_sheet"), document["family"])
    found, told = (read_findings(row[name], prepared) for name in ("found", "told"))
    links = Links(tuple(row["links"]["answers"]), frozenset(row["links"]["gone"]))
    return asdict(claims(prepared, numbers(prepared, found), found, told, links))
