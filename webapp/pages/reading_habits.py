"""Who reads a page: the language of a request, and how its numbers and money are written."""

from babel.core import Locale
from flask import Flask, Request, Response, g, has_request_context, request
from flask_babel import Babel

from webapp.languages.catalogs import ENGLISH, languages
from webapp.pages.basis_words import basis_words
from webapp.pages.habits import Habits, habits_of
from webapp.pages.texts import for_templates, language

_NOBODY = Habits(ENGLISH, Locale(ENGLISH), "mm")
# What a page is answered in may differ by what the browser asks for.
_IN_WORDS = ("text/html", "application/json")


def install(app: Flask) -> None:
    """Gives pages their language, and templates the texts, the links and what else depends on it."""
    Babel(app, configure_jinja=False, locale_selector=lambda: language_of(request))
    app.jinja_env.globals.update(
        for_templates(), basis_words=basis_words, chosen_language=chosen_language, kept=kept
    )
    app.after_request(_vary)


def language_of(asked: Request) -> str:
    """The language of a request: the one chosen, else the browser's best that is here, else English."""
    known = [ENGLISH, *languages()]
    # Werkzeug's own choice would take English at any quality before German of Austria.
    wanted = [tag.split("-")[0].lower() for tag, quality in asked.accept_languages if quality > 0]
    return next((code for code in (asked.args.get("language"), *wanted) if code in known), ENGLISH)


def reader() -> Habits:
    """The habits of whoever asked for the page; outside of one, those of English prose."""
    if not has_request_context():
        return _NOBODY
    if "reader" not in g:
        wanted = [*request.accept_languages.values()]
        g.reader = habits_of(language(), wanted, request.args.get("units"))
    found: Habits = g.reader
    return found


def kept(address: str) -> str:
    """An address of these pages, with the language where it was chosen."""
    chosen = chosen_language()
    return f"{address}{'&' if '?' in address else '?'}language={chosen}" if chosen else address


def chosen_language() -> str:
    """The language that the address of this page asks for; "" where the browser's counts."""
    asked = request.args.get("language", "")
    return asked if asked == language() else ""


def _vary(answer: Response) -> Response:
    if answer.mimetype in _IN_WORDS:
        answer.vary.add("Accept-Language")
    return answer
