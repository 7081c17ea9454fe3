"""Rays by their height, and how what they meet gets its colour and slope."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from demo_photos.light import Surface
from demo_photos.shapes import Floats
from demo_photos.skin import STEEPEST, Material, Skin

NOWHERE = np.float32(-1e9)


Extent = tuple[float, float, float, float]


def extent_of(x: Floats, y: Floats) -> Extent:
    """The least and greatest x, then y."""
    return float(x.min()), float(x.max()), float(y.min()), float(y.max())


@dataclass(frozen=True)
class Rays:
    """Rays by height, and the unit directions back to the camera (3, n)."""

    x0: Floats
    y0: Floats
    sx: Floats
    sy: Floats
    view: Floats

    @cached_property
    def extent(self) -> Extent:
        """The rectangle of the panel's plane that they cross."""
        return extent_of(self.x0, self.y0)

    @cached_property
    def steepest(self) -> float:
        """The greatest way sideways to a millimetre of height."""
        return float(max(np.abs(self.sx).max(), np.abs(self.sy).max()))

    def at(self, h: float | Floats) -> tuple[Floats, Floats]:
        """Where they pass a height."""
        return self.x0 + self.sx * h, self.y0 + self.sy * h

    def some(self, where: NDArray[np.intp]) -> "Rays":
        """A selection of them."""
        return Rays(self.x0[where], self.y0[where], self.sx[where], self.sy[where], self.view[:, where])


def plain(s: Surface, where: NDArray[np.intp], stuff: Material) -> None:
    """Gives some points a plain material."""
    s.colour[:, where] = np.asarray(stuff.colour, dtype=np.float32)[:, None]
    s.metal[where], s.rough[where] = stuff.metal, stuff.rough


def wear_skin(
    s: Surface, where: NDArray[np.intp], skin: Skin, x: Floats, y: Floats, turn: float = 0.0
) -> Floats:
    """Gives some points what a map shows at x, y of its own; returns the channels."""
    got = skin.sample(x, y)
    s.colour[:, where] = got[:3] * got[:3]
    s.metal[where], s.rough[where] = got[3], got[4]
    slopes = (got[5:7] - np.float32(128 / 255)) * np.float32(2 * STEEPEST)
    c, d = np.float32(np.cos(turn)), np.float32(np.sin(turn))
    lean(s, where, c * slopes[0] - d * slopes[1], d * slopes[0] + c * slopes[1])
    return got


def lean(s: Surface, where: NDArray[np.intp], slope_x: Floats, slope_y: Floats) -> None:
    """Sets the normals of some points from the slopes of their surface."""
    norm = 1 / np.sqrt(1 + slope_x * slope_x + slope_y * slope_y)
    s.normal[0, where], s.normal[1, where], s.normal[2, where] = -slope_x * norm, -slope_y * norm, norm
