"""The pages of the plain form: choose a family, walk round, read the verdict. Nothing is stored."""

from datetime import date
from typing import Any

from flask import Blueprint, current_app, render_template, request
from flask.typing import ResponseReturnValue

from webapp.errors import BadFindings
from webapp.pages.appraising import appraise_document, pack_of
from webapp.pages.reading import readable
from webapp.pages.walk_form import HOLE_ROWS, findings_document, form_class
from webapp.rulebook.book import Rulebook

pages = Blueprint("form", __name__, template_folder="templates")


def _book() -> Rulebook:
    book: Rulebook = current_app.config["BOOK"]
    return book


@pages.get("/form")
def choose() -> ResponseReturnValue:
    """The list of families and model sheets."""
    return render_template("choose.html", families=_book().families.values(), sheets=_book().sheets.values())


@pages.route("/form/<family>", methods=["GET", "POST"])
def walk(family: str) -> ResponseReturnValue:
    """The whole walk round; sent, the verdict, or the form again with what has to be mended."""
    pack = pack_of(_book(), family, request.args.get("sheet"))
    form = form_class(pack)()
    if request.method == "GET":
        return _walk(pack, form, [])
    if not form.validate():
        wrong = [f"{form[name].label.text}: {text}" for name, texts in form.errors.items() for text in texts]
        return _walk(pack, form, wrong), 400
    try:
        appraisal = appraise_document(_book(), findings_document(form, pack), date.today())
    except BadFindings as refusal:
        return _walk(pack, form, [str(refusal)]), 400
    return render_template("verdict.html", pack=pack, **readable(pack, appraisal))


def _walk(pack: dict[str, Any], form: Any, wrong: list[str]) -> str:
    follow_ups = {}
    for check in pack["checks"]:
        if check["shown_if"]:
            parent = next(c for c in pack["checks"] if c["id"] == check["shown_if"]["check"])
            labels = [o["label"] for o in parent["options"] if o["id"] in check["shown_if"]["options"]]
            follow_ups[check["id"]] = f"Counts only if “{parent['label']}” is: {' or '.join(labels)}."
    return render_template(
        "walk.html",
        pack=pack,
        form=form,
        wrong=wrong,
        follow_ups=follow_ups,
        hole_rows=range(1, HOLE_ROWS + 1),
    )
