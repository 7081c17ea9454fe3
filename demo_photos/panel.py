"""The panel of a set: a face of some finish with round holes, the box behind it, and what is under it."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from demo_photos.light import Surface
from demo_photos.rays import Rays, lean, plain, wear_skin
from demo_photos.shapes import Floats, Point, length, smooth
from demo_photos.skin import STEEPEST, Material, Skin
from demo_photos.slab import Slab


@dataclass(frozen=True)
class Hole:
    """A round hole through the panel. `burr` is the width of its broken edge, in millimetres."""

    centre: Point
    diameter: float
    place: str = "front-panel"
    burr: float = 0.1

    @property
    def radius(self) -> float:
        return self.diameter / 2


@dataclass(frozen=True)
class Panel:
    """Width and height in millimetres; its top left corner is (0, 0) of the world."""

    size: Point
    skin: Skin
    thickness: float
    wall: Material
    box: Material
    inside: Skin
    inside_deep: float = 45.0
    inside_open: float = 0.25
    depth: float = 110.0
    fine: Skin | None = None
    fine_depth: float = 1.0
    wave: Point = (0.0, 0.0)
    holes: list[Hole] = field(default_factory=list)

    def body(self) -> Slab:
        """The box of the set, for its sides and for the shadow it throws on the table."""
        half = (self.size[0] / 2, self.size[1] / 2)
        return Slab(half, half, 2.0, 0.0, self.box, self.box, base=-self.depth)

    def fill(self, s: Surface, where: NDArray[np.intp]) -> None:
        """Says what rays see that met the face."""
        x, y = s.x[where], s.y[where]
        got = wear_skin(s, where, self.skin, x, y)
        slopes = [(got[i] - np.float32(128 / 255)) * np.float32(2 * STEEPEST) for i in (5, 6)]
        if self.fine is not None:
            coat = 1 - got[3]
            tile = self.fine.sample(x, y)
            for slope, channel in zip(slopes, (5, 6), strict=True):
                slope += (tile[channel] - np.float32(128 / 255)) * (
                    coat * np.float32(2 * STEEPEST * self.fine_depth)
                )
            cavity = 1 + coat * np.float32(self.fine_depth) * (tile[0] - np.float32(0.5)) * np.float32(0.9)
            s.colour[:, where] *= cavity
            s.sky[where] *= np.clip(cavity, 0.4, 1.1)
        ax, ay = (np.float32(w) for w in self.wave)
        slopes[0] += ax * np.sin(x * np.float32(0.031) + y * np.float32(0.017))
        slopes[1] += ay * np.sin(y * np.float32(0.043) - x * np.float32(0.011) + 1)
        lean(s, where, slopes[0], slopes[1])

    def fill_hole(
        self, s: Surface, where: NDArray[np.intp], r: Rays, hole: Hole, m: Point, spread: float
    ) -> None:
        """Says what rays see that go into a hole: its wall, or what is behind the panel."""
        radius = np.float32(hole.radius)
        qx, qy = r.x0 - np.float32(hole.centre[0]), r.y0 - np.float32(hole.centre[1])
        a = r.sx * r.sx + r.sy * r.sy + np.float32(1e-9)
        b = r.sx * qx + r.sy * qy
        deep = (b + np.sqrt(np.maximum(b * b - a * (qx * qx + qy * qy - radius * radius), 0))) / a
        on_wall = deep <= self.thickness
        deep = np.where(on_wall, deep, np.float32(self.inside_deep))
        s.x[where], s.y[where] = r.at(-deep)
        s.h[where] = -deep
        self._fill_wall(s, where[on_wall], hole)
        self._fill_inside(s, where[~on_wall], hole)
        s.lit[where] *= self._let_in(s, where, hole, m, spread, ~on_wall)

    def _fill_wall(self, s: Surface, where: NDArray[np.intp], hole: Hole) -> None:
        plain(s, where, self.wall)
        dx, dy = s.x[where] - np.float32(hole.centre[0]), s.y[where] - np.float32(hole.centre[1])
        tool = 0.12 * np.sin(s.h[where] * np.float32(11) + np.arctan2(dy, dx) * 2)
        s.normal[0, where], s.normal[1, where] = -dx / np.float32(hole.radius), -dy / np.float32(hole.radius)
        s.normal[2, where] = 0.1 + tool
        deep, wide = -s.h[where], np.float32(hole.diameter)
        s.sky[where] *= 0.75 * (1 - deep / np.sqrt(deep * deep + wide * wide))

    def _fill_inside(self, s: Surface, where: NDArray[np.intp], hole: Hole) -> None:
        wear_skin(s, where, self.inside, s.x[where], s.y[where])
        opening = hole.radius**2 / (hole.radius**2 + self.inside_deep**2)
        s.sky[where] *= np.float32(min(0.5, self.inside_open * (0.12 + opening)))

    def _let_in(
        self,
        s: Surface,
        where: NDArray[np.intp],
        hole: Hole,
        m: Point,
        spread: float,
        below: NDArray[np.bool_],
    ) -> Floats:
        """How much of the main lamp comes through the hole to points in and under it."""
        through = np.ones(where.shape, dtype=np.float32)
        for level, counts in ((0.0, None), (-self.thickness, below)):
            rise = np.maximum(np.float32(level) - s.h[where], 0)
            dx = s.x[where] + np.float32(m[0]) * rise - np.float32(hole.centre[0])
            dy = s.y[where] + np.float32(m[1]) * rise - np.float32(hole.centre[1])
            soft = np.maximum(rise * np.float32(spread * 1.2), np.float32(0.05))
            open_here = smooth((np.float32(hole.radius) - length(dx, dy)) / soft, -1, 1)
            through *= open_here if counts is None else np.where(counts, open_here, 1)
        return through
