"""The tables for plates, holes and tubes as people read them. Twin of static/js/ui/reference_rows.js."""

from webapp.pages.rule_figures import figure, inches, names
from webapp.pages.rule_row import Json, each, row, table
from webapp.pages.texts import _


def designation_tables(found: Json) -> list[Json]:
    """What a type designation, a stamp and an order number say."""
    orders = [_order(found["order"])] if found["order"] else []
    return [
        table("letters", _("Type designations: letters"), each(found["letters"], _letter)),
        table("indicators", _("Type designations: units"), each(found["indicators"].values(), _indicator)),
        table("grammar", _("Type designations: how they are written"), each(found["grammar"], _grammar)),
        table("stamps", _("Stamps and order numbers"), each(found["stamps"], _stamp) + orders),
    ]


def _order(order: Json) -> Json:
    years = {"from": order["from_year"], "to": order["to_year"]}
    says = [
        _("The last two digits count as a year from {from} to {to}.", **years),
        _("Words that stand before it: {words}.", words=names(order["marks"])),
    ]
    return row("order", _("Order numbers"), says, order)


def _letter(letter: Json) -> Json:
    says = [f"{letter['meaning']}.", _("When: {period}.", period=letter["period"])]
    place = {
        "installation": _("Place: installation"),
        "equipment": _("Place: equipment"),
        "purpose": _("Place: purpose"),
    }[letter["place"]]
    return row(f"letter.{letter['id']}", letter["letter"], says, letter, place)


def _indicator(indicator: Json) -> Json:
    return row(f"indicator.{indicator['id']}", indicator["code"], [f"{indicator['meaning']}."], indicator)


def _grammar(form: Json) -> Json:
    says = [form["meaning"], _("Such as {example}.", example=form["example"])]
    if "letters" in form:
        says.append(_("Letters in their order: {letters}.", letters=", ".join(form["letters"])))
    return row(f"grammar.{form['id']}", form["form"], says, form)


def _stamp(stamp: Json) -> Json:
    return row(f"stamp.{stamp['id']}", stamp["label"], [stamp["tells"]], stamp)


def hole_tables(found: Json) -> list[Json]:
    """What sits in a hole, and the charts of screws and drills."""
    charts = found["reference"]
    sizes = [
        *each(found["components"], _component),
        *each(found["tolerances"], _tolerance),
        _limits(found["limits"]),
    ]
    return [
        table("components", _("What sits in a hole"), sizes),
        table("clearances", _("Holes for metric screws"), each(charts["clearances"], _clearance)),
        table("screws", _("Holes for inch screws"), each(charts["screws"], _screw)),
        table("shop-screws", _("Inch screws, an older chart"), each(charts["shop_screws"], _shop_screw)),
        table("drills", _("Drills by number, letter and fraction"), each(charts["drills"], _drill)),
    ]


def _component(component: Json) -> Json:
    low, high = figure(component["from_mm"]), figure(component["to_mm"])
    size = f"{low} mm." if low == high else _("{from} to {to} mm.", **{"from": low, "to": high})
    says = [size, component.get("extra", ""), component.get("hint", "")]
    return row(f"component.{component['id']}", component["label"], says, component, _kind(component["kind"]))


def _kind(kind: str) -> str:
    return {
        "jack": _("Kind: jack"),
        "switch": _("Kind: switch"),
        "control": _("Kind: control"),
        "coaxial socket": _("Kind: coaxial socket"),
        "tube socket": _("Kind: tube socket"),
        "meter": _("Kind: meter"),
        "fuse holder": _("Kind: fuse holder"),
        "lamp": _("Kind: lamp"),
        "grommet": _("Kind: grommet"),
        "screw": _("Kind: screw"),
    }[kind]


def _tolerance(tolerance: Json) -> Json:
    says = [_("Up to {mm} mm off.", mm=figure(tolerance["mm"]))]
    return row(f"tolerance.{tolerance['id']}", tolerance["label"], says, tolerance, _("Measuring"))


