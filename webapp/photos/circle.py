"""The circle nearest to points: radius and centre in the unit of the points."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.photos.grey import Point
from webapp.photos.linear import Matrix, least_squares, normal_equations, solved


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle in a plane."""

    x: float
    y: float
    radius: float


def circle_through(a: Point, b: Point, c: Point) -> Circle | None:
    """The circle through three points; None when they lie in a line."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2.0 * (bx * cy - by * cx)
    if abs(twice) < 1e-12:
        return None
    first, second = bx * bx + by * by, cx * cx + cy * cy
    x, y = (cy * first - by * second) / twice, (bx * second - cx * first) / twice
    return Circle(a[0] + x, a[1] + y, math.hypot(x, y))


def fitted_circle(points: Sequence[Point], weights: Sequence[float], rounds: int = 12) -> Circle | None:
    """The circle with the least weighted squares of distances from the rim; None when there is none.

    Begins with the algebraic fit of Kasa (1976), then Gauss and Newton on the true distances.
    """
    rows = [[x, y, 1.0] for x, y in points]
    found = least_squares(rows, [x * x + y * y for x, y in points], list(weights))
    if found is None:
        return None
    x, y = found[0] / 2.0, found[1] / 2.0
    circle = Circle(x, y, math.sqrt(max(0.0, found[2] + x * x + y * y)))
    for _ in range(rounds):
        step = _step(circle, points, weights)
        if step is None:
            return None
        circle = Circle(circle.x + step[0], circle.y + step[1], circle.radius + step[2])
        if abs(step[0]) + abs(step[1]) + abs(step[2]) < 1e-12 * circle.radius:
            break
    return circle if math.isfinite(circle.radius) and circle.radius > 0.0 else None


def misses(circle: Circle, points: Sequence[Point]) -> list[float]:
    """How far outside the rim each point lies; inside is negative."""
    return [math.hypot(x - circle.x, y - circle.y) - circle.radius for x, y in points]


def radius_variance(circle: Circle, points: Sequence[Point], weights: Sequence[float]) -> float:
    """The variance of the radius for points whose distances from the rim have variance 1; inf for too few."""
    normal, _ = normal_equations(_slopes(circle, points), [0.0] * len(points), list(weights))
    column = solved(normal, [0.0, 0.0, 1.0])
    return column[2] if column is not None and column[2] > 0.0 else math.inf


def _step(circle: Circle, points: Sequence[Point], weights: Sequence[float]) -> list[float] | None:
    return least_squares(_slopes(circle, points), misses(circle, points), list(weights))


def _slopes(circle: Circle, points: Sequence[Point]) -> Matrix:
    rows = []
    for x, y in points:
        away = max(1e-12, math.hypot(x - circle.x, y - circle.y))
        rows.append([(x - circle.x) / away, (y - circle.y) / away, 1.0])
    return rows
