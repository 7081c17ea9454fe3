"""Round things: knobs, screws, coins, levers."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from demo_photos.light import Surface
from demo_photos.rays import NOWHERE, Rays, lean, plain, wear_skin
from demo_photos.shapes import Floats, Point, length, smooth, turned
from demo_photos.skin import Material, Skin


@dataclass(frozen=True)
class Frustum:
    """A round thing, perhaps tapered. `lean` shifts it sideways with height; `dome` rounds its top."""

    centre: Point
    radius: float
    top: float
    side: Material
    face: Skin | Material
    base: float = 0.0
    top_radius: float | None = None
    lean: Point = (0.0, 0.0)
    flutes: int = 0
    dome: float = 0.0
    turn: float = 0.0

    @property
    def narrow(self) -> float:
        """The radius at the top."""
        return self.radius if self.top_radius is None else self.top_radius

    @property
    def reach(self) -> float:
        """No point of it is further from its centre, seen from above."""
        sideways = math.hypot(*self.lean) * (self.top - self.base)
        return max(self.radius, self.narrow) + sideways

    def hit(self, r: Rays) -> Floats:
        """The height at which rays meet it, NOWHERE if they miss."""
        k = (self.narrow - self.radius) / (self.top - self.base)
        qx = r.x0 - np.float32(self.centre[0] - self.lean[0] * self.base)
        qy = r.y0 - np.float32(self.centre[1] - self.lean[1] * self.base)
        gx, gy = r.sx - np.float32(self.lean[0]), r.sy - np.float32(self.lean[1])
        r0 = np.float32(self.radius - k * self.base)
        a = gx * gx + gy * gy - np.float32(k * k)
        a = np.where(np.abs(a) < 1e-6, np.float32(1e-6), a)
        b = gx * qx + gy * qy - np.float32(k) * r0
        inside = b * b - a * (qx * qx + qy * qy - r0 * r0)
        h = (np.sqrt(np.maximum(inside, 0)) - b) / a
        h = np.where((inside >= 0) & (h >= self.base) & (h <= self.top), h, NOWHERE)
        tx, ty = qx + gx * np.float32(self.top), qy + gy * np.float32(self.top)
        return np.where(tx * tx + ty * ty <= self.narrow**2, np.float32(self.top), h)

    def fill(self, s: Surface, where: NDArray[np.intp], r: Rays) -> None:
        """Says what the rays that met it see."""
        lift = s.h[where] - np.float32(self.base)
        dx = s.x[where] - np.float32(self.centre[0]) - np.float32(self.lean[0]) * lift
        dy = s.y[where] - np.float32(self.centre[1]) - np.float32(self.lean[1]) * lift
        over = s.h[where] > self.top - 1e-3
        self._fill_top(s, where[over], dx[over], dy[over])
        self._fill_side(s, where[~over], dx[~over], dy[~over])

    def _fill_top(self, s: Surface, where: NDArray[np.intp], dx: Floats, dy: Floats) -> None:
        if isinstance(self.face, Material):
            plain(s, where, self.face)
            bulge = np.float32(-self.dome / self.narrow)
            edge = smooth(length(dx, dy) / np.float32(self.narrow), 0.86, 1.0) * np.float32(
                -0.6 / self.narrow
            )
            lean(s, where, (bulge + edge) * dx, (bulge + edge) * dy)
            return
        x, y = turned(dx, dy, (0.0, 0.0), self.turn)
        wear_skin(s, where, self.face, x, y, self.turn)

    def _fill_side(self, s: Surface, where: NDArray[np.intp], dx: Floats, dy: Floats) -> None:
        plain(s, where, self.side)
        away = np.maximum(length(dx, dy), 1e-3)
        nx, ny = dx / away, dy / away
        if self.flutes:
            wave = np.sin(np.arctan2(dy, dx) * np.float32(self.flutes)) * np.float32(0.55)
            nx, ny = nx - wave * ny, ny + wave * nx
            s.sky[where] *= 0.75 + 0.25 * np.abs(wave)
        up = np.float32(max(0.0, (self.radius - self.narrow) / (self.top - self.base)))
        norm = 1 / np.sqrt(nx * nx + ny * ny + up * up)
        s.normal[0, where], s.normal[1, where], s.normal[2, where] = nx * norm, ny * norm, up * norm
        low = smooth(s.h[where], self.base - 1.0, self.base + 3.0)
        s.sky[where] *= 0.45 + 0.55 * low

    def shadow(self, x: Floats, y: Floats, h: Floats, m: Point, spread: float) -> Floats:
        """How much of a lamp at slope m it takes from points."""
        return _round_shadow(self, x, y, h, m, spread)

    def closeness(self, x: Floats, y: Floats, h: Floats) -> Floats:
        """How much of the sky it takes from points beside it."""
        away = length(x - np.float32(self.centre[0]), y - np.float32(self.centre[1]))
        beside = np.maximum(away - np.float32(self.radius), 0)
        rise = np.maximum(np.float32(self.top) - h, 0)
        wide = np.float32(self.radius) / (np.float32(self.radius) + 0.6 * beside)
        return 0.55 * wide * (1 - beside / np.sqrt(beside * beside + rise * rise + np.float32(1e-4)))


def _round_shadow(f: Frustum, x: Floats, y: Floats, h: Floats, m: Point, spread: float) -> Floats:
    """The nearest pass of the way to the lamp by the frustum's axis, softened by how far up that is."""
    gx, gy = np.float32(m[0] - f.lean[0]), np.float32(m[1] - f.lean[1])
    low = np.maximum(np.float32(f.base) - h, 0)
    high = np.maximum(np.float32(f.top) - h, 0)
    start = (h - np.float32(f.base)) if f.lean != (0.0, 0.0) else np.float32(0)
    qx = x - np.float32(f.centre[0]) - np.float32(f.lean[0]) * start
    qy = y - np.float32(f.centre[1]) - np.float32(f.lean[1]) * start
    s = np.clip(-(qx * gx + qy * gy) / (gx * gx + gy * gy + np.float32(1e-6)), low, high)
    k = (f.narrow - f.radius) / (f.top - f.base)
    radius = np.float32(f.radius) + np.float32(k) * np.maximum(h + s - np.float32(f.base), 0)
    past = length(qx + gx * s, qy + gy * s) - radius
    soft = np.maximum(s * np.float32(spread * 1.2), np.float32(0.06))
    return np.where(high > 0, smooth(-past / soft, -1, 1), 0).astype(np.float32)
