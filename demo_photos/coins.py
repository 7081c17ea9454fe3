"""Round coins of an invented mint: one relief, any diameter."""

import math

import numpy as np
from scipy import ndimage

from demo_photos.frustum import Frustum
from demo_photos.lettering import Drawing
from demo_photos.shapes import Point, length, smooth
from demo_photos.skin import Canvas, Material
from demo_photos.textures import Rng, noise, scratches

METALS = {
    "copper": (0.62, 0.36, 0.24),
    "brass": (0.74, 0.60, 0.33),
    "silver": (0.74, 0.73, 0.70),
}


def coin(
    rng: Rng, centre: Point, diameter: float, turn: float, per_mm: float, metal: str | None = None
) -> Frustum:
    """A round coin with a raised and milled rim; the relief is an invented wading bird."""
    kind = metal or str(rng.choice(sorted(METALS)))
    radius, per_mm = diameter / 2, max(per_mm, 6.0)
    canvas = Canvas(diameter, diameter, per_mm, Material(METALS[kind], metal=1.0, rough=0.4))
    xs, ys = canvas.grid()
    away = length(xs - radius, ys - radius)
    drawn = Drawing(diameter, diameter, per_mm)
    _bird(drawn, radius)
    height = canvas.picture(drawn.image)
    height = ndimage.gaussian_filter(height, 0.18 * per_mm) + 0.5 * ndimage.gaussian_filter(
        height, 0.5 * per_mm
    )
    rim = smooth(away, radius - 1.25, radius - 1.0)
    beads = (
        0.25
        * (1 + np.sin(np.arctan2(ys - radius, xs - radius) * 70))
        * smooth(away, radius - 1.9, radius - 1.6)
    )
    edge = smooth(away, radius - 0.3, radius)
    canvas.relief = (height * 0.24 + rim * 0.26 + beads * (1 - rim) * 0.12 - edge * 0.12).astype(np.float32)
    tarnish = smooth(noise(rng, canvas.shape, 5 * per_mm, 3) - 1.5 * height, -1.2, 1.2)
    low = 1 - smooth(height + rim, 0.0, 0.5)
    canvas.stain(tarnish * low, float(rng.uniform(0.4, 0.75)))
    canvas.rough += 0.12 * tarnish * low
    canvas.relief += scratches(rng, canvas.shape, per_mm, 16) * np.float32(-0.01)
    side = Material(tuple(c * 0.8 for c in METALS[kind]), metal=1.0, rough=0.35)  # type: ignore[arg-type]
    face = canvas.bake((-radius, -radius))
    return Frustum(
        centre, radius, float(rng.uniform(1.5, 2.0)), side, face, flutes=round(diameter * 5), turn=turn
    )


def _bird(drawn: Drawing, r: float) -> None:
    """A wading bird on one leg, a waterline, a year and stars."""
    drawn.pen.ellipse((*drawn.at((r * 0.55, r * 0.62))[0], *drawn.at((r * 1.35, r * 1.12))[0]), fill=255)
    drawn.line((r * 1.22, r * 0.8), (r * 1.38, r * 0.5), width=r * 0.11)
    drawn.disc((r * 1.40, r * 0.46), r * 0.12)
    drawn.line((r * 1.48, r * 0.47), (r * 1.76, r * 0.60), width=r * 0.045)
    drawn.line((r * 0.98, r * 1.1), (r * 1.0, r * 1.52), width=r * 0.06)
    drawn.line((r * 0.5, r * 1.52), (r * 1.5, r * 1.52), width=r * 0.05)
    drawn.text((r, r * 1.7), "1953", r * 0.16)
    for i in range(5):
        angle = math.radians(200 + 25 * i)
        drawn.disc((r + 0.76 * r * math.cos(angle), r + 0.76 * r * math.sin(angle)), r * 0.045)
