"""Small geometry that everything rendered here shares: arrays, edges, distances to outlines."""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.floating[Any]]
Point = tuple[float, float]


def smooth(x: Floats, low: float, high: float) -> Floats:
    """A soft step: 0 where x is at most low, 1 where it is at least high."""
    t = np.clip((x - low) * (1 / (high - low)), 0, 1)
    return t * t * (3 - 2 * t)


def length(x: Floats, y: Floats) -> Floats:
    """Length of flat vectors; much faster than the library's, which guards against huge numbers."""
    return np.sqrt(x * x + y * y)


def turned(x: Floats, y: Floats, centre: Point, angle: float) -> tuple[Floats, Floats]:
    """Panel millimetres seen from a thing that lies at `centre`, turned by `angle` radians."""
    c, s = np.float32(math.cos(angle)), np.float32(math.sin(angle))
    dx, dy = x - np.float32(centre[0]), y - np.float32(centre[1])
    return c * dx + s * dy, c * dy - s * dx


def unturned(x: float, y: float, centre: Point, angle: float) -> Point:
    """A point of a thing, in the panel's millimetres."""
    c, s = math.cos(angle), math.sin(angle)
    return centre[0] + c * x - s * y, centre[1] + s * x + c * y


def box_distance(x: Floats, y: Floats, half: Point, corner: float) -> Floats:
    """Distance to the edge of a rectangle with round corners; negative inside."""
    qx = np.abs(x) - np.float32(half[0] - corner)
    qy = np.abs(y) - np.float32(half[1] - corner)
    outside = length(np.maximum(qx, 0), np.maximum(qy, 0))
    return outside + np.minimum(np.maximum(qx, qy), 0) - np.float32(corner)
