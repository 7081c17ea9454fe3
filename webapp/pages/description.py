"""The page of a shared description, for whoever has its link: no key, no cookie, nothing from elsewhere.

What the page says is put together anew at each visit from the document that the seller's phone published.
"""

from datetime import date
from typing import Any

from flask import Blueprint, Response, current_app, g, jsonify, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.appraisal.describing.describe import Wishes
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import prepare
from webapp.errors import BadFindings, BadInput, DatabaseUnusable, NoLongerShared, NotKnown, Sentence
from webapp.notebook import shares
from webapp.pages.appraising import family_and_sheet, prepared_for
from webapp.pages.describing import Photo, Seller, described
from webapp.pages.phone_requests import database, now
from webapp.pages.reading_habits import reader
from webapp.pages.refusals import refused
from webapp.pages.shown_book import book_of, books, whole_book
from webapp.pages.structured_data import product
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.own_sheets import own_overrides
from webapp.rulebook.sheets import apply_sheet

Json = dict[str, Any]

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; img-src 'self'; style-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "Referrer-Policy": "no-referrer",
    # A page taken back is not to be shown from a cache.
    "Cache-Control": "private, no-cache",
}

pages = Blueprint("description", __name__, url_prefix="/d", template_folder="templates")


@pages.get("/<token>")
def page(token: str) -> ResponseReturnValue:
    """The description in words."""
    shared = shares.shared(database(), token, now())
    g.found = shared.found
    try:
        return _unless_known(Response(render_description(shared.document, token)))
    except (BadInput, NotKnown) as error:
        # It could be shown when it was published; the tables have changed since.
        current_app.logger.error("a shared description cannot be shown: %s", error)
        return refused(
            NotKnown(
                Sentence(
                    "This server's tables have changed, and this description does not go with them any more."
                ),
                Sentence("If you know the seller, ask to have it shared once more."),
            )
        )


@pages.get("/<token>.json")
def document(token: str) -> ResponseReturnValue:
    """The description as the seller's phone published it, for the phone of a buyer."""
    shared = shares.shared(database(), token, now())
    g.found = shared.found
    return _unless_known(jsonify(document=shared.document, expires=shared.expires))


@pages.get("/<token>/photos/<sha256>")
def photo(token: str, sha256: str) -> ResponseReturnValue:
    """A photo of the description."""
    content, g.found = shares.shared_picture(database(), token, sha256, now())
    return _unless_known(Response(content, mimetype="image/jpeg"))


def render_description(document: Json, token: str) -> str:
    """The page of a share document, by the habits of who asked for it.

    Raises BadFindings and NotKnown where the rule tables do not know what was found.
    """
    view = _view(document, token)
    address = url_for("description.page", token=token, _external=True)
    photos = [
        url_for("description.photo", token=token, sha256=row["sha256"], _external=True)
        for row in document["photos"]
    ]
    tongues = [(row["code"], row["name"]) for row in books().listed()]
    return render_template(
        "description.html", view=view, token=token, data=product(view, address, photos), tongues=tongues,
        found=g.get("found", False), unit=reader().unit,
    )  # fmt: skip


def _view(document: Json, token: str) -> Json:
    """The description in words; the seller's day of writing is the day that sales are reckoned to."""
    raw = {**document["findings"], "today": document["findings"].get("today") or document["written"]}
    own, habits = document["own_sheet"], reader()
    book = book_of(family_and_sheet(whole_book(), raw)[0])
    if own is None:
        prepared = prepared_for(book, raw)
    else:
        overrides = own_overrides(book, own)
        prepared = prepare(apply_sheet(compile_family(book, raw["family"]), overrides))
    findings = read_findings(raw, prepared)
    asked = document["asked"]
    if asked is not None and asked["currency"] != findings.currency:
        raise BadFindings(Sentence("What the seller asks is in another currency than his findings."))
    looked = document["looked"]
    wishes = Wishes(
        document["price"],
        asked["amount"] if asked is not None else None,
        (date.fromisoformat(looked[0]), date.fromisoformat(looked[1])) if looked is not None else None,
        date.fromisoformat(document["written"]),
    )
    photos = [
        Photo(url_for("description.photo", token=token, sha256=row["sha256"]), row["about"])
        for row in document["photos"]
    ]
    seller = Seller(document["title"], document["words"], wishes, photos, document["spots"])
    return described(prepared, findings, seller, habits)


def check_can_be_shown(document: Json, token: str) -> None:
    """Raises BadFindings unless the page of this document can be put together."""
    try:
        render_description(document, token)
    except (BadInput, NotKnown) as error:
        hint = error.hint or Sentence("Load the newest version of the app, then share it once more.")
        why = Sentence("The server cannot describe this set: {why}", why=error.message)
        raise BadFindings(why, hint) from error


@pages.after_request
def _guarded(answer: Response) -> Response:
    answer.headers.update(HEADERS)
    if not g.get("found"):
        answer.headers["X-Robots-Tag"] = "noindex"
    return answer


@pages.errorhandler(DatabaseUnusable)
def _unusable(error: DatabaseUnusable) -> Response:
    # Where the database lies is for whoever runs the server, and stands in the log.
    current_app.logger.error("%s", error)
    return refused(
        DatabaseUnusable(
            Sentence("The server cannot get at this description now."),
            Sentence("Try again in a few minutes."),
        )
    )


@pages.errorhandler(NoLongerShared)
def _over(error: NoLongerShared) -> Response:
    return refused(NoLongerShared(error.until, reader().day(error.until)) if error.until else error)


def _unless_known(answer: Response) -> Response:
    """The answer, or word that the browser has it already."""
    answer.add_etag()
    answer.make_conditional(request)
    return answer
