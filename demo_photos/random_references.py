"""A card, label or coin at random, somewhere on a panel."""

import math
import tomllib
from pathlib import Path

from demo_photos.camera import Camera
from demo_photos.cards import CARD, card
from demo_photos.coins import coin
from demo_photos.labels import label
from demo_photos.layout import Room, Round
from demo_photos.shapes import Point
from demo_photos.slab import Slab
from demo_photos.textures import Rng
from demo_photos.truth import Reference

SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
COINS = Path(__file__).parent.parent / "rules" / "scale_objects.toml"


def coin_sizes() -> list[float]:
    """Diameters of the listed coins, in millimetres."""
    rows = tomllib.loads(COINS.read_text("utf-8"))["coin"]
    return sorted({float(row["diameter_mm"]) for row in rows})


def random_reference(
    rng: Rng, kind: str, room: Room, level: str, side: float = 30.0
) -> tuple[Reference, str]:
    """A reference somewhere on the panel, and what it says if it is a label."""
    text = f"{''.join(rng.choice(list(SIGNS), 4))}-{int(rng.integers(1, 1000)):03d}"
    turn = float(rng.normal(0, 0.35)) + (math.pi / 2 * int(rng.integers(4)) if rng.random() < 0.3 else 0)
    reach = {"card": 51.0, "label": 34.0 * max(side / 30, 1), "coin": 15.0}[kind] + 8
    middle = (
        float(rng.uniform(reach, room.size[0] - reach)),
        float(rng.uniform(reach, room.size[1] - reach)),
    )
    found = _made(rng, kind, middle, turn, 5.0, text, level, side)
    if isinstance(found.thing, Slab):
        room.take_box(middle, found.thing.half, turn)
    else:
        room.take(middle, found.thing.radius)
    return found, text


def _made(
    rng: Rng, kind: str, middle: Point, turn: float, per_mm: float, text: str, level: str, side: float
) -> Reference:
    if kind == "coin":
        return Reference(kind, coin(rng, middle, float(rng.choice(coin_sizes())), turn, per_mm))
    if kind == "card":
        return Reference(kind, card(rng, middle, turn, per_mm))
    return Reference(kind, _label(rng, middle, turn, per_mm, text, level, side), side)


def _label(rng: Rng, middle: Point, turn: float, per_mm: float, text: str, level: str, side: float) -> Slab:
    dirt = float(rng.uniform(*{"easy": (0.0, 0.15), "medium": (0.1, 0.4), "hard": (0.3, 0.9)}[level]))
    curl = float(rng.uniform(0, 1.8)) if level == "hard" and rng.random() < 0.5 else 0.0
    torn, taped = level == "hard" and rng.random() < 0.35, level != "easy" and rng.random() < 0.4
    return label(rng, text, middle, turn, per_mm, side, dirt, curl, torn, taped)


def drawn_again(rng: Rng, reference: Reference, camera: Camera, level: str, text: str) -> Reference:
    """The reference as finely drawn as this camera sees it."""
    thing, per_mm = reference.thing, min(12.0, camera.per_mm * 1.2)
    turn, side = thing.turn, reference.side_mm
    if isinstance(thing, Slab) and reference.kind == "label":
        return Reference("label", _label(rng, thing.centre, turn, per_mm, text, level, side), side)
    if isinstance(thing, Slab):
        return Reference("card", card(rng, thing.centre, turn, per_mm))
    return Reference("coin", coin(rng, thing.centre, thing.radius * 2, turn, per_mm))


def spots_of(reference: Reference) -> list[Round]:
    """Circles that cover the reference."""
    thing = reference.thing
    if not isinstance(thing, Slab):
        return [(*thing.centre, thing.radius)]
    room = Room(CARD)
    room.take_box(thing.centre, thing.half, thing.turn)
    return room.taken
