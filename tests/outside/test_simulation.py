"""The engine against brute force: what a look is worth, and how long the work takes, by drawing at random."""

import math
import random
from collections.abc import Sequence
from statistics import fmean
from typing import Any

import pytest
from scipy import stats

from tests.support.packs import appraised, families, pack_for
from tests.support.vectors import vector_pack
from webapp.appraisal.appraise import appraise
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import prepare, three_point

Json = dict[str, Any]

DRAWS = 60_000
TINY = vector_pack("tiny")
TASKS = {task["id"]: task for task in TINY["tasks"]}


def drawn(rng: random.Random, aim: str, hour_rate: float) -> tuple[dict[str, str], tuple[float, ...]]:
    """One tiny set: its answers, and what it brings as it stands, restored and in parts.

    The scatter of the reference, the same whatever is looked at, is in as its mean.
    """
    reference = TINY["reference"]
    log_price = (
        math.log(reference["median"]) + (reference["log_sd"] ** 2 + reference["market_log_sd"] ** 2) / 2
    )
    mended, called, found, pieces = log_price, set(), {}, 0.0
    salvage = {part["id"]: three_point(part["salvage"])[0] for part in TINY["parts"]}
    for check in TINY["checks"]:
        if check["shown_if"] and found.get(check["shown_if"]["check"]) not in check["shown_if"]["options"]:
            continue
        option = rng.choices(check["options"], [row["prior"] for row in check["options"]])[0]
        found[check["id"]] = option["id"]
        effect = rng.gauss(*(option["log_effect_open"] or option["log_effect"]))
        log_price += effect
        if option["fixable"] and all(aim in TASKS[task]["aims"] for task in option["tasks"]):
            called |= set(option["tasks"])
        else:
            mended += effect
        if check["part"]:
            pieces += TINY["sell_through"] * option["state"] * salvage[check["part"]]
    work = [TASKS[task]["set_up"] for task in called]
    cost = sum(three_point(row["materials"])[0] + hour_rate * three_point(row["hours"])[0] for row in work)
    broken = pieces - hour_rate * three_point(TINY["break_hours"])[0]
    return found, (math.exp(log_price), math.exp(mended) - cost, broken)


@pytest.mark.parametrize(
    ("aim", "hour_rate", "asking"), [("shelf", 0.0, 80.0), ("air", 5.0, 75.0), ("shelf", 2.0, 55.0)]
)
def test_looks_are_worth_what_a_simulation_of_buying_with_and_without_them_says(
    aim: str, hour_rate: float, asking: float
) -> None:
    """Source: Raiffa and Schlaifer 1961; here 60,000 sets drawn from the tiny pack (seeded).

    Worth is the best of three means; with an answer known, the best of the means over the sets that have it.
    All agree within four standard errors of a mean.
    """
    rng = random.Random(8)
    sets = [drawn(rng, aim, hour_rate) for _ in range(DRAWS)]
    prepared = prepare(TINY)
    document = {"family": "tiny", "aim": aim, "hour_rate": hour_rate, "asking": asking}
    appraisal = appraise(prepared, read_findings(document, prepared), 2, str)
    now = worth([ways for _, ways in sets])
    error = 4 * float(stats.tstd([ways[0] for _, ways in sets])) / math.sqrt(DRAWS)
    assert appraisal["worth"]["value"] == pytest.approx(now, abs=error)
    looks = {look["check"]: look["evi"] for look in appraisal["next_checks"]}
    assert set(looks) == {check["id"] for check in TINY["checks"] if not check["shown_if"]}
    for check in looks:
        by_answer: dict[str, list[tuple[float, ...]]] = {}
        for found, ways in sets:
            by_answer.setdefault(found[check], []).append(ways)
        gain = sum(len(having) / DRAWS * max(0.0, worth(having) - asking) for having in by_answer.values())
        assert looks[check] == pytest.approx(gain - max(0.0, now - asking), abs=error), check
    assert max(looks.values()) > 3 * error


def worth(ways: Sequence[tuple[float, ...]]) -> float:
    return max(fmean(way) for way in zip(*ways, strict=True))


@pytest.mark.parametrize("family", families())
def test_hours_of_a_long_list_of_tasks_spread_as_a_simulation_of_each_says(family: str) -> None:
    """Source: scipy.stats.beta with PERT's alpha 1 + 4(m − a)/(b − a) and beta 1 + 4(b − m)/(b − a).

    20,000 draws of each; the means agree but for their error. PERT's variance is an approximation, and many
    skewed estimates together come near the normal law: the 90 per cent point lies within 4 per cent.
    """
    pack = pack_for(family=family)
    answers = {check["id"]: check["options"][-1]["id"] for check in pack["checks"]}
    answers[next(check["id"] for check in pack["checks"] if check["asks_holes"])] = "none"
    effort = appraised({"family": family, "answers": answers, "aim": "as-built"})["effort"]
    called = {row["task"]: row for row in effort["tasks"]}
    assert len(called) >= 15
    assert {row["probability"] for row in called.values()} == {1.0}
    total = 0.0
    for number, task in enumerate(row for row in pack["tasks"] if row["id"] in called):
        triples = [task["set_up"]["hours"]]
        triples += [task["each"]["hours"]] * called[task["id"]]["items"] if task["each"] else []
        for item, (low, likely, high) in enumerate(triples):
            if high > low:
                alpha, beta = 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)
                law = stats.beta(alpha, beta, loc=low, scale=high - low)
                total = total + law.rvs(20_000, random_state=1000 * number + item)
            else:
                total = total + low
    assert effort["hours"]["p50"] == pytest.approx(float(total.mean()), rel=0.005)  # type: ignore[attr-defined]
    found = float(stats.scoreatpercentile(total, 90))
    assert effort["hours"]["p90"] == pytest.approx(found, rel=0.04)


@pytest.mark.parametrize("triple", [(4.0, 6.0, 14.0), (1.0, 2.0, 3.0), (0.5, 1.5, 4.0), (1.0, 3.0, 10.0)])
def test_the_mean_of_one_task_is_that_of_draws_from_its_beta_law(triple: tuple[float, float, float]) -> None:
    """Source: scipy.stats.beta, 100,000 draws (seeded); four standard errors."""
    low, likely, high = triple
    alpha, beta = 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)
    draws = stats.beta(alpha, beta, loc=low, scale=high - low).rvs(100_000, random_state=5)
    error = float(draws.std()) / math.sqrt(len(draws))
    mean, variance = three_point(list(triple))
    assert mean == pytest.approx(float(draws.mean()), abs=4 * error)
    assert math.sqrt(variance) == pytest.approx(float(draws.std()), rel=0.15)
