"""Plates with round corners: cards, nameplates, labels, dials, boxes."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from demo_photos.light import Surface
from demo_photos.rays import NOWHERE, Rays, lean, plain, wear_skin
from demo_photos.shapes import Floats, Point, box_distance, smooth, turned
from demo_photos.skin import Material, Skin


@dataclass(frozen=True)
class Slab:
    """A plate with round corners: card, nameplate, label, dial, bar knob. `curl` lifts its corners."""

    centre: Point
    half: Point
    corner: float
    top: float
    side: Material
    face: Skin | Material
    base: float = 0.0
    turn: float = 0.0
    curl: float = 0.0

    @property
    def reach(self) -> float:
        """No point of it is further from its centre, seen from above."""
        return math.hypot(*self.half)

    def raised(self, x: Floats | float, y: Floats | float) -> Floats:
        """The height of its face at a point of its own."""
        ex, ey = np.abs(np.divide(x, self.half[0])), np.abs(np.divide(y, self.half[1]))
        return np.asarray(self.top + self.curl * np.minimum(ex * ey, 1.2) ** 2, dtype=np.float32)

    def hit(self, r: Rays) -> Floats:
        """The height at which rays meet it, NOWHERE if they miss."""
        x, y = turned(r.x0, r.y0, self.centre, self.turn)
        gx, gy = turned(r.sx, r.sy, (0.0, 0.0), self.turn)
        h = np.full_like(x, self.top)
        if self.curl:
            for _ in range(4):
                h = self.raised(x + gx * h, y + gy * h)
        fx, fy = x + gx * h, y + gy * h
        over = box_distance(fx, fy, self.half, self.corner) <= 0
        if self.curl:
            return np.where(over & (self._there(fx, fy)), h, NOWHERE)
        side = self._side(x, y, gx, gy)
        return np.where(over, h, side)

    def _there(self, x: Floats, y: Floats) -> NDArray[np.bool_]:
        if isinstance(self.face, Material):
            return np.ones(x.shape, dtype=bool)
        return self.face.sample(x, y)[7] > 0.5

    def _side(self, x: Floats, y: Floats, gx: Floats, gy: Floats) -> Floats:
        """Where rays that miss the face go in through the edge, by halving."""
        found = np.full_like(x, NOWHERE)
        foot = np.float32(self.base)
        enters = np.flatnonzero(box_distance(x + gx * foot, y + gy * foot, self.half, self.corner) <= 0)
        x, y, gx, gy = x[enters], y[enters], gx[enters], gy[enters]
        low, high = np.full_like(x, self.base), np.full_like(x, self.top)
        for _ in range(9 if self.top - self.base > 4 else 4):
            mid = 0.5 * (high + low)
            inside = box_distance(x + gx * mid, y + gy * mid, self.half, self.corner) <= 0
            low, high = np.where(inside, mid, low), np.where(inside, high, mid)
        found[enters] = low
        return found

    def fill(self, s: Surface, where: NDArray[np.intp], r: Rays) -> None:
        """Says what the rays that met it see."""
        x, y = turned(s.x[where], s.y[where], self.centre, self.turn)
        over = s.h[where] > self.top - 1e-3
        top, side = where[over], where[~over]
        if isinstance(self.face, Material):
            plain(s, top, self.face)
        else:
            wear_skin(s, top, self.face, x[over], y[over], self.turn)
        if self.curl:
            self._lean_curled(s, top, x[over], y[over])
        plain(s, side, self.side)
        nx, ny = self._outwards(x[~over], y[~over])
        s.normal[0, side], s.normal[1, side], s.normal[2, side] = nx, ny, 0.25
        s.sky[side] *= 0.5

    def _lean_curled(self, s: Surface, where: NDArray[np.intp], x: Floats, y: Floats) -> None:
        step = np.float32(0.1)
        here = self.raised(x, y)
        ax, ay = (self.raised(x + step, y) - here) / step, (self.raised(x, y + step) - here) / step
        c, d = np.float32(np.cos(self.turn)), np.float32(np.sin(self.turn))
        lean(s, where, c * ax - d * ay, d * ax + c * ay)

    def _outwards(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        step = np.float32(0.02)
        here = box_distance(x, y, self.half, self.corner)
        nx = (box_distance(x + step, y, self.half, self.corner) - here) / step
        ny = (box_distance(x, y + step, self.half, self.corner) - here) / step
        c, d = np.float32(np.cos(self.turn)), np.float32(np.sin(self.turn))
        return c * nx - d * ny, d * nx + c * ny

    def shadow(self, x: Floats, y: Floats, h: Floats, m: Point, spread: float) -> Floats:
        """How much of a lamp at slope m it takes from points."""
        px, py = turned(x, y, self.centre, self.turn)
        gx, gy = turned(np.float32(m[0]), np.float32(m[1]), (0.0, 0.0), self.turn)  # type: ignore[arg-type]
        high = np.maximum(np.float32(self.top + 0.6 * self.curl) - h, 0)
        low = np.maximum(np.float32(self.base) - h, 0)
        if self.top - self.base > 4:
            s = self._nearest_pass(px, py, gx, gy, low, high)
            worst = self._blocked(px, py, gx, gy, s, spread)
        else:
            worst = self._blocked(px, py, gx, gy, high, spread)
            worst = np.maximum(worst, self._blocked(px, py, gx, gy, 0.5 * (low + high), spread))
        return np.where(high > 0, worst, 0).astype(np.float32)

    def _blocked(self, px: Floats, py: Floats, gx: Floats, gy: Floats, s: Floats, spread: float) -> Floats:
        """What a level outline at s above the points takes of the lamp."""
        past = box_distance(px + gx * s, py + gy * s, self.half, self.corner)
        return smooth(-past / np.maximum(s * np.float32(spread * 1.2), np.float32(0.05)), -1, 1)

    def _nearest_pass(
        self, px: Floats, py: Floats, gx: Floats, gy: Floats, low: Floats, high: Floats
    ) -> Floats:
        """Where the way to the lamp passes deepest through the outline: a golden section search."""
        golden = np.float32(0.618034)
        for _ in range(9):
            step = golden * (high - low)
            left, right = high - step, low + step
            nearer = box_distance(px + gx * left, py + gy * left, self.half, self.corner) < box_distance(
                px + gx * right, py + gy * right, self.half, self.corner
            )
            low, high = np.where(nearer, low, left), np.where(nearer, right, high)
        return 0.5 * (low + high)

    def closeness(self, x: Floats, y: Floats, h: Floats) -> Floats:
        """How much of the sky it takes from points beside it."""
        px, py = turned(x, y, self.centre, self.turn)
        beside = np.maximum(box_distance(px, py, self.half, self.corner), 0)
        rise = np.maximum(np.float32(self.top + 0.3 * self.curl) - h, 0)
        return 0.5 * (1 - beside / np.sqrt(beside * beside + rise * rise + np.float32(1e-4)))
