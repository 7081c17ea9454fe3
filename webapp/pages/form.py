"""The pages of the plain form: choose a family, walk round, read the verdict. Nothing is stored."""

from datetime import date
from functools import reduce
from typing import Any

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue

from webapp.errors import BadFindings
from webapp.pages.appraising import appraise_document, pack_of
from webapp.pages.reading import readable
from webapp.pages.shown_book import book_of, tables_note, whole_book
from webapp.pages.texts import _, refusal_words
from webapp.pages.walk_form import HOLE_ROWS, findings_document, form_class

pages = Blueprint("form", __name__, template_folder="templates")


@pages.get("/form")
def choose() -> ResponseReturnValue:
    """The list of families and model sheets."""
    kinds = [_kind(family) for family in whole_book().families]
    return render_template("choose.html", kinds=kinds, note=tables_note([kind["id"] for kind in kinds]))


@pages.route("/form/<family>", methods=["GET", "POST"])
def walk(family: str) -> ResponseReturnValue:
    """The whole walk round; sent, the verdict, or the form again with what has to be mended."""
    book = book_of(family)
    pack = pack_of(book, family, request.args.get("sheet"))
    form = form_class(pack)()
    if request.method == "GET":
        return _walk(pack, form, [])
    if not form.validate():
        wrong = [f"{form[name].label.text}: {text}" for name, texts in form.errors.items() for text in texts]
        return _walk(pack, form, wrong), 400
    try:
        appraisal = appraise_document(book, findings_document(form, pack), date.today())
    except BadFindings as refusal:
        return _walk(pack, form, [refusal_words(refusal)]), 400
    return render_template("verdict.html", pack=pack, note=tables_note([family]), **readable(pack, appraisal))


def _kind(family: str) -> dict[str, Any]:
    book = book_of(family)
    sheets = [sheet.head for sheet in book.sheets.values() if sheet.head.family == family]
    return {
        "id": family,
        "name": book.families[family].name,
        "about": book.families[family].about,
        "sheets": sheets,
    }


def _walk(pack: dict[str, Any], form: Any, wrong: list[str]) -> str:
    follow_ups = {}
    for check in pack["checks"]:
        if check["shown_if"]:
            parent = next(c for c in pack["checks"] if c["id"] == check["shown_if"]["check"])
            labels = [o["label"] for o in parent["options"] if o["id"] in check["shown_if"]["options"]]
            answers = reduce(lambda first, last: _("{first} or {last}", first=first, last=last), labels)
            follow_ups[check["id"]] = _(
                "Counts only if “{check}” is: {answers}.", check=parent["label"], answers=answers
            )
    return render_template(
        "walk.html",
        pack=pack,
        note=tables_note([pack["family"]]),
        form=form,
        wrong=wrong,
        follow_ups=follow_ups,
        hole_rows=range(1, HOLE_ROWS + 1),
    )
