"""A rim fitted to the edges round about it, with the wall of the hole reckoned in.

Looked at from the side, a hole in a thick panel shows its far wall: there the strongest edge is often that of
the back rim. A point of the back rim, seen through the front, lies nearer to the point under the camera by a
known factor, so each edge is taken for front or back, whichever fits, and the thickness is tried out.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.photos.burr import ring_shift
from webapp.photos.circle import Circle, fitted_circle, misses
from webapp.photos.edges import Edge, edges_of, rises, samples
from webapp.photos.grey import Grey, Point
from webapp.photos.plane import Plane, applied, px_per_mm

Settings = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class View:
    """The point under the camera, in the plane, and the camera's height over it; mm."""

    eye: Point
    height: float


@dataclass(frozen=True, slots=True)
class Rim:
    """A rim found: its circle in the plane, its points in pixels, and how well they agree.

    `share` is the part of all directions in which the rim was seen, 0 to 1; `scatter_px` the spread of the
    points about the circle; `score` how clearly it was seen, 0 to 1; `doubt_mm` what the diameter would
    change with another thickness that fits about as well.
    """

    circle: Circle
    points: list[Point]
    share: float
    scatter_px: float
    score: float
    doubt_mm: float


@dataclass(frozen=True, slots=True)
class _Way:
    """One direction from the middle of the hole: brightness outward across the rim, its edges, which side.

    Brightness has a sample to half a pixel; an edge stands beside its point in mm; on the far side the wall
    may show.
    """

    profile: list[float]
    edges: list[tuple[Edge, Point]]
    far: bool


@dataclass(frozen=True, slots=True)
class _Chosen:
    """The edge taken for a direction, brought to the front; `front` is None for one of the back rim."""

    point: Point
    weight: float
    way: _Way
    front: Edge | None


@dataclass(frozen=True, slots=True)
class _Fit:
    circle: Circle
    chosen: list[_Chosen]
    score: float


@dataclass(frozen=True, slots=True)
class _Usual:
    """How steep edges mostly are, and whether it mostly grows brighter outward."""

    steep: float
    rising: bool


def settled(
    photo: Grey, plane: Plane, circle: Circle, view: View, steep: float, rounds: int, settings: Settings
) -> Rim | None:
    """The rim near a circle, fitted in so many rounds of looking; None when too few directions show it.

    `steep` is how steep the edges round the tap mostly are. With one round only, burrs are not reckoned with.
    """
    scale = px_per_mm(plane, (circle.x, circle.y))
    close = settings["agree_px"] / scale
    fit: _Fit | None = None
    flat: _Fit | None = None
    count = 0
    for _ in range(rounds):
        ways = _ways(photo, plane, circle, view, settings)
        count = len(ways)
        usual = _Usual(steep, _mostly_rising(ways))
        flat = _fitted(ways, circle, view, 0.0, usual, close)
        fit = _thickest(ways, circle, view, flat, usual, close, settings)
        if fit is None:
            return None
        circle = fit.circle
    assert fit is not None
    doubt = 0.0
    if flat is not None and flat is not fit:
        doubt = 2.0 * abs(flat.circle.radius - circle.radius) * min(1.0, flat.score / fit.score) ** 8
    points = [one.point for one in fit.chosen]
    if rounds > 1:
        points = _moved_out(fit, _shift(fit, settings) / 2.0 / scale)
        circle = fitted_circle(points, [one.weight for one in fit.chosen], 6) or circle
    off = misses(circle, points)
    good = [i for i in range(len(off)) if abs(off[i]) < close]
    share = len(good) / count
    if share < settings["least_share"] / 2.0:
        return None
    scatter = math.sqrt(sum(off[i] ** 2 for i in good) / len(good)) * scale
    return Rim(circle, [applied(plane.to_px, points[i]) for i in good], share, scatter, fit.score, doubt)


def _ways(photo: Grey, plane: Plane, circle: Circle, view: View, settings: Settings) -> list[_Way]:
    """The edges round about, from as far inside as the back rim can show to a little outside."""
    count = int(settings["directions"])
    scale = px_per_mm(plane, (circle.x, circle.y))
    x, y = view.eye[0] - circle.x, view.eye[1] - circle.y
    aside = math.hypot(x, y)
    thick = settings["thick_mm"]
    deep = thick / (view.height + thick) * aside if aside > settings["wall_slope"] * view.height else 0.0
    outward = settings["window_px"]
    ways = []
    for k in range(count):
        turn = 2.0 * math.pi * k / count
        slant = (x * math.cos(turn) + y * math.sin(turn)) / max(1e-9, aside)
        far = deep > 0.0 and slant < settings["wall_cosine"]
        inward = outward + (min(0.7 * circle.radius, deep) * scale if far else 0.0)
        ways.append(_across(photo, plane, circle, turn, inward, outward, far, settings))
    return ways


def _across(
    photo: Grey,
    plane: Plane,
    circle: Circle,
    turn: float,
    inward: float,
    outward: float,
    far: bool,
    settings: Settings,
) -> _Way:
    """The rim in one direction, from the mean of a few lines close by."""
    fine = int(settings["fine_rays"])
    margin = math.ceil(3.0 * settings["rim_sigma"])
    before, after = math.ceil(2.0 * inward) + margin, math.ceil(2.0 * outward) + margin
    total = [0.0] * (before + 1 + after)
    shares = settings["directions"] * fine
    start, step = (0.0, 0.0), (0.0, 0.0)
    for j in range(fine):
        angle = turn + (j - (fine - 1) / 2.0) * 2.0 * math.pi / shares
        on, along = _outward(plane, circle, angle)
        begin = (on[0] - before * along[0], on[1] - before * along[1])
        for i, value in enumerate(samples(photo, begin, along, len(total))):
            total[i] += value / fine
        if j == fine // 2:
            start, step = begin, along
    edges = edges_of(rises(total, settings["rim_sigma"]), settings["least_rise"])
    places = [
        applied(plane.to_mm, (start[0] + step[0] * edge.at, start[1] + step[1] * edge.at)) for edge in edges
    ]
    return _Way(total, list(zip(edges, places, strict=True)), far)


