"""The rule tables in every language: whichever are asked for, or English where a family is not complete."""

from collections.abc import Iterable
from typing import Any

from webapp.rulebook.book import Rulebook
from webapp.rulebook.languages import ENGLISH
from webapp.rulebook.progress import progress


class Books:
    """The English tables and those of further languages, each with the families that are complete in it."""

    def __init__(self, english: Rulebook, further: Iterable[Rulebook] = ()) -> None:
        self.english = english
        self.further = {book.language.code: book for book in further}
        self.complete = {
            code: [family for family in book.families if progress(book, family).is_complete]
            for code, book in self.further.items()
        }
        self.complete[ENGLISH.code] = list(english.families)

    def book_for(self, language: str, family: str) -> Rulebook:
        """The tables to use a family with: in the language where it is complete there, else in English."""
        return self.further[language] if self.speaks(language, family) else self.english

    def speaks(self, language: str, family: str) -> bool:
        """Whether a family is complete in a further language."""
        return language in self.further and family in self.complete[language]

    def in_every_language(self) -> Iterable[Rulebook]:
        """The tables language by language, English first."""
        return (self.english, *self.further.values())

    def listed(self) -> list[dict[str, Any]]:
        """The languages as the phone lists them: code, own name, and the families that are complete."""
        return [
            {**book.language.model_dump(), "complete": self.complete[book.language.code]}
            for book in self.in_every_language()
        ]
