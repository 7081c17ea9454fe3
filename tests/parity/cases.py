"""Random cases, each from its own seed; a pack with what the shipped ones lack; sheets of one's own."""

import random
from collections.abc import Iterable
from copy import deepcopy
from typing import Any

from tests.support.packs import kinds, pack_for, prepared_for
from tests.support.random_findings import random_findings
from tests.support.twin import Case
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import numbers
from webapp.appraisal.prepared import Prepared, prepare

Json = dict[str, Any]

BASES = ("invented", "from memory", "common practice", "published")
# Each follow-up and the check it hangs on in the deep pack: a chain of four instead of four single ones.
CHAIN = (("rust", "rust-where"), ("rust-where", "supply-cost"), ("supply-cost", "repaint-quality"))
DEEP = "deep"


def random_cases(seeds: Iterable[int], given: Json | None = None, name: str = DEEP) -> list[Case]:
    """One case a seed: the families and their sheets in turn, or a given pack by its name.

    Amounts have 0, 2 or 3 decimals.
    """
    packs, cases = kinds(), []
    prepared = prepare(given) if given else None
    for seed in seeds:
        rng = random.Random(seed)
        family, sheet = packs[seed % len(packs)]
        pack = given or pack_for(sheet, family)
        findings = random_findings(pack, rng)
        if rng.random() < 0.3:
            # Random prices seldom come near the set's range, where the verdicts part.
            findings["asking"] = _near(prepared or prepared_for(sheet, family), findings, rng)
        cases.append(Case(f"seed {seed}", findings, rng.choice([0, 2, 3]), name if given else None))
    return cases


def _near(prepared: Prepared, findings: Json, rng: random.Random) -> float:
    fair = numbers(prepared, read_findings(findings, prepared)).market
    return fair.quantile(rng.uniform(-1, 2))


def deep_pack() -> Json:
    """The family with follow-ups of follow-ups, all kinds of grounds, cheap work, and no crystal."""
    pack = deepcopy(pack_for())
    checks = {check["id"]: check for check in pack["checks"]}
    for parent, child in CHAIN:
        opener = checks[parent]["options"][-1]
        checks[child]["shown_if"] = {"check": parent, "options": [opener["id"]]}
        mean, sd = opener["log_effect"]
        opener |= {"log_effect": [mean, sd + 0.05], "log_effect_open": [mean, sd], "mean_factor": 1.01}
    rng = random.Random(1)
    for check in pack["checks"]:
        for option in check["options"]:
            option["basis"] = rng.choice(BASES)
    for task in pack["tasks"]:
        for estimate in filter(None, (task["set_up"], task["each"])):
            estimate["materials"] = [figure / 20 for figure in estimate["materials"]]
    pack["effects"]["crystal_part"] = None
    return pack


def random_overrides(pack: Json, rng: random.Random, identity: str = "own") -> Json:
    """A model sheet of one's own as a document: absent, changed and added parts, a book or none."""
    checks = {check["part"]: check for check in pack["checks"] if check["part"]}
    loose = [part["id"] for part in pack["parts"] if not part["calibration"] and _may_go(checks[part["id"]])]
    sheet: Json = {"id": identity, "family": pack["family"], "basis": "invented", "why": "Made for a test."}
    if rng.random() < 0.5:
        sheet["coverage_khz"] = [rng.uniform(200, 3000), rng.uniform(3000, 9000)]
    if rng.random() < 0.5:
        sheet["supply_volts"] = [24, 28]
    if rng.random() < 0.7:
        sheet["finish"] = rng.choice(pack["finishes"])["label"]
    if rng.random() < 0.7:
        sheet["service"] = rng.choice(pack["services"])["label"]
    if rng.random() < 0.7:
        sheet["book"] = rng.choice(["by serial", "by model", "none"])
    ground = {"basis": "invented", "why": "Made for a test."}
    changed = rng.sample([part["id"] for part in pack["parts"]], rng.randint(0, 4))
    reference = {"median": rng.uniform(20, 900), **ground} if rng.random() < 0.7 else {}
    return {
        "name": "Own",
        "about": "A sheet made at the table.",
        "sheet": sheet,
        "reference": reference,
        "absent": rng.sample(loose, rng.randint(0, 5)),
        "parts": [{"id": part, **_change(rng), **ground} for part in changed],
        "extra": [_extra(pack, number, rng) for number in range(rng.randint(0, 3))],
    }


def _may_go(check: Json) -> bool:
    # Every set is asked for its plate and the like, and a follow-up covers no part.
    return check["shown_if"] is None and not check["asks_holes"]


def _change(rng: random.Random) -> Json:
    most = rng.uniform(5, 20)
    change = {"weight": rng.uniform(1, 9), "salvage": [1, 2, most], "buy": [3, 5, most]}
    return {key: value for key, value in change.items() if rng.random() < 0.6}


def _extra(pack: Json, number: int, rng: random.Random) -> Json:
    source = {"source": rng.choice(sorted(pack["sources"]))} if pack["sources"] else {}
    ground = rng.choice([{"basis": "invented"}, {"basis": "published", **source}])
    return {
        "id": f"extra-{number}",
        "label": rng.choice(["peep-hole cover", "$& lamp {part}", "spare lamp"]),
        "stage": rng.choice([stage["id"] for stage in pack["stages"]]),
        "weight": rng.uniform(1, 5),
        "salvage": [1, 2, 4],
        "buy": rng.choice([None, [3, 5, 9]]),
        "gone_prior": rng.uniform(0.05, 0.9),
        "gone_effect": -rng.uniform(0, 0.4),
        "why": "Made for a test.",
        **ground,
    }
