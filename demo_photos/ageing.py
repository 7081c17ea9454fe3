"""What years do to a panel: wear, chips and washer rings at holes, scratches, dirt."""

from dataclasses import dataclass

import numpy as np

from demo_photos.marks import Marks
from demo_photos.panel import Hole
from demo_photos.shapes import Floats, length, smooth
from demo_photos.skin import Canvas, Material
from demo_photos.textures import Rng, noise, scratches

ALUMINIUM = Material((0.72, 0.71, 0.69), metal=1.0, rough=0.38)
GRIME = Material((0.05, 0.042, 0.03), rough=0.8)


@dataclass
class Years:
    """How hard the years were, each 0 to 1; `slapdash` is paint put on with a brush in haste."""

    wear: float = 0.3
    dirt: float = 0.3
    scratched: float = 0.3
    chipped: float = 0.4
    slapdash: float = 0.0


def wear(
    canvas: Canvas,
    xs: Floats,
    ys: Floats,
    inwards: Floats,
    kind: str,
    years: Years,
    marks: Marks,
    specks: Floats,
    clouds: Floats,
) -> None:
    """Paint rubbed through at the edges and where hands and screwdrivers went; metal polished there."""
    much = np.float32(years.wear) * (
        1.3 * np.exp(-inwards / np.float32(0.8)) + 0.6 * np.exp(-inwards / np.float32(7))
    )
    for centre, reach in marks.worn:
        part = canvas.about(centre, reach + 5)
        away = length(xs[part] - np.float32(centre[0]), ys[part] - np.float32(centre[1])) - np.float32(reach)
        much[part] += (
            np.float32(years.wear * 0.9) * np.exp(-np.maximum(away, 0) / np.float32(0.9)) * (away > -2)
        )
    much *= 1 + 0.5 * clouds
    through = smooth(much + 0.14 * specks, 0.72, 0.84)
    if kind == "bare":
        canvas.rough -= 0.12 * through
        return
    thin = smooth(much + 0.12 * specks, 0.3, 0.9)
    canvas.stain(thin, 1.5)
    canvas.rough -= 0.1 * thin
    canvas.lay(through, Material((0.55, 0.53, 0.49), metal=0.9, rough=0.42))
    canvas.relief -= through * np.float32(0.03)


def edge_of(canvas: Canvas, rng: Rng, hole: Hole, kind: str, years: Years) -> None:
    """The broken edge of a hole, the chips round it, and now and then the ring that a washer left."""
    per_mm, part = canvas.per_mm, canvas.about(hole.centre, hole.radius * 2.2 + 8)
    shape = canvas.metal[part].shape
    if min(shape) < 2:
        return
    xs, ys = canvas.grid()
    dx, dy = xs[part] - np.float32(hole.centre[0]), ys[part] - np.float32(hole.centre[1])
    past = length(dx, dy) - np.float32(hole.radius)
    patch = Canvas(2, 2, 1, ALUMINIUM)
    patch.colour, patch.metal, patch.rough = canvas.colour[part], canvas.metal[part], canvas.rough[part]
    if rng.random() < 0.55 * years.chipped + 0.2 and kind != "bare":
        ragged = noise(rng, shape, 1.3 * per_mm, 3) * 0.45 + noise(rng, shape, 5 * per_mm, 2) * 0.5
        reach = np.float32(0.25 + 1.1 * years.chipped)
        chip = smooth(ragged * reach - (past - reach * np.float32(0.5)), -0.08, 0.08)
        patch.lay(chip, Material((0.58, 0.56, 0.52), metal=0.95, rough=0.45))
        canvas.relief[part] -= chip * np.float32(0.05)
    if rng.random() < 0.5:
        washer = hole.radius * float(rng.uniform(0.5, 0.9)) + 1.2
        ring = smooth(past, washer - 0.25, washer + 0.05)
        ring = ring * (1 - smooth(past, washer + 0.1, washer + 0.4))
        under = 1 - smooth(past, washer - 0.3, washer + 0.1)
        patch.stain(under, 0.9 if kind == "bare" else 1.12)
        patch.rough += 0.08 * under * np.float32(rng.choice([-1, 1]))
        canvas.relief[part] -= ring * np.float32(0.03)
        patch.stain(ring, 0.72)
    burr = 1 - smooth(past, hole.burr * 0.7, hole.burr + 0.7 / per_mm)
    patch.lay(burr * (past > -0.6), Material((0.66, 0.64, 0.6), metal=0.95, rough=0.3))
    canvas.relief[part] += np.where(past < hole.burr, (past - np.float32(hole.burr)) * np.float32(0.8), 0)


def scratch(rng: Rng, canvas: Canvas, kind: str, years: Years, per_mm: float) -> None:
    count = int(years.scratched * canvas.size_mm[0] * canvas.size_mm[1] / 350)
    lines = scratches(rng, canvas.shape, per_mm, count)
    if kind == "bare":
        canvas.stain(lines * np.float32(0.5), 0.75)
        canvas.rough += 0.12 * lines
    else:
        canvas.lay(lines * np.float32(0.32), Material((0.5, 0.49, 0.46), metal=0.4, rough=0.5))
    canvas.relief -= lines * np.float32(0.035)


def soil(
    rng: Rng, canvas: Canvas, marks: Marks, years: Years, clouds: Floats, specks: Floats, per_mm: float
) -> None:
    """Grime in patches, dust everywhere, a few drips and spots, and pale rings where things stood."""
    patchy = noise(rng, canvas.shape, 26 * per_mm, 4)
    grime = smooth(patchy + 0.22 * specks, 1.5 - 1.7 * years.dirt, 4.4 - 1.4 * years.dirt)
    canvas.lay(grime * np.float32(0.4), GRIME)
    film = np.float32(0.35 * years.dirt**2) * smooth(patchy, -2.0, 2.0)
    canvas.lay(film, Material((0.17, 0.145, 0.11), rough=0.9))
    dust = smooth(noise(rng, canvas.shape, 0.5 * per_mm, 2), 2.0, 3.2) * np.float32(0.35 + 0.4 * years.dirt)
    canvas.lay(dust, Material((0.32, 0.30, 0.26), rough=0.95))
    canvas.rough += np.float32(0.12 * years.dirt) * smooth(clouds, -1, 1.5)
    xs, ys = canvas.grid()
    for centre, radius in marks.rings:
        part = canvas.about(centre, radius + 2)
        past = np.abs(
            length(xs[part] - np.float32(centre[0]), ys[part] - np.float32(centre[1])) - np.float32(radius)
        )
        ring = (1 - smooth(past, 0.2, 0.9)) * smooth(specks[part], -2, 1)
        canvas.colour[part] *= (1 - 0.28 * ring)[..., None]
