"""Panel, light, table and film at random."""

import math
from dataclasses import replace

from demo_photos.ageing import Years
from demo_photos.camera import Camera
from demo_photos.film import Film
from demo_photos.finishes import FINISHES, finish
from demo_photos.fittings import behind
from demo_photos.hardness import HARDNESS, Hardness
from demo_photos.knobs import knob
from demo_photos.layout import Room, Round, seen_of
from demo_photos.light import Lamp, Surroundings
from demo_photos.lighting import covered, morning, shed, window
from demo_photos.marks import Marks
from demo_photos.panel import Hole, Panel
from demo_photos.shapes import Point, unturned
from demo_photos.skin import Material, Skin
from demo_photos.slab import Slab
from demo_photos.textures import Rng, cloth, wood, wrinkle
from demo_photos.things import Thing


def random_light(rng: Rng, hard: Hardness, camera: Camera) -> tuple[list[Lamp], Surroundings]:
    kind, azimuth = str(rng.choice(hard.lights)), float(rng.uniform(0, 360))
    if kind == "morning":
        return morning(camera, azimuth, float(rng.uniform(22, 50)), float(rng.uniform(0.6, 1.2)))
    if kind == "window":
        return window(camera, azimuth, float(rng.uniform(28, 52)), float(rng.choice([0.0, 0.5])))
    if kind == "shed":
        return shed(camera, azimuth, float(rng.uniform(35, 65)))
    return covered(camera, azimuth, float(rng.uniform(50, 80)))


def random_casters(rng: Rng, hard: Hardness, lamps: list[Lamp], spots: list[Round]) -> list[Slab]:
    """Now and then something out of sight that throws its shadow across what counts."""
    if rng.random() >= hard.shade:
        return []
    x, y, _ = spots[int(rng.integers(len(spots)))]
    towards, high = lamps[0].towards, 160.0
    centre = (
        x + towards[0] / towards[2] * high + float(rng.normal(0, 25)),
        y + towards[1] / towards[2] * high + float(rng.normal(0, 25)),
    )
    half = (float(rng.uniform(60, 160)), float(rng.uniform(90, 220)))
    turn = float(rng.uniform(0, math.pi))
    # One of its edges, bent by its round corners, runs near what counts.
    centre = unturned(
        half[0] * float(rng.uniform(-1, 1)), half[1] * float(rng.uniform(-0.6, 0.6)), centre, turn
    )
    stuff = Material((0.1, 0.1, 0.1))
    return [Slab(centre, half, 0.8 * min(half), high + 1, stuff, stuff, base=high, turn=turn)]


def neighbours(rng: Rng, size: Point, depth: float) -> list[Thing]:
    """Other sets on the same table, beside the panel and not as high as it, each with a few fittings."""
    found: list[Thing] = []
    for side in rng.permutation(4)[: int(rng.integers(2, 5))]:
        half = (float(rng.uniform(80, 170)), float(rng.uniform(60, 120)))
        gap, along = float(rng.uniform(20, 70)), float(rng.uniform(0.0, 1.0))
        centre = [
            (-half[0] - gap, along * size[1]),
            (size[0] + half[0] + gap, along * size[1]),
            (along * size[0], -half[1] - gap),
            (along * size[0], size[1] + half[1] + gap),
        ][side]
        found += _neighbour(rng, centre, half, -depth, -depth * float(rng.uniform(0.1, 0.6)))
    return found


def _neighbour(rng: Rng, centre: Point, half: Point, base: float, top: float) -> list[Thing]:
    kind, marks, room = str(rng.choice(sorted(FINISHES))), Marks(), Room((2 * half[0], 2 * half[1]))
    fittings: list[Thing] = []
    for _ in range(5):
        radius = float(rng.uniform(8, 18))
        spot = room.find(rng, radius + 7)
        if spot is not None:
            marks.scales.append((spot, radius + 1.5, [str(i) for i in range(7)]))
            fittings += knob(rng, spot, radius, float(rng.uniform(0, math.tau)))
    face = (0.0, 2 * half[0], 0.0, 2 * half[1])
    skin = finish(rng, room.size, face, 2.0, kind, Years(dirt=0.5), marks, [])
    skin = replace(skin, origin=(-half[0], -half[1]))
    box = Slab(centre, half, 3.0, top, FINISHES[kind], skin, base=base)
    corner = (centre[0] - half[0], centre[1] - half[1])
    return [box, *(_lifted(thing, corner, top) for thing in fittings)]


