"""The ellipse nearest to points, as a round coin shows in a photo."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.photos.grey import Point
from webapp.photos.linear import Matrix, least_squares


@dataclass(frozen=True, slots=True)
class Ellipse:
    """Half axes a and b, a the longer, at an angle in radians from the x axis to it, -pi/2 to pi/2."""

    x: float
    y: float
    a: float
    b: float
    angle: float


def fitted_ellipse(points: Sequence[Point], weights: Sequence[float], rounds: int = 12) -> Ellipse | None:
    """The ellipse nearest to five points or more; None when they lie on none.

    The conic's value over its slope is taken for the distance (Sampson 1982), each round weighted anew.
    """
    count = len(points)
    if count < 5:
        return None
    mx, my = sum(x for x, _ in points) / count, sum(y for _, y in points) / count
    scale = max(math.hypot(x - mx, y - my) for x, y in points)
    if scale == 0.0:
        return None
    near = [((x - mx) / scale, (y - my) / scale) for x, y in points]
    rows = [[x * x, x * y, y * y, x, y] for x, y in near]
    found, wanted, now = None, [1.0] * count, list(weights)
    for _ in range(rounds):
        found = least_squares(rows, wanted, now)
        if found is None:
            return None
        now = [
            weight / max(1e-9, _slope_squared(found, x, y))
            for weight, (x, y) in zip(weights, near, strict=True)
        ]
    assert found is not None
    ellipse = _shaped(found)
    if ellipse is None:
        return None
    return Ellipse(
        mx + scale * ellipse.x, my + scale * ellipse.y, scale * ellipse.a, scale * ellipse.b, ellipse.angle
    )


def _slope_squared(conic: Sequence[float], x: float, y: float) -> float:
    across = 2.0 * conic[0] * x + conic[1] * y + conic[3]
    down = conic[1] * x + 2.0 * conic[2] * y + conic[4]
    return across * across + down * down


def _shaped(conic: Sequence[float]) -> Ellipse | None:
    """The ellipse of A x² + B x y + C y² + D x + E y = 1."""
    a, b, c, d, e = conic
    determinant = 4.0 * a * c - b * b
    if determinant <= 0.0:
        return None
    x, y = (b * e - 2.0 * c * d) / determinant, (b * d - 2.0 * a * e) / determinant
    level = 1.0 + a * x * x + b * x * y + c * y * y
    middle, apart = (a + c) / 2.0, math.hypot((a - c) / 2.0, b / 2.0)
    least, most = middle - apart, middle + apart
    if level / most <= 0.0 or level / least <= 0.0:
        return None
    # The long axis lies where the form is least.
    angle = 0.5 * math.atan2(-b, c - a) if apart > 0.0 else 0.0
    return Ellipse(x, y, math.sqrt(level / least), math.sqrt(level / most), angle)


def point_on(ellipse: Ellipse, turn: float) -> tuple[Point, Point]:
    """A point of the rim, and the unit vector that leads straight outward there; `turn` in radians."""
    cosine, sine = math.cos(ellipse.angle), math.sin(ellipse.angle)
    along, across = math.cos(turn), math.sin(turn)
    u, v = ellipse.a * along, ellipse.b * across
    outward_u, outward_v = along / ellipse.a, across / ellipse.b
    length = math.hypot(outward_u, outward_v)
    outward_u, outward_v = outward_u / length, outward_v / length
    return (
        (ellipse.x + u * cosine - v * sine, ellipse.y + u * sine + v * cosine),
        (outward_u * cosine - outward_v * sine, outward_u * sine + outward_v * cosine),
    )


def conic_of(ellipse: Ellipse) -> Matrix:
    """The symmetric matrix Q of the ellipse: its points p = (x, y, 1) have p Q p = 0, inside is negative."""
    cosine, sine = math.cos(ellipse.angle), math.sin(ellipse.angle)
    first, second = 1.0 / ellipse.a**2, 1.0 / ellipse.b**2
    a = first * cosine * cosine + second * sine * sine
    b = (first - second) * cosine * sine
    c = first * sine * sine + second * cosine * cosine
    d, e = -(a * ellipse.x + b * ellipse.y), -(b * ellipse.x + c * ellipse.y)
    f = -d * ellipse.x - e * ellipse.y - 1.0
    return [[a, b, d], [b, c, e], [d, e, f]]


def miss_of(ellipse: Ellipse, point: Point) -> float:
    """How far outside the rim a point lies, to first order; inside is negative."""
    cosine, sine = math.cos(ellipse.angle), math.sin(ellipse.angle)
    x, y = point[0] - ellipse.x, point[1] - ellipse.y
    u, v = (x * cosine + y * sine) / ellipse.a, (-x * sine + y * cosine) / ellipse.b
    level = math.hypot(u, v)
    slope = math.hypot(u / ellipse.a, v / ellipse.b)
    return (level - 1.0) * level / slope if slope > 0.0 else -ellipse.b
