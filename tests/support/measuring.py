"""The engine for measuring in photos with the shipped figures, as the tests call it."""

import random
from typing import Any

from tests.support.drawn_photos import Drawn
from tests.support.packs import pack_for
from webapp.photos.grey import Point
from webapp.photos.reference import Reference, four_cornered, round_coin

TABLE: dict[str, Any] = pack_for()["measuring"]
SETTINGS: dict[str, float] = TABLE["settings"]
# What a finger is off on a phone, in pixels of the photo.
HAND_PX = {"card": 2.0, "label": 1.0, "coin": 1.5}


def reference_in(drawn: Drawn, kind: str, outline: list[Point], as_given: bool) -> Reference:
    """The reference of a drawn photo, which has no thickness there."""
    if kind == "coin":
        coin = round_coin(drawn.photo, outline, drawn.size_mm[0], 0.0, as_given, SETTINGS)
        assert coin is not None
        return coin
    return four_cornered(drawn.photo, kind, outline, drawn.size_mm, 0.0, as_given, SETTINGS)


def by_hand(seed: int, points: list[Point], off: float) -> list[Point]:
    """Points as a hand sets them."""
    rng = random.Random(seed)
    return [(x + rng.gauss(0, off), y + rng.gauss(0, off)) for x, y in points]
