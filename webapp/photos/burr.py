"""Where the rim of a hole lies when a bright burr or chipped paint runs round it.

A thin bright ring draws the steepest place inward by as much as the photo is blurred. The brightness across
the rim is therefore taken for a step from inside to outside with a ring of some width behind it, all blurred
alike; what fits best is taken.
"""

import math
from collections.abc import Mapping, Sequence

from webapp.photos.linear import solved

Settings = Mapping[str, float]


def ring_shift(profile: Sequence[float], settings: Settings) -> float:
    """How far outward of the profile's middle the rim lies, in steps of the profile.

    The profile goes outward across the rim, its middle at the steepest place. A ring counts only where it
    fits clearly better than a step alone.
    """
    plain, rest = _best_fit(profile, [0.0], settings)
    count = int(settings["ring_widths"])
    ring, rest_with = _best_fit(profile, [k * settings["ring_width"] for k in range(1, count + 1)], settings)
    return ring if rest_with <= settings["ring_gain"] * rest else plain


def _best_fit(profile: Sequence[float], widths: Sequence[float], settings: Settings) -> tuple[float, float]:
    """The shift that leaves the least squares, and these."""
    best, least = 0.0, math.inf
    middle = (len(profile) - 1) / 2.0
    for width in widths:
        for j in range(int(settings["blurs"])):
            blur = settings["blur_least"] + j * settings["blur_step"]
            for k in range(int(settings["shifts"])):
                shift = settings["shift_least"] + k * settings["shift_step"]
                rest = _rest(profile, middle + shift, blur, width)
                if rest < least:
                    best, least = shift, rest
    return best, least


def _rest(profile: Sequence[float], edge: float, blur: float, width: float) -> float:
    """The sum of squares that inside, outside and ring, at their best levels, leave of a profile."""
    rows: list[tuple[float, ...]] = []
    for i in range(len(profile)):
        risen = _step_up((i - edge) / blur)
        if width > 0.0:
            rows.append((1.0, risen, risen - _step_up((i - edge - width) / blur)))
        else:
            rows.append((1.0, risen))
    size = len(rows[0])
    normal = [[sum(row[j] * row[k] for row in rows) for k in range(size)] for j in range(size)]
    right = [sum(row[j] * value for row, value in zip(rows, profile, strict=True)) for j in range(size)]
    levels = solved(normal, right)
    if levels is None:
        return math.inf
    total = 0.0
    for row, value in zip(rows, profile, strict=True):
        fitted = 0.0
        for part, level in zip(row, levels, strict=True):
            fitted += part * level
        total += (value - fitted) ** 2
    return total


def _step_up(x: float) -> float:
    """A blurred step: the logistic curve that lies nearest to that of the normal law."""
    return 1.0 / (1.0 + math.exp(-1.702 * x))
