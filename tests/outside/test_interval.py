"""Whether the 80 % range of the price holds what it should, on sets drawn from the tables themselves."""

import math
import random
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from tests.support.packs import FAMILY, families, prepared_for
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import Market, market, misfits, shares
from webapp.appraisal.standing import stand

Json = dict[str, Any]

SETS = 20_000
IN_BAND, OUT_OF_BAND = [3300, 5000], [200, 400]


def drawn_set(prepared: Prepared, rng: random.Random) -> tuple[float, Json, bool]:
    """The log price of one set, what a complete look at it would find, and whether a band is covered.

    Follow-ups are drawn where an answer opens them; added holes have the effect of their option.
    """
    pack = prepared.pack
    reference, effects = pack["reference"], pack["effects"]
    spread = math.hypot(reference["log_sd"], reference["market_log_sd"])
    log_price = rng.gauss(math.log(reference["median"]), spread)
    found: dict[str, str] = {}
    for check in pack["checks"]:
        shown = check["shown_if"]
        if shown and found.get(shown["check"]) not in shown["options"]:
            continue
        option = rng.choices(check["options"], [row["prior"] for row in check["options"]])[0]
        found[check["id"]] = option["id"]
        log_price += rng.gauss(*(option["log_effect_open"] or option["log_effect"]))
    inside = rng.random() < effects["in_band_prior"]
    log_price += rng.gauss(*effects["coverage_in_band" if inside else "coverage_out_of_band"])
    whole = stand(prepared, read_findings({"family": pack["family"], "answers": found}, prepared))
    # A finish unlike its service is a hint that the price holds too, seen or not.
    log_price += sum(rng.gauss(*effects[name]) for name, *_ in misfits(prepared, whole))
    return log_price, found, inside


def half_looked_at(family: str, found: Json, inside: bool, rng: random.Random) -> Json:
    """Findings after a random half of the checks, and the coverage read in every other set."""
    kept = set(rng.sample(sorted(found), len(found) // 2))
    document: Json = {"family": family, "answers": {key: found[key] for key in found if key in kept}}
    if rng.random() < 0.5:
        document |= {"coverage_khz": IN_BAND if inside else OUT_OF_BAND, "region": 2}
    return document


def appraised_half(prepared: Prepared, seed: int) -> tuple[float, Market]:
    """The log price of the set of a seed, and its price law by an appraisal after half a look."""
    rng = random.Random(seed)
    log_price, found, inside = drawn_set(prepared, rng)
    document = half_looked_at(prepared.pack["family"], found, inside, rng)
    findings = read_findings(document, prepared)
    standing = stand(prepared, findings)
    return log_price, market(prepared, standing, shares(prepared, standing, findings.aim), findings)


@pytest.mark.parametrize("family", families())
def test_the_80_percent_range_holds_80_percent_of_sets_appraised_half_looked_at(
    family: str, sweep: Callable[[int], Sequence[int]], record_property: Callable[[str, object], None]
) -> None:
    """Source: simulation from the priors and normal laws of the pack; P10 to P90 must hold 80 % ± 2 points.

    The default tenth allows two standard errors of its binomial count on top; `--long` runs all.
    """
    prepared = prepared_for(family=family)
    seeds, inside_range, z90 = sweep(SETS), 0, prepared.pack["model"]["z90"]
    for seed in seeds:
        log_price, price = appraised_half(prepared, seed)
        inside_range += math.log(price.quantile(-z90)) <= log_price <= math.log(price.quantile(z90))
    share = inside_range / len(seeds)
    record_property("share of prices inside P10 to P90", share)
    error = 0.0 if len(seeds) == SETS else 2 * math.sqrt(0.8 * 0.2 / len(seeds))
    print(f"{family}: inside P10 to P90 {share:.1%} of {len(seeds)} sets")
    assert share == pytest.approx(0.8, abs=0.02 + error)


def test_a_range_half_as_wide_would_be_caught(sweep: Callable[[int], Sequence[int]]) -> None:
    """The counter-check of the test above: with half the spread the same count lies far outside."""
    prepared = prepared_for(family=FAMILY)
    seeds, inside_range, z90 = sweep(SETS)[:500], 0, prepared.pack["model"]["z90"]
    for seed in seeds:
        log_price, price = appraised_half(prepared, seed)
        inside_range += abs(log_price - price.log_median) <= 0.5 * z90 * math.sqrt(price.variance)
    assert inside_range / len(seeds) < 0.6
