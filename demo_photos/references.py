"""Where the corners of a card or of a label's symbol lie."""

import numpy as np

from demo_photos.shapes import Point, unturned
from demo_photos.slab import Slab


def card_corners(slab: Slab) -> list[tuple[float, float, float]]:
    """Where the edges of a card's face would meet, from its top left as it is read."""
    return _corners(slab, slab.half)


def _corners(slab: Slab, half: Point, down: float = 0.0) -> list[tuple[float, float, float]]:
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    found = []
    for i, j in signs:
        x, y = i * half[0], j * half[1] + down
        height = float(slab.raised(np.float32(x), np.float32(y)))  # type: ignore[arg-type]
        found.append((*unturned(x, y, slab.centre, slab.turn), height))
    return found


def label_symbol(slab: Slab, side: float) -> list[tuple[float, float, float]]:
    """The outer corners of a label's symbol, from its top left as it is read."""
    return _corners(slab, (side / 2, side / 2), down=-slab.half[1] + 4.5 * side / 21 + side / 2)
