"""The walk round as one plain form, for browsers without JavaScript."""

import re
from collections.abc import Callable, Iterator
from typing import Any

from flask_wtf import FlaskForm
from wtforms import RadioField, SelectField, StringField, TextAreaField
from wtforms.fields.choices import SelectChoice
from wtforms.validators import Length, ValidationError

from webapp.pages.texts import _

HOLE_ROWS = 6
UNSEEN = "cannot-look"
# Thousands in groups of three, as in 1,500 or 1.500,50.
_GROUPED = (
    (re.compile(r"^-?\d{1,3}(,\d{3})+(\.\d+)?$"), ","),
    (re.compile(r"^-?\d{1,3}(\.\d{3})+,\d+$"), "."),
)
_WHOLE_THOUSANDS = re.compile(r"^\s*[1-9]\d{0,2}(\.\d{3})+\s*$", re.ASCII)
_TEXTS = ("nameplate", "serial", "book_serial")


def _number_labels() -> dict[str, str]:
    return {
        "coverage_from": _("Lowest figure on the dial, kHz"),
        "coverage_to": _("Highest figure on the dial, kHz"),
        "crystal_khz": _("Figure on the check crystal, kHz"),
        "asking": _("Asking price"),
        "rate": _("Exchange rate"),
        "hour_rate": _("What an hour of your work is worth"),
    }


def _text_labels() -> dict[str, str]:
    labels = (_("Text as it stands there"), _("Serial as stamped"), _("Serial in the book"))
    return dict(zip(_TEXTS, labels, strict=True))


def _plain_number(form: FlaskForm, field: StringField) -> None:
    if field.data and field.data.strip():
        try:
            number(field.data)
        except ValueError:
            raise ValidationError(
                _("“{typed}” is not a number. Write it like 3300 or 4.5.", typed=field.data.strip()[:30])
            ) from None


def _heater_lines(form: FlaskForm, field: TextAreaField) -> None:
    try:
        heater_strings(field.data)
    except ValueError:
        raise ValidationError(
            _("Write each heater as volts and amperes, with a comma between heaters: 12.6 0.15, 12.6 0.15")
        ) from None


def heater_strings(text: str | None) -> list[list[dict[str, float]]]:
    """The heater strings of a text: a line each, heaters parted by commas or semicolons, volts then amperes.

    Raises ValueError for what is not two numbers.
    """
    strings = []
    for line in (text or "").splitlines():
        heaters = []
        for heater in re.split(r"[,;]\s+|[,;]$|;", line.strip()):
            if heater:
                volts, amps = (number(part) for part in re.findall(r"[^\sVvAa]+", heater))
                heaters.append({"volts": volts, "amps": amps})
        if heaters:
            strings.append(heaters)
    return strings


def number(text: str) -> float:
    """The number in a text with a decimal point or comma, and spaces or commas between thousands.

    1,500 is one thousand five hundred. Raises ValueError if there is no number.
    """
    plain = re.sub(r"[\s']", "", text)
    for form, mark in _GROUPED:
        if form.match(plain):
            plain = plain.replace(mark, "")
    return float(plain.replace(",", "."))


def price(text: str) -> float:
    """The sum of money in a text: there 1.500 is fifteen hundred. Raises ValueError if there is no number."""
    return number(text.replace(".", "") if _WHOLE_THOUSANDS.match(text) else text)


def form_class(pack: dict[str, Any]) -> type[FlaskForm]:
    """The form of one pack: a choice a check, resting at "not checked"; numbers; rows for holes."""
    fields: dict[str, Any] = {}
    for check in pack["checks"]:
        choices = [SelectChoice("", _("not checked"))]
        choices += [SelectChoice(option["id"], option["label"]) for option in check["options"]]
        choices.append(SelectChoice(UNSEEN, _("cannot be looked at here")))
        fields[f"check-{check['id']}"] = RadioField(check["label"], choices=choices, default="")
    for name, label in _number_labels().items():
        fields[name] = StringField(label, validators=[_plain_number])
    for name, label in _text_labels().items():
        fields[name] = StringField(label, validators=[Length(max=400)])
    fields["heater_strings"] = TextAreaField(_("Heater strings, one a line"), validators=[_heater_lines])
    fields["currency"] = StringField(_("Currency"), default=pack["reference"]["currency"])
    aims = [SelectChoice(aim["id"], aim["label"]) for aim in pack["aims"]]
    fields["aim"] = SelectField(_("You want it"), choices=aims, default=pack["default_aim"])
    regions = [SelectChoice("", _("not chosen")), *(SelectChoice(number) for number in "123")]
    fields["region"] = SelectField(_("ITU region"), choices=regions, default="")
    places = [SelectChoice("", _("no hole"))]
    places += [SelectChoice(place["id"], place["label"]) for place in pack["holes"]["places"]]
    for row in range(1, HOLE_ROWS + 1):
        fields[f"hole-{row}-place"] = SelectField(_("Hole {number}", number=row), choices=places, default="")
        fields[f"hole-{row}-mm"] = StringField(_("Diameter, mm"), validators=[_plain_number])
        found = [SelectChoice(word, label) for word, label in _as_found().items()]
        fields[f"hole-{row}-found"] = SelectField(_("Found"), choices=found, default="open")
    return type("WalkForm", (FlaskForm,), fields)


def _as_found() -> dict[str, str]:
    return {"open": _("open"), "plugged": _("plugged"), "enlarged": _("enlarged")}


def findings_document(form: FlaskForm, pack: dict[str, Any]) -> dict[str, Any]:
    """The findings document that a sent form stands for."""
    chosen = {check["id"]: form[f"check-{check['id']}"].data or "" for check in pack["checks"]}
    document: dict[str, Any] = {
        "family": pack["family"],
        "model_sheet": pack.get("sheet", {}).get("id"),
        "answers": {check: option for check, option in chosen.items() if option not in ("", UNSEEN)},
        "unseen": [check for check, option in chosen.items() if option == UNSEEN],
        "holes": list(_holes(form)),
        "currency": (form["currency"].data or "").strip().upper() or None,
        "aim": form["aim"].data,
        "region": int(form["region"].data) if form["region"].data else None,
    }
    for name in ("crystal_khz", "rate"):
        document[name] = _optional(form[name].data)
    for name in ("asking", "hour_rate"):
        document[name] = _optional(form[name].data, price)
    for name in _TEXTS:
        document[name] = (form[name].data or "").strip() or None
    document["heater_strings"] = heater_strings(form["heater_strings"].data)
    edges = [_optional(form["coverage_from"].data), _optional(form["coverage_to"].data)]
    if edges != [None, None]:
        document["coverage_khz"] = edges
    return document


def _optional(text: str | None, read: Callable[[str], float] = number) -> float | None:
    return read(text) if text and text.strip() else None


def _holes(form: FlaskForm) -> Iterator[dict[str, Any]]:
    for row in range(1, HOLE_ROWS + 1):
        place = form[f"hole-{row}-place"].data
        if place:
            yield {
                "place": place,
                "diameter_mm": _optional(form[f"hole-{row}-mm"].data),
                "as_found": form[f"hole-{row}-found"].data,
            }
