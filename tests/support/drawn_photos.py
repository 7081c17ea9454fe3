"""Plain photos drawn from a seed: round holes beside a card, a label or a coin, and what is true of them.

Flat shapes through a camera, no light and no wall: quick, and made quite unlike the photos of `demo_photos`.
"""

import io
import math
import random
from collections.abc import Callable
from dataclasses import dataclass

import segno
from PIL import Image, ImageDraw, ImageFilter

from webapp.photos.grey import Grey, Point

SIZES = {"card": (85.6, 53.98), "label": (30.0, 30.0), "coin": (24.26, 24.26)}
_CORNER_MM = 3.18
_FINER = 3


@dataclass(frozen=True)
class Hole:
    """A hole: its diameter in mm, and points of its rim and its middle in pixels."""

    diameter_mm: float
    rim: list[Point]
    middle: Point


@dataclass(frozen=True)
class Drawn:
    """A photo and its truth; `outline` are four corners in pixels, or twelve points of a coin's rim."""

    photo: Grey
    image: Image.Image
    outline: list[Point]
    size_mm: tuple[float, float]
    holes: list[Hole]
    tilt_deg: float


def drawn_photo(seed: int, kind: str, tilt: float = 40.0, width: int = 900, height: int = 675) -> Drawn:
    """A photo with three holes at most, tilted by up to `tilt` degrees; the same for the same seed."""
    rng = random.Random(seed)
    angle = math.radians(rng.uniform(0.0, tilt))
    seen = _camera(rng, angle, width, height)
    around = _placed(rng)
    size = SIZES[kind]
    panel, dark = rng.uniform(110, 170), rng.uniform(15, 45)
    image = Image.new("L", (width * _FINER, height * _FINER), round(panel))
    draw = ImageDraw.Draw(image)

    def polygon(points: list[Point], shade: float) -> None:
        draw.polygon([(x * _FINER, y * _FINER) for x, y in points], fill=round(shade))

    def on_reference(points: list[Point]) -> list[Point]:
        return [seen(around(point)) for point in points]

    bright = rng.uniform(200, 240)
    if kind == "card":
        polygon(on_reference(_rounded(size)), bright)
        polygon(on_reference(_box(-20, -14, 25, 6)), 120)
    elif kind == "label":
        _label(lambda points, shade: polygon(on_reference(points), shade), size[0])
    else:
        polygon(on_reference(_circle((0.0, 0.0), size[0] / 2)), bright)
        polygon(on_reference(_circle((0.0, 0.0), size[0] * 0.3)), bright - 25)
    outline = (
        _box(*(-size[0] / 2, -size[1] / 2), *size) if kind != "coin" else _circle((0, 0), size[0] / 2, 12)
    )
    holes = []
    for middle, radius in _spots(rng, size):
        rim = [seen(around(point)) for point in _circle(middle, radius)]
        if all(4 < x < width - 4 and 4 < y < height - 4 for x, y in rim):
            polygon(rim, dark)
            few = [seen(around(point)) for point in _circle(middle, radius, 12)]
            holes.append(Hole(2 * radius, few, seen(around(middle))))
    image = image.reduce(_FINER).filter(ImageFilter.GaussianBlur(rng.uniform(0.5, 1.2)))
    noise = Image.frombytes("L", image.size, rng.randbytes(width * height))
    image = Image.blend(image, noise, rng.uniform(0.01, 0.04))
    photo = Grey(width, height, image.tobytes())
    return Drawn(photo, image, on_reference(outline), size, holes, math.degrees(angle))


def jpeg_of(drawn: Drawn) -> bytes:
    """The photo as a file."""
    buffer = io.BytesIO()
    drawn.image.save(buffer, "JPEG", quality=92)
    return buffer.getvalue()


def _camera(rng: random.Random, tilt: float, width: int, height: int) -> Callable[[Point], Point]:
    """From a point of the panel in mm to pixels: a pinhole camera that looks at the middle of the panel."""
    focal, away, turn = rng.uniform(0.7, 0.9) * width, rng.uniform(230, 300), rng.uniform(0, 2 * math.pi)

    def seen(point: Point) -> Point:
        x = point[0] * math.cos(turn) - point[1] * math.sin(turn)
        y = point[0] * math.sin(turn) + point[1] * math.cos(turn)
        depth = away + x * math.sin(tilt)
        return (width / 2 + focal * x * math.cos(tilt) / depth, height / 2 + focal * y / depth)

    return seen


def _placed(rng: random.Random) -> Callable[[Point], Point]:
    """Where the reference and all around it lies on the panel."""
    turn, left, down = rng.uniform(0, 2 * math.pi), rng.uniform(-10, 10), rng.uniform(-10, 10)

    def placed(point: Point) -> Point:
        x = left + point[0] * math.cos(turn) - point[1] * math.sin(turn)
        return (x, down + point[0] * math.sin(turn) + point[1] * math.cos(turn))

    return placed


def _spots(rng: random.Random, size: tuple[float, float]) -> list[tuple[Point, float]]:
    """Middles and radii of holes beside the reference, well apart."""
    beside = size[1] / 2 + 18
    return [
        ((-22.0, -beside), rng.uniform(2.5, 9)), ((20.0, -beside), rng.uniform(2.5, 9)),
        ((0.0, beside), rng.uniform(4, 14)),
    ]  # fmt: skip


def _circle(middle: Point, radius: float, count: int = 120) -> list[Point]:
    turns = [2 * math.pi * k / count for k in range(count)]
    return [(middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turns]


def _box(left: float, top: float, width: float, height: float) -> list[Point]:
    return [(left, top), (left + width, top), (left + width, top + height), (left, top + height)]


def _rounded(size: tuple[float, float]) -> list[Point]:
    """A box about (0, 0) with round corners."""
    points = []
    for quarter, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        x, y = sx * (size[0] / 2 - _CORNER_MM), sy * (size[1] / 2 - _CORNER_MM)
        for step in range(13):
            turn = math.pi / 2 * (quarter + step / 12)
            points.append((x + _CORNER_MM * math.cos(turn), y + _CORNER_MM * math.sin(turn)))
    return points


def _label(polygon: Callable[[list[Point], float], None], side: float) -> None:
    """A label of sheet K7Q2 with its quiet zone, the symbol about (0, 0)."""
    symbol = segno.make("UC:K7Q2:007", version=1, error="q", boost_error=False)
    module = side / 21
    polygon(_box(-side / 2 - 4 * module, -side / 2 - 4 * module, side + 8 * module, side + 8 * module), 235)
    for row, modules in enumerate(symbol.matrix):
        for column, on in enumerate(modules):
            if on:
                grown = 0.01 * module
                left, top = -side / 2 + column * module, -side / 2 + row * module
                polygon(_box(left, top, module + grown, module + grown), 30)
