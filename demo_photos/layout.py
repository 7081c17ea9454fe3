"""Where things go on a panel: free places, and what would hide what."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from demo_photos.camera import Camera
from demo_photos.frustum import Frustum
from demo_photos.shapes import Point
from demo_photos.slab import Slab
from demo_photos.textures import Rng
from demo_photos.things import Thing

Round = tuple[float, float, float]


@dataclass
class Room:
    """A panel with circles (x, y, radius) that are taken."""

    size: Point
    taken: list[Round] = field(default_factory=list)

    def is_free(self, centre: Point, radius: float, gap: float = 2.0) -> bool:
        """Whether a circle fits on the panel beside all others."""
        x, y = centre
        if not (
            radius + gap < x < self.size[0] - radius - gap and radius + gap < y < self.size[1] - radius - gap
        ):
            return False
        return all(math.hypot(x - a, y - b) > radius + r + gap for a, b, r in self.taken)

    def take(self, centre: Point, radius: float) -> None:
        """Keeps a circle from being taken again."""
        self.taken.append((*centre, radius))

    def take_box(self, centre: Point, half: Point, turn: float) -> None:
        """Keeps a rectangle, by circles along it."""
        small = min(half)
        long = max(half) - small
        angle = turn + (0.0 if half[0] >= half[1] else math.pi / 2)
        steps = max(1, math.ceil(2 * long / small)) if long else 0
        for i in range(steps + 1):
            along = -long + 2 * long * i / steps if steps else 0.0
            spot = (centre[0] + along * math.cos(angle), centre[1] + along * math.sin(angle))
            self.take(spot, small * 1.42)

    def find(
        self, rng: Rng, radius: float, gap: float = 2.0, near: Round | None = None, tries: int = 60
    ) -> Point | None:
        """A free place for a circle, taken at once, within `near` if given; None if none was found."""
        for _ in range(tries):
            if near is None:
                spot = (float(rng.uniform(0, self.size[0])), float(rng.uniform(0, self.size[1])))
            else:
                angle, away = rng.uniform(0, math.tau), near[2] * math.sqrt(rng.uniform(0.05, 1))
                spot = (near[0] + float(away * math.cos(angle)), near[1] + float(away * math.sin(angle)))
            if self.is_free(spot, radius, gap):
                self.take(spot, radius)
                return spot
        return None


def seen_of(camera: Camera, size: Point) -> tuple[float, float, float, float]:
    """The part of a panel that a photo shows: left, right, top, bottom, in millimetres."""
    along, down = np.linspace(0, camera.width, 9), np.linspace(0, camera.height, 9)
    u, v = (a.ravel().astype(np.float32) for a in np.meshgrid(along, down))
    dx, dy, dh = camera.rays(u, v)
    x, y = (camera.stand[i] - camera.stand[2] * d / dh for i, d in enumerate((dx, dy)))
    (left, right), (top, bottom) = (
        (max(0.0, float(a.min()) - 2), min(side, float(a.max()) + 2))
        for a, side in zip((x, y), size, strict=True)
    )
    return left, max(right, left + 2), top, max(bottom, top + 2)


def in_frame(camera: Camera, points: Sequence[tuple[float, float, float]], margin: float) -> bool:
    """Whether all points lie in the photo, `margin` pixels from its edge."""
    return all(
        margin < u < camera.width - margin and margin < v < camera.height - margin
        for u, v in camera.project(list(points))
    )


def in_sight(camera: Camera, things: Iterable[Thing], wanted: Iterable[Round]) -> list[Thing]:
    """The things that hide nothing of the circles that are to be seen."""
    wanted = list(wanted)
    return [thing for thing in things if not any(_hides(camera, thing, spot) for spot in wanted)]


def _hides(camera: Camera, thing: Frustum | Slab, spot: Round) -> bool:
    """Whether the way from a circle on the panel to the camera passes a thing."""
    x, y, radius = spot
    to_camera = (camera.stand[0] - x, camera.stand[1] - y)
    rise = thing.top / float(camera.stand[2])
    gx, gy = to_camera[0] * rise, to_camera[1] * rise
    dx, dy = thing.centre[0] - x, thing.centre[1] - y
    t = max(0.0, min(1.0, (dx * gx + dy * gy) / (gx * gx + gy * gy + 1e-9)))
    return math.hypot(dx - t * gx, dy - t * gy) < radius + thing.reach + 1.0
