"""The checks of a family and its added holes as people read them. Twin of static/js/ui/check_rows.js."""

import math

from webapp.pages.rule_figures import effect, figure, names, of_hundred, of_whole, percent
from webapp.pages.rule_row import Json, by_id, row

ASKED_FOR = {
    "book": "the number in the book",
    "crystal": "the crystal's figure",
    "heaters": "the heater strings",
    "holes": "the list of holes",
    "nameplate": "the text of the plate",
    "order": "the order number",
    "serial": "the serial number",
}


def check_rows(pack: Json, stage: str) -> list[Json]:
    """The checks of one stage, each before its options."""
    found = []
    for check in pack["checks"]:
        if check["stage"] == stage:
            found.append(row(check["id"], check["label"], _asks(pack, check), check, check["label"]))
            for option in check["options"]:
                address = f"{check['id']}/{option['id']}"
                found.append(row(address, option["label"], _option(pack, option), option, check["label"]))
    return found


def _asks(pack: Json, check: Json) -> list[str]:
    says = [check["help"], f"Takes {figure(check['seconds'])} s."]
    if check["shown_if"]:
        parent = by_id(pack["checks"], check["shown_if"]["check"])
        labels = [by_id(parent["options"], option)["label"] for option in check["shown_if"]["options"]]
        says.append(f"Asked only after {parent['label']}: {names(labels, 'or')}.")
    if check["part"]:
        says.append(f"Looks at the part: {by_id(pack['parts'], check['part'])['label']}.")
    if check.get("asks"):
        says.append(f"Asks for {ASKED_FOR.get(check['asks'], 'the ' + check['asks'])}.")
    return says


def _option(pack: Json, option: Json) -> list[str]:
    says = [
        f"Met in {of_hundred(option['prior'])}.",
        f"Price {effect(option['log_effect_open'] or option['log_effect'])}.",
    ]
    if option["state"] is not None:
        says.append(f"Leaves {of_whole(option['state'])} of the part.")
    if option["originality"]:
        says.append(f"Takes {of_whole(option['originality'])} off originality.")
    if option["as_made"]:
        says.append("As made.")
    if option["fixable"]:
        says.append("Can be mended.")
    return says + calls(pack, option)


def calls(pack: Json, found: Json) -> list[str]:
    """The tasks and cautions that a row calls."""
    tasks = [by_id(pack["tasks"], task)["label"] for task in found.get("tasks", [])]
    cautions = [by_id(pack["cautions"], caution)["title"] for caution in found["cautions"]]
    says = [f"Work: {'; '.join(tasks)}."] if tasks else []
    return says + ([f"Caution: {'; '.join(cautions)}."] if cautions else [])


def hole_rows(pack: Json) -> list[Json]:
    """The law of added holes, then their sizes by place."""
    law = pack["holes"]
    a, b, c = (figure(law[key]) for key in "abc")
    law_says = f"The log price falls by {a} · ln(1 + S/{b}), S being all severities together,"
    says = [f"{law_says} give or take {c} of that."]
    rows = [row("holes", "What holes take off", says, law)]
    for place in law["places"]:
        for number, size in enumerate(place["sizes"], start=1):
            says = [_size(place["sizes"], number - 1), _severity(law, size)]
            if size["task"]:
                task = by_id(pack["tasks"], size["task"])["label"]
                says.append(f"{of_whole(size['fixable'])} of it can be mended. Work: {task}.")
            address = f"hole.{place['id']}.{number}"
            rows.append(row(address, size["label"], says, size, place["label"]))
    return rows


def _size(sizes: list[Json], index: int) -> str:
    up_to = sizes[index]["up_to_mm"]
    if up_to is not None:
        return f"To {figure(up_to)} mm."
    return f"Over {figure(sizes[index - 1]['up_to_mm'])} mm." if index else "Of any size."


def _severity(law: Json, size: Json) -> str:
    def alone(severity: float) -> str:
        return f"severity {figure(severity)}, alone {percent(-law['a'] * math.log(1 + severity / law['b']))}"

    return f"Open: {alone(size['severity'])}. Plugged: {alone(size['severity_plugged'])}."
