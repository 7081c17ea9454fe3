"""Every row of the tables that says what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from webapp.rulebook.book import Rulebook, Sheet
    from webapp.rulebook.family import FamilyTables
    from webapp.rulebook.layers import Layers
    from webapp.rulebook.rows import Grounded

_SINGLE = ("reference", "asked", "breaking", "coverage", "crystal", "book", "heaters", "designation", "holes")


def grounded_rows(book: Rulebook) -> Iterator[tuple[Layers, str, Grounded]]:
    """Each with its file and the words that name it; a row that families share comes once for each."""
    for name, found in _of_no_family(book).items():
        yield from ((book.files[name], where, row) for where, row in found)
    yield from book.references.grounds()
    for family in book.families.values():
        yield from ((family.file, where, row) for where, row in _of_family(family))
    for sheet in book.sheets.values():
        yield from ((sheet.file, where, row) for where, row in _of_sheet(sheet))


def _of_no_family(book: Rulebook) -> dict[str, list[tuple[str, Grounded]]]:
    mismatch = [("mismatch", book.mismatch)] if book.mismatch is not None else []
    return {
        "cautions.toml": _named("caution", book.cautions),
        "bands.toml": _named("band", book.bands),
        "model.toml": _named("constant", book.constants),
        "finishes.toml": [*_named("service", book.services), *mismatch],
    }


def _of_family(family: FamilyTables) -> Iterator[tuple[str, Grounded]]:
    for name in _SINGLE:
        if (row := getattr(family, name)) is not None:
            yield name, row
    yield from _named("state", family.states)
    yield from _named("part", family.parts)
    yield from _named("task", family.tasks)
    for check in family.checks:
        where = f'check "{check.row.id}"'
        yield where, check.row
        yield from _named(f"{where}, option", check.options)
    for place in family.places:
        for number, size in enumerate(place.sizes, start=1):
            yield f'hole_place "{place.row.id}", size {number}', size
    yield from _named("face", [face.row for face in family.faces])


def _of_sheet(sheet: Sheet) -> Iterator[tuple[str, Grounded]]:
    yield "", sheet.head
    if sheet.reference is not None:
        yield "reference", sheet.reference
    yield from _named("part", sheet.parts)
    yield from _named("extra_part", sheet.extra_parts)


def _named(kind: str, rows: Sequence[Any]) -> list[tuple[str, Grounded]]:
    return [(f'{kind} "{row.id}"', row) for row in rows]
