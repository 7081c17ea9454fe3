"""Edges along a line through the photo: where brightness changes most, to a fraction of a pixel."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from webapp.photos.grey import Grey, Point, brightness


@dataclass(frozen=True, slots=True)
class Edge:
    """`at` in samples from the start of the line; `rise` the change of brightness in one sample, signed."""

    at: float
    rise: float


def samples(photo: Grey, start: Point, step: Point, count: int) -> list[float]:
    """Brightness at `count` points, the first at `start`, each a `step` further."""
    (x, y), (dx, dy) = start, step
    return [brightness(photo, x + dx * i, y + dy * i) for i in range(count)]


def rises(values: Sequence[float], sigma: float) -> list[float]:
    """The slope of the values smoothed by a Gaussian of `sigma` samples; 0 where the filter does not fit."""
    kernel = _slope_filter(sigma)
    reach = len(kernel) // 2
    found = [0.0] * len(values)
    for i in range(reach, len(values) - reach):
        total = 0.0
        for j in range(1, reach + 1):
            total += kernel[reach + j] * (values[i + j] - values[i - j])
        found[i] = total
    return found


@cache
def _slope_filter(sigma: float) -> tuple[float, ...]:
    """The derivative of a Gaussian, scaled so that an even slope of 1 gives 1."""
    reach = math.ceil(3.0 * sigma)
    weights = [i * math.exp(-(i * i) / (2.0 * sigma * sigma)) for i in range(-reach, reach + 1)]
    scale = sum(i * weight for i, weight in zip(range(-reach, reach + 1), weights, strict=True))
    return tuple(weight / scale for weight in weights)


def edges_of(slopes: Sequence[float], least: float) -> list[Edge]:
    """The places where the slope is steepest, in order, to a fraction of a sample by a parabola.

    Only those at least as steep as `least`.
    """
    found = []
    for i in range(1, len(slopes) - 1):
        here = abs(slopes[i])
        before, after = abs(slopes[i - 1]), abs(slopes[i + 1])
        if here < least or here <= before or here < after:
            continue
        bend = before - 2.0 * here + after
        shift = 0.5 * (before - after) / bend if bend < 0.0 else 0.0
        found.append(Edge(i + shift, slopes[i]))
    return found


def median(values: Sequence[float]) -> float:
    """The middle value, the mean of two; 0 of none."""
    if not values:
        return 0.0
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2.0
