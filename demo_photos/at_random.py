"""Photos at random from a seed, as a neutral judge of measuring: nobody tunes them on a result."""

import math
from typing import Any

import numpy as np

from demo_photos.camera import Camera, camera_at
from demo_photos.film import Film, develop
from demo_photos.hardness import HARDNESS, LEVELS, Hardness
from demo_photos.layout import Room, in_frame, in_sight
from demo_photos.marks import Marks
from demo_photos.panel import Hole
from demo_photos.random_fittings import random_fittings
from demo_photos.random_references import drawn_again, random_reference, spots_of
from demo_photos.random_surroundings import (
    neighbours,
    random_casters,
    random_film,
    random_ground,
    random_light,
    random_panel,
)
from demo_photos.shapes import Point
from demo_photos.textures import Rng
from demo_photos.tracing import Scene, trace
from demo_photos.truth import Reference, circle, hole_truth

KINDS = ("card", "label", "coin")
PIXELS_A_MODULE = {"easy": (4.0, 10.0), "medium": (2.4, 5.0), "hard": (1.5, 3.2)}
"""How large a label's modules are in the photos for reading labels."""

__all__ = ["KINDS", "LEVELS", "random_label_photo", "random_photo"]


def random_photo(seed: int, level: str, kind: str, long_side: int = 1600) -> tuple[bytes, dict[str, Any]]:
    """A photo (JPEG) of holes beside a card, label or coin, and its truth; the same for the same seed.

    `level` is one of LEVELS, `kind` one of KINDS; `long_side` is in pixels.
    """
    rng = np.random.default_rng(seed)
    hard = HARDNESS[level]
    room = Room((float(rng.uniform(230, 430)), float(rng.uniform(160, 270))))
    reference, text = random_reference(rng, kind, room, level)
    holes = _holes(rng, room, reference)
    camera = _camera(rng, hard, _size(rng, long_side), holes, reference)
    reference = drawn_again(rng, reference, camera, level, text)
    photo = _photo(rng, hard, room, camera, reference, holes)
    return photo, _truth(rng, f"{level}-{kind}-{seed}.jpg", level, camera, reference, holes, text)


def random_label_photo(seed: int, level: str, long_side: int = 1600) -> tuple[bytes, dict[str, Any]]:
    """A photo (JPEG) of a set with a label, from near or far, and its truth; one seed, one photo.

    `level` is one of LEVELS; it decides above all how small the label is. `long_side` is in pixels.
    """
    rng = np.random.default_rng(seed)
    hard = HARDNESS[level]
    room = Room((float(rng.uniform(230, 430)), float(rng.uniform(160, 270))))
    reference, text = random_reference(rng, "label", room, level, float(rng.choice([20, 25, 30, 30, 40])))
    camera = _camera_by_module(rng, hard, _size(rng, long_side), reference, PIXELS_A_MODULE[level])
    reference = drawn_again(rng, reference, camera, level, text)
    photo = _photo(rng, hard, room, camera, reference, [], alone=False)
    return photo, _truth(rng, f"{level}-set-{seed}.jpg", level, camera, reference, [], text)


def _size(rng: Rng, long_side: int) -> tuple[int, int]:
    short_side = long_side * 3 // 4
    return (long_side, short_side) if rng.random() < 0.75 else (short_side, long_side)


def _holes(rng: Rng, room: Room, reference: Reference) -> list[Hole]:
    """One to three holes about the reference, of 3 to 40 mm."""
    thing, holes = reference.thing, []
    for _ in range(int(rng.integers(1, 4))):
        diameter = round(float(np.exp(rng.uniform(math.log(3), math.log(40)))), 2)
        near = (*thing.centre, thing.reach + 28 + diameter)
        spot = room.find(rng, diameter / 2, 4.0, near, 200)
        if spot is not None:
            holes.append(Hole(spot, diameter, burr=float(rng.uniform(0.05, 0.22))))
    if not holes:
        holes.append(Hole(room.find(rng, 4.0, 2.0, None, 2000) or (6.0, 6.0), 8.0))
    return holes


