"""Light: lamps with an extent, a sky or a room around, and how a surface answers to both."""

import math
from dataclasses import dataclass

import numpy as np

from demo_photos.shapes import Floats, smooth

Colour = tuple[float, float, float]
Direction = tuple[float, float, float]


@dataclass(frozen=True)
class Lamp:
    """The sun, a window or a lamp: a unit direction towards it, the tangent of its half extent, its light."""

    towards: Direction
    spread: float
    colour: Colour


@dataclass(frozen=True)
class Surroundings:
    """What is mirrored and what fills the shadows; `figure` is where the person with the phone stands."""

    zenith: Colour
    horizon: Colour
    ground: Colour
    glow: Lamp
    figure: Direction
    figure_dark: float = 0.5
    wobble: float = 0.0

    def mirrored(self, r: Floats, rough: Floats) -> Floats:
        """Radiance seen along directions r (3, n), blurred by the roughness of the mirror."""
        up = r[2]
        rise = smooth(up, 0.0, 1.0)
        low = smooth(up + 0.05 * np.sin(5 * r[0] + 3 * r[1] + np.float32(self.wobble)), 0.1, 0.34)
        low = 1 - (1 - low) * (1 - rough)
        ground = smooth(up / (0.3 + rough), -0.5, 0.5)
        towards = self._dot(self.glow.towards, r)
        glow = np.exp((towards - 1) / (np.float32(self.glow.spread) + rough * rough))
        person = self._dot(self.figure, r)
        person = smooth(person / (1 + rough * np.float32(0.15)), 0.86, 0.985)
        shade = (1 - np.float32(self.figure_dark) * person) * (0.35 + 0.65 * low)
        out = np.empty_like(r)
        for i in range(3):
            sky = np.float32(self.horizon[i]) + rise * np.float32(self.zenith[i] - self.horizon[i])
            sky = (sky + glow * np.float32(self.glow.colour[i])) * shade
            out[i] = self.ground[i] + ground * (sky - np.float32(self.ground[i]))
        return out

    def filling(self, n: Floats) -> Floats:
        """Light from all around on a surface with normals n (3, n)."""
        up = 0.5 + 0.5 * n[2]
        towards = 0.5 + 0.5 * self._dot(self.glow.towards, n)
        glow = towards * towards * np.float32(min(1.0, 2.5 * self.glow.spread))
        out = np.empty_like(n)
        for i in range(3):
            sky = 0.5 * (self.zenith[i] + self.horizon[i])
            out[i] = self.ground[i] + up * np.float32(sky - self.ground[i])
            out[i] += glow * np.float32(self.glow.colour[i])
        return out

    @staticmethod
    def _dot(direction: Direction, v: Floats) -> Floats:
        a, b, c = (np.float32(d) for d in direction)
        return a * v[0] + b * v[1] + c * v[2]


def direction(azimuth_deg: float, elevation_deg: float) -> Direction:
    """A unit direction: azimuth 0 is the panel's right, 90 its lower edge; elevation above the panel."""
    a, e = math.radians(azimuth_deg), math.radians(elevation_deg)
    return math.cos(e) * math.cos(a), math.cos(e) * math.sin(a), math.sin(e)


@dataclass
class Surface:
    """What the rays met, before light falls on it: one column a ray."""

    x: Floats
    y: Floats
    h: Floats
    colour: Floats
    normal: Floats
    metal: Floats
    rough: Floats
    sky: Floats
    lit: Floats

    @classmethod
    def of(cls, count: int) -> "Surface":
        """Nothing met yet: black, flat and open to the sky."""
        flat = [np.zeros(count, dtype=np.float32) for _ in range(5)]
        colour, normal = (np.zeros((3, count), dtype=np.float32) for _ in range(2))
        normal[2] = 1
        sky, lit = (np.ones(count, dtype=np.float32) for _ in range(2))
        return cls(flat[0], flat[1], flat[2], colour, normal, flat[3], flat[4], sky, lit)


def shine(s: Surface, view: Floats, lamps: list[tuple[Lamp, Floats]], around: Surroundings) -> Floats:
    """The light that leaves the surface towards the viewer; each lamp comes with what of it arrives."""
    nv = np.clip((s.normal * view).sum(axis=0), 0.03, 1)
    mirror = 2 * nv * s.normal - view
    gloss = (1 - nv) ** 5
    rough = np.clip(s.rough, 0.05, 1)
    dull = 1 - s.metal
    fresnel = [(f0 := 0.04 * dull + s.metal * s.colour[i]) + (1 - f0) * gloss * (1 - rough) for i in range(3)]
    matt = around.filling(s.normal) * s.sky
    gleam = around.mirrored(mirror, rough) * s.sky
    for lamp, arrives in lamps:
        falls = arrives * s.lit
        nl = np.clip(Surroundings._dot(lamp.towards, s.normal), 0, 1)
        spot = _highlight(s.normal, view, lamp, rough, nl, nv) * falls
        for i in range(3):
            matt[i] += falls * nl * np.float32(lamp.colour[i])
            gleam[i] += spot * np.float32(lamp.colour[i])
    out = np.empty_like(view)
    for i in range(3):
        out[i] = s.colour[i] * dull * matt[i] + fresnel[i] * gleam[i]
    return out


def _highlight(n: Floats, v: Floats, lamp: Lamp, rough: Floats, nl: Floats, nv: Floats) -> Floats:
    """The light a rough surface throws back (the GGX distribution), widened by the lamp's extent."""
    half = v + np.asarray(lamp.towards, dtype=np.float32)[:, None]
    nh = np.clip((n * half).sum(axis=0) / np.sqrt((half * half).sum(axis=0)), 0, 1)
    alpha = np.sqrt(rough**4 + np.float32((0.5 * lamp.spread) ** 2))
    bulge = nh * nh * (alpha * alpha - 1) + 1
    k = alpha * 0.5
    visible = 0.25 / ((nl * (1 - k) + k) * (nv * (1 - k) + k))
    return alpha * alpha / (bulge * bulge) * visible * nl
