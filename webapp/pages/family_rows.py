"""The rows of one family as people read them. Twin of static/js/ui/family_rows.js."""

from collections.abc import Mapping

from webapp.pages.check_rows import calls, check_rows, hole_rows
from webapp.pages.face_rows import face_rows
from webapp.pages.part_rows import part_rows
from webapp.pages.rule_figures import effect, estimate, figure, names, of_hundred, percent, spread, supply
from webapp.pages.rule_row import Json, by_id, each, row, table
from webapp.pages.sheet_rows import sheet_rows
from webapp.pages.texts import _


def family_tables(pack: Json, sheets: Mapping[str, Json]) -> list[Json]:
    """The tables of a family with its model sheets, in the order of the walk and what follows from it."""
    checks = [
        table(
            f"checks-{stage['id']}", _("Checks: {stage}", stage=stage["title"]), check_rows(pack, stage["id"])
        )
        for stage in pack["stages"]
    ]
    own = [sheet for sheet in sheets.values() if sheet["sheet"]["family"] == pack["family"]]
    return [
        table("price", _("What it starts from"), _prices(pack)),
        *checks,
        table("holes", _("Added holes"), hole_rows(pack)),
        table("faces", _("Faces that holes are drawn on"), face_rows(pack)),
        table("effects", _("What is compared"), _effects(pack)),
        table("parts", _("Parts"), part_rows(pack)),
        table("tasks", _("Work"), [_task(pack, task) for task in pack["tasks"]]),
        table("sheets", _("Model sheets"), [found for sheet in own for found in sheet_rows(pack, sheet)]),
    ]


def _prices(pack: Json) -> list[Json]:
    money, breaking = pack["reference"], pack["breaking"]
    says = [
        _(
            "{price} {currency}, known to {spread}.",
            price=figure(money["median"]), currency=money["currency"], spread=spread(money["log_sd"]),
        ),
        _("Like sets differ by {spread}.", spread=spread(money["market_log_sd"])),
        _(
            "One sale that you enter tells it to {spread}, and counts half after {years} years.",
            spread=spread(money["comparable_log_sd"]), years=figure(money["half_life_years"]),
        ),
    ]  # fmt: skip
    asked = [_("Against sold ones: {change}.", change=effect(money["asked"]))]
    parting = [
        _("{share} parts find a buyer.", share=of_hundred(pack["sell_through"])),
        _("Taking it apart: {hours}.", hours=estimate(pack["break_hours"], "h")),
    ]
    return [
        row("reference", _("A complete one, as made, untested"), says, money),
        row("asked", _("Asked prices"), asked, pack["asked"]),
        *each(pack["states"], _state),
        row("breaking", _("Sold in parts"), parting, breaking),
    ]


def _state(state: Json) -> Json:
    says = [_("Price {change}.", change=percent(state["offset"]))]
    return row(f"state.{state['id']}", state["label"], says, state)


def _effects(pack: Json) -> list[Json]:
    effects, words = pack["effects"], pack["words"]
    coverage = [
        _("Reaches an amateur band: price {change}.", change=effect(effects["coverage_in_band"])),
        _("Reaches none: price {change}.", change=effect(effects["coverage_out_of_band"])),
        _("Not known: {share} sets reach one.", share=of_hundred(effects["in_band_prior"])),
    ]
    rows = [row("coverage", words["reason-coverage"], coverage, effects["coverage"])]
    for name, key, part in (
        ("crystal_foreign", "crystal", effects["crystal_part"]),
        ("book_foreign", "serial", effects["book_part"]),
        ("heaters_misfit", "heaters", None),
    ):
        if key in effects:
            says = [_("Price {change}.", change=effect(effects[name]))]
            if part:
                says.append(_("Looks at the part: {part}.", part=by_id(pack["parts"], part)["label"]))
            if key == "heaters":
                says.append(supply(pack["supply_volts"]))
            rows.append(row(name, words[f"reason-{name}"], says, effects[key]))
    plate = [_("Price {change}.", change=effect(effects["designation_misfit"])), *_letters(pack)]
    finish = [_("Price {change}.", change=effect(effects["finish_misfit"]))]
    return [
        *rows,
        row("designation_misfit", words["reason-designation_misfit"], plate, effects["designation"]),
        row("finish_misfit", words["reason-finish_misfit"], finish, effects["finish"]),
    ]


def _letters(pack: Json) -> list[str]:
    """The letters on a plate that name this family."""
    named = pack["nomenclature"].get("families", {}).get(pack["family"], {})
    says = []
    if named.get("sets"):
        says.append(_("Sets of this family: {letters}.", letters=names(named["sets"])))
    if named.get("units"):
        says.append(_("Units of this family: {letters}.", letters=names(named["units"])))
    return says


def _task(pack: Json, task: Json) -> Json:
    says = [_work(task["set_up"], pack["reference"]["currency"])]
    if task["each"]:
        says.append(_("For each piece: {work}", work=_work(task["each"], pack["reference"]["currency"])))
    aims = [by_id(pack["aims"], aim)["label"] for aim in task["aims"]]
    every = len(aims) == len(pack["aims"])
    says.append(_("For every aim.") if every else _("For: {aims}.", aims=names(aims)))
    after = [by_id(pack["tasks"], other)["label"] for other in task["after"]]
    if after:
        says.append(_("After: {tasks}.", tasks="; ".join(after)))
    says.append(_undo(task["undo"]))
    cautions = calls(pack, {"cautions": task["cautions"]})
    stage = by_id(pack["plan_stages"], task["stage"])["label"]
    return row(f"task.{task['id']}", task["label"], says + cautions, task, stage)


def _undo(undo: str) -> str:
    return {
        "can be undone": _("Can be undone."),
        "partly": _("Can be undone in part."),
        "cannot be undone": _("Cannot be undone."),
    }[undo]


def _work(work: Json, currency: str) -> str:
    hours, materials = estimate(work["hours"], "h"), estimate(work["materials"], currency)
    return _("{hours}; materials {money}.", hours=hours, money=materials)
