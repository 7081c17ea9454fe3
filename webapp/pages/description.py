"""The page of a shared description, for whoever has its link: no key, no cookie, nothing from elsewhere.

What the page says is put together anew at each visit from the document that the seller's phone published.
"""

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response, current_app, g, jsonify, render_template, request
from flask.typing import ResponseReturnValue

from webapp.errors import BadFindings, BadInput, DatabaseUnusable, NotKnown
from webapp.notebook import shares
from webapp.pages.phone_requests import database, now
from webapp.pages.refusals import refused

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
        return _unless_known(Response(render_description(shared.document, token, request.args)))
    except (BadInput, NotKnown) as error:
        # It could be shown when it was published; the tables have changed since.
        current_app.logger.error("a shared description cannot be shown: %s", error)
        return refused(
            NotKnown(
                "This server's tables have changed, and this description does not go with them any more.",
                "If you know the seller, ask to have it shared once more.",
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


def render_description(document: Json, token: str, habits: Mapping[str, str]) -> str:
    """The page of a share document; `habits` are what the address asks for (`language`, `units`).

    Raises BadFindings and NotKnown where the rule tables do not know what was found.
    """
    return render_template("description.html", document=document, token=token)


def check_can_be_shown(document: Json, token: str) -> None:
    """Raises BadFindings unless the page of this document can be put together."""
    try:
        render_description(document, token, {})
    except (BadInput, NotKnown) as error:
        raise BadFindings(f"The server cannot describe this set: {error.message}", error.hint) from error


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
        DatabaseUnusable("The server cannot get at this description now.", "Try again in a few minutes.")
    )


def _unless_known(answer: Response) -> Response:
    """The answer, or word that the browser has it already."""
    answer.add_etag()
    answer.make_conditional(request)
    return answer
