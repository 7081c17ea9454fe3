"""The fronts and one back of the invented sets, the same in every photo of a set."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from demo_photos.ageing import Years
from demo_photos.finishes import FINISHES, finish
from demo_photos.fittings import behind, jack, plug, screw, toggle
from demo_photos.knobs import knob
from demo_photos.marks import Marks
from demo_photos.panel import Hole, Panel
from demo_photos.plates import dial, nameplate
from demo_photos.shapes import Point
from demo_photos.skin import Material
from demo_photos.textures import Rng, wrinkle
from demo_photos.things import Thing

Fit = Callable[[Rng, Marks, float], list[Thing]]
WORKS = ["MARROW & TEAL", "INSTRUMENT WORKS"]


@dataclass(frozen=True)
class Front:
    """One face of one set. `fit` puts its fittings on and says what is engraved beside them."""

    seed: int
    size: Point
    kind: str
    years: Years
    fit: Fit
    holes: list[Hole] = field(default_factory=list)
    soft: float = 0.0
    depth: float = 110.0
    inside: tuple[float, float] = (36.0, 0.8)

    def fitted(self, rng: Rng, per_mm: float) -> tuple[list[Thing], Marks]:
        """Its fittings, and what is written beside them."""
        marks = Marks(soft=self.soft)
        return self.fit(rng, marks, per_mm) + _edge_screws(rng, self.size, marks), marks

    def built(self, per_mm: float) -> tuple[Panel, list[Thing]]:
        """Its panel, as fine as a photo of `per_mm` pixels to a millimetre shows, and its fittings."""
        rng = np.random.default_rng(self.seed)
        things, marks = self.fitted(rng, per_mm)
        seen = (0.0, self.size[0], 0.0, self.size[1])
        skin = finish(rng, self.size, seen, min(per_mm, 6.5), self.kind, self.years, marks, self.holes)
        bare = self.kind == "bare"
        box = Material((0.60, 0.59, 0.57), metal=1.0, rough=0.5) if bare else FINISHES[self.kind]
        panel = Panel(
            self.size,
            skin,
            2.2,
            Material((0.60, 0.58, 0.55), metal=0.85, rough=0.45),
            box,
            behind(rng, True),
            self.inside[0],
            self.inside[1],
            self.depth,
            wrinkle(rng, per_mm) if self.kind == "wrinkle" else None,
            1.0,
            (0.012, 0.012) if bare else (0.004, 0.004),
            self.holes,
        )
        return panel, things


def _edge_screws(rng: Rng, size: Point, marks: Marks) -> list[Thing]:
    things = []
    for x in (7.0, size[0] / 2, size[0] - 7):
        for y in (7.0, size[1] - 7):
            things.append(screw(rng, (x, y)))
            marks.worn.append(((x, y), 4.0))
    return things


def _knob(
    rng: Rng,
    marks: Marks,
    centre: Point,
    radius: float,
    degrees: float,
    style: str,
    words: str,
    figures: int = 0,
) -> list[Thing]:
    if figures:
        marks.scales.append((centre, radius + 1.5, [str(i) for i in range(figures)]))
    marks.words.append(((centre[0], centre[1] + radius + (10.5 if figures else 6)), words, 3.0))
    marks.rings.append((centre, radius + 0.5))
    return knob(rng, centre, radius, math.radians(degrees), style)


def tern(
    figures: list[str], name: str, plate: list[str], odd: tuple[str, ...], plugged: Point | None = None
) -> Fit:
    """The front of a Tern: dial, counter, four knobs (`odd` says of what kind), key jack, switch, plate."""

    def fit(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
        things = dial(rng, (118, 46), 96, 40, figures, per_mm)
        things += dial(rng, (208, 42), 46, 26, ["0", "5", "9"], per_mm)
        things += _knob(rng, marks, (118, 122), 25, 40, odd[0], "FREQUENCY", 11)
        things += _knob(rng, marks, (44, 128), 15, -120, odd[1], "COUPLING", 7)
        things += _knob(rng, marks, (196, 124), 15, 200, odd[2], "LOAD", 7)
        things += _knob(rng, marks, (344, 146), 11, -60, odd[3], "GAIN")
        things += jack((250, 138)) + toggle(rng, (294, 140), -1.3)
        marks.words += [((250, 152), "KEY", 3.0), ((294, 154.5), "CAL", 3.0), ((294, 125), "OP", 3.0)]
        marks.words += [((38, 22), name, 5.0), ((208, 68), "AERIAL COIL", 2.6)]
        marks.lines += [((232, 120), (232, 160)), ((232, 160), (270, 160))]
        things += nameplate(rng, (314, 38), plate, per_mm, 84)
        return things + ([plug(plugged, 3.3)] if plugged else [])

    return fit


def back(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
    """The back of a Tern: a plate over nothing, screws, words."""
    marks.words += [((120, 66), "POWER", 4.0), ((248, 36), "EARTH", 3.5), ((248, 92), "AERIAL", 3.5)]
    spots = [
        (120 + 24 * c, 104 + 24 * s) for c, s in ((0.71, 0.71), (-0.71, 0.71), (0.71, -0.71), (-0.71, -0.71))
    ]
    marks.worn += [(spot, 2.5) for spot in spots]
    things: list[Thing] = [screw(rng, spot, 2.6) for spot in spots]
    things += [*jack((248, 54)), *jack((248, 110))]
    return [*things, screw(rng, (300, 60), 3.0), screw(rng, (300, 140), 3.0), screw(rng, (60, 150), 3.0)]


def plover(figures: list[str], name: str, number: str) -> Fit:
    """A receiver: dial, tuning and volume."""

    def fit(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
        things = dial(rng, (92, 48), 110, 44, figures, per_mm)
        things += _knob(rng, marks, (92, 122), 23, 120, "skirted", "TUNING", 11)
        things += _knob(rng, marks, (180, 126), 13, -150, "skirted", "VOLUME", 6)
        things += _knob(rng, marks, (34, 128), 11, -45, "bar", "BAND")
        things += jack((140, 163))
        marks.words += [((140, 177), "PHONES", 3.0), ((200, 24), name, 5.5)]
        return things + nameplate(rng, (252, 44), [*WORKS, f"{name}  No. {number}"], per_mm, 66, brass=False)

    return fit


def dunlin(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
    """A pack set: two knobs, switch, jacks, aerial terminal."""
    things = _knob(rng, marks, (58, 70), 20, 15, "round", "TUNE", 9) + toggle(rng, (128, 60), 1.6)
    things += _knob(rng, marks, (190, 50), 14, 250, "bar", "SEND - RECEIVE")
    things += [*jack((120, 128)), *jack((160, 128)), screw(rng, (232, 130), 5.0)]
    marks.words += [((128, 40), "ON", 3.0), ((128, 78), "OFF", 3.0), ((120, 142), "KEY", 3.0)]
    marks.words += [((160, 142), "PHONES", 3.0), ((232, 143), "AERIAL", 3.0), ((60, 22), "DUNLIN", 5.0)]
    return things


def curlew(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
    """A frequency meter: a large dial knob, correction, crystal check."""
    things = _knob(rng, marks, (80, 96), 34, -20, "metal", "kHz", 11)
    things += dial(rng, (214, 34), 64, 30, ["0", "1", "2", "3"], per_mm)
    things += _knob(rng, marks, (148, 36), 12, 90, "bar", "CORRECTION")
    things += toggle(rng, (144, 92), 0.4)
    marks.words += [((144, 108), "CRYSTAL", 3.0), ((60, 20), "CURLEW", 5.0)]
    return things


def knot(number: str) -> Fit:
    """A dynamotor unit: plate, fuse caps, screws."""

    def fit(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
        things = nameplate(rng, (64, 36), [*WORKS, f"KNOT  24 V  No. {number}"], per_mm, 72)
        for x in (150, 180):
            things += _knob(rng, marks, (x, 40), 8, 0, "round", "FUSE")
        marks.words += [((58, 68), "HIGH VOLTAGE", 4.0), ((165, 20), "2 A    10 A", 2.6)]
        return [*things, screw(rng, (30, 110), 4.0), screw(rng, (214, 120), 4.0), screw(rng, (110, 130), 4.0)]

    return fit


def sandpiper(rng: Rng, marks: Marks, per_mm: float) -> list[Thing]:
    """A control box: one switch knob, toggle, jack."""
    things = _knob(rng, marks, (46, 58), 15, -90, "bar", "FUNCTION") + toggle(rng, (102, 48), 1.2)
    marks.words += [((18, 44), "OFF", 2.6), ((46, 32), "CW", 2.6), ((76, 44), "TONE", 2.6)]
    marks.words += [((102, 64), "TEST", 3.0), ((54, 18), "SANDPIPER", 4.2)]
    return things + jack((158, 32))


TERN_B = Front(
    1184,
    (380, 200),
    "wrinkle",
    Years(0.35, 0.22, 0.25, 0.3),
    tern(
        ["33", "37", "41", "45", "50"],
        "TERN B",
        ["TERN B", *WORKS, "ORDER CIS-2207-53", "No. 1184"],
        ("skirted", "skirted", "skirted", "metal"),
    ),
)
TERN_C = Front(
    377,
    (380, 200),
    "grey",
    Years(0.3, 0.4, 0.5, 0.75, 0.9),
    tern(
        ["50", "57", "63", "70", "76"],
        "TERN C",
        ["TERN C", *WORKS, "No. 0377"],
        ("round", "bar", "metal", "skirted"),
        (276, 180),
    ),
    [
        Hole((240, 179), 16, burr=0.12),
        Hole((206, 180), 9.7),
        Hole((172, 179), 12.5, burr=0.15),
        Hole((300, 181), 4.5),
    ],
    soft=0.93,
)
TERN_C_BACK = Front(
    378,
    (380, 200),
    "grey",
    Years(0.5, 0.6, 0.6, 1.0, 0.6),
    back,
    [Hole((120, 104), 28.5, "back", 0.2)],
    soft=0.5,
)
TERN_A = Front(
    2750,
    (380, 200),
    "bare",
    Years(0.4, 0.95, 0.7, 0.3),
    tern(
        ["22", "25", "28", "31", "33"],
        "TERN A",
        ["TERN A", *WORKS, "ORDER CIS-1911-51", "No. 0642"],
        ("skirted", "bar", "bar", "round"),
    ),
)
PLOVER = Front(
    219,
    (310, 190),
    "green",
    Years(0.3, 0.3, 0.3, 0.6),
    plover(["22", "33", "50", "76"], "PLOVER", "0219"),
    [Hole((214, 104), 9.7), Hole((262, 98), 25.4)],
)
DUNLIN = Front(
    31,
    (250, 165),
    "green",
    Years(0.6, 0.5, 0.6, 0.6),
    dunlin,
    [Hole((62, 132), 12.7), Hole((88, 140), 6.5)],
)
CURLEW = Front(
    77,
    (270, 180),
    "lacquer",
    Years(0.3, 0.25, 0.4, 0.4),
    curlew,
    [Hole((214, 84), 19.0), Hole((244, 92), 4.0)],
)
KNOT = Front(
    88,
    (230, 150),
    "bare",
    Years(0.4, 0.5, 0.6, 0.3),
    knot("0088"),
    [Hole((96, 98), 22.2), Hole((152, 108), 7.0)],
)
SANDPIPER = Front(
    12,
    (200, 120),
    "wrinkle",
    Years(0.55, 0.35, 0.4, 0.6),
    sandpiper,
    [Hole((84, 98), 9.7), Hole((112, 96), 5.0)],
    depth=60,
)
