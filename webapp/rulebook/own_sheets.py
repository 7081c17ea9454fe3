"""A model sheet made on a phone, taken from its document and held to the rules of the shipped ones."""

from typing import Any

from webapp.errors import BadFindings
from webapp.rulebook import rows
from webapp.rulebook.book import Rulebook, Sheet
from webapp.rulebook.crosscheck import check_sheet
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile
from webapp.rulebook.sheets import sheet_overrides

Json = dict[str, Any]

_KEYS = {"name", "about", "sheet", "reference", "absent", "parts", "extra"}


class _Given(TableFile):
    """Tables that stand in no file."""

    def __init__(self, tables: Json, problems: list[str]) -> None:
        self.name = "The model sheet"
        self.problems = problems
        self.tables = tables
        self.readable = True
        self._places = {}


def own_overrides(book: Rulebook, document: Any) -> Json:
    """The document of a sheet, whole and fitting the tables, as `apply_sheet` lays it over its family's pack.

    Raises BadFindings with the first thing that is wrong with it.
    """
    problems: list[str] = []
    sheet = _sheet(document, problems)
    if sheet is not None:
        check_sheet(book, sheet)
    if sheet is None or problems:
        first = problems[0] if problems else "The model sheet does not have the form of one."
        raise BadFindings(first, "Share it once more from the phone that made it.")
    return sheet_overrides(sheet)


def _sheet(document: Any, problems: list[str]) -> Sheet | None:
    if not isinstance(document, dict) or set(document) != _KEYS or not isinstance(document["sheet"], dict):
        return None
    parts, extra = document["parts"], document["extra"]
    if not all(
        isinstance(row, dict) for listed in (parts, extra) if isinstance(listed, list) for row in listed
    ):
        return None
    if not isinstance(parts, list) or not isinstance(extra, list):
        return None
    file = Layers([_Given({}, problems)])
    told = {key: document[key] for key in ("name", "about", "absent")}
    head = file.row({**document["sheet"], **told}, rows.SheetHead, "")
    reference = (
        file.row(document["reference"], rows.SheetReference, "reference") if document["reference"] else None
    )
    kept = [file.row(row, rows.SheetPart, f"part {at}") for at, row in enumerate(parts, start=1)]
    added = [
        file.row(_without_none(row), rows.ExtraPart, f"added part {at}") for at, row in enumerate(extra, 1)
    ]
    if head is None:
        return None
    whole = [row for row in kept if row is not None], [row for row in added if row is not None]
    return Sheet(head, reference, *whole, file)


def _without_none(row: Json) -> Json:
    return {key: value for key, value in row.items() if value is not None}
