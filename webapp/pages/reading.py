"""An appraisal document with the labels, figures and sentences that a page shows."""

from typing import Any

from webapp.appraisal.money import rounded
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
    sign = "+" if row["amount"] > 0 else ""
    source = pack["sources"].get(row["source"], {}).get("title")
    return {
        **row,
        "label": reason_label(pack, checks, row),
        "money": sign + money(row["amount"]),
        "source": source,
    }


def _effort(effort: Json, money: Any) -> Json:
    return {
        "hours": f"{effort['hours']['p50']:.0f} to {effort['hours']['p90']:.0f}",
        "materials": f"{money(effort['materials']['p50'])} to {money(effort['materials']['p90'])}",
        "tasks": [
            {
                **task,
                "hours": f"{task['hours']['p50']:.1f}",
                "materials": money(task["materials"]["p50"]),
                "certain": task["probability"] >= 1,
                "chance": f"{100 * task['probability']:.0f}",
            }
            for task in effort["tasks"]
            if task["probability"] >= 0.05
        ],
    }
