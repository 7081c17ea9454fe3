"""What a visitor sees when something is refused, missing or broken: always a sentence, never a traceback."""

import secrets

from flask import Flask, current_app, render_template
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from webapp.errors import UnderchassisError

Page = tuple[str, int]

_SENTENCES = {
    404: ("There is no such page.", "Go to the notebook and start from there."),
    405: ("This page cannot be used that way.", "Go to the notebook and start from there."),
    413: ("What you sent is too large for this form.", "Shorten it and send it again."),
}


def install(app: Flask) -> None:
    """Gives every refusal and every bug its page."""
    app.register_error_handler(UnderchassisError, _refused)
    app.register_error_handler(CSRFError, _stale)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _broken)


def _page(message: str, hint: str, status: int) -> Page:
    return render_template("refusal.html", message=message, hint=hint), status


def _refused(refusal: UnderchassisError) -> Page:
    return _page(refusal.message, refusal.hint, refusal.status)


def _stale(error: CSRFError) -> Page:
    return _page(
        "This form is too old to be accepted.", "Go back, load the page again and send it once more.", 400
    )


def _http(error: HTTPException) -> Page:
    status = error.code or 500
    message, hint = _SENTENCES.get(status, ("The server could not do that.", "Go back and try once more."))
    return _page(message, hint, status)


def _broken(error: Exception) -> Page:
    number = secrets.token_hex(4)
    current_app.logger.exception("reference %s", number, exc_info=error)
    return _page(
        "Something broke on our side; nothing you entered on the phone is lost.",
        f"Try once more. If it happens again, report the reference {number}.",
        500,
    )
