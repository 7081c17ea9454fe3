"""A model sheet as people read it. Twin of static/js/ui/sheet_rows.js."""

from webapp.pages.part_rows import trade, weight
from webapp.pages.rule_figures import figure, names, of_hundred, percent, spread, supply
from webapp.pages.rule_row import Json, by_id, row
from webapp.pages.texts import _


def sheet_rows(pack: Json, sheet: Json) -> list[Json]:
    """The rows of a model sheet on the family of that pack; `sheet`: its document of overrides."""
    head, reference, name = sheet["sheet"], sheet["reference"], sheet["name"]
    address, currency = f"sheet.{head['id']}", pack["reference"]["currency"]
    rows = [row(address, name, [sheet["about"], *_head(pack, head, sheet["absent"])], head, name)]
    if reference:
        says = _reference(reference, currency)
        rows.append(
            row(f"{address}.reference", _("A complete one, as made, untested"), says, reference, name)
        )
    for part in sheet["parts"]:
        says = [*([weight(part)] if "weight" in part else []), *trade(part, currency)]
        label = by_id(pack["parts"], part["id"])["label"]
        rows.append(row(f"{address}.{part['id']}", label, says, part, name))
    for extra in sheet["extra"]:
        rows.append(row(extra["id"], extra["label"], _extra(pack, extra, currency), extra, name))
    return rows


def _reference(reference: Json, currency: str) -> list[str]:
    says = [f"{figure(reference['median'])} {currency}."] if "median" in reference else []
    if "log_sd" in reference:
        says.append(_("Known to {spread}.", spread=spread(reference["log_sd"])))
    if "market_log_sd" in reference:
        says.append(_("Like sets differ by {spread}.", spread=spread(reference["market_log_sd"])))
    return says


def _extra(pack: Json, extra: Json, currency: str) -> list[str]:
    return [
        " ".join([_("Only this type has it."), weight(extra)]),
        *trade(extra, currency),
        _(
            "Gone in {share} sets: price {change}.",
            share=of_hundred(extra["gone_prior"]), change=percent(extra["gone_effect"]),
        ),
        _("Looked at: {stage}.", stage=by_id(pack["stages"], extra["stage"])["title"]),
    ]  # fmt: skip


def _head(pack: Json, head: Json, absent: list[str]) -> list[str]:
    """What a model sheet says of its type."""
    says = []
    if "coverage_khz" in head:
        low, high = head["coverage_khz"]
        says.append(_("Coverage {from} to {to} kHz.", **{"from": figure(low), "to": figure(high)}))
    if "crystal_khz" in head:
        says.append(_("Check crystal {khz} kHz.", khz=figure(head["crystal_khz"])))
    if "service" in head:
        says.append(_("Ordered by: {service}.", service=head["service"]))
    if "finish" in head:
        says.append(_("Finish: {finish}.", finish=head["finish"]))
    if "book" in head:
        says.append(_book(head["book"]))
    if "supply_volts" in head:
        says.append(supply(head["supply_volts"]))
    for string in head.get("heater_strings", []):
        tubes = [f"{figure(tube['volts'])} V {figure(tube['amps'])} A" for tube in string]
        says.append(_("Heaters in line: {heaters}.", heaters=names(tubes)))
    if absent:
        parts = [by_id(pack["parts"], part)["label"] for part in absent]
        says.append(_("Never had: {parts}.", parts=names(parts)))
    return says


def _book(belongs: str) -> str:
    return {
        "by serial": _("Calibration book: by serial."),
        "by model": _("Calibration book: by model."),
        "none": _("Calibration book: none."),
    }[belongs]
