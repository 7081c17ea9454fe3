"""What a row of the tables rests on, in words. Twin of static/js/ui/basis_words.js."""

from webapp.pages.texts import _


def basis_words(basis: str) -> str:
    """The words for a basis as the tables have it."""
    return {
        "published": _("published"),
        "common practice": _("common practice"),
        "from memory": _("from memory"),
        "invented": _("invented"),
    }[basis]
