"""The rule tables that a page is made from."""

from collections.abc import Sequence

from flask import current_app

from webapp.languages.catalogs import ENGLISH
from webapp.pages.texts import _, language
from webapp.rulebook.book import Rulebook
from webapp.rulebook.books import Books


def whole_book() -> Rulebook:
    """The tables of all families in English, for what no language changes: ids and counts."""
    return books().english


def books() -> Books:
    """The tables in every language."""
    found: Books = current_app.config["BOOKS"]
    return found


def book_of(family: str) -> Rulebook:
    """The tables to show a family from; an unknown one is in none of them."""
    return books().book_for(language(), family)


def tables_note(families: Sequence[str]) -> str:
    """What to say where tables of these families are not in the language of the page; "" where they are."""
    if all(_is_spoken(family) for family in families):
        return ""
    return _("The tables are not all translated yet; what is missing stands in English.")


def _is_spoken(family: str) -> bool:
    return language() == ENGLISH or books().speaks(language(), family)
