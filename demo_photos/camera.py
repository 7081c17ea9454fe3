"""A pinhole camera with a phone's small radial distortion, standing before a panel.

The world is in millimetres: x to the right and y down on the panel as seen from
outside, h towards the viewer. Photo coordinates have (0, 0) at the outer corner of the top left pixel.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from demo_photos.shapes import Floats, Point

Doubles = NDArray[np.float64]


@dataclass(frozen=True)
class Camera:
    """Where a camera stands, how it is turned, and its lens. `focal` in pixels; `bend` is (k1, k2)."""

    width: int
    height: int
    focal: float
    middle: Point
    bend: Point
    stand: Doubles
    turn: Doubles

    def rays(self, u: Floats, v: Floats) -> tuple[Floats, Floats, Floats]:
        """Directions in the world through photo points, not of unit length."""
        x = (u - np.float32(self.middle[0])) * np.float32(1 / self.focal)
        y = (v - np.float32(self.middle[1])) * np.float32(1 / self.focal)
        straight = self._straightened(x * x + y * y)
        x, y = x * straight, y * straight
        t = self.turn.astype(np.float32)
        dx, dy, dh = (t[0, i] * x + t[1, i] * y + t[2, i] for i in range(3))
        return dx, dy, np.minimum(dh, np.float32(-0.02))

    def _straightened(self, bent: Floats) -> Floats:
        """What undoes the distortion at a squared distance from the middle: a fixed point, soon found."""
        k1, k2 = (np.float32(k) for k in self.bend)
        factor = np.ones_like(bent)
        for _ in range(5):
            r2 = bent * factor * factor
            factor = 1 / (1 + r2 * (k1 + k2 * r2))
        return factor

    def project(self, points: list[tuple[float, float, float]]) -> list[Point]:
        """Where points of the world lie in the photo, through the lens."""
        seen = (np.asarray(points, dtype=np.float64) - self.stand) @ self.turn.T
        x, y = seen[:, 0] / seen[:, 2], seen[:, 1] / seen[:, 2]
        r2 = x * x + y * y
        bent = 1 + r2 * (self.bend[0] + self.bend[1] * r2)
        u = self.middle[0] + self.focal * x * bent
        v = self.middle[1] + self.focal * y * bent
        return [(float(a), float(b)) for a, b in zip(u, v, strict=True)]

    @property
    def tilt_deg(self) -> float:
        """The angle between the panel's normal and the optical axis."""
        return math.degrees(math.acos(min(1.0, -float(self.turn[2, 2]))))

    @property
    def distance_mm(self) -> float:
        """From the lens to the panel, along the optical axis."""
        return float(self.stand[2] / -self.turn[2, 2])

    @property
    def per_mm(self) -> float:
        """Pixels to a millimetre where the optical axis meets the panel, unforeshortened."""
        return self.focal / self.distance_mm


def camera_at(
    size: tuple[int, int],
    target: Point,
    distance: float,
    tilt_deg: float = 0.0,
    towards_deg: float = 0.0,
    roll_deg: float = 0.0,
    focal: float = 0.78,
    bend: Point = (0.0, 0.0),
    middle: Point = (0.5, 0.5),
) -> Camera:
    """A camera that looks at `target` of the panel; `focal` is in long sides, `middle` in sides.

    It leans by `tilt_deg` towards the direction `towards_deg` (0 right, 90 the panel's lower edge) and is
    turned by `roll_deg` about its axis.
    """
    tilt, towards, roll = (math.radians(a) for a in (tilt_deg, towards_deg, roll_deg))
    away = np.array([math.sin(tilt) * math.cos(towards), math.sin(tilt) * math.sin(towards), math.cos(tilt)])
    lean = _leaning(tilt, towards)
    right, down = lean[:, 0], lean[:, 1]
    turn = np.stack(
        [
            math.cos(roll) * right + math.sin(roll) * down,
            math.cos(roll) * down - math.sin(roll) * right,
            -away,
        ]
    )
    stand = np.array([target[0], target[1], 0.0]) + distance * away
    pixels = (size[0] * middle[0], size[1] * middle[1])
    return Camera(size[0], size[1], focal * max(size), pixels, bend, stand, turn)


def _leaning(tilt: float, towards: float) -> Doubles:
    """The shortest turn that takes the panel's normal to the camera's direction."""
    c, s, k = math.cos(towards), math.sin(towards), 1 - math.cos(tilt)
    return np.array(
        [
            [1 - k * c * c, -k * c * s, math.sin(tilt) * c],
            [-k * c * s, 1 - k * s * s, math.sin(tilt) * s],
            [-math.sin(tilt) * c, -math.sin(tilt) * s, math.cos(tilt)],
        ]
    )
