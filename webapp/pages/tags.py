"""The page that prints labels: what is asked for as a form, the pages of labels below it."""

from collections.abc import Callable

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf import FlaskForm
from werkzeug.datastructures import MultiDict
from wtforms import Field, SelectField, StringField
from wtforms.fields.choices import SelectChoice
from wtforms.validators import ValidationError

from webapp.errors import BadInput
from webapp.pages.reading_habits import kept
from webapp.pages.texts import _, in_language, refusal_words
from webapp.photos.label_text import new_sheet
from webapp.photos.tag_drawing import tag_pages
from webapp.photos.tags import (
    USUAL_COUNT,
    USUAL_MM,
    TagSheet,
    check_end,
    checked_count,
    checked_first,
    checked_lot,
    checked_sheet,
    checked_side,
    tag_sheet,
)

pages = Blueprint("tags", __name__, template_folder="templates")


def _by(check: Callable[[str], object]) -> Callable[[FlaskForm, Field], None]:
    """A check of the sheet as a validator of a field."""

    def validate(form: FlaskForm, field: Field) -> None:
        try:
            check(field.data or "")
        except BadInput as refusal:
            raise ValidationError(refusal_words(refusal)) from refusal

    return validate


def _labels() -> dict[str, str]:
    return {
        "lot": _("Lot, printed on top"),
        "sheet": _("Sheet (empty: new)"),
        "first": _("First number"),
        "count": _("How many"),
        "side_mm": _("Symbol side, mm"),
        "paper": _("Paper"),
    }


class TagForm(FlaskForm):
    """What can be asked of a sheet. It changes nothing here, so it needs no token."""

    class Meta:
        csrf = False

    lot = StringField(validators=[_by(checked_lot)])
    sheet = StringField(validators=[_by(checked_sheet)])
    first = StringField(default="1", validators=[_by(checked_first)])
    count = StringField(default=str(USUAL_COUNT), validators=[_by(checked_count)])
    side_mm = StringField(default=f"{USUAL_MM:g}", validators=[_by(checked_side)])
    paper = SelectField(choices=[SelectChoice("a4", "A4"), SelectChoice("letter", "Letter")], default="a4")

    def __init__(self, asked: MultiDict[str, str]) -> None:
        super().__init__(asked)
        for name, label in _labels().items():
            self[name].label.text = label

    def asked(self) -> TagSheet:
        """The sheet of a valid form."""
        return tag_sheet(**{name: field.data or "" for name, field in self._fields.items()})

    def validate_count(self, field: Field) -> None:
        """Whether the numbers end within the sheet, once both are numbers."""
        if not self["first"].errors and not field.errors:
            _by(lambda count: check_end(int(self["first"].data), int(count)))(self, field)


@pages.get("/tags")
def tags() -> ResponseReturnValue:
    """The form and the labels it asks for; without a sheet, leads to the address of a new one."""
    form = TagForm(request.args)
    if not (form["sheet"].data or "").strip():
        return redirect(kept(url_for("tags.tags", **{**form.data, "sheet": new_sheet()})))
    if not form.validate():
        return render_template("tags.html", form=form, drawings=[], paper="a4"), 400
    sheet = form.asked()
    return render_template("tags.html", form=form, drawings=tag_pages(sheet, in_language), paper=sheet.paper)
