"""The camera behind the lens: blur by depth, vignetting, exposure, noise, tone, sharpening, JPEG."""

import io
import math
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy import ndimage

from demo_photos.camera import Camera
from demo_photos.shapes import Floats, smooth
from demo_photos.textures import Rng

SOFT = 2.4
"""Blur, in pixels, of what is quite out of focus. Sides of a photo are multiples of eight pixels."""


@dataclass(frozen=True)
class Film:
    """`exposure` as a factor on the metered one; `noise` at mid grey, of full scale; blurs in pixels."""

    exposure: float = 1.0
    noise: float = 0.012
    blur: float = 0.7
    defocus: float = 1.2
    focus_at: float = 1.0
    smear: tuple[float, float] = (0.0, 0.0)
    vignette: float = 0.22
    tint: tuple[float, float, float] = (1.0, 1.0, 1.0)
    sharpen: float = 0.5
    quality: int = 88


def develop(light: Floats, camera: Camera, film: Film, rng: Rng) -> bytes:
    """The photo as a JPEG file without metadata."""
    picture = _through_lens(light, camera, film)
    picture *= np.float32(film.exposure * _metered(picture))
    picture *= np.asarray(film.tint, dtype=np.float32)
    picture = _sensed(picture, film, rng)
    picture = _toned(picture)
    picture += film.sharpen * (picture - ndimage.gaussian_filter(picture, (1.1, 1.1, 0), truncate=2.5))
    eight = (np.clip(picture, 0, 1) * 255 + 0.5).astype(np.uint8)
    stream = io.BytesIO()
    Image.fromarray(eight).save(stream, "JPEG", quality=film.quality, optimize=True, subsampling=2)
    return stream.getvalue()


def _through_lens(light: Floats, camera: Camera, film: Film) -> Floats:
    """Blur that grows away from the plane in focus, a moving hand, and darker corners."""
    light = np.minimum(light, np.float32(8))
    sharp = ndimage.gaussian_filter(light, (film.blur, film.blur, 0))
    v, u = np.mgrid[0 : camera.height, 0 : camera.width].astype(np.float32)
    if film.defocus:
        far = np.abs(_farness(u[4::8, 4::8], v[4::8, 4::8], camera, film.focus_at)).repeat(8, 0).repeat(8, 1)
        amount = np.clip(far * np.float32(film.defocus * 2.5), 0, 1)[..., None]
        sharp += amount * (ndimage.gaussian_filter(light, (SOFT, SOFT, 0), truncate=2.5) - sharp)
    sharp += np.float32(0.05) * (_veil(light) - sharp)
    if film.smear != (0.0, 0.0):
        sharp = _smeared(sharp, film.smear)
    r2 = ((u - camera.width / 2) ** 2 + (v - camera.height / 2) ** 2) / np.float32(camera.focal**2)
    falls = 1 / (1 + r2 * np.float32(film.vignette * 3))
    return np.asarray(sharp * falls[..., None], dtype=np.float32)


def _veil(light: Floats) -> Floats:
    """Light scattered in the lens: a very wide blur that greys the shadows beside bright places."""
    rows, columns = light.shape[0] // 8, light.shape[1] // 8
    small = light.reshape(rows, 8, columns, 8, 3).mean(axis=(1, 3))
    small = ndimage.gaussian_filter(small, (7, 7, 0))
    layers = [
        np.asarray(Image.fromarray(small[..., i]).resize((columns * 8, rows * 8), Image.Resampling.BILINEAR))
        for i in range(3)
    ]
    return np.stack(layers, axis=2)


def _smeared(picture: Floats, way: tuple[float, float]) -> Floats:
    """What a hand that moves while the shutter is open makes of it: the mean along a short way."""
    weights: dict[tuple[int, int], float] = {}
    for t in np.linspace(-0.5, 0.5, 9):
        x, y = way[0] * t, way[1] * t
        i, j = math.floor(x), math.floor(y)
        for di, dj in ((0, 0), (1, 0), (0, 1), (1, 1)):
            share = abs(1 - di - (x - i)) * abs(1 - dj - (y - j)) / 9
            weights[(i + di, j + dj)] = weights.get((i + di, j + dj), 0.0) + share
    total = np.zeros_like(picture)
    for (i, j), weight in weights.items():
        total += np.float32(weight) * np.roll(picture, (j, i), (0, 1))
    return total


def _farness(u: Floats, v: Floats, camera: Camera, focus_at: float) -> Floats:
    """Relative distance of the panel from the plane in focus, along the optical axis."""
    dx, dy, dh = camera.rays(u.ravel(), v.ravel())
    forward = camera.turn[2].astype(np.float32)
    depth = -np.float32(camera.stand[2]) / dh * (forward[0] * dx + forward[1] * dy + forward[2] * dh)
    focus = np.float32(camera.distance_mm * focus_at)
    return (focus / np.clip(depth, focus * 0.3, focus * 4) - 1).reshape(u.shape)


def _metered(picture: Floats) -> float:
    """What brings the photo to a pleasant brightness: the middle to grey, the lights not much over white."""
    grey = picture[::4, ::4].mean(axis=2)
    middle, lights = float(np.mean(np.sqrt(grey)) ** 2), float(np.percentile(grey, 99))
    return min(0.2 / max(middle, 1e-4), 1.15 / max(lights, 1e-4) + 0.25 * 0.2 / max(middle, 1e-4))


def _sensed(picture: Floats, film: Film, rng: Rng) -> Floats:
    """Photon and read noise, a part of it in blotches of colour, as a small sensor leaves them."""
    grain = rng.standard_normal(picture.shape, dtype=np.float32)
    shared = rng.standard_normal(picture.shape[:2], dtype=np.float32)[..., None]
    rows, columns = picture.shape[0] // 2, picture.shape[1] // 2
    blotch = ndimage.gaussian_filter(rng.standard_normal((rows, columns, 3), dtype=np.float32), (0.9, 0.9, 0))
    blotch = blotch.repeat(2, 0).repeat(2, 1)
    mixed = (
        ndimage.gaussian_filter(grain * 0.45 + shared * 0.8, (0.5, 0.5, 0), truncate=2) * 1.6 + blotch * 0.6
    )
    strength = film.noise * np.sqrt(np.clip(picture, 0, 2) / 0.2 + 0.12)
    return picture + mixed * strength * 0.35


def _toned(picture: Floats) -> Floats:
    """Linear light to what a screen shows, with the gentle shoulder and foot of a phone's curve."""
    x = np.maximum(picture, 0)
    bright = 1 - np.exp(-np.maximum(x - 0.6, 0) / 0.4)
    x = np.where(x > 0.6, 0.6 + 0.4 * bright, x)
    srgb = np.where(x < 0.0031308, 12.92 * x, 1.055 * np.power(np.maximum(x, 1e-6), 1 / 2.4) - 0.055)
    return (srgb + 0.10 * (smooth(srgb, 0.0, 1.0) - srgb)).astype(np.float32)
