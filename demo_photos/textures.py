"""Noise, and what is made of it: wrinkle finish, brushed metal, cloth, wood, scratches."""

import math

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage

from demo_photos.shapes import Floats, smooth
from demo_photos.skin import STEEPEST, Canvas, Material, Skin

Rng = np.random.Generator


def noise(rng: Rng, shape: tuple[int, int], grain: float | tuple[float, float], octaves: int = 3) -> Floats:
    """Cloudy noise about 0 with a deviation of about 1, which repeats without a seam.

    `grain` is the size of a cloud in texels, (down, across) where they differ.
    """
    down, across = grain if isinstance(grain, tuple) else (grain, grain)
    total = np.zeros(shape, dtype=np.float32)
    weight, power = 1.0, 0.0
    for _ in range(octaves):
        total += np.float32(weight) * _clouds(rng, shape, down, across)
        power += weight * weight
        weight, down, across = weight * 0.55, max(1.0, down / 2.2), max(1.0, across / 2.2)
    return total / np.float32(math.sqrt(power))


def _clouds(rng: Rng, shape: tuple[int, int], down: float, across: float) -> Floats:
    """Clouds of one size: random dots, drawn out to the shape, the far edge going over into the near one."""
    rows, columns = max(1, round(shape[0] / down)), max(1, round(shape[1] / across))
    dots = rng.standard_normal((rows, columns)).astype(np.float32)
    if (rows, columns) == shape:
        return dots
    wrapped = Image.fromarray(np.pad(dots, 2, mode="wrap"))
    box = (2, 2, 2 + columns, 2 + rows)
    wide = wrapped.resize((shape[1], shape[0]), Image.Resampling.BICUBIC, box=box)
    return np.asarray(wide, dtype=np.float32) * np.float32(1.3)


def wrinkle(rng: Rng, per_mm: float, ridge_mm: float = 0.8, height_mm: float = 0.09) -> Skin:
    """Wrinkle finish as a map that repeats: meandering ridges, drawn no finer than the photo can show."""
    fine = 9.0
    sigma = ridge_mm * fine / 4.4
    ridges = rng.standard_normal((560, 560)).astype(np.float32)
    for _ in range(3):
        ridges = ndimage.gaussian_filter(ridges, sigma * 0.6, mode="wrap") - ndimage.gaussian_filter(
            ridges, sigma * 1.25, mode="wrap"
        )
        ridges = np.tanh(ridges * np.float32(1.6 / ridges.std()))
    ridges = ndimage.gaussian_filter(ridges, max(0.8, 0.45 * fine / per_mm), mode="wrap")
    slopes = [
        (np.roll(ridges, -1, axis) - np.roll(ridges, 1, axis)) * np.float32(0.5 * fine * height_mm)
        for axis in (1, 0)
    ]
    texels = np.zeros((560, 560, 8), dtype=np.uint8)
    texels[..., 0] = np.clip(ridges * 90 + 128, 0, 255)
    for channel, slope in zip((5, 6), slopes, strict=True):
        texels[..., channel] = np.clip(slope * (127.5 / STEEPEST) + 128, 0, 255)
    return Skin(texels, fine, (0.0, 0.0), wraps=True)


def brushed(rng: Rng, shape: tuple[int, int], per_mm: float, along_x: bool = True) -> Floats:
    """The fine parallel lines of brushed metal, about 0 with a deviation of about 1."""
    long, thin = 22 * per_mm, max(1.0, 0.12 * per_mm)
    grain = (thin, long) if along_x else (long, thin)
    fine = noise(rng, shape, grain, 2)
    broad = noise(rng, shape, (thin * 5, long * 2) if along_x else (long * 2, thin * 5), 2)
    return fine * np.float32(0.8) + broad * np.float32(0.5)


def scratches(rng: Rng, shape: tuple[int, int], per_mm: float, count: int) -> Floats:
    """Random thin lines, most of them short and slightly bent; 0 to 1."""
    drawn = Image.new("L", (shape[1], shape[0]), 0)
    pen = ImageDraw.Draw(drawn)
    for _ in range(count):
        x, y = rng.uniform(0, shape[1]), rng.uniform(0, shape[0])
        angle, length = rng.uniform(0, math.tau), rng.exponential(9) * per_mm + 2
        path = [(x, y)]
        for _ in range(5):
            angle += rng.normal(0, 0.09)
            x, y = x + math.cos(angle) * length / 5, y + math.sin(angle) * length / 5
            path.append((x, y))
        pen.line(path, fill=int(rng.uniform(50, 255)), width=1 if rng.random() < 0.85 else 2)
    return np.asarray(drawn, dtype=np.float32) / 255


def cloth(rng: Rng, per_mm: float, ground: Material, stripe: Material) -> Skin:
    """A woollen blanket with stripes both ways, as a map that repeats."""
    per_mm = min(per_mm, 2.4)
    canvas = Canvas(400, 400, per_mm, ground)
    xs, ys = canvas.grid()
    for axis, count in ((xs, 4), (ys, 4)):
        period = np.float32(400 / count)
        where = np.abs((axis % period) - period / 2) < rng.uniform(5, 12)
        thin = np.abs((axis % period) - period / 4) < 1.6
        canvas.lay((where * np.float32(0.55) + thin * np.float32(0.4)).astype(np.float32), stripe)
    pitch = math.tau / 2.5
    twill = np.sin((xs + ys) * pitch) * np.sin((xs - ys) * pitch * 0.5)
    fuzz = noise(rng, canvas.shape, 1.6 * per_mm, 3)
    folds = noise(rng, canvas.shape, 70 * per_mm, 2)
    canvas.relief = (twill * 0.16 + fuzz * 0.14 + folds * 1.6).astype(np.float32)
    canvas.stain(smooth(fuzz + twill, -2, 2), 1.45)
    return canvas.bake((0.0, 0.0), wraps=True)


def wood(rng: Rng, per_mm: float, colour: tuple[float, float, float]) -> Skin:
    """A wooden table top of planks, as a map that repeats."""
    per_mm = min(per_mm, 2.4)
    canvas = Canvas(420, 420, per_mm, Material(colour, rough=0.55))
    _, ys = canvas.grid()
    plank = np.floor(ys / np.float32(70))
    bent = ys + noise(rng, canvas.shape, (30 * per_mm, 200 * per_mm), 3) * 5 + plank * np.float32(17.3)
    rings = np.sin(bent * np.float32(1.1) + 2.2 * noise(rng, canvas.shape, (6 * per_mm, 120 * per_mm), 2))
    pores = noise(rng, canvas.shape, (0.6 * per_mm, 14 * per_mm), 2)
    canvas.stain(smooth(rings, -1, 1), 0.72)
    canvas.stain(smooth(pores, 0.6, 2.2), 0.6)
    tone = np.array([rng.uniform(0.8, 1.2) for _ in range(7)], dtype=np.float32)
    canvas.colour *= tone[plank.astype(np.int32) % 6][..., None]
    gap = np.float32(1) - smooth(np.abs((ys % np.float32(70)) - 0.6), 0.3, 1.0)
    canvas.stain(gap, 0.12)
    canvas.relief = (-0.5 * gap - 0.05 * smooth(pores, 0.6, 2.2)).astype(np.float32)
    return canvas.bake((0.0, 0.0), wraps=True)
