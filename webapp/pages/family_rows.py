"""The rows of one family as people read them. Twin of static/js/ui/family_rows.js."""

from collections.abc import Mapping

from webapp.pages.check_rows import calls, check_rows, hole_rows
from webapp.pages.face_rows import face_rows
from webapp.pages.part_rows import part_rows
from webapp.pages.rule_figures import effect, estimate, figure, names, of_hundred, percent, spread, supply
from webapp.pages.rule_row import Json, by_id, row, table
from webapp.pages.sheet_rows import sheet_rows


def family_tables(pack: Json, sheets: Mapping[str, Json]) -> list[Json]:
    """The tables of a family with its model sheets, in the order of the walk and what follows from it."""
    checks = [
        table(f"checks-{stage['id']}", f"Checks: {stage['title']}", check_rows(pack, stage["id"]))
        for stage in pack["stages"]
    ]
    own = [sheet for sheet in sheets.values() if sheet["sheet"]["family"] == pack["family"]]
    return [
        table("price", "What it starts from", _prices(pack)),
        *checks,
        table("holes", "Added holes", hole_rows(pack)),
        table("faces", "Faces that holes are drawn on", face_rows(pack)),
        table("effects", "What is compared", _effects(pack)),
        table("parts", "Parts", part_rows(pack)),
        table("tasks", "Work", [_task(pack, task) for task in pack["tasks"]]),
        table("sheets", "Model sheets", [found for sheet in own for found in sheet_rows(pack, sheet)]),
    ]


def _prices(pack: Json) -> list[Json]:
    money, breaking = pack["reference"], pack["breaking"]
    says = [
        f"{figure(money['median'])} {money['currency']}, known to {spread(money['log_sd'])}.",
        f"Like sets differ by {spread(money['market_log_sd'])}.",
        f"One sale that you enter tells it to {spread(money['comparable_log_sd'])}, "
        f"and counts half after {figure(money['half_life_years'])} years.",
    ]
    parting = [
        f"{of_hundred(pack['sell_through'])} parts find a buyer.",
        f"Taking it apart: {estimate(pack['break_hours'], 'h')}.",
    ]
    return [
        row("reference", "A complete one, as made, untested", says, money),
        row("asked", "Asked prices", [f"Against sold ones: {effect(money['asked'])}."], pack["asked"]),
        *(
            row(f"state.{state['id']}", state["label"], [f"Price {percent(state['offset'])}."], state)
            for state in pack["states"]
        ),
        row("breaking", "Sold in parts", parting, breaking),
    ]


def _effects(pack: Json) -> list[Json]:
    effects, words = pack["effects"], pack["words"]
    coverage = [
        f"Reaches an amateur band: price {effect(effects['coverage_in_band'])}.",
        f"Reaches none: price {effect(effects['coverage_out_of_band'])}.",
        f"Not known: {of_hundred(effects['in_band_prior'])} sets reach one.",
    ]
    rows = [row("coverage", words["reason-coverage"], coverage, effects["coverage"])]
    for name, key, part in (
        ("crystal_foreign", "crystal", effects["crystal_part"]),
        ("book_foreign", "serial", effects["book_part"]),
        ("heaters_misfit", "heaters", None),
    ):
        if key in effects:
            says = [f"Price {effect(effects[name])}."]
            if part:
                says.append(f"Looks at the part: {by_id(pack['parts'], part)['label']}.")
            if key == "heaters":
                says.append(supply(pack["supply_volts"]))
            rows.append(row(name, words[f"reason-{name}"], says, effects[key]))
    plate = [f"Price {effect(effects['designation_misfit'])}.", *_letters(pack)]
    finish = [f"Price {effect(effects['finish_misfit'])}."]
    return [
        *rows,
        row("designation_misfit", words["reason-designation_misfit"], plate, effects["designation"]),
        row("finish_misfit", words["reason-finish_misfit"], finish, effects["finish"]),
    ]


def _letters(pack: Json) -> list[str]:
    """The letters on a plate that name this family."""
    named = pack["nomenclature"].get("families", {}).get(pack["family"], {})
    says = [f"Sets of this family: {names(named['sets'])}."] if named.get("sets") else []
    return says + ([f"Units of this family: {names(named['units'])}."] if named.get("units") else [])


def _task(pack: Json, task: Json) -> Json:
    says = [_work(task["set_up"], pack["reference"]["currency"])]
    if task["each"]:
        says.append(f"For each piece: {_work(task['each'], pack['reference']['currency'])}")
    aims = [by_id(pack["aims"], aim)["label"] for aim in task["aims"]]
    says.append("For every aim." if len(aims) == len(pack["aims"]) else f"For: {names(aims)}.")
    after = [by_id(pack["tasks"], other)["label"] for other in task["after"]]
    if after:
        says.append(f"After: {'; '.join(after)}.")
    says.append("Can be undone in part." if task["undo"] == "partly" else f"{task['undo'].capitalize()}.")
    cautions = calls(pack, {"cautions": task["cautions"]})
    stage = by_id(pack["plan_stages"], task["stage"])["label"]
    return row(f"task.{task['id']}", task["label"], says + cautions, task, stage)


def _work(work: Json, currency: str) -> str:
    return f"{estimate(work['hours'], 'h')}; materials {estimate(work['materials'], currency)}."
