"""What sits in a round hole, by its diameter: rows, reading and compiling of component_holes.toml."""

from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded, Id, Kept, Label, Positive, Reasoned, Row, Text
from webapp.rulebook.words import read_words

WORDS: dict[str, set[str]] = {
    "some": {"diameter", "first", "others"},
    "first-only": {"diameter", "first"},
    "many": {"diameter", "count"},
    "none": {"diameter"},
    "no-hole": {"smallest", "largest"},
    "or": set(),
}
"""Sentence id → blanks that the sentence may hold."""

_TABLES = {"limits", "words", "tolerance", "component", "clearance", "screw", "shop_screw", "drill"}
Kind = Literal[
    "jack", "switch", "control", "coaxial socket", "tube socket", "meter", "fuse holder", "lamp", "grommet",
    "screw",
]  # fmt: skip


class Limits(Reasoned):
    """The least and greatest hole in mm, and how many parts one sentence names."""

    smallest_mm: Positive
    largest_mm: Positive
    named: Annotated[int, Field(ge=1, description="a whole number from 1")]

    @model_validator(mode="after")
    def _from_small_to_large(self) -> Self:
        if self.smallest_mm >= self.largest_mm:
            raise ValueError("smallest_mm must lie below largest_mm")
        return self


class Tolerance(Reasoned):
    """How far a measured diameter may be from the true one, by way of measuring."""

    id: Id
    label: Text
    mm: Positive


class Component(Reasoned):
    """A part and the hole it needs; the range is that of the hole as made."""

    id: Id
    label: Label
    kind: Kind
    from_mm: Positive
    to_mm: Positive
    extra: Text | None = Field(default=None, description="further holes to look for")
    hint: Text | None = None

    @model_validator(mode="after")
    def _from_small_to_large(self) -> Self:
        if self.from_mm > self.to_mm:
            raise ValueError("from_mm must not be above to_mm")
        return self


class Clearance(Grounded):
    """Holes for a metric thread in three series."""

    id: Id
    thread: Annotated[str, Field(pattern=r"^M[0-9]+(\.[0-9])?$", description="a thread such as M3 or M2.5")]
    fine_mm: Positive
    medium_mm: Positive
    coarse_mm: Positive

    @model_validator(mode="after")
    def _rising(self) -> Self:
        if not self.fine_mm < self.medium_mm < self.coarse_mm:
            raise ValueError("the holes must rise: fine, medium, coarse")
        return self


class Screw(Grounded):
    """Holes for an inch screw in three fits."""

    id: Id
    screw: Kept
    major_inch: Positive
    close_mm: Positive
    normal_mm: Positive
    loose_mm: Positive

    @model_validator(mode="after")
    def _rising(self) -> Self:
        if not self.major_inch * 25.4 < self.close_mm < self.normal_mm < self.loose_mm:
            raise ValueError("the figures must rise: screw, close, normal, loose")
        return self


class ShopScrew(Grounded):
    """Drills for an inch screw in the two fits of an older chart."""

    id: Id
    screw: Kept
    close_drill: Kept
    close_inch: Positive
    free_drill: Kept
    free_inch: Positive


class Drill(Grounded):
    """A drill by its number, letter or fraction of an inch."""

    id: Id
    name: Annotated[str, Field(pattern=r"^([0-9]+|[A-Z]|[0-9]+/[0-9]+)$", description="30, F or 1/4")]
    inch: Positive


@dataclass(frozen=True)
class ComponentHoles:
    """Everything component_holes.toml says; `file` reports faults found later."""

    limits: Limits
    words: dict[str, str]
    tolerances: list[Tolerance]
    components: list[Component]
    clearances: list[Clearance]
    screws: list[Screw]
    shop_screws: list[ShopScrew]
    drills: list[Drill]
    file: Layers

    def grounds(self) -> list[tuple[str, Grounded]]:
        """Every row that says what it rests on, with the words that name it."""
        lists: dict[str, list[Any]] = {
            "tolerance": self.tolerances, "component": self.components, "clearance": self.clearances,
            "screw": self.screws, "shop_screw": self.shop_screws, "drill": self.drills,
        }  # fmt: skip
        named = [(f'{name} "{row.id}"', row) for name, rows in lists.items() for row in rows]
        return [("limits", self.limits), *named]


def read_component_holes(file: Layers) -> ComponentHoles | None:
    """The typed tables of component_holes.toml, or None when a fault in them was noted."""
    before = len(file.problems)
    file.only(_TABLES)
    limits = file.table("limits", Limits)
    words = read_words(file, WORDS)
    tolerances = file.rows("tolerance", Tolerance)
    components = file.rows("component", Component)
    clearances = file.rows("clearance", Clearance)
    screws = file.rows("screw", Screw)
    shop_screws = file.rows("shop_screw", ShopScrew)
    drills = file.rows("drill", Drill)
    _same_drills(file, shop_screws, drills)
    if limits is None or len(file.problems) > before:
        return None
    return ComponentHoles(
        limits, words, tolerances, components, clearances, screws, shop_screws, drills, file
    )


def _same_drills(file: Layers, shop_screws: list[ShopScrew], drills: list[Drill]) -> None:
    """A drill that the chart names must be in the list of drills, with the same diameter."""
    inches = {drill.name: drill.inch for drill in drills}
    for row in shop_screws:
        for name, inch in ((row.close_drill, row.close_inch), (row.free_drill, row.free_inch)):
            if inches.get(name) != inch:
                sentence = f'no [[drill]] row says that the drill "{name}" measures {inch:g} in.'
                file.fault(f'shop_screw "{row.id}"', sentence)


def compiled(tables: ComponentHoles) -> dict[str, Any]:
    """The document that the engines read, in mm; `reference` holds the published tables for people."""

    def plain(rows: list[Any]) -> list[dict[str, Any]]:
        return [_plain(row) for row in rows]

    return {
        "limits": _plain(tables.limits),
        "words": tables.words,
        "tolerances": plain(tables.tolerances),
        "components": plain(tables.components),
        "reference": {
            "clearances": plain(tables.clearances),
            "screws": plain(tables.screws),
            "shop_screws": plain(tables.shop_screws),
            "drills": plain(tables.drills),
        },
    }


def _plain(row: Row) -> dict[str, Any]:
    return row.model_dump(exclude_none=True)
