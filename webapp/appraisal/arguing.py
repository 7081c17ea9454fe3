"""The arguments around a price, as they stand in the appraisal document: haggling, selling, mends, spread."""

import math
from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from webapp.appraisal.effort import p90
from webapp.appraisal.findings import Findings
from webapp.appraisal.haggling import haggling
from webapp.appraisal.looking import Looking
from webapp.appraisal.mends import Mend, lasting, mends
from webapp.appraisal.money import rounded
from webapp.appraisal.numbers import Numbers, fair_range
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reasons import Reason
from webapp.appraisal.selling import Selling, selling
from webapp.appraisal.spread import Spread, spread

Json = dict[str, Any]
Say = Callable[[float], str]


def argued(
    prepared: Prepared,
    findings: Findings,
    now: Numbers,
    ahead: Looking,
    rows: list[Reason],
    show: Callable[[float], str],
) -> Json:
    """What can be said about the price; `show` writes an amount rounded for the eye."""
    found = mends(prepared, findings, now, rows)
    sale = selling(prepared, findings, now)
    return {
        "haggling": _haggling(prepared, findings, rows, now.market.quantile(0.0)),
        "selling": {**_selling(prepared, sale), "sentence": _advice(prepared, now, sale, show)},
        "mends": [_mend(prepared, mend) for mend in found],
        "lasting": [asdict(row) for row in lasting(rows, found)],
        "spread": _spread(spread(prepared, now.standing, now.market, ahead)),
    }


def point_sentence(prepared: Prepared, findings: Findings, row: Reason) -> str:
    """What a buyer may say about a finding: the row's sentence for him, a seller's, or check and answer."""
    words = prepared.pack["words"]
    if row.what == "holes" and findings.holes:
        places = {place["id"]: place["label"] for place in prepared.pack["holes"]["places"]}
        holes = (
            f"{places[hole.place]}, about {max(1, math.floor(hole.diameter_mm + 0.5))} mm"
            for hole in findings.holes
        )
        return str(words["say-holes"]).format(holes="; ".join(holes))
    if row.what not in prepared.check_index:
        return str(words[f"say-{row.what}"])
    check = prepared.pack["checks"][prepared.check_index[row.what]]
    option = next(option for option in check["options"] if option["id"] == row.option)
    answer = option["label"][:1].lower() + option["label"][1:]
    return str(
        option.get("say")
        or option.get("tell")
        or words["say-finding"].format(check=check["label"], answer=answer)
    )


def _amount(row: Reason) -> Json:
    return {"what": row.what, "option": row.option, "amount": row.amount}


def _haggling(prepared: Prepared, findings: Findings, rows: list[Reason], middle: float) -> Json:
    found = haggling(prepared, rows, middle)
    return {
        "points": [{**_amount(row), "say": point_sentence(prepared, findings, row)} for row in found.points],
        "others": asdict(found.others),
        "in_favour": asdict(found.in_favour),
        "not_checked": found.not_checked,
    }


def _selling(prepared: Prepared, sale: Selling) -> Json:
    looks = [{**asdict(look), "check": prepared.checks[look.check].id} for look in sale.looks]
    return {**asdict(sale), "looks": looks}


def _advice(prepared: Prepared, now: Numbers, sale: Selling, show: Say) -> str:
    words, fair = prepared.pack["words"], fair_range(prepared, now)
    blanks = {
        "ask": show(sale.ask),
        "worth": show(sale.worth),
        "floor": show(sale.floor),
        **{key: show(value) for key, value in fair.items()},
    }
    floor = "sell-floor" if sale.floor > 0 else "sell-no-floor"
    keys = ["sell-" + sale.way.replace("_", "-"), *([] if sale.way == "parts" else [floor])]
    return " ".join(str(words[key]).format(**blanks) for key in keys)


def _mend(prepared: Prepared, mend: Mend) -> Json:
    z90 = prepared.pack["model"]["z90"]
    both = {
        name: {"p50": estimate[0], "p90": p90(estimate, z90)}
        for name, estimate in (("hours", mend.hours), ("materials", mend.materials))
    }
    low, middle, high = mend.then
    return {
        **asdict(mend),
        **both,
        "tasks": [prepared.tasks[task].id for task in mend.tasks],
        "then": {"p10": low, "p50": middle, "p90": high},
    }


def _spread(found: Spread) -> Json:
    low, high = found.settled
    return {
        "log_sd": found.log_sd,
        "parts": [asdict(part) for part in found.parts],
        "settled": {"p10": low, "p90": high},
    }


def shown_money(prepared: Prepared, minor_digits: int, say: Say) -> Say:
    """A writer of amounts: rounded by the contract's rule, then written by `say`."""
    share = prepared.pack["model"]["rounding_share"]
    return lambda value: say(rounded(value, share, minor_digits))
