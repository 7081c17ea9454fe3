"""A bank card of the size ID-1, of an invented bank."""

import numpy as np
from scipy import ndimage

from demo_photos.lettering import Drawing
from demo_photos.shapes import Floats, Point, smooth
from demo_photos.skin import Canvas, Material
from demo_photos.slab import Slab
from demo_photos.textures import Rng, noise, scratches

CARD = (85.60, 53.98)
CARD_CORNER, CARD_THICK = 3.18, 0.76


CARD_COLOURS = [
    ((0.02, 0.06, 0.22), (0.03, 0.20, 0.45)),
    ((0.015, 0.016, 0.02), (0.05, 0.05, 0.06)),
    ((0.42, 0.03, 0.04), (0.60, 0.16, 0.05)),
    ((0.02, 0.16, 0.10), (0.10, 0.36, 0.20)),
    ((0.75, 0.74, 0.70), (0.60, 0.66, 0.72)),
    ((0.55, 0.36, 0.06), (0.70, 0.55, 0.20)),
    ((0.16, 0.05, 0.25), (0.45, 0.12, 0.30)),
    ((0.30, 0.33, 0.36), (0.48, 0.50, 0.52)),
]


def card(rng: Rng, centre: Point, turn: float, per_mm: float, colours: int | None = None) -> Slab:
    """A bank card of the size ID-1, lying on the panel."""
    pick = int(rng.integers(len(CARD_COLOURS))) if colours is None else colours
    low, high = CARD_COLOURS[pick]
    canvas = Canvas(*CARD, per_mm, Material(low, rough=0.22))
    xs, ys = canvas.grid()
    swing = smooth(xs / 86 + ys / 70 + 0.25 * np.sin(xs / 19 + float(rng.uniform(0, 6))), 0.2, 1.5)
    canvas.lay(swing, Material(high, rough=0.22))
    waves = np.sin(ys * 0.55 + 5 * np.sin(xs / 24 + float(rng.uniform(0, 6))))
    canvas.stain(smooth(waves, 0.4, 1.0), 1.25)
    light_ground = sum(low) > 1.2
    ink = Material((0.04, 0.05, 0.09) if light_ground else (0.8, 0.8, 0.78), rough=0.3)
    _card_print(canvas, ink)
    _card_chip(canvas, xs, ys)
    canvas.relief += scratches(rng, canvas.shape, per_mm, 14) * np.float32(-0.006)
    canvas.rough += 0.05 * smooth(noise(rng, canvas.shape, 12 * per_mm, 3), 0, 2)
    half = (CARD[0] / 2, CARD[1] / 2)
    edge = Material((0.55, 0.55, 0.55) if not light_ground else (0.7, 0.7, 0.68), rough=0.5)
    return Slab(centre, half, CARD_CORNER, CARD_THICK, edge, canvas.bake((-half[0], -half[1])), turn=turn)


def _card_print(canvas: Canvas, ink: Material) -> None:
    drawn = Drawing(*CARD, canvas.per_mm)
    drawn.text((30, 9), "CORVANE HARBOUR", 3.4)
    drawn.text((20.6, 14), "SAVINGS BANK", 2.0)
    drawn.text((21, 46.5), "T. CURLEW", 2.6)
    drawn.text((49, 42.2), "12/31", 2.2)
    for i in range(3):
        drawn.ring((73, 43.5), 3.5 + 1.7 * i, 0.5)
    canvas.lay(canvas.picture(drawn.image), ink)
    raised = Drawing(*CARD, canvas.per_mm)
    raised.text((42.8, 34.5), "0000 3300 4120 5000", 4.4, spacing=0.2)
    figures = canvas.picture(raised.image)
    canvas.lay(figures * np.float32(0.85), Material((0.72, 0.72, 0.7), metal=0.7, rough=0.25))
    canvas.relief += ndimage.gaussian_filter(figures, 0.22 * canvas.per_mm) * np.float32(0.35)


def _card_chip(canvas: Canvas, xs: Floats, ys: Floats) -> None:
    drawn = Drawing(*CARD, canvas.per_mm)
    drawn.plate((10.2, 19.2), (22.6, 28.6), 1.6)
    canvas.lay(canvas.picture(drawn.image), Material((0.80, 0.62, 0.30), metal=1.0, rough=0.22))
    cuts = Drawing(*CARD, canvas.per_mm)
    for y in (22.2, 25.6):
        cuts.line((10.2, y), (22.6, y), width=0.25)
    for x in (14.3, 18.5):
        cuts.line((x, 19.2), (x, 28.6), width=0.25)
    canvas.lay(canvas.picture(cuts.image) * np.float32(0.8), Material((0.2, 0.15, 0.06), rough=0.6))