def _limits(limits: Json) -> Json:
    ends = {"from": figure(limits["smallest_mm"]), "to": figure(limits["largest_mm"])}
    says = [
        _("From {from} to {to} mm.", **ends),
        _("At most {count} parts are named.", count=limits["named"]),
    ]
    return row("limits", _("Holes that can be entered"), says, limits, _("Measuring"))


def _clearance(clearance: Json) -> Json:
    sizes = {name: figure(clearance[f"{name}_mm"]) for name in ("fine", "medium", "coarse")}
    says = [_("Fine {fine}, medium {medium}, coarse {coarse} mm.", **sizes)]
    return row(f"clearance.{clearance['id']}", clearance["thread"], says, clearance)


def _screw(screw: Json) -> Json:
    sizes = {name: figure(screw[f"{name}_mm"]) for name in ("close", "normal", "loose")}
    says = [
        _(
            "Close {close}, normal {normal}, loose {loose} mm; the screw itself {major}.",
            **sizes,
            major=inches(screw["major_inch"]),
        )
    ]
    return row(f"screw.{screw['id']}", screw["screw"], says, screw)


def _shop_screw(screw: Json) -> Json:
    says = [
        _("Close: drill {drill}, {size}.", drill=screw["close_drill"], size=inches(screw["close_inch"])),
        _("Free: drill {drill}, {size}.", drill=screw["free_drill"], size=inches(screw["free_inch"])),
    ]
    return row(f"shop-screw.{screw['id']}", screw["screw"], says, screw)


def _drill(drill: Json) -> Json:
    return row(
        f"drill.{drill['id']}", _("Drill {name}", name=drill["name"]), [f"{inches(drill['inch'])}."], drill
    )


def tube_rows(found: Json) -> list[Json]:
    """What a tube number says of the heater."""
    return [
        *each(found["leads"], _lead),
        *_numbers_with_letters(found),
        *each(found["suffixes"], _suffix),
        *_numbers_alone(found),
        *_numbers_of_1942_to_1944(found),
    ]


def _lead(lead: Json) -> Json:
    volts = [figure(value) for value in lead["volts"]]
    heater = _("Heater {volts} V.", volts=names(volts, "or")) if volts else _("No heater.")
    title = _("First number {number}", number=lead["lead"])
    return row(f"tube.{lead['id']}", title, [heater, lead.get("note", "")], lead, _("First number"))


def _numbers_with_letters(found: Json) -> list[Json]:
    group = _("Numbers with letters")
    unused, ray = found["not_used"], found["cathode_ray"]
    return [
        row("tube.not-used", _("Not used: {letters}", letters=unused["letters"]), [], unused, group),
        row(
            "tube.cathode-ray",
            _("Second letter {letter}", letter=ray["letter"]),
            [_("A cathode-ray tube.")],
            ray,
            group,
        ),
    ]


def _suffix(suffix: Json) -> Json:
    title = _("Ending {ending}", ending=suffix["suffix"])
    return row(f"tube.{suffix['id']}", title, [f"{suffix['label']}."], suffix, _("Endings"))


def _numbers_alone(found: Json) -> list[Json]:
    group = _("Numbers alone")
    older, industrial = found["older"], found["industrial"]
    figures = _("{fewest} to {most} figures.", fewest=older["fewest_figures"], most=older["most_figures"])
    first = _("From {first} up.", first=industrial["first"])
    return [
        row("tube.older", _("Older, numerical types"), [figures], older, group),
        row("tube.industrial", _("Industrial types"), [first], industrial, group),
    ]


def _numbers_of_1942_to_1944(found: Json) -> list[Json]:
    group = _("Numbers of 1942 to 1944")
    rows = [(_("First figure {figure}", figure=one["digit"]), one) for one in found["power_classes"]]
    rows += [(_("Letter {letter}", letter=one["letter"]), one) for one in found["letters"]]
    serials = found["serials"]
    return [
        *(row(f"tube.{one['id']}", title, [f"{one['label']}."], one, group) for title, one in rows),
        row(
            "tube.serials",
            _("Serial figures"),
            [_("From {first} up.", first=serials["first"])],
            serials,
            group,
        ),
    ]
