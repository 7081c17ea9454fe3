"""The corners of a card or a label to a fraction of a pixel: where the lines of its sides would meet.

The real corners of a card are round, so they are never looked at; neither are the ends of the sides.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.photos.edges import edges_of, median, rises, samples
from webapp.photos.grey import Grey, Point
from webapp.photos.linear import least_squares
from webapp.photos.plane import convex

Settings = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Corners:
    """Corners in pixels, how many of the four sides were found in the photo, and how well the edges lay."""

    points: list[Point]
    sides_found: int
    scatter_px: float


@dataclass(frozen=True, slots=True)
class _Search:
    """How far from what was given a side may lie, and how far it still counts six tenths; in pixels."""

    reach: float
    hint: float


@dataclass(frozen=True, slots=True)
class _Line:
    """A side: its offset outward in pixels at both ends of the given one, and how good it is."""

    first: float
    last: float
    scatter: float
    score: float


def refined_corners(photo: Grey, corners: Sequence[Point], dark_inside: bool, settings: Settings) -> Corners:
    """Corners from roughly given ones; a side that cannot be made out stays as it was given.

    `dark_inside` says that the object is known to be darker than what is around it, as a printed label is;
    else whichever way fits most of the four sides is taken.
    """
    if not convex(corners):
        return Corners(list(corners), 0, 0.0)
    lengths = [math.dist(corners[i], corners[(i + 1) % 4]) for i in range(4)]
    # The edges of a label's next row of modules lie close by, so it is not looked for as far.
    what = "label" if dark_inside else "side"
    reach = max(settings[f"{what}_reach_px"], settings[f"{what}_reach_share"] * min(lengths))
    search = _Search(min(reach, settings["side_reach_most_px"]), settings[f"{what}_hint_px"])
    lines = _found(photo, corners, dark_inside, search, settings)
    points = _met(corners, lines)
    if points is None or not convex(points):
        return Corners(list(corners), 0, 0.0)
    nearer = replace(search, reach=max(settings["label_reach_px"], search.reach / 3.0))
    again = _found(photo, points, dark_inside, nearer, settings)
    once_more = _met(points, again)
    found = sum(1 for line in again if line is not None)
    if once_more is None or found == 0:
        return Corners(list(corners), 0, 0.0)
    scatter = median([line.scatter for line in again if line is not None])
    return Corners(once_more, found, scatter)


def _found(
    photo: Grey, corners: Sequence[Point], dark_inside: bool, search: _Search, settings: Settings
) -> list[_Line | None]:
    ways = (1.0,) if dark_inside else (1.0, -1.0)
    best: list[_Line | None] = [None] * 4
    most = 0.0
    for way in ways:
        lines = [_side(photo, corners, i, way, search, settings) for i in range(4)]
        score = sum(line.score for line in lines if line is not None)
        if score > most:
            best, most = lines, score
    return best


def _outward(corners: Sequence[Point], i: int) -> Point:
    """The unit vector that leads out of the quadrilateral across side i."""
    (ax, ay), (bx, by) = corners[i], corners[(i + 1) % 4]
    cx, cy = sum(x for x, _ in corners) / 4.0, sum(y for _, y in corners) / 4.0
    length = math.hypot(bx - ax, by - ay)
    nx, ny = (by - ay) / length, (ax - bx) / length
    away = (ax - cx) * nx + (ay - cy) * ny
    return (nx, ny) if away >= 0.0 else (-nx, -ny)


def _side(
    photo: Grey, corners: Sequence[Point], i: int, way: float, search: _Search, settings: Settings
) -> _Line | None:
    """The line that most scans across a side agree on; `way` 1 where brightness rises outward, else -1."""
    a, b = corners[i], corners[(i + 1) % 4]
    nx, ny = _outward(corners, i)
    count = int(settings["scans_a_side"])
    half = math.ceil(2.0 * search.reach) + math.ceil(3.0 * settings["rim_sigma"])
    scans: list[tuple[float, list[tuple[float, float]]]] = []
    for k in range(count):
        t = settings["side_begin"] + (1.0 - 2.0 * settings["side_begin"]) * k / (count - 1)
        x, y = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
        values = samples(
            photo, (x - nx * half / 2.0, y - ny * half / 2.0), (nx / 2.0, ny / 2.0), 2 * half + 1
        )
        edges = edges_of(
            [way * value for value in rises(values, settings["rim_sigma"])], settings["least_rise"]
        )
        rising = sorted((edge for edge in edges if edge.rise > 0.0), key=lambda edge: -edge.rise)
        scans.append(
            (t, [((edge.at - half) / 2.0, edge.rise) for edge in rising[: int(settings["edges_a_scan"])]])
        )
    return _agreed(scans, search, settings)


def _agreed(
    scans: Sequence[tuple[float, list[tuple[float, float]]]], search: _Search, settings: Settings
) -> _Line | None:
    usual = median([edges[0][1] for _, edges in scans if edges])
    third = len(scans) // 3
    best, most = None, 0.0
    for t, edges in scans[:third]:
        for offset, _ in edges:
            for other_t, others in scans[-third:]:
                for other, _ in others:
                    slope = (other - offset) / (other_t - t)
                    line = (offset - slope * t, slope)
                    score = _support(scans, line, usual, search, settings)
                    if score > most:
                        best, most = line, score
    if best is None or most < settings["least_side_score"] * len(scans):
        return None
    return _fitted(scans, best, most, settings)


def _support(
    scans: Sequence[tuple[float, list[tuple[float, float]]]],
    line: tuple[float, float],
    usual: float,
    search: _Search,
    settings: Settings,
) -> float:
    start, slope = line
    if abs(start) > search.reach or abs(start + slope) > search.reach:
        return 0.0
    total = 0.0
    for t, edges in scans:
        at = start + slope * t
        best = 0.0
        for offset, rise in edges:
            if abs(offset - at) < settings["agree_px"]:
                best = max(best, rise / (rise + usual))
        total += best
    # What was given is a hint: the farther its ends are from it, the less a line counts.
    far = (start * start + (start + slope) ** 2) / (2.0 * search.hint * search.hint)
    return total * math.exp(-0.5 * far)


def _fitted(
    scans: Sequence[tuple[float, list[tuple[float, float]]]],
    line: tuple[float, float],
    score: float,
    settings: Settings,
) -> _Line | None:
    start, slope = line
    scatter = 0.0
    for _ in range(5):
        rows, offsets, weights = [], [], []
        for t, edges in scans:
            at = start + slope * t
            near = [edge for edge in edges if abs(edge[0] - at) < settings["agree_px"]]
            if near:
                offset, _ = min(near, key=lambda edge: abs(edge[0] - at))
                miss = abs(offset - at)
                rows.append([1.0, t])
                offsets.append(offset)
                weights.append(min(1.0, 0.5 / max(1e-12, miss)))
        found = least_squares(rows, offsets, weights) if len(rows) >= 4 else None
        if found is None:
            return None
        start, slope = found
        scatter = math.sqrt(
            sum((o - start - slope * row[1]) ** 2 for o, row in zip(offsets, rows, strict=True)) / len(rows)
        )
    return _Line(start, start + slope, scatter, score)


def _met(corners: Sequence[Point], lines: Sequence[_Line | None]) -> list[Point] | None:
    """Where the four lines meet, each in place of its side; None when two do not meet near the corner."""
    sides = []
    for i in range(4):
        a, b = corners[i], corners[(i + 1) % 4]
        line = lines[i]
        if line is not None:
            nx, ny = _outward(corners, i)
            a = (a[0] + nx * line.first, a[1] + ny * line.first)
            b = (b[0] + nx * line.last, b[1] + ny * line.last)
        sides.append((a, b))
    points = [_crossing(sides[(i + 3) % 4], sides[i]) for i in range(4)]
    return (
        None if any(point is None for point in points) else [point for point in points if point is not None]
    )


def _crossing(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point | None:
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    turn = ux * vy - uy * vx
    if abs(turn) < 0.05 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    along = ((cx - ax) * vy - (cy - ay) * vx) / turn
    return (ax + ux * along, ay + uy * along)
