"""An appraisal document with the labels, figures and sentences that a page shows."""

from typing import Any

from webapp.appraisal.money import rounded
from webapp.pages.argument_words import doubt_words, haggling_words, mend_words, plan_words, signed
from webapp.pages.money import minor_digits, say_money

Json = dict[str, Any]


def readable(pack: Json, appraisal: Json) -> Json:
    """What the verdict template needs, in words; money rounded for the eye."""
    currency = appraisal["currency"]
    share, digits = pack["model"]["rounding_share"], minor_digits(currency)

    def money(value: float) -> str:
        return say_money(rounded(value, share, digits), currency)

    checks = {check["id"]: check for check in pack["checks"]}
    return {
        "appraisal": appraisal,
        "fair": {key: money(value) for key, value in appraisal["price"]["fair"].items()},
        "reference": money(appraisal["price"]["reference"]["median"]),
        "reasons": [_reason(pack, checks, row, money) for row in appraisal["reasons"]],
        "effort": _effort(appraisal["effort"], money),
        "haggling": haggling_words(appraisal["haggling"], money),
        "mends": mend_words(appraisal["mends"], lambda row: reason_label(pack, checks, row), money),
        "doubts": doubt_words(pack, checks, appraisal["spread"]["parts"]),
        "plan": plan_words(pack, appraisal["effort"]["tasks"], appraisal["cautions"], money),
        "open": [
            checks[check]["label"] for check in appraisal["not_checked"] if check not in appraisal["unseen"]
        ],
        "unseen": [checks[check]["label"] for check in appraisal["unseen"]],
        "next": [checks[look["check"]] for look in appraisal["next_checks"][:3]],
        "stop": appraisal["looking"]["value"] < appraisal["looking"]["threshold"],
    }


def reason_label(pack: Json, checks: dict[str, Json], row: Json) -> str:
    """What a reason is about, in the words of the tables."""
    if row["what"] not in checks:
        what = "open" if row["what"] == "not checked" else row["what"]
        return str(pack["words"][f"reason-{what}"])
    check = checks[row["what"]]
    option = next(option for option in check["options"] if option["id"] == row["option"])
    return f"{check['label']}: {option['label']}"


def _reason(pack: Json, checks: dict[str, Json], row: Json, money: Any) -> Json:
    source = pack["sources"].get(row["source"], {}).get("title")
    return {
        **row,
        "label": reason_label(pack, checks, row),
        "money": signed(row["amount"], money),
        "source": source,
    }


def _effort(effort: Json, money: Any) -> Json:
    return {
        "hours": f"{effort['hours']['p50']:.0f} to {effort['hours']['p90']:.0f}",
        "materials": f"{money(effort['materials']['p50'])} to {money(effort['materials']['p90'])}",
    }