def _lifted(thing: Thing, corner: Point, h: float) -> Thing:
    """The same thing on a box whose face lies at another height."""
    centre = (thing.centre[0] + corner[0], thing.centre[1] + corner[1])
    return replace(thing, centre=centre, base=thing.base + h, top=thing.top + h)


def random_panel(
    rng: Rng, size: Point, camera: Camera, kind: str, hard: Hardness, marks: Marks, holes: list[Hole]
) -> Panel:
    years = Years(
        wear=float(rng.uniform(0.1, 0.7)),
        dirt=float(rng.uniform(*hard.dirt)),
        scratched=float(rng.uniform(0.1, 0.8)),
        chipped=float(rng.uniform(0.1, 0.9)),
        slapdash=float(rng.uniform(0.3, 1)) if kind == "grey" and rng.random() < 0.4 else 0.0,
    )
    per_mm = min(7.0, max(2.0, camera.per_mm * 1.05))
    painted = kind != "bare"
    dim = bool(rng.random() < 0.7) or hard is HARDNESS["easy"]
    wall = Material((0.60, 0.58, 0.55), metal=0.85, rough=0.45)
    fine = wrinkle(rng, camera.per_mm) if kind == "wrinkle" else None
    return Panel(
        size,
        finish(rng, size, seen_of(camera, size), per_mm, kind, years, marks, holes),
        float(rng.uniform(1.5, 3.0)),
        wall,
        FINISHES[kind] if painted else Material((0.6, 0.59, 0.57), metal=1.0, rough=0.5),
        behind(rng, dim),
        float(rng.uniform(28, 70)) if dim else float(rng.uniform(9, 30)),
        0.25 if dim else 0.8,
        float(rng.uniform(60, 160)),
        fine,
        1.0,
        (0.012, 0.012) if not painted else (0.004, 0.004),
        holes,
    )


def random_ground(rng: Rng, camera: Camera) -> Skin:
    if rng.random() < 0.5:
        return wood(rng, camera.per_mm, (0.22, 0.13, 0.07) if rng.random() < 0.6 else (0.34, 0.27, 0.19))
    colours = [
        ((0.05, 0.09, 0.22), (0.35, 0.33, 0.28)),
        ((0.20, 0.05, 0.05), (0.05, 0.06, 0.04)),
        ((0.10, 0.13, 0.08), (0.35, 0.27, 0.12)),
    ]
    ground, stripe = colours[int(rng.integers(len(colours)))]
    return cloth(rng, camera.per_mm, Material(ground, rough=0.95), Material(stripe, rough=0.95))


def random_film(rng: Rng, hard: Hardness) -> Film:
    smear = rng.normal(0, 1, 2) * hard.smear * (rng.random() < 0.5)
    tint = 1 + rng.normal(0, 0.03, 3)
    return Film(
        exposure=float(rng.uniform(*hard.exposure)),
        noise=float(rng.uniform(*hard.noise)),
        blur=float(rng.uniform(*hard.blur)),
        defocus=float(rng.uniform(0.4, 1.6)),
        focus_at=float(rng.normal(1, 0.03)),
        smear=(float(smear[0]), float(smear[1])),
        vignette=float(rng.uniform(0.08, 0.3)),
        tint=(float(tint[0]), float(tint[1]), float(tint[2])),
        sharpen=float(rng.uniform(0.2, 0.8)),
        quality=int(rng.integers(80, 93)),
    )
