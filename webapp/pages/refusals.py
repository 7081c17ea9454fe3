"""What a visitor sees when something is refused, missing or broken: always a sentence, never a traceback."""

import secrets
from collections.abc import Mapping

from flask import Flask, Response, current_app, jsonify, make_response, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from webapp.errors import Sentence, UnderchassisError
from webapp.pages.texts import in_language

# Asked by the app's scripts, not by people: a refusal there is `{"error": {"code", "message", "hint"}}`.
_FOR_SCRIPTS = ("/photos/", "/lots/", "/notebook")

_SENTENCES = {
    404: (Sentence("There is no such page."), Sentence("Go to the notebook and start from there.")),
    405: (
        Sentence("This page cannot be used that way."),
        Sentence("Go to the notebook and start from there."),
    ),
    413: (Sentence("What you sent is too large for this form."), Sentence("Shorten it and send it again.")),
    429: (
        Sentence("This was asked too often from here."),
        Sentence("Wait until the time that the answer names, then ask again."),
    ),
    503: (Sentence("The server has its hands full."), Sentence("Send it again in a few seconds.")),
}
_ANY_OTHER = (Sentence("The server could not do that."), Sentence("Go back and try once more."))


def install(app: Flask) -> None:
    """Gives every refusal and every bug its page, or its JSON."""
    app.register_error_handler(UnderchassisError, refused)
    app.register_error_handler(CSRFError, _stale)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _broken)
    app.after_request(_keep_private)


def refused(refusal: UnderchassisError, status: int | None = None) -> Response:
    """The answer to a refusal, with its own HTTP status or another."""
    answer = _answer(refusal.code, refusal.message, refusal.hint, status or refusal.status, refusal.beside)
    answer.headers.extend(refusal.headers)
    return answer


def _answer(
    code: str, message: str, hint: str, status: int, beside: Mapping[str, object] | None = None
) -> Response:
    if request.path.startswith(_FOR_SCRIPTS) or request.path.endswith(".json"):
        error = {"code": code, "message": in_language(message), "hint": in_language(hint)}
        return make_response(jsonify(error=error, **(beside or {})), status)
    return make_response(
        render_template("refusal.html", message=in_language(message), hint=in_language(hint)), status
    )


def _keep_private(answer: Response) -> Response:
    if request.path.startswith("/notebook"):
        answer.headers["Cache-Control"] = "no-store"
    return answer


def _stale(error: CSRFError) -> Response:
    return _answer(
        code="form-too-old",
        message=Sentence("This form is too old to be accepted."),
        hint=Sentence("Go back, load the page again and send it once more."),
        status=400,
    )


def _http(error: HTTPException) -> Response:
    status = error.code or 500
    message, hint = _SENTENCES.get(status, _ANY_OTHER)
    answer = _answer(error.name.lower().replace(" ", "-"), message, hint, status)
    # Which methods are allowed, and when to come again.
    answer.headers.extend([header for header in error.get_headers() if header[0] != "Content-Type"])
    return answer


def _broken(error: Exception) -> Response:
    number = secrets.token_hex(4)
    current_app.logger.exception("reference %s", number, exc_info=error)
    return _answer(
        code="internal-server-error",
        message=Sentence("Something broke on our side; nothing you entered on the phone is lost."),
        hint=Sentence("Try once more. If it happens again, report the reference {number}.", number=number),
        status=500,
    )
