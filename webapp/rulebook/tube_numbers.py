"""What an American tube number tells of the heater: rows, reading and compiling of tube_numbers.toml."""

from dataclasses import dataclass
from typing import Annotated, Any, Self

from pydantic import Field, model_validator

from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded, Id, Positive, Reasoned, Row, Text
from webapp.rulebook.words import read_words

WORDS: dict[str, set[str]] = {
    "one": {"number", "volts"},
    "several": {"number", "volts"},
    "cold": {"number"},
    "power-class": {"number", "power", "letter"},
    "industrial": {"number", "first"},
    "older": {"number"},
    "cathode-ray": {"number", "letter"},
    "letters-not-used": {"number", "letters"},
    "lead-not-known": {"number", "lead"},
    "not-known": set(),
    "empty": set(),
    "or": set(),
}
"""Sentence id → blanks that the sentence may hold."""

_TABLES = {
    "words", "lead", "not_used", "cathode_ray", "older", "industrial", "serials", "power_class", "letter",
    "suffix",
}  # fmt: skip
Capital = Annotated[str, Field(pattern=r"^[A-Z]$", description="one capital letter")]
Capitals = Annotated[str, Field(pattern=r"^[A-Z]+$", description="capital letters")]
Whole = Annotated[int, Field(ge=1, description="a whole number from 1")]


class Lead(Reasoned):
    """First number of a receiving type, and its heater voltages, the usual ones first; none: no heater."""

    id: Id
    lead: Annotated[str, Field(pattern=r"^(0|[1-9][0-9]{0,2})$", description='a text of figures such as "6"')]
    volts: list[Positive]
    note: Text | None = None


class NotUsed(Reasoned):
    """Letters that receiving types leave out."""

    letters: Capitals


class CathodeRay(Reasoned):
    """The second letter that marks a cathode-ray tube."""

    letter: Capital


class Older(Reasoned):
    """How many figures a number of the older, numerical system has."""

    fewest_figures: Whole
    most_figures: Whole

    @model_validator(mode="after")
    def _from_few_to_many(self) -> Self:
        if self.fewest_figures > self.most_figures:
            raise ValueError("fewest_figures must not be above most_figures")
        return self


class Series(Reasoned):
    """The first number of a series."""

    first: Whole


class PowerClass(Grounded):
    """First figure of the numbers of 1942 to 1944: a class of heater power."""

    id: Id
    digit: Annotated[str, Field(pattern=r"^[1-9]$", description='a text of one figure such as "2"')]
    label: Text


class Letter(Grounded):
    """Letter of the numbers of 1942 to 1944: what kind of tube."""

    id: Id
    letter: Capital
    label: Text


class Suffix(Grounded):
    """Letters that may follow a number without changing the heater."""

    id: Id
    suffix: Capitals
    label: Text


@dataclass(frozen=True)
class TubeNumbers:
    """Everything tube_numbers.toml says; `file` reports faults found later."""

    words: dict[str, str]
    leads: list[Lead]
    not_used: NotUsed
    cathode_ray: CathodeRay
    older: Older
    industrial: Series
    serials: Series
    power_classes: list[PowerClass]
    letters: list[Letter]
    suffixes: list[Suffix]
    file: Layers

    def grounds(self) -> list[tuple[str, Grounded]]:
        """Every row that says what it rests on, with the words that name it."""
        lists: dict[str, list[Any]] = {
            "lead": self.leads, "power_class": self.power_classes, "letter": self.letters,
            "suffix": self.suffixes,
        }  # fmt: skip
        single = ("not_used", "cathode_ray", "older", "industrial", "serials")
        named = [(f'{name} "{row.id}"', row) for name, rows in lists.items() for row in rows]
        return [*((name, getattr(self, name)) for name in single), *named]


def read_tube_numbers(file: Layers) -> TubeNumbers | None:
    """The typed tables of tube_numbers.toml, or None when a fault in them was noted."""
    before = len(file.problems)
    file.only(_TABLES)
    words = read_words(file, WORDS)
    not_used = file.table("not_used", NotUsed)
    cathode_ray = file.table("cathode_ray", CathodeRay)
    older = file.table("older", Older)
    industrial = file.table("industrial", Series)
    serials = file.table("serials", Series)
    leads = file.rows("lead", Lead)
    power_classes = file.rows("power_class", PowerClass)
    letters = file.rows("letter", Letter)
    suffixes = file.rows("suffix", Suffix)
    _each_once(file, "lead", [(row.id, row.lead) for row in leads])
    _each_once(file, "power_class", [(row.id, row.digit) for row in power_classes])
    _each_once(file, "letter", [(row.id, row.letter) for row in letters])
    _each_once(file, "suffix", [(row.id, row.suffix) for row in suffixes])
    if len(file.problems) > before or not (not_used and cathode_ray and older and industrial and serials):
        return None
    return TubeNumbers(
        words, leads, not_used, cathode_ray, older, industrial, serials, power_classes, letters, suffixes,
        file,
    )  # fmt: skip


def _each_once(file: Layers, name: str, found: list[tuple[str, str]]) -> None:
    """Notes every row that says what another row above it said already."""
    said: dict[str, str] = {}
    for row_id, key in found:
        if key in said:
            file.fault(f'{name} "{row_id}"', f'the row "{said[key]}" speaks of "{key}" already.')
        said.setdefault(key, row_id)


def compiled(tables: TubeNumbers) -> dict[str, Any]:
    """The document that the engines read, in volts; rows keep what they rest on."""
    return {
        "words": tables.words,
        "leads": [_plain(row) for row in tables.leads],
        "not_used": _plain(tables.not_used),
        "cathode_ray": _plain(tables.cathode_ray),
        "older": _plain(tables.older),
        "industrial": _plain(tables.industrial),
        "serials": _plain(tables.serials),
        "power_classes": [_plain(row) for row in tables.power_classes],
        "letters": [_plain(row) for row in tables.letters],
        "suffixes": [_plain(row) for row in tables.suffixes],
    }


def _plain(row: Row) -> dict[str, Any]:
    return row.model_dump(exclude_none=True)
