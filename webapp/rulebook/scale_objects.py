"""Things of known size that give a photo its scale: a card, and coins."""

from dataclasses import dataclass
from typing import Any

from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded, Id, Positive, Reasoned, Text


class Card(Reasoned):
    """A card with rounded corners."""

    id: Id
    label: Text
    width_mm: Positive
    height_mm: Positive
    corner_mm: Positive
    thick_mm: Positive


class Coin(Reasoned):
    """A round coin."""

    id: Id
    label: Text
    diameter_mm: Positive


@dataclass(frozen=True)
class ScaleObjects:
    """The table as read; `file` reports faults found later."""

    cards: list[Card]
    coins: list[Coin]
    file: Layers

    def grounds(self) -> list[tuple[str, Grounded]]:
        """Every row that says what it rests on, with the words that name it."""
        cards: list[tuple[str, Grounded]] = [(f'card "{row.id}"', row) for row in self.cards]
        return cards + [(f'coin "{row.id}"', row) for row in self.coins]


def read_scale_objects(file: Layers) -> ScaleObjects:
    """The typed table of scale_objects.toml; what is wrong in it is noted in the file."""
    file.only({"card", "coin"})
    return ScaleObjects(file.rows("card", Card), file.rows("coin", Coin), file)


def compiled(found: ScaleObjects) -> dict[str, Any]:
    """The document of the pack: lengths in mm."""
    return {
        "cards": [row.model_dump(exclude_none=True) for row in found.cards],
        "coins": [row.model_dump(exclude_none=True) for row in found.coins],
    }
