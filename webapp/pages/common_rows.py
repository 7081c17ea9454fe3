"""The rows that belong to no family as people read them. Twin of static/js/ui/common_rows.js."""

from webapp.pages.reference_rows import designation_tables, hole_tables, tube_rows
from webapp.pages.rule_figures import figure, names
from webapp.pages.rule_row import Json, each, row, table
from webapp.pages.texts import _


def common_tables(pack: Json) -> list[Json]:
    """The tables that every pack carries alike."""
    return [
        table("cautions", _("Cautions"), [_caution(pack, caution) for caution in pack["cautions"]]),
        table("signs", _("Safety signs"), each(pack["signs"].values(), _sign)),
        table(
            "services",
            _("Services and their finishes"),
            [_service(pack, service) for service in pack["services"]],
        ),
        table("bands", _("Amateur bands"), each(pack["band_rows"].values(), _band)),
        table("index", _("What money bought, by year"), _index(pack)),
        *designation_tables(pack["nomenclature"]),
        *hole_tables(pack["component_holes"]),
        table("scale", _("Things of known size"), _scale(pack["scale_objects"])),
        table("measuring", _("Measuring in photos"), _constants(pack["measuring"]["rows"], "measuring")),
        table("tubes", _("Tube numbers"), tube_rows(pack["tube_numbers"])),
        table(
            "constants", _("Fixed numbers of the arithmetic"), _constants(pack["constant_rows"], "constant")
        ),
    ]


def _caution(pack: Json, caution: Json) -> Json:
    sign = pack["signs"][caution["sign"]]["name"]
    says = [
        _("Look for: {signs}", signs=caution["look"]),
        caution["text"],
        caution["who"],
        _("Sign {sign}: {name}.", sign=caution["sign"], name=sign),
        _("Shown before the first check.") if caution["standing"] else "",
    ]
    return row(f"caution.{caution['id']}", caution["title"], says, caution)


def _sign(sign: Json) -> Json:
    return row(f"sign.{sign['id']}", sign["id"], [f"{sign['name']}."], sign)


def _service(pack: Json, service: Json) -> Json:
    finishes = {finish["id"]: finish for finish in pack["finishes"]}
    ordered = [finishes[finish] for finish in service["finishes"]]
    says = [_("Ordered: {finishes}.", finishes=names([finish["label"] for finish in ordered]))]
    if service["words"]:
        says.append(_("Also called: {words}.", words=names(service["words"])))
    says += [
        _("{finish}: also {words}.", finish=finish["label"], words=names(finish["words"]))
        for finish in ordered
        if finish["words"]
    ]
    return row(f"service.{service['id']}", service["label"], says, service)


def _band(band: Json) -> Json:
    edges = {"from": figure(band["from_khz"]), "to": figure(band["to_khz"])}
    region = _("Region {region}", region=band["region"])
    return row(f"band.{band['id']}", band["name"], [_("{from} to {to} kHz.", **edges)], band, region)


def _index(pack: Json) -> list[Json]:
    series, months = pack["index_series"], pack["index"]
    rows = []
    if series:
        says = [f"{series['name']}.", _("Used for {currency} only.", currency=series["currency"])]
        rows.append(row("index", _("The index"), says, series))
    for year in pack["index_years"].values():
        found = [
            f"{month[5:]}: {figure(months[month])}" for month in months if month.startswith(f"{year['id']}-")
        ]
        says = [_("By month: {values}.", values=", ".join(found))]
        rows.append(row(f"year.{year['id']}", year["id"], says, year, _("Years")))
    return rows


def _scale(found: Json) -> list[Json]:
    rows = []
    for card in found["cards"]:
        says = [
            _(
                "{width} by {height} mm.",
                width=figure(card["width_mm"]), height=figure(card["height_mm"]),
            ),
            _(
                "{thick} mm thick, corners rounded to {corner} mm.",
                thick=figure(card["thick_mm"]), corner=figure(card["corner_mm"]),
            ),
        ]  # fmt: skip
        rows.append(row(f"card.{card['id']}", card["label"], says, card))
    for coin in found["coins"]:
        rows.append(row(f"coin.{coin['id']}", coin["label"], [f"{figure(coin['diameter_mm'])} mm."], coin))
    return rows


def _constants(found: Json, name: str) -> list[Json]:
    return [
        row(f"{name}.{one['id']}", one["id"].replace("_", " "), [f"{figure(one['value'])}."], one)
        for one in found.values()
    ]
