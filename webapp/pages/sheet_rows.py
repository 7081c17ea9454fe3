"""A model sheet as people read it. Twin of static/js/ui/sheet_rows.js."""

from webapp.pages.part_rows import trade
from webapp.pages.rule_figures import figure, names, of_hundred, percent, spread, supply
from webapp.pages.rule_row import Json, by_id, row


def sheet_rows(pack: Json, sheet: Json) -> list[Json]:
    """The rows of a model sheet on the family of that pack; `sheet`: its document of overrides."""
    head, reference, name = sheet["sheet"], sheet["reference"], sheet["name"]
    address, currency = f"sheet.{head['id']}", pack["reference"]["currency"]
    rows = [row(address, name, [sheet["about"], *_head(pack, head, sheet["absent"])], head, name)]
    if reference:
        says = [
            f"{figure(reference['median'])} {currency}." if "median" in reference else "",
            f"Known to {spread(reference['log_sd'])}." if "log_sd" in reference else "",
            f"Like sets differ by {spread(reference['market_log_sd'])}."
            if "market_log_sd" in reference
            else "",
        ]
        rows.append(row(f"{address}.reference", "A complete one, as made, untested", says, reference, name))
    for part in sheet["parts"]:
        weight = [f"Weight {figure(part['weight'])} in completeness."] if "weight" in part else []
        label = by_id(pack["parts"], part["id"])["label"]
        rows.append(row(f"{address}.{part['id']}", label, weight + trade(part, currency), part, name))
    for extra in sheet["extra"]:
        says = [
            f"Only this type has it. Weight {figure(extra['weight'])} in completeness.",
            *trade(extra, currency),
            f"Gone in {of_hundred(extra['gone_prior'])} sets: price {percent(extra['gone_effect'])}.",
            f"Looked at: {by_id(pack['stages'], extra['stage'])['title']}.",
        ]
        rows.append(row(extra["id"], extra["label"], says, extra, name))
    return rows


def _head(pack: Json, head: Json, absent: list[str]) -> list[str]:
    """What a model sheet says of its type."""
    says = []
    if "coverage_khz" in head:
        says.append(f"Coverage {figure(head['coverage_khz'][0])} to {figure(head['coverage_khz'][1])} kHz.")
    if "crystal_khz" in head:
        says.append(f"Check crystal {figure(head['crystal_khz'])} kHz.")
    for key, text in (
        ("service", "Ordered by: {}."),
        ("finish", "Finish: {}."),
        ("book", "Calibration book: {}."),
    ):
        if key in head:
            says.append(text.format(head[key]))
    if "supply_volts" in head:
        says.append(supply(head["supply_volts"]))
    for string in head.get("heater_strings", []):
        tubes = [f"{figure(tube['volts'])} V {figure(tube['amps'])} A" for tube in string]
        says.append(f"Heaters in line: {names(tubes)}.")
    if absent:
        says.append(f"Never had: {names([by_id(pack['parts'], part)['label'] for part in absent])}.")
    return says
