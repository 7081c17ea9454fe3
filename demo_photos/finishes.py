"""The finish of a panel: its coat, its engraving, and then the years."""

from dataclasses import replace

import numpy as np
from scipy import ndimage

from demo_photos.ageing import ALUMINIUM, Years, edge_of, scratch, soil, wear
from demo_photos.lettering import Drawing
from demo_photos.marks import Marks, less
from demo_photos.panel import Hole
from demo_photos.rays import Extent
from demo_photos.shapes import Point, box_distance, smooth
from demo_photos.skin import Canvas, Material, Skin
from demo_photos.textures import Rng, brushed, noise

FILLING = Material((0.74, 0.72, 0.64), rough=0.6)
INK = Material((0.018, 0.018, 0.02), rough=0.5)

FINISHES: dict[str, Material] = {
    "wrinkle": Material((0.022, 0.022, 0.023), rough=0.42),
    "bare": ALUMINIUM,
    "grey": Material((0.30, 0.31, 0.30), rough=0.5),
    "lacquer": Material((0.055, 0.075, 0.06), rough=0.26),
    "green": Material((0.10, 0.125, 0.085), rough=0.55),
    "cream": Material((0.55, 0.52, 0.42), rough=0.4),
}


def finish(
    rng: Rng,
    size: Point,
    seen: Extent,
    per_mm: float,
    kind: str,
    years: Years,
    marks: Marks,
    holes: list[Hole],
) -> Skin:
    """The baked face of a panel, as far as it is `seen` (left, right, top, bottom)."""
    base, corner = FINISHES[kind], (seen[0], seen[2])
    canvas = Canvas(seen[1] - seen[0], seen[3] - seen[2], per_mm, base)
    marks = marks.moved(corner)
    holes = [replace(h, centre=less(h.centre, corner)) for h in holes]
    xs, ys = canvas.grid()
    clouds = noise(rng, canvas.shape, 45 * per_mm, 4)
    specks = noise(rng, canvas.shape, 1.1 * per_mm, 2)
    if kind == "bare":
        _brush(rng, canvas, per_mm)
    else:
        canvas.stain(smooth(clouds, -2.0, 2.0), 1.22)
        canvas.rough += 0.05 * clouds
    if years.slapdash:
        _brush_marks(rng, canvas, per_mm, years.slapdash)
    _engrave(canvas, marks, per_mm, years)
    middle = less((size[0] / 2, size[1] / 2), corner)
    inwards = -box_distance(xs - middle[0], ys - middle[1], (size[0] / 2, size[1] / 2), 2.0)
    wear(canvas, xs, ys, inwards, kind, years, marks, specks, clouds)
    for hole in holes:
        edge_of(canvas, rng, hole, kind, years)
    scratch(rng, canvas, kind, years, per_mm)
    soil(rng, canvas, marks, years, clouds, specks, per_mm)
    return canvas.bake(corner)


def _brush(rng: Rng, canvas: Canvas, per_mm: float) -> None:
    lines = brushed(rng, canvas.shape, per_mm)
    canvas.colour *= (1 + 0.03 * lines)[..., None]
    canvas.rough += 0.035 * lines
    canvas.relief += lines * np.float32(0.0055)


def _brush_marks(rng: Rng, canvas: Canvas, per_mm: float, much: float) -> None:
    strokes = noise(rng, canvas.shape, (1.7 * per_mm, 70 * per_mm), 2)
    dabs = noise(rng, canvas.shape, (14 * per_mm, 30 * per_mm), 2)
    sags = noise(rng, canvas.shape, (16 * per_mm, 3 * per_mm), 2)
    canvas.relief += np.float32(much) * (strokes * 0.022 + sags * 0.05 + dabs * 0.06)
    canvas.stain(smooth(strokes, 0.2, 2.2), 1 - 0.05 * much)
    canvas.stain(smooth(dabs, -1.0, 2.0), 1 - 0.10 * much)
    canvas.rough -= np.float32(0.12 * much)


def _engrave(canvas: Canvas, marks: Marks, per_mm: float, years: Years) -> None:
    """Letters cut into the panel and filled white; soft where paint lies over them."""
    drawn = Drawing(*canvas.size_mm, per_mm)
    for where, words, height in marks.words:
        drawn.text(where, words, height)
    for begin, end in marks.lines:
        drawn.line(begin, end, width=0.45)
    for centre, radius, figures in marks.scales:
        _scale(drawn, centre, radius, figures)
    cut = canvas.picture(drawn.image)
    if not cut.any():
        return
    canvas.relief -= ndimage.gaussian_filter(cut, 0.1 * per_mm) * np.float32(0.14 * (1 - 0.6 * marks.soft))
    if marks.soft < 1:
        filling = INK if canvas.metal.max() > 0.5 else FILLING
        canvas.lay(cut * np.float32(0.92 * (1 - marks.soft)), filling)


def _scale(drawn: Drawing, centre: Point, radius: float, figures: list[str]) -> None:
    """Ticks and figures round a knob, over three quarters of the circle."""
    count = len(figures)
    for i in range((count - 1) * 5 + 1):
        angle = np.radians(135 + 270 * i / ((count - 1) * 5))
        c, s = float(np.cos(angle)), float(np.sin(angle))
        long = 3.0 if i % 5 == 0 else 1.7
        begin = (centre[0] + radius * c, centre[1] + radius * s)
        drawn.line(begin, (begin[0] + long * c, begin[1] + long * s), width=0.4)
        if i % 5 == 0:
            drawn.text((begin[0] + 5.6 * c, begin[1] + 5.2 * s), figures[i // 5], 2.6)
