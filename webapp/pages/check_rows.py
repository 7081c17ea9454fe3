"""The checks of a family and its added holes as people read them. Twin of static/js/ui/check_rows.js."""

import math

from webapp.pages.rule_figures import effect, figure, names, of_hundred, of_whole, percent
from webapp.pages.rule_row import Json, by_id, row
from webapp.pages.texts import _


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
    says = [check["help"], _("Takes {seconds} s.", seconds=figure(check["seconds"]))]
    if check["shown_if"]:
        parent = by_id(pack["checks"], check["shown_if"]["check"])
        labels = [by_id(parent["options"], option)["label"] for option in check["shown_if"]["options"]]
        answers = names(labels, "or")
        says.append(_("Asked only after {check}: {answers}.", check=parent["label"], answers=answers))
    if check["part"]:
        says.append(_("Looks at the part: {part}.", part=by_id(pack["parts"], check["part"])["label"]))
    if check.get("asks"):
        says.append(_asked_for(check["asks"]))
    return says


def _asked_for(what: str) -> str:
    return {
        "book": _("Asks for the number in the book."),
        "coverage": _("Asks for the coverage."),
        "crystal": _("Asks for the crystal's figure."),
        "finish": _("Asks for the finish."),
        "heaters": _("Asks for the heater strings."),
        "holes": _("Asks for the list of holes."),
        "nameplate": _("Asks for the text of the plate."),
        "order": _("Asks for the order number."),
        "serial": _("Asks for the serial number."),
        "service": _("Asks for the service."),
        "stamp": _("Asks for the stamp."),
    }[what]


def _option(pack: Json, option: Json) -> list[str]:
    says = [
        _("Met in {share}.", share=of_hundred(option["prior"])),
        _("Price {change}.", change=effect(option["log_effect_open"] or option["log_effect"])),
    ]
    if option["state"] is not None:
        says.append(_("Leaves {share} of the part.", share=of_whole(option["state"])))
    if option["originality"]:
        says.append(_("Takes {share} off originality.", share=of_whole(option["originality"])))
    if option["as_made"]:
        says.append(_("As made."))
    if option["fixable"]:
        says.append(_("Can be mended."))
    return says + calls(pack, option)


def calls(pack: Json, found: Json) -> list[str]:
    """The tasks and cautions that a row calls."""
    tasks = [by_id(pack["tasks"], task)["label"] for task in found.get("tasks", [])]
    cautions = [by_id(pack["cautions"], caution)["title"] for caution in found["cautions"]]
    says = [_("Work: {tasks}.", tasks="; ".join(tasks))] if tasks else []
    return says + ([_("Caution: {cautions}.", cautions="; ".join(cautions))] if cautions else [])


def hole_rows(pack: Json) -> list[Json]:
    """The law of added holes, then their sizes by place."""
    law = pack["holes"]
    says = _(
        "The log price falls by {a} · ln(1 + S/{b}), S being all severities together, "
        "give or take {c} of that.",
        **{key: figure(law[key]) for key in "abc"},
    )
    rows = [row("holes", _("What holes take off"), [says], law)]
    for place in law["places"]:
        for number, size in enumerate(place["sizes"], start=1):
            address = f"hole.{place['id']}.{number}"
            size_says = [_size(place["sizes"], number - 1), _severity(law, size), _mending(pack, size)]
            rows.append(row(address, size["label"], size_says, size, place["label"]))
    return rows


def _size(sizes: list[Json], index: int) -> str:
    up_to = sizes[index]["up_to_mm"]
    if up_to is not None:
        return _("To {mm} mm.", mm=figure(up_to))
    return _("Over {mm} mm.", mm=figure(sizes[index - 1]["up_to_mm"])) if index else _("Of any size.")


def _severity(law: Json, size: Json) -> str:
    def alone(severity: float) -> str:
        return percent(-law["a"] * math.log(1 + severity / law["b"]))

    left_open, plugged = size["severity"], size["severity_plugged"]
    return _(
        "Open: severity {open}, alone {open_alone}. Plugged: severity {plugged}, alone {plugged_alone}.",
        open=figure(left_open), open_alone=alone(left_open),
        plugged=figure(plugged), plugged_alone=alone(plugged),
    )  # fmt: skip


def _mending(pack: Json, size: Json) -> str:
    if not size["task"]:
        return ""
    share = _("{share} of it can be mended.", share=of_whole(size["fixable"]))
    return " ".join([share, *calls(pack, {"tasks": [size["task"]], "cautions": []})])