def _outward(plane: Plane, circle: Circle, angle: float) -> tuple[Point, Point]:
    """A point of the rim in pixels, and the step of half a pixel that leads out of the hole there."""
    cosine, sine = math.cos(angle), math.sin(angle)
    on = applied(plane.to_px, (circle.x + circle.radius * cosine, circle.y + circle.radius * sine))
    out = 1.01 * circle.radius
    beyond = applied(plane.to_px, (circle.x + out * cosine, circle.y + out * sine))
    length = 2.0 * math.hypot(beyond[0] - on[0], beyond[1] - on[1])
    return on, ((beyond[0] - on[0]) / length, (beyond[1] - on[1]) / length)


def _mostly_rising(ways: Sequence[_Way]) -> bool:
    steepest = [max((edge.rise for edge, _ in way.edges), key=abs) for way in ways if way.edges]
    return sum(steepest) >= 0.0


def _thickest(
    ways: Sequence[_Way],
    circle: Circle,
    view: View,
    flat: _Fit | None,
    usual: _Usual,
    close: float,
    settings: Settings,
) -> _Fit | None:
    """The best fit over the thicknesses; one that says that the panel is thick must fit clearly better."""
    best = flat
    if not any(way.far for way in ways):
        return best
    steps = int(settings["thick_steps"])
    for step in range(1, steps + 1):
        fit = _fitted(ways, circle, view, settings["thick_mm"] * step / steps, usual, close)
        if fit is not None and (best is None or fit.score * settings["thick_price"] > best.score):
            best = fit
    return best


def _fitted(
    ways: Sequence[_Way], circle: Circle, view: View, thick: float, usual: _Usual, close: float
) -> _Fit | None:
    """The circle through front edges, and back edges brought forward, for one thickness."""
    fit: _Fit | None = None
    for round_ in range(4):
        # A wide catch first, so that a circle a little off still draws the edges that belong to it.
        reach = close * (2.0 if round_ < 2 else 1.0)
        offered = [_chosen(way, circle, view, thick, usual, reach) for way in ways]
        chosen = [one for one in offered if one is not None]
        if len(chosen) < 6:
            return None
        weights = [one.weight for one in chosen]
        fitted = fitted_circle([one.point for one in chosen], weights, 4)
        if fitted is None:
            return None
        circle = fitted
        fit = _Fit(circle, chosen, sum(weights) / len(ways))
    return fit


def _chosen(
    way: _Way, circle: Circle, view: View, thick: float, usual: _Usual, reach: float
) -> _Chosen | None:
    """The edge of a direction that suits the circle best, brought to the front, and its weight."""
    best: _Chosen | None = None
    most = 0.02
    grow = (view.height + thick) / view.height
    for edge, point in way.edges:
        agrees = 1.0 if (edge.rise > 0.0) == usual.rising else 0.6
        weight = agrees * abs(edge.rise) / (abs(edge.rise) + usual.steep)
        front = _near(point, circle, reach) * weight
        if front > most:
            best, most = _Chosen(point, front, way, edge), front
        if way.far and thick > 0.0:
            x, y = view.eye
            back = (x + (point[0] - x) * grow, y + (point[1] - y) * grow)
            behind = _near(back, circle, reach) * weight
            if behind > most:
                best, most = _Chosen(back, behind, way, None), behind
    return best


def _shift(fit: _Fit, settings: Settings) -> float:
    """How far outward of the steepest places the rim lies, in half pixels, by the mean profile."""
    reach = int(settings["profile_reach"])
    total = [0.0] * (2 * reach + 1)
    count = 0
    for one in fit.chosen:
        if one.front is None or one.way.far:
            continue
        first, profile = one.front.at - reach, one.way.profile
        if first < 0.0 or one.front.at + reach > len(profile) - 1:
            continue
        for i in range(len(total)):
            at = math.floor(first + i)
            part = first + i - at
            total[i] += profile[at] * (1.0 - part) + (profile[at + 1] * part if part > 0.0 else 0.0)
        count += 1
    if count < settings["least_share"] * len(fit.chosen) / 2.0:
        return 0.0
    return ring_shift([value / count for value in total], settings)


def _moved_out(fit: _Fit, by: float) -> list[Point]:
    """The points of a fit, those of the front rim moved outward."""
    points = []
    for one in fit.chosen:
        (x, y), circle = one.point, fit.circle
        if one.front is not None:
            away = math.hypot(x - circle.x, y - circle.y)
            x, y = x + (x - circle.x) / away * by, y + (y - circle.y) / away * by
        points.append((x, y))
    return points


def _near(point: Point, circle: Circle, reach: float) -> float:
    """How near to the circle a point lies: 1 on it, falling off as a bell of width `reach`."""
    miss = (math.hypot(point[0] - circle.x, point[1] - circle.y) - circle.radius) / reach
    return math.exp(-0.5 * miss * miss)
