"""Which findings moved the price, and what each is worth in money (contract §11)."""

import math
from dataclasses import dataclass
from typing import Any

from webapp.appraisal.findings import Findings
from webapp.appraisal.money import logarithmic_mean
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import Market, Shares, coverage_effect, misfits
from webapp.appraisal.standing import Standing, hole_size

_WEAKEST_FIRST = ("invented", "from memory", "common practice", "published")


@dataclass(frozen=True, slots=True)
class Reason:
    """One row: what (a check id, holes, coverage, a misfit such as crystal_foreign, or not checked)."""

    what: str
    option: str | None
    log_effect: float
    amount: float
    basis: str
    source: str | None
    why: str


def reasons(
    prepared: Prepared, standing: Standing, findings: Findings, found: Shares, market: Market
) -> list[Reason]:
    """All rows, the largest effect first and what is not checked last; the amounts add up to P50 − R."""
    rows: list[tuple[str, str | None, float, dict[str, Any]]] = []
    open_effect, open_rows = 0.0, []
    for index, check in enumerate(prepared.checks):
        raw = prepared.pack["checks"][index]
        chosen = standing.chosen[index]
        if not standing.shown[index]:
            continue
        if chosen < 0:
            open_effect += check.mean
            open_rows += [raw, *raw["options"]]
        elif index == prepared.hole_check and standing.drilled is not None:
            rows.append(("holes", "some", found.mean[index], _hole_grounds(prepared, findings)))
        else:
            option = raw["options"][chosen]
            why = option.get("why") or raw["why"]
            rows.append((check.id, option["id"], check.options[chosen].own_mean, {**option, "why": why}))
    effects = prepared.pack["effects"]
    coverage = coverage_effect(prepared, standing)
    if standing.overlap_khz is None:
        open_effect += coverage.mean
        open_rows.append(effects["coverage"])
    else:
        rows.append(("coverage", None, coverage.mean, effects["coverage"]))
    for name, comparison, effect in misfits(prepared, standing):
        rows.append((name, None, effect.mean, effects[comparison]))
    rows.sort(key=lambda row: -abs(row[2]))
    if open_rows:
        grounds = {"basis": weakest(open_rows), "why": "What is still open, at what is usual for the family."}
        rows.append(("not checked", None, open_effect, grounds))
    scale = money_scale(market)
    return [
        Reason(what, option, effect, effect * scale, row["basis"], row.get("source"), row["why"])
        for what, option, effect, row in rows
    ]


def money_scale(market: Market) -> float:
    """What a log effect of 1 is worth in money: L(P50, R) of contract §11."""
    return logarithmic_mean(market.quantile(0.0), math.exp(market.log_reference))


def weakest(rows: list[dict[str, Any]]) -> str:
    """The weakest basis among some rows."""
    found = {row["basis"] for row in rows}
    return next(basis for basis in _WEAKEST_FIRST if basis in found)


def _hole_grounds(prepared: Prepared, findings: Findings) -> dict[str, Any]:
    sizes: list[dict[str, Any]] = [dict(hole_size(prepared.pack, hole)) for hole in findings.holes]
    law = prepared.pack["holes"]
    return {"basis": weakest([law, *sizes]), "why": law["why"], "source": law.get("source")}
