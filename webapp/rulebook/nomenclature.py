"""The table of type designations: its rows, its sentences, and the document that both readers take."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded, Id, Kept, Reasoned, Row, Text
from webapp.rulebook.words import read_words

Json = dict[str, Any]
Year = Annotated[int, Field(ge=1930, le=1969, description="a year from 1930 to 1969")]
Mark = Annotated[str, Field(pattern=r"^[A-Z]+$", description="a word in capitals")]

GRAMMAR = (
    "set", "serial", "modification", "power-input", "variable", "configuration", "undetermined",
    "training-set", "training-class", "development", "unit-one-set", "unit-several-sets", "unit-general",
    "unit-modification",
)  # fmt: skip
"""The rows of grammar that the reader quotes."""
LETTERED = ("modification", "power-input")
"""Those of them that list letters."""

_PLACES = {"installation", "equipment", "purpose"}
_PLAIN = (
    "empty", "not-of-this-system", "points-nowhere", "unknown", "unreadable", "three-letters", "no-an",
    "about-system", "about-installation", "about-equipment", "about-purpose", "about-letters",
    "about-indicator", "about-number", "about-unit-number", "about-modification", "about-power",
    "about-variable", "about-undetermined", "about-training", "about-development", "about-home",
    "about-rest", "system", "variable", "undetermined", "development", "order-unknown",
    "order-empty",
)  # fmt: skip
WORDS: dict[str, set[str]] = {
    **{key: set() for key in _PLAIN},
    "set": {"written", *_PLACES},
    "trainer": {"written", *_PLACES},
    "unit": {"written", "item", "home"},
    "half-readable": {"written", "missing"},
    "half-without-an": {"written"},
    "points-to": {"families"},
    "or": {"one", "other"},
    "in-period": {"meaning", "period"},
    "unknown-letter": {"letter"},
    "number": {"number"},
    "modification": {"n"},
    "power": {"n"},
    "configuration": {"n"},
    "training": {"n"},
    "development-n": {"n"},
    "part-of": {"set"},
    "several-sets": {"letters"},
    "general-use": {"place"},
    "order-year": {"digits", "year"},
}
"""Sentence id → blanks such as {written} that the sentence may hold."""


class Letter(Grounded):
    """What one letter says in one of the three places, in one period."""

    id: Id
    place: Literal["installation", "equipment", "purpose"]
    letter: str = Field(pattern=r"^[A-Z]$", description="one capital letter")
    meaning: Text
    period: Text = Field(description='when it meant that, such as "all editions"')


class Indicator(Grounded):
    """What the letters before a unit's number say."""

    id: Id
    code: str = Field(pattern=r"^[A-Z]{1,2}$", description="one or two capital letters")
    meaning: Text


class Grammar(Grounded):
    """One way in which a designation is written; `letters` where a piece is one of a few, in their order."""

    id: Id
    form: Kept
    example: Kept = Field(description="an invented designation")
    meaning: Text
    letters: Mark | None = None


class Stamp(Reasoned):
    """A stamp met on equipment: what it tells and what it does not, and the check that asks for it."""

    id: Id
    label: Text
    tells: Text
    check: Literal["inspection-stamps", "moisture-stamp"]


class Order(Reasoned):
    """Between which years the last two digits of an order number count as the year of order.

    `marks` are words that stand before such a number on a plate.
    """

    from_year: Year
    to_year: Year
    marks: list[Mark] = Field(min_length=1)

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.from_year > self.to_year:
            raise ValueError("from_year comes before to_year")
        return self


@dataclass(frozen=True)
class Nomenclature:
    """The table as read; `file` reports faults found later."""

    letters: list[Letter]
    indicators: list[Indicator]
    grammar: list[Grammar]
    stamps: list[Stamp]
    order: Order | None
    words: dict[str, str]
    file: Layers

    def grounds(self) -> list[tuple[str, Grounded]]:
        """Every row that says what it rests on, with the words that name it."""
        lists: dict[str, list[Any]] = {
            "letter": self.letters,
            "indicator": self.indicators,
            "grammar": self.grammar,
            "stamp": self.stamps,
        }
        named = [(f'{name} "{row.id}"', row) for name, rows in lists.items() for row in rows]
        return [*([("order", self.order)] if self.order is not None else []), *named]


def read_nomenclature(file: Layers) -> Nomenclature:
    """The typed table of nomenclature.toml; what is wrong in it is noted in the file, with its row."""
    file.only({"letter", "indicator", "grammar", "stamp", "order", "words"})
    letters = file.rows("letter", Letter)
    indicators = file.rows("indicator", Indicator)
    grammar = file.rows("grammar", Grammar)
    _no_letter_twice(file, letters)
    _no_code_twice(file, indicators)
    _whole_grammar(file, grammar)
    return Nomenclature(
        letters=letters,
        indicators=indicators,
        grammar=grammar,
        stamps=file.rows("stamp", Stamp),
        order=file.table("order", Order),
        words=read_words(file, WORDS),
        file=file,
    )


def compiled(nomenclature: Nomenclature, families: Mapping[str, Json]) -> Json:
    """The document that the reader and its twin take.

    `families`: id → {"name", "sets": ["ART", "AR?"], "units": ["T"]}, "?" standing for any letter.
    """
    return {
        "letters": [_plain(row) for row in nomenclature.letters],
        "indicators": {row.code: _plain(row) for row in nomenclature.indicators},
        "grammar": [_plain(row) for row in nomenclature.grammar],
        "stamps": [_plain(row) for row in nomenclature.stamps],
        "order": _plain(nomenclature.order) if nomenclature.order is not None else {},
        "words": nomenclature.words,
        "families": {key: dict(family) for key, family in families.items()},
    }


def _plain(row: Row) -> Json:
    return row.model_dump(exclude_none=True)


def _no_letter_twice(file: Layers, letters: list[Letter]) -> None:
    count = Counter((row.place, row.letter, row.period) for row in letters)
    for row in letters:
        if count[row.place, row.letter, row.period] > 1:
            told = f"{row.letter} as {row.place} has more than one row for"
            file.fault(f'letter "{row.id}"', f'{told} "{row.period}"; each meaning needs its own period.')


def _no_code_twice(file: Layers, indicators: list[Indicator]) -> None:
    count = Counter(row.code for row in indicators)
    for row in indicators:
        if count[row.code] > 1:
            file.fault(f'indicator "{row.id}"', f'the code "{row.code}" has more than one row; keep one.')


def _whole_grammar(file: Layers, grammar: list[Grammar]) -> None:
    rows = {row.id: row for row in grammar}
    for key in GRAMMAR:
        if key not in rows:
            file.fault("", f'the row grammar "{key}" is missing; the reader quotes it.')
        elif key in LETTERED and rows[key].letters is None:
            file.fault(f'grammar "{key}"', 'the key "letters" is missing (the letters in their order).')
