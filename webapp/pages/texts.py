"""Texts of the pages in the reader's language; the English ones are the keys, and in use outside of a page.

Blanks are written as on the phone, {name}, so that a text that both show is translated once.
"""

from datetime import date
from typing import Any

from babel.dates import format_date
from flask_babel import get_locale
from markupsafe import Markup, escape

from webapp.errors import Sentence, UnderchassisError, filled
from webapp.languages.catalogs import ENGLISH, translations


def language() -> str:
    """The code of the language that the page is in."""
    locale = get_locale()
    return ENGLISH if locale is None else str(locale)


def _(text: str, /, **blanks: object) -> str:
    """A text in the reader's language, given as one literal in English, its blanks filled."""
    return filled(translations(language()).gettext(text), blanks)


def _n(one: str, many: str, count: int, /, **blanks: object) -> str:
    """A text that depends on a number; {count} is filled with it."""
    return filled(translations(language()).ngettext(one, many, count), {"count": count, **blanks})


def in_language(text: str) -> str:
    """A sentence of a refusal in the reader's language; any other text as it is."""
    if language() == ENGLISH or not isinstance(text, Sentence):
        return text
    blanks = {name: _blank(value) for name, value in text.blanks.items()}
    return filled(translations(language()).gettext(text.text), blanks)


def _blank(value: object) -> object:
    if isinstance(value, date):
        return format_date(value, "long", locale=language())
    return in_language(value) if isinstance(value, str) else value


def refusal_words(refusal: UnderchassisError) -> str:
    """What was refused and what to do about it, in the reader's language."""
    return f"{in_language(refusal.message)} {in_language(refusal.hint)}".strip()


def for_templates() -> dict[str, Any]:
    """The same for templates, where the text is escaped, and a blank may hold markup."""

    def marked(text: str, /, **blanks: object) -> Markup:
        return _marked(translations(language()).gettext(text), blanks)

    def marked_by_number(one: str, many: str, count: int, /, **blanks: object) -> Markup:
        return _marked(translations(language()).ngettext(one, many, count), {"count": count, **blanks})

    return {"_": marked, "_n": marked_by_number, "language": language}


def _marked(text: str, blanks: dict[str, object]) -> Markup:
    return Markup(filled(escape(text), {name: escape(value) for name, value in blanks.items()}))
