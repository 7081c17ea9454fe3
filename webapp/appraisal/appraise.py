"""One appraisal from beginning to end: all numbers, then the document that people and programs read."""

import math
from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from webapp.appraisal.arguing import argued, shown_money
from webapp.appraisal.consistency import Consistency, consistency
from webapp.appraisal.effort import Effort, p90
from webapp.appraisal.findings import Findings
from webapp.appraisal.hole_candidates import hole_candidates, tolerance_of
from webapp.appraisal.hole_candidates import sentence as hole_sentence
from webapp.appraisal.matching import designation_of
from webapp.appraisal.money import rounded
from webapp.appraisal.numbers import Numbers, fair_range, next_looks, numbers
from webapp.appraisal.prepared import Check, Prepared
from webapp.appraisal.reasons import money_scale, reasons
from webapp.appraisal.standing import Standing
from webapp.appraisal.verdict import Stakes, Verdict, verdict

Json = dict[str, Any]
Say = Callable[[float], str]


def appraise(prepared: Prepared, findings: Findings, minor_digits: int, say: Say) -> Json:
    """The appraisal document of the contract.

    `minor_digits` are the decimals of the appraisal's currency; `say` writes an amount already
    rounded for the eye, with its currency.
    """
    now = numbers(prepared, findings)
    ahead = next_looks(prepared, findings, now)
    z90 = prepared.pack["model"]["z90"]
    price = _price(prepared, findings, now)
    market_pays = price["fair"]
    stakes = Stakes(
        now.worth.value, market_pays["low"], market_pays["mid"], market_pays["high"], findings.asking
    )
    share = prepared.pack["model"]["rounding_share"]
    decision = verdict(stakes, ahead.value, ahead.threshold, share, minor_digits)
    matches = consistency(prepared, now.standing, findings)
    rows = reasons(prepared, now.standing, findings, now.found, now.market)
    scale = money_scale(now.market)
    return {
        "family": prepared.pack["family"],
        "model_sheet": prepared.pack.get("sheet", {}).get("id"),
        "pack": prepared.pack["hash"],
        "currency": findings.currency,
        "aim": findings.aim,
        **asdict(now.scores),
        "holes": {
            "count": len(findings.holes),
            "severity": now.standing.drilled.severity if now.standing.drilled else 0.0,
        },
        "effort": _effort(prepared, now.effort, z90),
        "price": price,
        "worth": asdict(now.worth),
        "verdict": {
            "word": decision.word,
            "offer": decision.offer,
            "sentence": _sentence(prepared, stakes, decision, now.worth.way, minor_digits, say),
            "meanwhile": _meanwhile(prepared, stakes, decision, minor_digits, say),
        },
        "looking": {"value": ahead.value, "threshold": ahead.threshold},
        "next_checks": [
            {
                "check": prepared.checks[look.check].id,
                "evi": look.evi,
                "seconds": look.seconds,
                **_could_change(prepared.checks[look.check], scale),
            }
            for look in ahead.looks
        ],
        "reasons": [asdict(row) for row in rows],
        **argued(prepared, findings, now, ahead, rows, shown_money(prepared, minor_digits, say)),
        "consistency": [_result(prepared, match) for match in matches],
        "readings": readings(prepared.pack, findings),
        "cautions": cautions_called(prepared, now.standing),
        "not_checked": not_checked(prepared, now.standing),
        "unseen": [check.id for check in prepared.checks if check.id in findings.unseen],
    }


def readings(pack: Json, findings: Findings) -> Json:
    """What the findings say beyond arithmetic: the nameplate letter by letter, and what sat in each hole."""
    plate = designation_of(pack, findings.nameplate)
    table = pack.get("component_holes", {})
    holes = []
    for hole in findings.holes if table.get("components") else ():
        found = hole_candidates(table, hole.diameter_mm, tolerance_of(table, "tape"))
        holes.append(
            {
                "place": hole.place,
                "diameter_mm": hole.diameter_mm,
                "candidates": [candidate.label for candidate in found],
                "sentence": hole_sentence(table, hole.diameter_mm, found),
            }
        )
    return {"nameplate": _listed(asdict(plate)) if plate is not None else None, "holes": holes}


def _listed(document: Json) -> Json:
    # A document has lists only, as it has once it was written out and read again.
    return {key: list(value) if isinstance(value, tuple) else value for key, value in document.items()}


def not_checked(prepared: Prepared, standing: Standing) -> list[str]:
    """Ids of the checks shown and open."""
    return [
        check.id
        for index, check in enumerate(prepared.checks)
        if standing.shown[index] and standing.chosen[index] < 0
    ]


def _could_change(check: Check, scale: float) -> Json:
    """What the worst and the best answer would change against what is usual, in money of contract §11."""
    effects = [option.mean - check.mean for option in check.options]
    return {"worst": min(effects) * scale, "best": max(effects) * scale}


