"""A description composed on the phone is the engine's, sentence by sentence."""

import json
import random
import re
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from babel.core import Locale

from tests.parity.cases import random_cases
from tests.support.comparing import differences
from tests.support.packs import prepared_for
from tests.support.table import Table
from tests.support.twin import Case, Kernel
from webapp.appraisal.describing.describe import Wishes, describe
from webapp.appraisal.findings import read_findings
from webapp.pages.describing import Seller, described
from webapp.pages.description_text import description_text
from webapp.pages.habits import Habits

Json = dict[str, Any]

DESCRIBE = """
const folder = `${document.documentElement.dataset.base}js/kernel/describing/`;
const { describe } = await import(`${folder}describe.js`);
const known = new Map();
const ready = (name) => known.get(name) ?? known.set(name, kernel.prepare(packs.get(name))).get(name);
return JSON.stringify(JSON.parse(args[0]).map(({ pack, findings, wishes }) =>
  describe(ready(pack), kernel.readFindings(findings, ready(pack)).findings, wishes)));
"""


def random_wishes(rng: random.Random) -> Json:
    days = sorted(f"2026-11-{day:02}" for day in rng.choices(range(1, 29), k=2))
    return {
        "price": rng.choice(["none", "asked", "range"]),
        "asked": rng.choice([None, 0, 120, 99.5]),
        "looked": rng.choice([None, days, [days[0], days[0]]]),
        "written": rng.choice([None, "2026-11-27"]),
    }


def wishes_of(raw: Json) -> Wishes:
    first, last = raw["looked"] or (None, None)
    looked = (date.fromisoformat(first), date.fromisoformat(last)) if first and last else None
    written = date.fromisoformat(raw["written"]) if raw["written"] else None
    return Wishes(raw["price"], raw["asked"], looked, written)


def test_random_findings_are_described_alike_in_both_engines(
    table: Table, sweep: Callable[[int], Sequence[int]]
) -> None:
    kernel = Kernel(table.phone, table.address)
    cases: list[Case] = random_cases(sweep(2000))
    wishes = [random_wishes(random.Random(case.name)) for case in cases]
    for case in cases:
        if case.pack_name not in kernel.prepared:
            kernel.shipped(case.findings.get("model_sheet"), case.family)
    rows = [
        {"pack": case.pack_name, "findings": case.findings, "wishes": wish}
        for case, wish in zip(cases, wishes, strict=True)
    ]
    for case, wish, found in zip(cases, wishes, kernel.run(DESCRIBE, rows), strict=True):
        prepared = prepared_for(case.findings.get("model_sheet"), case.family)
        expected = describe(prepared, read_findings(case.findings, prepared), wishes_of(wish))
        assert differences(expected, found) == [], case.name


WORDED = """
localStorage.setItem('underchassis-lengths', 'mm');
const at = (name) => import(`${document.documentElement.dataset.base}js/${name}.js`);
const { described } = await at('ui/describing');
const { descriptionText } = await at('ui/description_text');
const { moneyWriter } = await at('ui/money');
const [{ pack: name, findings: raw, wishes, title, words, short }] = JSON.parse(args[0]);
const pack = packs.get(name);
const prepared = kernel.prepare(pack);
const { findings } = kernel.readFindings(raw, prepared);
const money = moneyWriter(findings.currency, pack);
const view = described({ prepared, pack, findings, money }, { title, words, wishes });
return JSON.stringify(descriptionText(view, { short, faces: [] }));
"""


def test_a_description_is_worded_alike_on_the_phone_and_on_the_server(table: Table) -> None:
    kernel = Kernel(table.phone, table.address)
    wish = {"price": "range", "asked": 140, "looked": ["2026-11-20", "2026-11-25"], "written": "2026-11-26"}
    for name in ("demo-tern-a-barn", "demo-tern-b-1184", "demo-tern-c-0377"):
        document = json.loads(Path(f"tests/findings/{name}.json").read_text(encoding="utf-8"))
        kernel.shipped(document["model_sheet"])
        prepared = prepared_for(document["model_sheet"])
        for short in (False, True):
            given = {
                "pack": document["model_sheet"], "findings": document, "wishes": wish, "short": short,
                "title": "The one from the quay", "words": "My uncle kept it.\n\nCome and see {it}.",
            }  # fmt: skip
            seller = Seller(given["title"], given["words"], wishes_of(wish))
            view = described(
                prepared, read_findings(document, prepared), seller, Habits("en", Locale("en"), "mm")
            )
            # A browser's own space between figure and unit may be of another kind.
            phone, server = (
                re.sub(r"\s+", " ", text)
                for text in (kernel.run(WORDED, [given]), description_text(view, short=short))
            )
            assert phone == server, name
