"""Knobs of bakelite and metal."""

import math

import numpy as np

from demo_photos.frustum import Frustum
from demo_photos.lettering import Drawing
from demo_photos.materials import BAKELITE, BLACK, IVORY
from demo_photos.shapes import Point, length, smooth
from demo_photos.skin import Canvas, Material, Skin
from demo_photos.slab import Slab
from demo_photos.textures import Rng, noise, scratches
from demo_photos.things import Thing


def knob(rng: Rng, centre: Point, radius: float, pointing: float, style: str | None = None) -> list[Thing]:
    """A bakelite knob that points some way (radians): round with a skirt, a bar, or turned from metal."""
    kind = style or str(rng.choice(["skirted", "bar", "metal", "round"]))
    if kind == "bar":
        skirt = Frustum(
            centre, radius, 3.0, BAKELITE, _skirt(radius * 0.96, pointing, True), top_radius=radius * 0.96
        )
        half = (radius * 1.02, radius * 0.26)
        bar = Slab(
            centre, half, radius * 0.22, 3 + radius * 0.8, BAKELITE, _bar(half), base=3.0, turn=pointing
        )
        return [skirt, bar]
    body, high = (radius * 0.68, radius * 1.05) if kind == "skirted" else (radius, radius * 0.95)
    stuff = Material((0.62, 0.61, 0.59), metal=1.0, rough=0.3) if kind == "metal" else BAKELITE
    top = _knob_top(rng, body * 0.92, stuff, pointing, kind)
    flutes = {"skirted": 22, "metal": 60, "round": 12}[kind]
    base = 4.0 if kind == "skirted" else 0.6
    grip = Frustum(
        centre, body, base + high * 0.8, stuff, top, base=base, top_radius=body * 0.92, flutes=flutes
    )
    if kind != "skirted":
        return [grip]
    face = _skirt(radius * 0.84, pointing, False)
    return [Frustum(centre, radius, 4.0, BAKELITE, face, top_radius=radius * 0.84), grip]


def _skirt(radius: float, pointing: float, plain: bool) -> Skin:
    canvas = Canvas(2 * radius, 2 * radius, 10, BAKELITE)
    if not plain:
        drawn = Drawing(2 * radius, 2 * radius, 10)
        c, s = math.cos(pointing), math.sin(pointing)
        drawn.line((radius, radius), (radius + radius * c, radius + radius * s), width=0.9)
        canvas.lay(canvas.picture(drawn.image) * np.float32(0.9), IVORY)
    return canvas.bake((-radius, -radius))


def _bar(half: Point) -> Skin:
    canvas = Canvas(2 * half[0], 2 * half[1], 12, BAKELITE)
    xs, ys = canvas.grid()
    canvas.lay(((np.abs(ys - half[1]) < 0.45) & (xs > half[0] * 1.1)).astype(np.float32), IVORY)
    edge = np.minimum(np.minimum(xs, 2 * half[0] - xs), np.minimum(ys, 2 * half[1] - ys))
    canvas.relief = smooth(edge, 0.0, 1.4).astype(np.float32) * np.float32(0.9)
    return canvas.bake((-half[0], -half[1]))


def _knob_top(rng: Rng, radius: float, stuff: Material, pointing: float, kind: str) -> Skin:
    """The top of a knob: a shallow dish or dome, a pointer line, turning marks, wear."""
    fine = 10.0
    canvas = Canvas(2 * radius, 2 * radius, fine, stuff)
    xs, ys = canvas.grid()
    x, y = xs - np.float32(radius), ys - np.float32(radius)
    away = length(x, y) / np.float32(radius)
    dish = np.cos(away * math.pi * 1.15) * (0.05 * radius)
    canvas.relief = (dish - smooth(away, 0.86, 1.0) * 0.07 * radius).astype(np.float32)
    if stuff.metal:
        canvas.relief += np.sin(away * np.float32(radius * 14)).astype(np.float32) * np.float32(0.012)
    c, s = math.cos(pointing), math.sin(pointing)
    along, across = c * x + s * y, np.abs(c * y - s * x)
    line = (across < 0.5) & (along > radius * 0.25)
    canvas.lay(line.astype(np.float32) * np.float32(0.9), BLACK if stuff.metal else IVORY)
    canvas.rough += 0.15 * smooth(noise(rng, canvas.shape, 5 * fine, 3), 0, 2)
    canvas.relief += scratches(rng, canvas.shape, fine, 10) * np.float32(-0.01)
    return canvas.bake((-radius, -radius))