def _camera(
    rng: Rng, hard: Hardness, size: tuple[int, int], holes: list[Hole], reference: Reference
) -> Camera:
    """A camera at random that has all that counts in its frame; it steps back if it must."""
    wanted = [p for h in holes for p in circle(h.centre, h.radius + 1.5, 0.0, 12)] + reference.points()
    middle = [0.5 * (min(p[i] for p in wanted) + max(p[i] for p in wanted)) for i in (0, 1)]
    attempt = 0
    while True:
        wobble = rng.normal(0, 14, 2) * max(0.0, 1 - attempt / 400)
        distance = float(rng.uniform(*hard.distance)) + max(0, attempt - 150)
        target = (middle[0] + float(wobble[0]), middle[1] + float(wobble[1]))
        camera = _placed(rng, hard, size, target, distance, float(rng.uniform(0.70, 0.85)))
        if in_frame(camera, wanted, 18):
            return camera
        attempt += 1


def _placed(
    rng: Rng, hard: Hardness, size: tuple[int, int], target: Point, distance: float, focal: float
) -> Camera:
    """A camera at a distance, leaning some way, its lens not quite straight and not quite centred."""
    roll = rng.normal(0, 12) if rng.random() < 0.8 else rng.uniform(-180, 180)
    tilt, towards = float(rng.uniform(*hard.tilt)), float(rng.uniform(0, 360))
    bend = (float(rng.normal(0, 0.012)), float(rng.normal(0, 0.004)))
    middle = (float(rng.normal(0.5, 0.006)), float(rng.normal(0.5, 0.006)))
    return camera_at(size, target, distance, tilt, towards, float(roll), focal, bend, middle)


def _camera_by_module(
    rng: Rng, hard: Hardness, size: tuple[int, int], reference: Reference, pixels: tuple[float, float]
) -> Camera:
    """A camera from which a label's modules are so many pixels wide, the label anywhere in the frame."""
    while True:
        focal = float(rng.uniform(0.70, 0.85))
        module = float(np.exp(rng.uniform(*np.log(pixels))))
        distance = focal * max(size) * reference.side_mm / 21 / module
        away = rng.normal(0, 0.16 * distance, 2)
        x, y = reference.thing.centre
        camera = _placed(rng, hard, size, (x + float(away[0]), y + float(away[1])), distance, focal)
        if in_frame(camera, reference.points(), 8):
            return camera


def _photo(
    rng: Rng,
    hard: Hardness,
    room: Room,
    camera: Camera,
    reference: Reference,
    holes: list[Hole],
    alone: bool = True,
) -> bytes:
    """The whole scene round a reference and holes, rendered and developed."""
    spots = [(*h.centre, h.radius + 1) for h in holes] + spots_of(reference)
    kind, marks = str(rng.choice(hard.finishes)), Marks()
    things = in_sight(camera, random_fittings(rng, hard, room, marks, camera), spots)
    lamps, around = random_light(rng, hard, camera)
    panel = random_panel(rng, room.size, camera, kind, hard, marks, holes)
    others = [] if alone else neighbours(rng, room.size, panel.depth)
    scene = Scene(
        panel,
        [*things, reference.thing, *others],
        random_ground(rng, camera),
        lamps,
        around,
        random_casters(rng, hard, lamps, spots),
    )
    film: Film = random_film(rng, hard)
    return develop(trace(scene, camera), camera, film, rng)


def _truth(
    rng: Rng, file: str, level: str, camera: Camera, reference: Reference, holes: list[Hole], text: str
) -> dict[str, Any]:
    asides = rng.uniform(-0.35, 0.35, (len(holes), 2))
    return {
        "file": file,
        "set": None,
        "check": "",
        "width": camera.width,
        "height": camera.height,
        "reference": reference.told(camera),
        "tilt_deg": round(camera.tilt_deg, 2),
        "distance_mm": round(camera.distance_mm, 1),
        "holes": [
            hole_truth(camera, h, (float(a), float(b))) for h, (a, b) in zip(holes, asides, strict=True)
        ],
        "label": text if reference.kind == "label" else None,
        "level": level,
    }
