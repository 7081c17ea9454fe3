"""The rows that belong to no family as people read them. Twin of static/js/ui/common_rows.js."""

from webapp.pages.reference_rows import designation_tables, hole_tables, tube_rows
from webapp.pages.rule_figures import figure, names
from webapp.pages.rule_row import Json, each, row, table


def common_tables(pack: Json) -> list[Json]:
    """The tables that every pack carries alike."""
    return [
        table("cautions", "Cautions", [_caution(pack, caution) for caution in pack["cautions"]]),
        table(
            "signs",
            "Safety signs",
            [row(f"sign.{s['id']}", s["id"], [f"{s['name']}."], s) for s in pack["signs"].values()],
        ),
        table(
            "services",
            "Services and their finishes",
            [_service(pack, service) for service in pack["services"]],
        ),
        table("bands", "Amateur bands", each(pack["band_rows"].values(), _band)),
        table("index", "What money bought, by year", _index(pack)),
        *designation_tables(pack["nomenclature"]),
        *hole_tables(pack["component_holes"]),
        table("scale", "Things of known size", _scale(pack["scale_objects"])),
        table("measuring", "Measuring in photos", _constants(pack["measuring"]["rows"], "measuring")),
        table("tubes", "Tube numbers", tube_rows(pack["tube_numbers"])),
        table("constants", "Fixed numbers of the arithmetic", _constants(pack["constant_rows"], "constant")),
    ]


def _caution(pack: Json, caution: Json) -> Json:
    sign = pack["signs"][caution["sign"]]["name"]
    always = "Shown before the first check." if caution["standing"] else ""
    says = [
        f"Look for: {caution['look']}",
        caution["text"],
        caution["who"],
        f"Sign {caution['sign']}: {sign}.",
        always,
    ]
    return row(f"caution.{caution['id']}", caution["title"], says, caution)


def _service(pack: Json, service: Json) -> Json:
    labels = {finish["id"]: finish for finish in pack["finishes"]}
    finishes = [labels[finish]["label"] for finish in service["finishes"]]
    says = [f"Ordered: {names(finishes)}."]
    if service["words"]:
        says.append(f"Also called: {names(service['words'])}.")
    says += [
        f"{labels[f]['label']}: also {names(labels[f]['words'])}."
        for f in service["finishes"]
        if labels[f]["words"]
    ]
    return row(f"service.{service['id']}", service["label"], says, service)


def _band(band: Json) -> Json:
    says = [f"{figure(band['from_khz'])} to {figure(band['to_khz'])} kHz."]
    return row(f"band.{band['id']}", band["name"], says, band, f"Region {band['region']}")


def _index(pack: Json) -> list[Json]:
    series, months = pack["index_series"], pack["index"]
    rows = []
    if series:
        says = [f"{series['name']}.", f"Used for {series['currency']} only."]
        rows.append(row("index", "The index", says, series))
    for year in pack["index_years"].values():
        found = [
            f"{month[5:]}: {figure(months[month])}" for month in months if month.startswith(f"{year['id']}-")
        ]
        rows.append(row(f"year.{year['id']}", year["id"], [f"By month: {', '.join(found)}."], year, "Years"))
    return rows


def _scale(found: Json) -> list[Json]:
    rows = []
    for card in found["cards"]:
        says = [
            f"{figure(card['width_mm'])} by {figure(card['height_mm'])} mm.",
            f"{figure(card['thick_mm'])} mm thick, corners rounded to {figure(card['corner_mm'])} mm.",
        ]
        rows.append(row(f"card.{card['id']}", card["label"], says, card))
    for coin in found["coins"]:
        rows.append(row(f"coin.{coin['id']}", coin["label"], [f"{figure(coin['diameter_mm'])} mm."], coin))
    return rows


def _constants(found: Json, name: str) -> list[Json]:
    return [
        row(f"{name}.{one['id']}", one["id"].replace("_", " "), [f"{figure(one['value'])}."], one)
        for one in found.values()
    ]
