"""A round coin as the reference: its rim, and the two planes in which a circle shows as that ellipse."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.photos.edges import edges_of, median, rises, samples
from webapp.photos.ellipse import Ellipse, conic_of, fitted_ellipse, miss_of, point_on
from webapp.photos.grey import Grey, Point
from webapp.photos.linear import Matrix, eigen3, inverse3
from webapp.photos.plane import Plane, plane_of

Settings = Mapping[str, float]
# Across the rim in one direction: a point of the rim, outward, and edges as (pixels outward, rise).
_Scan = tuple[Point, Point, list[tuple[float, float]]]


@dataclass(frozen=True, slots=True)
class CoinRim:
    """The rim as an ellipse in pixels, whether the photo showed it, and the spread of the points about it."""

    ellipse: Ellipse
    found: bool
    scatter_px: float


def refined_coin(photo: Grey, ellipse: Ellipse, settings: Settings) -> CoinRim:
    """The rim from a roughly given one: edges along its normals, in narrowing windows, fitted robustly."""
    reach = max(settings["side_reach_px"], settings["side_reach_share"] * ellipse.b)
    now, scatter = ellipse, 0.0
    for window in (reach, reach / 2.0, max(3.0, reach / 4.0)):
        points, weights = _edge_points(photo, now, window, settings)
        if len(points) < settings["least_share"] * settings["directions"]:
            return CoinRim(ellipse, False, 0.0)
        close = settings["agree_px"]
        for _ in range(5):
            off = [miss_of(now, point) for point in points]
            steady = [
                w * min(1.0, close / max(1e-12, abs(d))) ** 2 for w, d in zip(weights, off, strict=True)
            ]
            fitted = fitted_ellipse(points, steady)
            if fitted is None:
                return CoinRim(ellipse, False, 0.0)
            now = fitted
        if not _like(now, ellipse, reach):
            return CoinRim(ellipse, False, 0.0)
        good = [d for d in (miss_of(now, point) for point in points) if abs(d) < close]
        if len(good) < settings["least_share"] * len(points):
            return CoinRim(ellipse, False, 0.0)
        scatter = math.sqrt(sum(d * d for d in good) / len(good))
    return CoinRim(now, True, scatter)


def _like(one: Ellipse, other: Ellipse, reach: float) -> bool:
    return (
        math.hypot(one.x - other.x, one.y - other.y) <= 2.0 * reach
        and abs(one.a - other.a) <= 2.0 * reach
        and abs(one.b - other.b) <= 2.0 * reach
    )


def _edge_points(
    photo: Grey, ellipse: Ellipse, window: float, settings: Settings
) -> tuple[list[Point], list[float]]:
    """The edges that most directions have at one distance from the rim, and their weights."""
    count = int(settings["directions"])
    half = math.ceil(2.0 * window) + math.ceil(3.0 * settings["rim_sigma"])
    scans: list[_Scan] = []
    for k in range(count):
        (x, y), (nx, ny) = point_on(ellipse, 2.0 * math.pi * k / count)
        values = samples(
            photo, (x - nx * half / 2.0, y - ny * half / 2.0), (nx / 2.0, ny / 2.0), 2 * half + 1
        )
        found = edges_of(rises(values, settings["rim_sigma"]), settings["least_rise"])
        scans.append(((x, y), (nx, ny), [((edge.at - half) / 2.0, edge.rise) for edge in found]))
    usual = median([max(abs(rise) for _, rise in edges) for _, _, edges in scans if edges])
    offset, way = _commonest(scans, usual, window, settings["coin_hint_px"])
    points, weights = [], []
    for (x, y), (nx, ny), edges in scans:
        near = [edge for edge in edges if abs(edge[0] - offset) <= window / 2.0 and edge[1] * way > 0.0]
        if near:
            at, rise = max(near, key=lambda edge: abs(edge[1]) / (1.0 + abs(edge[0] - offset)))
            points.append((x + nx * at, y + ny * at))
            weights.append(abs(rise) / (abs(rise) + usual))
    return points, weights


def _commonest(scans: Sequence[_Scan], usual: float, window: float, hint: float) -> tuple[float, float]:
    """The distance outward, in pixels, at which most directions have an edge of one kind, and which kind."""
    best, way, most = 0.0, 1.0, 0.0
    width = max(1.5, window / 4.0)
    for step in range(-8, 9):
        offset = step * window / 8.0
        for sign in (1.0, -1.0):
            score = 0.0
            for _, _, edges in scans:
                score += max(
                    (
                        abs(rise) / (abs(rise) + usual) * (1.0 - abs(at - offset) / width)
                        for at, rise in edges
                        if abs(at - offset) < width and rise * sign > 0.0
                    ),
                    default=0.0,
                )
            score *= math.exp(-0.5 * (offset / hint) ** 2)
            if score > most:
                best, way, most = offset, sign, score
    return best, way


def planes_of_coin(
    ellipse: Ellipse, diameter_mm: float, width: int, height: int, focal: float
) -> list[Plane]:
    """The two planes in which a circle of that diameter looks like the ellipse, its middle at (0, 0) mm.

    From the cone through the rim and the eye: its axes by eigenvalues, the planes that cut it in circles
    (Chen, Wu and Wada 2004, Camera calibration with two arbitrary coplanar circles).
    """
    camera: Matrix = [[focal, 0.0, width / 2.0], [0.0, focal, height / 2.0], [0.0, 0.0, 1.0]]
    cone = _product(_transposed(camera), _product(conic_of(ellipse), camera))
    values, vectors = eigen3(cone)
    if not values[1] > 0.0 > values[2]:
        return []
    apart = values[0] - values[2]
    across = math.sqrt(max(0.0, (values[0] - values[1]) / apart))
    along = math.sqrt(max(0.0, (values[1] - values[2]) / apart))
    planes = []
    for sign in (1.0, -1.0):
        normal = [sign * across * vectors[0][i] + along * vectors[2][i] for i in range(3)]
        plane = _seen(cone, normal, diameter_mm / 2.0, camera)
        if plane is not None:
            planes.append(plane)
    return planes


def _seen(cone: Matrix, normal: list[float], radius: float, camera: Matrix) -> Plane | None:
    """The plane with that normal through the circle of that radius on the cone."""
    back = inverse3(cone)
    if back is None:
        return None
    # The middle of the circle is seen along the pole of the plane's horizon.
    middle = [sum(back[i][j] * normal[j] for j in range(3)) for i in range(3)]
    if middle[2] < 0.0:
        middle = [-value for value in middle]
    right = [normal[2], 0.0, -normal[0]] if abs(normal[1]) < 0.9 else [0.0, -normal[2], normal[1]]
    length = math.sqrt(sum(value * value for value in right))
    right = [value / length for value in right]
    down = [
        normal[1] * right[2] - normal[2] * right[1],
        normal[2] * right[0] - normal[0] * right[2],
        normal[0] * right[1] - normal[1] * right[0],
    ]
    size = -_form(cone, right) / _form(cone, middle)
    if not size > 0.0:
        return None
    far = radius * math.sqrt(size)
    frame = [[right[i], down[i], far * middle[i]] for i in range(3)]
    return plane_of(_product(camera, frame))


def _form(cone: Matrix, v: Sequence[float]) -> float:
    return sum(v[i] * cone[i][j] * v[j] for i in range(3) for j in range(3))


def _product(one: Matrix, other: Matrix) -> Matrix:
    return [[sum(one[i][k] * other[k][j] for k in range(3)) for j in range(3)] for i in range(3)]


def _transposed(m: Matrix) -> Matrix:
    return [[m[j][i] for j in range(3)] for i in range(3)]
