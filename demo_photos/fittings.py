"""Small parts of a front: screws, switches, jacks, plugs; and what is seen through its holes."""

import math

import numpy as np
from scipy import ndimage

from demo_photos.frustum import Frustum
from demo_photos.lettering import Drawing
from demo_photos.materials import BLACK, BRASS, NICKEL, STEEL
from demo_photos.shapes import Point, length, smooth
from demo_photos.skin import Canvas, Material, Skin
from demo_photos.textures import Rng, noise, scratches
from demo_photos.things import Thing


def screw(rng: Rng, centre: Point, radius: float = 3.6, stuff: Material = STEEL) -> Thing:
    """A screw with a slotted round head, its slot filled with dirt."""
    fine = 14.0
    canvas = Canvas(2 * radius, 2 * radius, fine, stuff)
    xs, ys = canvas.grid()
    x, y = xs - radius, ys - radius
    angle = float(rng.uniform(0, math.pi))
    across = np.abs(math.cos(angle) * x + math.sin(angle) * y)
    slot = 1 - smooth(across, 0.13 * radius, 0.13 * radius + 0.12)
    away = length(x, y) / np.float32(radius)
    canvas.relief = (0.28 * radius * np.sqrt(np.maximum(1.12 - away * away, 0)) - slot * 0.35).astype(
        np.float32
    )
    canvas.stain(slot, 0.12)
    canvas.rough += 0.3 * slot
    grime = smooth(noise(rng, canvas.shape, 1.6 * fine, 3), 0.2, 1.6)
    canvas.lay(grime * np.float32(0.6), Material((0.13, 0.10, 0.07), rough=0.7))
    canvas.relief += scratches(rng, canvas.shape, fine, 8) * np.float32(-0.05)
    face = canvas.bake((-radius, -radius))
    return Frustum(centre, radius, 0.5 * radius, stuff, face, top_radius=radius * 0.94)


def toggle(rng: Rng, centre: Point, towards: float) -> list[Thing]:
    """A toggle switch: nut, bush and a lever leaning one way."""
    slant = (0.42 * math.cos(towards), 0.42 * math.sin(towards))
    lever_foot = (centre[0] + slant[0] * 1.5, centre[1] + slant[1] * 1.5)
    return [
        Frustum(centre, 7.6, 2.2, NICKEL, _nut(7.6), flutes=6),
        Frustum(centre, 5.4, 6.2, NICKEL, NICKEL, base=2.2, top_radius=5.0, flutes=40, dome=0.3),
        Frustum(lever_foot, 1.7, 17.5, NICKEL, NICKEL, base=6.0, top_radius=2.7, lean=slant, dome=0.9),
    ]


def jack(centre: Point, bore: float = 3.2) -> list[Thing]:
    """A telephone jack: a flat nut and a bush with a dark bore."""
    fine = 14.0
    canvas = Canvas(9.6, 9.6, fine, BRASS)
    xs, ys = canvas.grid()
    away = length(xs - 4.8, ys - 4.8)
    canvas.relief = (-smooth(away, 4.0, 4.8) * 0.4 - (1 - smooth(away, bore, bore + 0.5)) * 0.5).astype(
        np.float32
    )
    canvas.lay(1 - smooth(away, bore - 0.05, bore + 0.05), BLACK)
    face = canvas.bake((-4.8, -4.8))
    return [
        Frustum(centre, 7.4, 2.0, NICKEL, _nut(7.4), flutes=6),
        Frustum(centre, 4.8, 4.2, BRASS, face, base=2.0, flutes=48),
    ]


def _nut(radius: float) -> Skin:
    """A hexagonal nut, drawn on a round one: the corners are turned off as on old nuts."""
    canvas = Canvas(2 * radius, 2 * radius, 12, NICKEL)
    xs, ys = canvas.grid()
    x, y = xs - np.float32(radius), ys - np.float32(radius)
    six = np.max(
        [np.abs(x * math.cos(a) + y * math.sin(a)) for a in (0.3, 0.3 + math.pi / 3, 0.3 + 2 * math.pi / 3)],
        axis=0,
    )
    flat = smooth(six / np.float32(radius), 0.84, 0.9)
    canvas.relief = (-flat * 1.4).astype(np.float32)
    canvas.stain(flat, 0.35)
    return canvas.bake((-radius, -radius))


def plug(centre: Point, radius: float) -> Thing:
    """A snapped-in hole plug: a shallow nickel dome."""
    return Frustum(centre, radius, 1.1, NICKEL, NICKEL, top_radius=radius * 0.88, dome=0.35)


def behind(rng: Rng, dim: bool) -> Skin:
    """What is seen through holes: a chassis, edges of parts, wires; repeated, out of reach of most light."""
    canvas = Canvas(
        160, 160, 3, Material((0.16, 0.155, 0.15) if dim else (0.35, 0.34, 0.32), metal=0.3, rough=0.6)
    )
    blocks = Drawing(160, 160, 3)
    for _ in range(14):
        x, y = rng.uniform(0, 150), rng.uniform(0, 150)
        blocks.plate((x, y), (x + rng.uniform(6, 30), y + rng.uniform(6, 30)), 1.5, int(rng.uniform(90, 255)))
    canvas.stain(canvas.picture(blocks.image), 0.25)
    for colour in ((0.35, 0.06, 0.04), (0.40, 0.32, 0.08), (0.06, 0.15, 0.08), (0.30, 0.28, 0.24)):
        wires = Drawing(160, 160, 3)
        for _ in range(5):
            x, y, a = rng.uniform(0, 160), rng.uniform(0, 160), rng.uniform(0, math.tau)
            bend = [
                (x + 14 * i * math.cos(a + 0.1 * i), y + 14 * i * math.sin(a + 0.1 * i)) for i in range(-4, 5)
            ]
            wires.line(*bend, width=2.0)
        drawn = canvas.picture(wires.image)
        canvas.lay(drawn, Material(colour, rough=0.6))
        canvas.relief += ndimage.gaussian_filter(drawn, 2) * np.float32(1.2)
    return canvas.bake((0.0, 0.0), wraps=True)
