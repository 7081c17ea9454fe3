"""The rim of a hole from one tap inside it: rays, edges, the circle that most of them agree on.

Everything is looked at as it lies in the plane, where a hole is round however obliquely it was photographed.
Lengths in mm there, brightness 0 to 255. Agreement is sought as in Fischler and Bolles (1981), with a fixed
sequence of random figures, so that the same photo always gives the same rim.
"""

import math
from collections.abc import Mapping, Sequence

from webapp.photos.circle import Circle, circle_through
from webapp.photos.edges import edges_of, median, rises
from webapp.photos.grey import Grey, Point, brightness, inside
from webapp.photos.plane import Plane, applied, distance_mm, eye_over, px_per_mm, tilt_of
from webapp.photos.wall import Rim, View, settled

Settings = Mapping[str, float]


def find_rim(photo: Grey, plane: Plane, tap: Point, focal: float, settings: Settings) -> Rim | None:
    """The rim of the hole that was tapped, or None when no circle is agreed on by enough directions."""
    middle = applied(plane.to_mm, tap)
    scale = px_per_mm(plane, middle)
    view = _view(photo, plane, focal)
    rays = [ray for ray in _rays(photo, plane, middle, scale, settings) if ray]
    if len(rays) < 3:
        return None
    steep = median([max(abs(rise) for _, rise in ray) for ray in rays])
    best, most = None, 0.0
    for circle in _agreed(rays, steep, middle, scale, settings):
        rim = settled(photo, plane, circle, view, steep, 1, settings)
        if rim is not None and rim.score > most and _sensible(rim.circle, middle, scale, settings):
            best, most = rim, rim.score
    if best is None:
        return None
    rim = settled(photo, plane, best.circle, view, steep, 3, settings)
    return rim if rim is not None and rim.share >= settings["least_share"] else None


def _view(photo: Grey, plane: Plane, focal: float) -> View:
    eye = eye_over(plane, photo.width, photo.height, focal)
    tilt = math.radians(tilt_of(plane, photo.width, photo.height, focal))
    # Along the camera's axis first, then as seen square to the plane.
    return View(eye, distance_mm(plane, eye, photo.width, photo.height, focal) / max(0.05, math.cos(tilt)))


def _rays(
    photo: Grey, plane: Plane, middle: Point, scale: float, settings: Settings
) -> list[list[tuple[Point, float]]]:
    """For each direction the edges met from the tap outward: where, in mm, and how steep."""
    count = int(settings["rays"])
    slopes, steps = [], []
    for k in range(count):
        turn = 2.0 * math.pi * k / count
        step = (math.cos(turn) / scale, math.sin(turn) / scale)
        slopes.append(rises(_ray(photo, plane, middle, step, settings), settings["ray_sigma_px"]))
        steps.append(step)
    noise = median([abs(value) for row in slopes for value in row])
    least = max(settings["least_rise"], settings["edge_over_noise"] * noise)
    rays = []
    for row, step in zip(slopes, steps, strict=True):
        edges = [edge for edge in edges_of(row, least) if edge.at >= settings["least_radius_px"] / 2.0]
        edges.sort(key=lambda edge: -abs(edge.rise) / math.sqrt(edge.at))
        kept = edges[: int(settings["edges_a_ray"])]
        rays.append(
            [((middle[0] + step[0] * edge.at, middle[1] + step[1] * edge.at), edge.rise) for edge in kept]
        )
    return rays


def _ray(photo: Grey, plane: Plane, middle: Point, step: Point, settings: Settings) -> list[float]:
    """Brightness along a ray, a sample to the pixel, to the photo's border or the greatest radius."""
    values: list[float] = []
    far = settings["greatest_radius_mm"]
    length = math.hypot(step[0], step[1])
    for i in range(int(far / length)):
        x, y = applied(plane.to_px, (middle[0] + step[0] * i, middle[1] + step[1] * i))
        if not inside(photo, x, y):
            break
        values.append(brightness(photo, x, y))
    return values


def _agreed(
    rays: Sequence[Sequence[tuple[Point, float]]],
    steep: float,
    middle: Point,
    scale: float,
    settings: Settings,
) -> list[Circle]:
    """The circles that most rays agree on, the best first, no two alike."""
    close = settings["agree_px"] / scale
    found: list[tuple[float, Circle]] = []
    state = 20011.0
    for _ in range(int(settings["triples"])):
        points = []
        state = state * 48271.0 % 2147483647.0
        first = int(state / 2147483647.0 * len(rays))
        for third in range(3):
            ray = rays[(first + third * len(rays) // 3) % len(rays)]
            state = state * 48271.0 % 2147483647.0
            points.append(_drawn(ray, state / 2147483647.0))
        circle = circle_through(*points)
        if circle is None or not _sensible(circle, middle, scale, settings):
            continue
        found.append((_support(circle, rays, steep, close), circle))
    found.sort(key=lambda entry: -entry[0])
    return _different([circle for _, circle in found], close, int(settings["circles_tried"]))


def _drawn(ray: Sequence[tuple[Point, float]], figure: float) -> Point:
    """One of a ray's edges, steeper ones more often; `figure` from 0 to 1."""
    rest = figure * sum(abs(rise) for _, rise in ray)
    for point, rise in ray:
        rest -= abs(rise)
        if rest < 0.0:
            return point
    return ray[-1][0]


def _sensible(circle: Circle, middle: Point, scale: float, settings: Settings) -> bool:
    """Whether a circle can be the hole's: not too small or large, the tap well inside it."""
    off = math.hypot(middle[0] - circle.x, middle[1] - circle.y)
    return (
        settings["least_radius_px"] <= circle.radius * scale
        and circle.radius <= settings["greatest_radius_mm"]
        and off <= settings["tap_within"] * circle.radius
    )


def _support(
    circle: Circle, rays: Sequence[Sequence[tuple[Point, float]]], usual: float, close: float
) -> float:
    """How many rays have an edge on the circle; steep ones count more, those of the other kind little."""
    rising, falling = 0.0, 0.0
    for ray in rays:
        up, down = 0.0, 0.0
        for (x, y), rise in ray:
            if abs(math.hypot(x - circle.x, y - circle.y) - circle.radius) < close:
                weight = abs(rise) / (abs(rise) + usual)
                if rise > 0.0:
                    up = max(up, weight)
                else:
                    down = max(down, weight)
        rising += up
        falling += down
    return max(rising, falling) + 0.3 * min(rising, falling)


def _different(circles: Sequence[Circle], close: float, most: int) -> list[Circle]:
    kept: list[Circle] = []
    for one in circles:
        if len(kept) >= most:
            break
        if all(
            math.hypot(one.x - other.x, one.y - other.y) + abs(one.radius - other.radius) > 2.0 * close
            for other in kept
        ):
            kept.append(one)
    return kept
