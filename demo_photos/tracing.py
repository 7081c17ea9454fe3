"""From a scene and a camera to linear light at every pixel, tile by tile, with more rays where edges are."""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from demo_photos.camera import Camera
from demo_photos.light import Lamp, Surface, Surroundings, shine
from demo_photos.panel import Panel
from demo_photos.rays import Extent, Rays, extent_of, wear_skin
from demo_photos.shapes import Floats, Point, box_distance, length
from demo_photos.skin import Skin
from demo_photos.slab import Slab
from demo_photos.things import Thing

TILE = 200
UNSEEN, BACKGROUND, BOX, FACE, FIRST_HOLE = -3, -2, -1, 0, 1000
# Eight points of a pixel, no two in a row or column: the usual pattern of eight queens.
SPREAD_OUT = [(i / 8 + 1 / 16 - 0.5, j / 8 + 1 / 16 - 0.5) for i, j in enumerate((2, 5, 7, 0, 4, 6, 1, 3))]


@dataclass(frozen=True)
class Scene:
    """All that stands before the camera."""

    panel: Panel
    things: list[Thing]
    ground: Skin
    lamps: list[Lamp]
    around: Surroundings
    casters: list[Slab] = field(default_factory=list)
    """Out of sight, known by their shadow: a head, a tent pole."""


def rays_of(camera: Camera, u: Floats, v: Floats) -> Rays:
    """The rays through photo points, by height."""
    dx, dy, dh = camera.rays(u, v)
    sx, sy = dx / dh, dy / dh
    c = camera.stand.astype(np.float32)
    length = 1 / np.sqrt(dx * dx + dy * dy + dh * dh)
    return Rays(
        c[0] - sx * c[2], c[1] - sy * c[2], sx, sy, np.stack([-dx * length, -dy * length, -dh * length])
    )


