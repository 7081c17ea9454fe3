"""What a flat face looks like: colour, metal, roughness and relief, painted in layers and baked to a map."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from demo_photos.shapes import Floats

STEEPEST = 1.5
"""The greatest slope a baked relief can hold."""


@dataclass(frozen=True)
class Material:
    """A plain surface: linear colour, how much of it is bare metal, how rough (0 mirror, 1 chalk)."""

    colour: tuple[float, float, float]
    metal: float = 0.0
    rough: float = 0.5


@dataclass(frozen=True)
class Skin:
    """A baked face. Channels: colour (as square root), metal, roughness, slopes along x and y, presence."""

    texels: NDArray[np.uint8]
    per_mm: float
    origin: tuple[float, float]
    wraps: bool = False

    def sample(self, x: Floats, y: Floats) -> Floats:
        """The eight channels at points of the face, in millimetres, between texels by linear weights."""
        rows, columns = self.texels.shape[:2]
        u = (x - np.float32(self.origin[0])) * np.float32(self.per_mm) - np.float32(0.5)
        v = (y - np.float32(self.origin[1])) * np.float32(self.per_mm) - np.float32(0.5)
        left, top = np.floor(u), np.floor(v)
        wx, wy = (u - left)[:, None], (v - top)[:, None]
        i0, j0 = left.astype(np.int32), top.astype(np.int32)
        if self.wraps:
            i0, i1, j0, j1 = i0 % columns, (i0 + 1) % columns, j0 % rows, (j0 + 1) % rows
        else:
            i0, i1 = np.clip(i0, 0, columns - 1), np.clip(i0 + 1, 0, columns - 1)
            j0, j1 = np.clip(j0, 0, rows - 1), np.clip(j0 + 1, 0, rows - 1)
        flat = self.texels.reshape(-1, 8)
        j0, j1 = j0 * columns, j1 * columns
        a, b = flat.take(j0 + i0, axis=0).astype(np.float32), flat.take(j0 + i1, axis=0)
        c, d = flat.take(j1 + i0, axis=0).astype(np.float32), flat.take(j1 + i1, axis=0)
        above = a + (b - a) * wx
        below = c + (d - c) * wx
        return np.ascontiguousarray(((above + (below - above) * wy) * np.float32(1 / 255)).T)


class Canvas:
    """Layers of a face while it is being painted; `relief` is a height in millimetres."""

    def __init__(self, width_mm: float, height_mm: float, per_mm: float, base: Material) -> None:
        self.per_mm = per_mm
        self.shape = (max(2, round(height_mm * per_mm)), max(2, round(width_mm * per_mm)))
        self.size_mm = (width_mm, height_mm)
        self.colour = np.empty((*self.shape, 3), dtype=np.float32)
        self.colour[:] = base.colour
        self.metal = np.full(self.shape, base.metal, dtype=np.float32)
        self.rough = np.full(self.shape, base.rough, dtype=np.float32)
        self.relief = np.zeros(self.shape, dtype=np.float32)
        self.presence = np.ones(self.shape, dtype=np.float32)

    def grid(self) -> tuple[Floats, Floats]:
        """Millimetres of every texel, from the face's top left corner."""
        down, across = ((np.arange(n, dtype=np.float32) + 0.5) / np.float32(self.per_mm) for n in self.shape)
        return np.broadcast_to(across, self.shape), np.broadcast_to(down[:, None], self.shape)

    def about(self, centre: tuple[float, float], reach: float) -> tuple[slice, slice]:
        """The texels of a square about a point, as far as the face has them."""
        x, y = (
            slice(*(min(n, max(0, int((c + side * reach) * self.per_mm))) for side in (-1, 1)))
            for c, n in zip(centre, self.shape[::-1], strict=True)
        )
        return y, x

    def lay(self, where: Floats, stuff: Material) -> None:
        """Covers the face with a material as far as `where` (0 to 1) says."""
        for i, colour in enumerate(stuff.colour):
            layer = self.colour[..., i]
            layer += where * (np.float32(colour) - layer)
        self.metal += where * (np.float32(stuff.metal) - self.metal)
        self.rough += where * (np.float32(stuff.rough) - self.rough)

    def stain(self, where: Floats, factor: float) -> None:
        """Darkens (factor below 1) or lightens the colour as far as `where` says."""
        self.colour *= (1 + where * np.float32(factor - 1))[..., None]

    def picture(self, drawn: Image.Image) -> Floats:
        """A grey drawing of any size, brought to the face's texels, 0 to 1."""
        rows, columns = self.shape
        small = (
            drawn if drawn.size == (columns, rows) else drawn.resize((columns, rows), Image.Resampling.BOX)
        )
        return np.asarray(small, dtype=np.float32) / 255

    def bake(self, origin: tuple[float, float], wraps: bool = False) -> Skin:
        """The face as a map whose first texel lies at `origin`."""
        texels = np.empty((*self.shape, 8), dtype=np.uint8)
        slope_y, slope_x = np.gradient(self.relief * np.float32(self.per_mm))
        texels[..., :3] = _bytes(np.sqrt(np.clip(self.colour, 0, 1)))
        texels[..., 3] = _bytes(self.metal)
        texels[..., 4] = _bytes(self.rough)
        texels[..., 5] = _bytes(slope_x * np.float32(0.5 / STEEPEST) + np.float32(128 / 255))
        texels[..., 6] = _bytes(slope_y * np.float32(0.5 / STEEPEST) + np.float32(128 / 255))
        texels[..., 7] = _bytes(self.presence)
        return Skin(texels, self.per_mm, origin, wraps)


def _bytes(values: Floats) -> NDArray[np.uint8]:
    return (np.clip(values, 0, 1) * np.float32(255) + np.float32(0.5)).astype(np.uint8)
