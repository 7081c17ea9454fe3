"""The parts of a family as people read them. Twin of static/js/ui/part_rows.js."""

from webapp.pages.rule_figures import estimate, figure
from webapp.pages.rule_row import Json, row
from webapp.pages.texts import _


def part_rows(pack: Json) -> list[Json]:
    """The parts of a family."""
    rows = []
    for part in pack["parts"]:
        says = [weight(part), *trade(part, pack["reference"]["currency"]), _find(part)]
        if part["calibration"]:
            says.append(_("The set needs it to read true."))
        if part["fits_family"]:
            says.append(_("Fits other types of the family."))
        rows.append(row(f"part.{part['id']}", part["label"], says, part))
    return rows


def _find(part: Json) -> str:
    return {
        "easy": _("To find: easy."),
        "takes patience": _("To find: takes patience."),
        "hard": _("To find: hard."),
        "not to be had": _("To find: not to be had."),
    }[part["find"]]


def weight(part: Json) -> str:
    """The sentence for a part's weight."""
    return _("Weight {weight} in completeness.", weight=figure(part["weight"]))


def trade(part: Json, currency: str) -> list[str]:
    """What a part fetches and costs, as far as the row says so."""
    says = []
    if part.get("salvage"):
        says.append(_("Fetches {money}.", money=estimate(part["salvage"], currency)))
    if part.get("buy"):
        says.append(_("Costs {money}.", money=estimate(part["buy"], currency)))
    elif "buy" in part:
        says.append(_("Nobody sells it."))
    return says
