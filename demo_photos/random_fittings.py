"""A front at random: knobs, screws, switches and plates in free places, with words beside them."""

import math

from demo_photos.camera import Camera
from demo_photos.fittings import jack, screw, toggle
from demo_photos.hardness import Hardness
from demo_photos.knobs import knob
from demo_photos.layout import Room
from demo_photos.marks import Marks
from demo_photos.plates import dial, nameplate
from demo_photos.textures import Rng
from demo_photos.things import Thing

WORDS = (
    "CAL",
    "ANT",
    "KEY",
    "PHONES",
    "ON",
    "OFF",
    "GAIN",
    "TUNE",
    "COUPLING",
    "TERN B",
    "PLOVER",
    "CIS 2207",
    "LOAD",
)


def random_fittings(rng: Rng, hard: Hardness, room: Room, marks: Marks, camera: Camera) -> list[Thing]:
    """Knobs, screws, switches and plates in free places, with words beside them."""
    things: list[Thing] = []
    for _ in range(int(rng.integers(*hard.fittings, endpoint=True))):
        things += _fitting(rng, room, marks, camera)
    for x in (7.0, room.size[0] - 7):
        for y in (7.0, room.size[1] / 2, room.size[1] - 7):
            if room.is_free((x, y), 3.6, 0.5):
                room.take((x, y), 3.6)
                things.append(screw(rng, (x, y)))
                marks.worn.append(((x, y), 4.2))
    for _ in range(4):
        words = str(rng.choice(WORDS))
        tall = float(rng.uniform(2.4, 4.5))
        spot = room.find(rng, tall * len(words) * 0.45, 1.0)
        if spot is not None:
            marks.words.append((spot, words, tall))
    return things


def _fitting(rng: Rng, room: Room, marks: Marks, camera: Camera) -> list[Thing]:
    kind = str(rng.choice(["knob", "knob", "screw", "screw", "toggle", "jack", "plate", "dial"]))
    if kind == "screw":
        spot = room.find(rng, 4.0)
        return [screw(rng, spot, float(rng.uniform(2.4, 4.2)))] if spot else []
    if kind in ("toggle", "jack"):
        spot = room.find(rng, 11.0)
        if spot is None:
            return []
        marks.words.append(((spot[0], spot[1] + 13.5), str(rng.choice(["KEY", "PHONES", "ON", "CAL"])), 3.0))
        return toggle(rng, spot, float(rng.uniform(0, math.tau))) if kind == "toggle" else jack(spot)
    if kind == "knob":
        radius = float(rng.uniform(9, 21))
        spot = room.find(rng, radius + 10)
        if spot is None:
            return []
        marks.scales.append((spot, radius + 1.5, [str(i) for i in range(int(rng.integers(4, 11)))]))
        marks.rings.append((spot, radius + 0.6))
        return knob(rng, spot, radius, float(rng.uniform(0, math.tau)))
    if kind == "plate":
        spot = room.find(rng, 34.0)
        lines = ["MARROW & TEAL", "INSTRUMENT WORKS", f"TERN B   No. {int(rng.integers(100, 2000)):04d}"]
        return nameplate(rng, spot, lines, camera.per_mm, brass=bool(rng.random() < 0.5)) if spot else []
    spot = room.find(rng, 48.0)
    figures = ["33", "36", "39", "42", "45", "48", "50"]
    return dial(rng, spot, 88, 38, figures, camera.per_mm) if spot else []
