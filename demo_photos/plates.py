"""Nameplates and dial windows."""

import numpy as np
from scipy import ndimage

from demo_photos.frustum import Frustum
from demo_photos.lettering import Drawing
from demo_photos.materials import NICKEL
from demo_photos.shapes import Point, smooth, unturned
from demo_photos.skin import Canvas, Material
from demo_photos.slab import Slab
from demo_photos.textures import Rng, brushed, noise, scratches
from demo_photos.things import Thing


def nameplate(
    rng: Rng, centre: Point, lines: list[str], per_mm: float, width: float = 62, brass: bool = True
) -> list[Thing]:
    """An etched plate held by four rivets; its first line is the largest."""
    height = 9 + 5.2 * len(lines)
    stuff = Material((0.62, 0.50, 0.28) if brass else (0.60, 0.60, 0.58), metal=1.0, rough=0.34)
    canvas = Canvas(width, height, max(per_mm * 1.3, 5), stuff)
    fine = canvas.per_mm
    drawn = Drawing(width, height, fine)
    drawn.plate((1.2, 1.2), (width - 1.2, height - 1.2), 1.0)
    drawn.plate((1.8, 1.8), (width - 1.8, height - 1.8), 0.8, ink=0)
    y = 7.0
    for i, words in enumerate(lines):
        tall = 4.2 if i == 0 else 2.5
        drawn.text((width / 2, y), words, tall)
        y += 6.0 if i == 0 else 4.8
    letters = canvas.picture(drawn.image)
    ground = 1 - letters
    canvas.lay(ground * np.float32(0.9), Material((0.03, 0.03, 0.03), rough=0.5))
    canvas.relief = ndimage.gaussian_filter(letters, 0.08 * fine) * np.float32(0.1)
    canvas.colour *= (1 + 0.06 * brushed(rng, canvas.shape, fine))[..., None]
    worn = smooth(noise(rng, canvas.shape, 8 * fine, 4), 0.9, 2.6)
    canvas.lay(worn * np.float32(0.5), Material((0.30, 0.26, 0.18), metal=0.6, rough=0.6))
    canvas.relief += scratches(rng, canvas.shape, fine, 20) * np.float32(-0.02)
    half = (width / 2, height / 2)
    plate = Slab(centre, half, 1.5, 0.8, stuff, canvas.bake((-half[0], -half[1])))
    corners = [unturned(i * (half[0] - 3), j * (half[1] - 3), centre, 0) for i in (-1, 1) for j in (-1, 1)]
    return [
        plate,
        *(Frustum(c, 1.3, 1.6, NICKEL, NICKEL, base=0.8, top_radius=1.0, dome=0.7) for c in corners),
    ]


def dial(
    rng: Rng, centre: Point, width: float, height: float, figures: list[str], per_mm: float
) -> list[Thing]:
    """A dial behind its window: a raised frame, glass, a paper scale with figures and a hairline."""
    fine = max(per_mm * 1.3, 5)
    canvas = Canvas(width, height, fine, Material((0.035, 0.035, 0.036), rough=0.35))
    xs, _ = canvas.grid()
    drawn = Drawing(width, height, fine)
    drawn.plate((5, 5), (width - 5, height - 5), 1.5)
    window = canvas.picture(drawn.image)
    canvas.lay(window, Material((0.60, 0.55, 0.42), rough=0.10))
    printed = Drawing(width, height, fine)
    _dial_scale(printed, width, height, figures)
    canvas.lay(canvas.picture(printed.image) * window, Material((0.03, 0.028, 0.026), rough=0.10))
    inner = ndimage.gaussian_filter(window, 1.2 * fine)
    canvas.stain((1 - inner) * window, 0.25)
    canvas.lay(
        ((np.abs(xs - width * 0.46) < 0.22) * window).astype(np.float32),
        Material((0.45, 0.03, 0.02), rough=0.1),
    )
    canvas.relief = (ndimage.gaussian_filter(1 - window, 0.25 * fine) * 1.2).astype(np.float32) * (1 - window)
    half = (width / 2, height / 2)
    plate = Slab(
        centre, half, 3.0, 3.2, Material((0.03, 0.03, 0.03), rough=0.4), canvas.bake((-half[0], -half[1]))
    )
    corners = [
        unturned(i * (half[0] - 2.7), j * (half[1] - 2.7), centre, 0) for i in (-1, 1) for j in (-1, 1)
    ]
    return [
        plate,
        *(Frustum(c, 1.7, 4.0, NICKEL, NICKEL, base=3.2, top_radius=1.5, dome=0.5) for c in corners),
    ]


def _dial_scale(drawn: Drawing, width: float, height: float, figures: list[str]) -> None:
    count = (len(figures) - 1) * 10
    for i in range(count + 1):
        x = 9 + (width - 18) * i / count
        long = 0.2 if i % 10 == 0 else 0.14 if i % 5 == 0 else 0.09
        drawn.line((x, height * 0.5), (x, height * (0.5 - long)), width=0.3)
        if i % 10 == 0:
            drawn.text((x, height * 0.64), figures[i // 10], 3.0)
    drawn.line((9, height * 0.5), (width - 9, height * 0.5), width=0.35)
