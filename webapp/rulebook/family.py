"""One family file: typed rows, checks with their options, hole places with their sizes and faces."""

from dataclasses import dataclass
from typing import TypeVar

from webapp.rulebook import rows
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import row_name

RowModel = TypeVar("RowModel", bound=rows.Row)

_TABLES = {
    "id", "name", "about", "default_aim", "reference", "asked", "state", "breaking", "coverage", "crystal",
    "book", "heaters", "designation", "part", "check", "task", "holes", "hole_place", "face",
}  # fmt: skip


class FamilyHead(rows.Row):
    """The first keys of a family file."""

    id: rows.Id
    name: rows.Text
    about: rows.Text
    default_aim: rows.Id


@dataclass(frozen=True)
class CheckRow:
    """A check and its options, in the order of the file."""

    row: rows.Check
    options: list[rows.Option]


@dataclass(frozen=True)
class PlaceRow:
    """A place where holes are found, and its rows by size, smallest first."""

    row: rows.HolePlace
    sizes: list[rows.HoleSize]


@dataclass(frozen=True)
class FaceRow:
    """The face of a hole place, and what it carries from the works."""

    row: rows.Face
    features: list[rows.FaceFeature]


@dataclass(frozen=True)
class FamilyTables:
    """Everything a family file says; `file` reports faults found later."""

    id: str
    name: str
    about: str
    default_aim: str
    reference: rows.Reference
    asked: rows.Asked
    states: list[rows.State]
    breaking: rows.Breaking
    coverage: rows.Coverage
    crystal: rows.Crystal | None
    book: rows.Book | None
    heaters: rows.Heaters | None
    designation: rows.Designation
    parts: list[rows.Part]
    checks: list[CheckRow]
    tasks: list[rows.Task]
    holes: rows.HoleLaw
    places: list[PlaceRow]
    faces: list[FaceRow]
    file: Layers


def read_family(file: Layers) -> FamilyTables | None:
    """The typed tables of one family file, or None when a fault in it was noted."""
    before = len(file.problems)
    file.only(_TABLES)
    head = file.row({k: file.tables[k] for k in FamilyHead.model_fields if k in file.tables}, FamilyHead, "")
    reference = file.table("reference", rows.Reference)
    asked = file.table("asked", rows.Asked)
    breaking = file.table("breaking", rows.Breaking)
    coverage = file.table("coverage", rows.Coverage)
    crystal = file.table_if_there("crystal", rows.Crystal)
    book = file.table_if_there("book", rows.Book)
    heaters = file.table_if_there("heaters", rows.Heaters)
    designation = file.table("designation", rows.Designation)
    holes = file.table("holes", rows.HoleLaw)
    states = file.rows("state", rows.State)
    parts = file.rows("part", rows.Part)
    tasks = file.rows("task", rows.Task)
    checks = _checks(file)
    places = _places(file)
    faces = _faces(file)
    if head is not None and not file.name.endswith(f"/{head.id}.toml"):
        file.fault("", f'the family "{head.id}" must stand in the file families/{head.id}.toml.')
    if len(file.problems) > before or not (
        head and reference and asked and breaking and coverage and designation and holes
    ):
        return None
    return FamilyTables(
        head.id, head.name, head.about, head.default_aim, reference, asked, states, breaking, coverage,
        crystal, book, heaters, designation, parts, checks, tasks, holes, places, faces, file,
    )  # fmt: skip


def _checks(file: Layers) -> list[CheckRow]:
    found: list[CheckRow] = []
    for where, raw in file.raw_rows("check"):
        if not isinstance(raw, dict):
            file.row(raw, rows.Check, where)
            continue
        check = file.row({k: v for k, v in raw.items() if k != "option"}, rows.Check, where)
        options = _inner(file, where, raw, "option", rows.Option)
        if check is not None:
            found.append(CheckRow(check, options))
    return found


def _places(file: Layers) -> list[PlaceRow]:
    found: list[PlaceRow] = []
    for where, raw in file.raw_rows("hole_place"):
        if not isinstance(raw, dict):
            file.row(raw, rows.HolePlace, where)
            continue
        place = file.row({k: v for k, v in raw.items() if k != "size"}, rows.HolePlace, where)
        sizes = _inner(file, where, raw, "size", rows.HoleSize)
        if place is not None:
            found.append(PlaceRow(place, sizes))
    return found


def _faces(file: Layers) -> list[FaceRow]:
    found: list[FaceRow] = []
    for where, raw in file.raw_rows("face"):
        if not isinstance(raw, dict):
            file.row(raw, rows.Face, where)
            continue
        face = file.row({k: v for k, v in raw.items() if k != "feature"}, rows.Face, where)
        features = _inner(file, where, raw, "feature", rows.FaceFeature)
        if face is not None:
            found.append(FaceRow(face, features))
    return found


def _inner(
    file: Layers, where: str, raw: dict[str, object], key: str, model: type[RowModel]
) -> list[RowModel]:
    """The validated rows inside one row: `[[check.option]]`, `[[hole_place.size]]`, `[[face.feature]]`."""
    listed = raw.get(key)
    if not isinstance(listed, list) or not listed:
        file.fault(where, f"it has no {key} rows.")
        return []
    found = [file.row(item, model, f"{where}, {row_name(key, i, item)}") for i, item in enumerate(listed)]
    return [row for row in found if row is not None]
