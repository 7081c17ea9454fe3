"""The tables for plates, holes and tubes as people read them. Twin of static/js/ui/reference_rows.js."""

from webapp.pages.rule_figures import figure, inches, names
from webapp.pages.rule_row import Json, each, row, table


def designation_tables(found: Json) -> list[Json]:
    """What a type designation, a stamp and an order number say."""
    order = found["order"]
    orders = []
    if order:
        says = [
            f"The last two digits count as a year from {order['from_year']} to {order['to_year']}.",
            f"Words that stand before it: {names(order['marks'])}.",
        ]
        orders.append(row("order", "Order numbers", says, order))
    return [
        table("letters", "Type designations: letters", each(found["letters"], _letter)),
        table("indicators", "Type designations: units", each(found["indicators"].values(), _indicator)),
        table("grammar", "Type designations: how they are written", each(found["grammar"], _grammar)),
        table("stamps", "Stamps and order numbers", each(found["stamps"], _stamp) + orders),
    ]


def _letter(letter: Json) -> Json:
    says = [f"{letter['meaning']}.", f"When: {letter['period']}."]
    return row(f"letter.{letter['id']}", letter["letter"], says, letter, f"Place: {letter['place']}")


def _indicator(indicator: Json) -> Json:
    return row(f"indicator.{indicator['id']}", indicator["code"], [f"{indicator['meaning']}."], indicator)


def _grammar(form: Json) -> Json:
    letters = f"Letters in their order: {', '.join(form['letters'])}." if "letters" in form else ""
    says = [form["meaning"], f"Such as {form['example']}.", letters]
    return row(f"grammar.{form['id']}", form["form"], says, form)


def _stamp(stamp: Json) -> Json:
    return row(f"stamp.{stamp['id']}", stamp["label"], [stamp["tells"]], stamp)


def hole_tables(found: Json) -> list[Json]:
    """What sits in a hole, and the charts of screws and drills."""
    limits, charts = found["limits"], found["reference"]
    says = [
        f"From {figure(limits['smallest_mm'])} to {figure(limits['largest_mm'])} mm.",
        f"At most {limits['named']} parts are named.",
    ]
    sizes = [
        *each(found["components"], _component),
        *each(found["tolerances"], _tolerance),
        row("limits", "Holes that can be entered", says, limits, "Measuring"),
    ]
    return [
        table("components", "What sits in a hole", sizes),
        table("clearances", "Holes for metric screws", each(charts["clearances"], _clearance)),
        table("screws", "Holes for inch screws", each(charts["screws"], _screw)),
        table("shop-screws", "Inch screws, an older chart", each(charts["shop_screws"], _shop_screw)),
        table("drills", "Drills by number, letter and fraction", each(charts["drills"], _drill)),
    ]


def _component(component: Json) -> Json:
    low, high = component["from_mm"], component["to_mm"]
    says = [
        f"{figure(low)} mm." if low == high else f"{figure(low)} to {figure(high)} mm.",
        component.get("extra", ""),
        component.get("hint", ""),
    ]
    return row(
        f"component.{component['id']}", component["label"], says, component, f"Kind: {component['kind']}"
    )


def _tolerance(tolerance: Json) -> Json:
    says = [f"Up to {figure(tolerance['mm'])} mm off."]
    return row(f"tolerance.{tolerance['id']}", tolerance["label"], says, tolerance, "Measuring")


def _clearance(row_: Json) -> Json:
    fine, medium, coarse = (figure(row_[f"{name}_mm"]) for name in ("fine", "medium", "coarse"))
    return row(
        f"clearance.{row_['id']}",
        row_["thread"],
        [f"Fine {fine}, medium {medium}, coarse {coarse} mm."],
        row_,
    )


def _screw(screw: Json) -> Json:
    close, normal, loose = (figure(screw[f"{name}_mm"]) for name in ("close", "normal", "loose"))
    says = [
        f"Close {close}, normal {normal}, loose {loose} mm; the screw itself {inches(screw['major_inch'])}."
    ]
    return row(f"screw.{screw['id']}", screw["screw"], says, screw)


def _shop_screw(screw: Json) -> Json:
    says = [
        f"Close: drill {screw['close_drill']}, {inches(screw['close_inch'])}.",
        f"Free: drill {screw['free_drill']}, {inches(screw['free_inch'])}.",
    ]
    return row(f"shop-screw.{screw['id']}", screw["screw"], says, screw)


def _drill(drill: Json) -> Json:
    return row(f"drill.{drill['id']}", f"Drill {drill['name']}", [f"{inches(drill['inch'])}."], drill)


def tube_rows(found: Json) -> list[Json]:
    """What a tube number says of the heater."""
    older, figures = found["older"], "Older, numerical types"
    numbers = f"{older['fewest_figures']} to {older['most_figures']} figures."
    later, power = "Numbers with letters", "Numbers of 1942 to 1944"
    return [
        *(_lead(lead) for lead in found["leads"]),
        row("tube.not-used", f"Not used: {found['not_used']['letters']}", [], found["not_used"], later),
        row(
            "tube.cathode-ray",
            f"Second letter {found['cathode_ray']['letter']}",
            ["A cathode-ray tube."],
            found["cathode_ray"],
            later,
        ),
        *(
            row(f"tube.{s['id']}", f"Ending {s['suffix']}", [f"{s['label']}."], s, "Endings")
            for s in found["suffixes"]
        ),
        row("tube.older", figures, [numbers], older, "Numbers alone"),
        row(
            "tube.industrial",
            "Industrial types",
            [f"From {found['industrial']['first']} up."],
            found["industrial"],
            "Numbers alone",
        ),
        *(
            row(f"tube.{p['id']}", f"First figure {p['digit']}", [f"{p['label']}."], p, power)
            for p in found["power_classes"]
        ),
        *(
            row(f"tube.{c['id']}", f"Letter {c['letter']}", [f"{c['label']}."], c, power)
            for c in found["letters"]
        ),
        row(
            "tube.serials",
            "Serial figures",
            [f"From {found['serials']['first']} up."],
            found["serials"],
            power,
        ),
    ]


def _lead(lead: Json) -> Json:
    volts = [figure(value) for value in lead["volts"]]
    says = [f"Heater {names(volts, 'or')} V." if volts else "No heater.", lead.get("note", "")]
    return row(f"tube.{lead['id']}", f"First number {lead['lead']}", says, lead, "First number")
