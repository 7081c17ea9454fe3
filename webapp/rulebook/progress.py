"""How far a language has come: which texts of a family are there in it, and which are missing."""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.rulebook.book import Rulebook
from webapp.rulebook.languages import FOLDER
from webapp.rulebook.layers import Layers
from webapp.rulebook.texts import OF_NO_FAMILY, Forms, Place, forms_of, places


@dataclass(frozen=True)
class Missing:
    """A text without a translation: the language table it belongs in, its row, its key, its English words."""

    table: str
    where: str
    key: str
    english: str

    @property
    def place(self) -> str:
        """Where its translation belongs, in words."""
        return f"{self.table}, {self.where}: {self.key}" if self.where else f"{self.table}: {self.key}"


@dataclass(frozen=True)
class Progress:
    """All texts that a family's pack needs in a language, counted, and those that are missing."""

    texts: int
    missing: list[Missing]

    @property
    def is_complete(self) -> bool:
        """Whether the family can be used in the language."""
        return not self.missing


def progress(book: Rulebook, family_id: str) -> Progress:
    """The texts of a family, its model sheets and the tables of no family, in the language of the book.

    Raises NotKnown for an unknown family.
    """
    needed = list(_needed(book, family_id))
    missing = [
        Missing(_table(book, layers, place), place.where, place.key, _shown(place))
        for layers, place in needed
        if not place.is_translated
    ]
    return Progress(len(needed), missing)


def _needed(book: Rulebook, family_id: str) -> Iterator[tuple[Layers, Place]]:
    family = book.family(family_id)
    yield from _places(family.file, forms_of("families/"))
    for sheet in book.sheets.values():
        if sheet.head.family == family_id:
            yield from _places(sheet.file, forms_of("sheets/"))
    for name, forms in OF_NO_FAMILY.items():
        yield from _places(book.files[name], forms)


def _places(layers: Layers, forms: Forms | None) -> Iterator[tuple[Layers, Place]]:
    return ((layers, place) for place in places(layers.tables, forms or {}))


def _table(book: Rulebook, layers: Layers, place: Place) -> str:
    """The language table beside the file that says the text."""
    row, _, inner = place.where.partition(", ")
    file = layers.says(place.where, place.key)
    if inner and not file.says(place.where, place.key):
        # One of a list without ids, which its row holds whole.
        file = layers.says(row, inner.split()[0])
    root, _, name = file.name.partition("/")
    return file.name if file.texts_only else f"{root}/{FOLDER}/{book.language.code}/{name}"


def _shown(place: Place) -> str:
    return ", ".join(place.value) if isinstance(place.value, list) else str(place.value)