def _price(prepared: Prepared, findings: Findings, now: Numbers) -> Json:
    z90 = prepared.pack["model"]["z90"]
    points = {"p10": -z90, "p50": 0.0, "p90": z90}
    return {
        "reference": {
            "median": math.exp(now.market.log_reference),
            "log_sd": now.market.reference_variance**0.5,
            **_reference(prepared, findings, now),
        },
        "as_is": {**{key: now.market.quantile(z) for key, z in points.items()}, "mean": now.market.mean},
        "parts": {**{key: now.parts.quantile(z) for key, z in points.items()}, "mean": now.parts.mean},
        "restored_net": {"mean": now.market.restored_mean - now.mending.total},
        "fair": fair_range(prepared, now),
    }


def _reference(prepared: Prepared, findings: Findings, now: Numbers) -> Json:
    """Prior and comparables in the appraisal's currency; `posterior_log_sd` lacks the market's scatter."""
    own = prepared.pack["reference"]
    posterior = now.market.reference_variance - own["market_log_sd"] ** 2
    return {
        "prior": {
            "median": own["median"] * findings.rate,
            "log_sd": own["log_sd"],
            "share": posterior / own["log_sd"] ** 2,
        },
        "posterior_log_sd": math.sqrt(posterior),
        "comparables": [
            {**asdict(weighed), "price": weighed.price * findings.rate} for weighed in now.market.comparables
        ],
    }


def _effort(prepared: Prepared, found: Effort, z90: float) -> Json:
    tasks = []
    for line in found.lines:
        raw = prepared.pack["tasks"][line.task]
        tasks.append(
            {
                "task": raw["id"],
                "label": raw["label"],
                "stage": raw["stage"],
                "probability": line.probability,
                "items": line.items,
                "hours": {"p50": line.hours[0], "p90": p90(line.hours, z90)},
                "materials": {"p50": line.materials[0], "p90": p90(line.materials, z90)},
                "basis": raw["basis"],
            }
        )
    return {
        "hours": {"p50": found.hours[0], "p90": p90(found.hours, z90)},
        "materials": {"p50": found.materials[0], "p90": p90(found.materials, z90)},
        "tasks": tasks,
    }


def sentence_id(decision: Verdict, asking: float | None) -> str:
    """Which sentence of the pack's words speaks the verdict."""
    if decision.word == "offer less" and decision.offer is None:
        return "verdict-no-offer"
    if decision.word == "pay it" and asking == 0:
        return "verdict-gift"
    return "verdict-" + {"no price yet": "no-price"}.get(decision.word, decision.word.replace(" ", "-"))


def _sentence(
    prepared: Prepared, stakes: Stakes, decision: Verdict, way: str, minor_digits: int, say: Say
) -> str:
    share = prepared.pack["model"]["rounding_share"]
    words = prepared.pack["words"]

    def shown(value: float | None, down: bool = False) -> str:
        return "" if value is None else say(rounded(value, share, minor_digits, down))

    return str(words[sentence_id(decision, stakes.asking)]).format(
        worth=shown(stakes.worth),
        low=shown(stakes.low),
        high=shown(stakes.high),
        asking=shown(stakes.asking),
        offer=shown(decision.offer, down=True),
        way=words["way-" + way.replace("_", "-")],
    )


def _meanwhile(
    prepared: Prepared, stakes: Stakes, decision: Verdict, minor_digits: int, say: Say
) -> Json | None:
    """What to do if one had to decide before looking any longer; None where the verdict says it already."""
    if decision.word != "look first":
        return None
    share = prepared.pack["model"]["rounding_share"]
    now = verdict(stakes, 0.0, 1.0, share, minor_digits)
    shown = "" if now.offer is None else say(rounded(now.offer, share, minor_digits, True))
    asked = say(rounded(stakes.asking or 0.0, share, minor_digits))
    words = prepared.pack["words"][sentence_id(now, None).replace("verdict", "meanwhile")]
    return {"word": now.word, "offer": now.offer, "sentence": words.format(offer=shown, asking=asked)}


def _result(prepared: Prepared, match: Consistency) -> Json:
    blanks = {
        key: f"{value:,.10g}".replace(",", " ") if isinstance(value, float) else value
        for key, value in match.blanks.items()
    }
    return {
        "check": match.check,
        "result": match.result,
        "sentence": _capital(prepared.pack["words"][match.words].format(**blanks)),
        "look": prepared.pack["words"].get(f"look-{match.check}", ""),
        "log_effect": match.log_effect,
    }


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def cautions_called(prepared: Prepared, standing: Standing) -> list[Json]:
    """The standing cautions and those that the answers given call, in table order."""
    called: set[str] = set()
    for index in range(len(prepared.checks)):
        chosen = standing.chosen[index]
        if standing.shown[index] and chosen >= 0:
            called |= set(prepared.pack["checks"][index]["options"][chosen]["cautions"])
    return [row for row in prepared.pack["cautions"] if row["standing"] or row["id"] in called]
