"""Random cases, each from its own seed; and a pack with what the shipped one lacks."""

import random
from collections.abc import Iterable
from copy import deepcopy
from typing import Any

from tests.support.packs import SHEETS, pack_for
from tests.support.random_findings import random_findings
from tests.support.twin import Case
from webapp.appraisal.appraise import numbers
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import prepare

Json = dict[str, Any]

BASES = ("invented", "from memory", "common practice", "published")
# Each follow-up and the check it hangs on in the deep pack: a chain of four instead of four single ones.
CHAIN = (("rust", "rust-where"), ("rust-where", "supply-cost"), ("supply-cost", "repaint-quality"))
DEEP = "deep"


def random_cases(seeds: Iterable[int], deep: Json | None = None) -> list[Case]:
    """One case a seed: the family and its sheets in turn, or a deep pack; money with 0, 2 or 3 decimals."""
    packs = (None, *SHEETS)
    cases = []
    for seed in seeds:
        rng = random.Random(seed)
        pack = deep or pack_for(packs[seed % len(packs)])
        findings = random_findings(pack, rng)
        if rng.random() < 0.3:
            # Random prices seldom come near the set's range, where the verdicts part.
            findings["asking"] = _near(pack, findings, rng)
        cases.append(Case(f"seed {seed}", findings, rng.choice([0, 2, 3]), DEEP if deep else None))
    return cases


def _near(pack: Json, findings: Json, rng: random.Random) -> float:
    prepared = prepare(pack)
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
