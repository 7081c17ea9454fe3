"""The parts of a family as people read them. Twin of static/js/ui/part_rows.js."""

from webapp.pages.rule_figures import estimate, figure
from webapp.pages.rule_row import Json, row


def part_rows(pack: Json) -> list[Json]:
    """The parts of a family."""
    rows = []
    for part in pack["parts"]:
        says = [
            f"Weight {figure(part['weight'])} in completeness.",
            *trade(part, pack["reference"]["currency"]),
        ]
        says.append(f"To find: {part['find']}.")
        if part["calibration"]:
            says.append("The set needs it to read true.")
        if part["fits_family"]:
            says.append("Fits other types of the family.")
        rows.append(row(f"part.{part['id']}", part["label"], says, part))
    return rows


def trade(part: Json, currency: str) -> list[str]:
    """What a part fetches and costs, as far as the row says so."""
    says = [f"Fetches {estimate(part['salvage'], currency)}."] if part.get("salvage") else []
    if part.get("buy"):
        return [*says, f"Costs {estimate(part['buy'], currency)}."]
    return [*says, "Nobody sells it."] if "buy" in part else says
