"""What is true of a photo: where the reference and the holes lie in it, in pixels of the photo."""

import math
from dataclasses import dataclass
from typing import Any

from demo_photos.camera import Camera
from demo_photos.frustum import Frustum
from demo_photos.panel import Hole
from demo_photos.references import card_corners, label_symbol
from demo_photos.slab import Slab


@dataclass(frozen=True)
class Reference:
    """A thing of known size: a card, a coin, or a label with the side of its symbol."""

    kind: str
    thing: Slab | Frustum
    side_mm: float = 30.0

    def points(self) -> list[tuple[float, float, float]]:
        """The corners of its face, or twelve points of its upper rim."""
        if isinstance(self.thing, Frustum):
            return circle(self.thing.centre, self.thing.radius, self.thing.top, 12)
        if self.kind == "label":
            return label_symbol(self.thing, self.side_mm)
        return card_corners(self.thing)

    def told(self, camera: Camera) -> dict[str, Any]:
        """The reference as it lies in the photo."""
        seen = pixels(camera, self.points())
        if isinstance(self.thing, Frustum):
            return {"kind": "coin", "coin_mm": round(2 * self.thing.radius, 3), "rim": seen}
        if self.kind == "label":
            return {"kind": "label", "side_mm": self.side_mm, "corners": seen}
        return {"kind": "card", "corners": seen}


def circle(
    centre: tuple[float, float], radius: float, h: float, count: int
) -> list[tuple[float, float, float]]:
    """Points of a circle that lies level at a height."""
    angles = [math.tau * i / count for i in range(count)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a), h) for a in angles]


def pixels(camera: Camera, points: list[tuple[float, float, float]]) -> list[list[float]]:
    """Points in the photo, to a thousandth of a pixel."""
    return [[round(x, 3), round(y, 3)] for x, y in camera.project(points)]


def hole_truth(camera: Camera, hole: Hole, aside: tuple[float, float]) -> dict[str, Any]:
    """A hole in the photo; the tap lies `aside` of its middle, in parts of its radius."""
    x, y = hole.centre
    tap = (x + aside[0] * hole.radius, y + aside[1] * hole.radius, 0.0)
    centre, tapped = pixels(camera, [(x, y, 0.0), tap])
    return {
        "place": hole.place,
        "diameter_mm": round(hole.diameter, 2),
        "centre": centre,
        "rim": pixels(camera, circle(hole.centre, hole.radius, 0.0, 24)),
        "tap": tapped,
    }
