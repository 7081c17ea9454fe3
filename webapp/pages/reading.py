"""An appraisal document with the labels, figures and sentences that a page shows."""

from typing import Any

from webapp.appraisal.consistency import FINE, MISFIT, UNKNOWN
from webapp.pages.argument_words import doubt_words, haggling_words, mend_words, plan_words, signed
from webapp.pages.basis_words import basis_words
from webapp.pages.reading_habits import reader
from webapp.pages.texts import _

Json = dict[str, Any]


def readable(pack: Json, appraisal: Json) -> Json:
    """What the verdict template needs, in words; money rounded for the eye."""
    currency = appraisal["currency"]
    habits, share = reader(), pack["model"]["rounding_share"]

    def money(value: float) -> str:
        return habits.money(value, currency, share)

    checks = {check["id"]: check for check in pack["checks"]}
    return {
        "appraisal": appraisal,
        "fair": {key: money(value) for key, value in appraisal["price"]["fair"].items()},
        "reference": money(appraisal["price"]["reference"]["median"]),
        "reasons": [_reason(pack, checks, row, money) for row in appraisal["reasons"]],
        "matches": [_match(pack, match) for match in appraisal["consistency"]],
        "effort": _effort(appraisal["effort"], money),
        "haggling": haggling_words(appraisal["haggling"], money),
        "mends": mend_words(appraisal["mends"], lambda row: reason_label(pack, checks, row), money),
        "doubts": doubt_words(pack, checks, appraisal["spread"]["parts"]),
        "plan": plan_words(pack, appraisal["effort"]["tasks"], appraisal["cautions"], money),
        "open": [
            checks[check]["label"] for check in appraisal["not_checked"] if check not in appraisal["unseen"]
        ],
        "unseen": [checks[check]["label"] for check in appraisal["unseen"]],
        "next": [_look(checks[look["check"]]) for look in appraisal["next_checks"][:3]],
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
        "why": _why(row),
        "money": signed(row["amount"], money),
        "basis": basis_words(row["basis"]),
        "source": source,
    }


def _look(check: Json) -> str:
    return _("{check} ({seconds} s)", check=check["label"], seconds=format(check["seconds"], ".0f"))


def _why(row: Json) -> str:
    # The engine's only sentence that no table holds.
    if row["what"] == "not checked":
        return _("What is still open, at what is usual for the family.")
    return str(row["why"])


def _match(pack: Json, match: Json) -> Json:
    """A comparison in words, with what to look at where that may help."""
    check, result = match["check"], match["result"]
    helps = result == MISFIT or (result == UNKNOWN and check != "designation")
    said = {FINE: _("fine"), MISFIT: _("does not fit"), UNKNOWN: _("cannot tell yet")}[result]
    return {
        **match,
        "name": pack["words"][f"name-{check}"],
        "result": said,
        "look": match["look"] if helps else "",
    }


def _effort(effort: Json, money: Any) -> Json:
    hours, materials = effort["hours"], effort["materials"]
    return {
        "hours": _("{low} to {high}", low=format(hours["p50"], ".0f"), high=format(hours["p90"], ".0f")),
        "materials": _("{low} to {high}", low=money(materials["p50"]), high=money(materials["p90"])),
    }