class Tracer:
    """Follows rays through one scene."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.body = scene.panel.body()
        self.slopes = [_slope(lamp) for lamp in scene.lamps]

    def meet(self, r: Rays) -> tuple[NDArray[np.int16], Floats]:
        """What each ray meets first, and at what height."""
        panel = self.scene.panel
        on_face = box_distance(r.x0 - self.body.half[0], r.y0 - self.body.half[1], self.body.half, 2.0) <= 0
        what = np.where(on_face, FACE, BACKGROUND).astype(np.int16)
        h = np.where(on_face, 0, np.float32(-panel.depth)).astype(np.float32)
        if not on_face.all():
            side = self.body.hit(r)
            box = ~on_face & (side > -panel.depth + 0.01)
            what[box], h[box] = BOX, side[box]
        for i, hole in enumerate(panel.holes):
            near = self._near(r, hole.centre, hole.radius, 0.0)
            inside = length(r.x0[near] - hole.centre[0], r.y0[near] - hole.centre[1]) < hole.radius
            what[near[inside]] = FIRST_HOLE + i
        for i, thing in enumerate(self.scene.things):
            near = self._near(r, thing.centre, thing.reach, max(thing.top, -thing.base) + 2)
            if near.size:
                hit = thing.hit(r.some(near))
                nearer = hit > h[near]
                h[near[nearer]], what[near[nearer]] = hit[nearer], i + 1
        return what, h

    @staticmethod
    def _near(r: Rays, centre: Point, reach: float, top: float) -> NDArray[np.intp]:
        """The rays that may pass a round thing of some height."""
        over = reach + r.steepest * top
        if not _crosses(r.extent, *centre, over):
            return np.empty(0, dtype=np.intp)
        dx, dy = np.abs(r.x0 - np.float32(centre[0])), np.abs(r.y0 - np.float32(centre[1]))
        return np.flatnonzero((dx < over) & (dy < over))

    def colours(self, r: Rays) -> tuple[Floats, NDArray[np.int16]]:
        """Linear light along each ray (3, n), and what it met."""
        what, h = self.meet(r)
        s = Surface.of(h.size)
        s.h[:] = h
        s.x, s.y = r.at(h)
        for ident in np.unique(what):
            self._fill(s, np.flatnonzero(what == ident), r, int(ident))
        lamps = []
        for n, (lamp, slope) in enumerate(zip(self.scene.lamps, self.slopes, strict=True)):
            lamps.append((lamp, self._arriving(s, what, slope, lamp.spread, closeness=n == 0)))
        return shine(s, r.view, lamps, self.scene.around), what

    def _fill(self, s: Surface, where: NDArray[np.intp], r: Rays, ident: int) -> None:
        panel, some = self.scene.panel, r.some(where)
        if ident >= FIRST_HOLE:
            hole = panel.holes[ident - FIRST_HOLE]
            panel.fill_hole(s, where, some, hole, self.slopes[0], self.scene.lamps[0].spread)
        elif ident > 0:
            self.scene.things[ident - 1].fill(s, where, some)
        elif ident == FACE:
            panel.fill(s, where)
        elif ident == BOX:
            self.body.fill(s, where, some)
        else:
            wear_skin(s, where, self.scene.ground, s.x[where], s.y[where])

    def _arriving(
        self, s: Surface, what: NDArray[np.int16], m: Point, spread: float, closeness: bool
    ) -> Floats:
        """What of a lamp reaches each point past the things; on the way, what of the sky does (once)."""
        arrives = np.ones_like(s.h)
        receives = (what != BOX) & (what < FIRST_HOLE)
        lowest = float(s.h[receives].min(initial=0))
        extent = extent_of(s.x, s.y)
        casting: list[tuple[int, Thing]] = [(i + 1, t) for i, t in enumerate(self.scene.things)]
        casting += [(UNSEEN, t) for t in self.scene.casters]
        if (what == BACKGROUND).any():
            casting.append((BOX, self.body))
        for ident, thing in casting:
            rise = thing.top - lowest
            reach = thing.reach + max(1.5 * (thing.top - thing.base), (math.hypot(*m) + spread) * rise) + 0.5
            if not _crosses(extent, *thing.centre, reach):
                continue
            near = self._within(
                s, thing, reach, (what == BACKGROUND) if ident == BOX else receives & (what != ident)
            )
            x, y, h = s.x[near], s.y[near], s.h[near]
            arrives[near] *= 1 - thing.shadow(x, y, h, m, spread)
            if closeness and ident != UNSEEN:
                s.sky[near] *= 1 - thing.closeness(x, y, h) * (h > thing.base - 0.5)
        return arrives

    @staticmethod
    def _within(s: Surface, thing: Thing, reach: float, receives: NDArray[np.bool_]) -> NDArray[np.intp]:
        """The points under the top of a thing that lie in a square about it."""
        dx, dy = np.abs(s.x - np.float32(thing.centre[0])), np.abs(s.y - np.float32(thing.centre[1]))
        return np.flatnonzero((dx < reach) & (dy < reach) & receives & (s.h < thing.top - 1e-3))


def _slope(lamp: Lamp) -> Point:
    """How far sideways the way to a lamp goes with each millimetre of height."""
    x, y, h = lamp.towards
    return x / h, y / h


def _crosses(extent: Extent, x: float, y: float, reach: float) -> bool:
    """Whether a square about a point has something of a rectangle."""
    left, right, top, bottom = extent
    return left - reach < x < right + reach and top - reach < y < bottom + reach


def trace(scene: Scene, camera: Camera) -> Floats:
    """Linear light of the whole photo (height, width, 3)."""
    tracer = Tracer(scene)
    out = np.empty((camera.height, camera.width, 3), dtype=np.float32)
    for top in range(0, camera.height, TILE):
        for left in range(0, camera.width, TILE):
            rows, columns = min(TILE, camera.height - top), min(TILE, camera.width - left)
            out[top : top + rows, left : left + columns] = _tile(tracer, camera, left, top, columns, rows)
    return out


def _tile(tracer: Tracer, camera: Camera, left: int, top: int, columns: int, rows: int) -> Floats:
    ys, xs = np.mgrid[top - 1 : top + rows + 1, left - 1 : left + columns + 1].astype(
        np.float32
    ) + np.float32(0.5)
    light, what = tracer.colours(rays_of(camera, xs.ravel(), ys.ravel()))
    picture = light.reshape(3, rows + 2, columns + 2).transpose(1, 2, 0).copy()
    rough = _uneven(picture, what.reshape(rows + 2, columns + 2))
    again = np.flatnonzero(rough.ravel())
    if again.size:
        flat = picture.reshape(-1, 3)
        u, v = xs.ravel()[again], ys.ravel()[again]
        du, dv = np.asarray(SPREAD_OUT, dtype=np.float32).T
        got, _ = tracer.colours(rays_of(camera, (u + du[:, None]).ravel(), (v + dv[:, None]).ravel()))
        # A very bright spark in one of eight rays would leave a lone white pixel.
        flat[again] = np.minimum(got, 6.0).reshape(3, 8, again.size).mean(axis=1).T
    return picture[1:-1, 1:-1]


def _uneven(picture: Floats, what: NDArray[np.int16]) -> NDArray[np.bool_]:
    """Pixels that differ from a neighbour, in what they show or how bright it is to the eye.

    The maps of panel and table are drawn no finer than the photo, so only glints ask for more rays there.
    """
    eye = np.sqrt(np.clip(picture.mean(axis=2), 0, 1.5))
    spread = ndimage.maximum_filter(eye, 3) - ndimage.minimum_filter(eye, 3)
    edge = ndimage.maximum_filter(what, 3) != ndimage.minimum_filter(what, 3)
    flat = (what == FACE) | (what == BACKGROUND)
    return (spread > np.where(flat, np.float32(0.6), np.float32(0.15))) | edge
