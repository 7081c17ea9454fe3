"""The diameter of a hole in a photo, from a thing of known size in the plane of the panel.

The hole is fitted as a circle in that plane. How far off it may be is reckoned by the propagation of
variances: from the outline of the reference and the rim, each moved by its own noise, and from what no fit
shows: the tolerance and thickness of the reference, the lens, and for a coin the focal length.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.photos.circle import Circle, circle_through, fitted_circle, misses, radius_variance
from webapp.photos.ellipse import Ellipse
from webapp.photos.grey import Grey, Point
from webapp.photos.plane import Plane, applied, distance_mm, likely_focal, px_per_mm, tilt_of
from webapp.photos.reference import Reference, middle_mm, planes_of_reference, shorter_side_px
from webapp.photos.rim import find_rim
from webapp.photos.wall import Rim

Settings = Mapping[str, float]
# Three points lie on a circle in every plane but for the rounding of figures, and that decides nothing.
_ALIKE = 1e-6


@dataclass(frozen=True, slots=True)
class Measured:
    """A hole measured: diameter and the half-width of its 95 % interval in mm, the panel's tilt in degrees.

    `notes` are ids of sentences of the table; `rim` the outline found or given, in pixels; `outline` the
    ellipse of the circle in the photo, as points in pixels.
    """

    diameter_mm: float
    uncertainty_mm: float
    tilt_deg: float
    rim: list[Point]
    outline: list[Point]
    notes: list[str]


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """Why nothing could be measured: the id of a sentence of the table."""

    why: str


@dataclass(frozen=True, slots=True)
class _Seen:
    """A rim in one plane; `way` is that plane's place among those of the reference."""

    way: int
    plane: Plane
    rim: Rim
    found: bool


def measure_rim(
    photo: Grey, reference: Reference, rim: Sequence[Point], settings: Settings
) -> Measured | Unmeasured:
    """The hole whose rim was given by three points or more."""
    if len(rim) < 3:
        return Unmeasured("rim-too-few")
    focal = _focal(reference, photo, settings)
    planes = planes_of_reference(reference, reference.outline, reference.coin, photo, focal)
    if not planes:
        return Unmeasured("no-plane")
    seen = []
    for way, plane in enumerate(planes):
        circle = _circle(plane, rim)
        if circle is not None:
            seen.append(_Seen(way, plane, _given(plane, circle, rim), False))
    return _best(photo, reference, seen, focal, settings) if seen else Unmeasured("rim-askew")


def measure_near(photo: Grey, reference: Reference, tap: Point, settings: Settings) -> Measured | Unmeasured:
    """The hole that was tapped; its rim is looked for."""
    focal = _focal(reference, photo, settings)
    planes = planes_of_reference(reference, reference.outline, reference.coin, photo, focal)
    if not planes:
        return Unmeasured("no-plane")
    rims = [(plane, find_rim(photo, plane, tap, focal, settings)) for plane in planes]
    seen = [_Seen(way, plane, rim, True) for way, (plane, rim) in enumerate(rims) if rim is not None]
    return _best(photo, reference, seen, focal, settings) if seen else Unmeasured("no-rim")


def _focal(reference: Reference, photo: Grey, settings: Settings) -> float:
    """The focal length in pixels: what the corners say, held near the usual one; of a coin the usual one."""
    usual, spread = settings["usual_focal"], settings["focal_spread"]
    longer = float(max(photo.width, photo.height))
    planes = planes_of_reference(reference, reference.outline, reference.coin, photo, usual * longer)
    if reference.coin is not None or not planes:
        return usual * longer
    noise = settings["axes_noise"] + 2.0 * reference.noise_px / shorter_side_px(reference)
    return likely_focal(planes[0], photo.width, photo.height, usual, spread, noise)


def _circle(plane: Plane, rim: Sequence[Point]) -> Circle | None:
    points = [applied(plane.to_mm, point) for point in rim]
    if len(points) == 3:
        return circle_through(points[0], points[1], points[2])
    return fitted_circle(points, [1.0] * len(points))


def _given(plane: Plane, circle: Circle, rim: Sequence[Point]) -> Rim:
    return Rim(circle, list(rim), 1.0, _scatter(plane, circle, rim), 1.0, 0.0)


def _scatter(plane: Plane, circle: Circle, points: Sequence[Point]) -> float:
    """The spread of points about a circle, in pixels."""
    off = misses(circle, [applied(plane.to_mm, point) for point in points])
    squares = sum(miss * miss for miss in off)
    return math.sqrt(squares / max(1, len(points) - 3)) * px_per_mm(plane, (circle.x, circle.y))


def _best(
    photo: Grey, reference: Reference, found: Sequence[_Seen], focal: float, settings: Settings
) -> Measured:
    """The plane in which the hole is rounder; a coin gives two, and how alike they are adds to the doubt."""
    seen = [
        one if reference.coin is None else _rounder(photo, reference, one, focal, settings) for one in found
    ]
    if len(seen) == 2 and _better(seen[1].rim, seen[0].rim):
        seen.reverse()
    best = seen[0]
    variance = _variance(photo, reference, best, focal, settings)
    if len(seen) == 2:
        apart = (seen[1].rim.circle.radius - best.rim.circle.radius) * 2.0
        alike = (best.rim.scatter_px + 0.05) / (seen[1].rim.scatter_px + 0.05)
        variance += (apart * min(1.0, alike) ** 2) ** 2 / 4.0
    tilt = tilt_of(best.plane, photo.width, photo.height, focal)
    return Measured(
        2.0 * best.rim.circle.radius * _farther(photo, reference, best, focal, settings),
        1.96 * math.sqrt(variance),
        tilt,
        best.rim.points,
        outline_of(best.plane, best.rim.circle),
        _notes(photo, reference, best, tilt, settings),
    )


def _farther(photo: Grey, reference: Reference, seen: _Seen, focal: float, settings: Settings) -> float:
    """By how much the panel is farther from the camera than the reference's outline.

    From above one sees the edge of its face, from the side partly that of its foot.
    """
    at = (seen.rim.circle.x, seen.rim.circle.y)
    away = distance_mm(seen.plane, at, photo.width, photo.height, focal)
    return 1.0 + settings["height_usual"] * reference.thick_mm / away


def _rounder(photo: Grey, reference: Reference, seen: _Seen, focal: float, settings: Settings) -> _Seen:
    """The plane near the one seen, leaning the same way, in which the hole is roundest.

    The short axis of a coin tells its tilt badly while it lies nearly flat to the camera; the hole is known
    to be round.
    """
    coin = reference.coin
    assert coin is not None
    best, least = seen, math.inf
    steps, unit = int(settings["coin_steps"]), settings["coin_axis_px"]
    count = len(seen.rim.points)
    for step in range(-steps, steps + 1):
        b = coin.b + 3.0 * unit * step / steps
        if b > coin.a:
            continue
        bent = Ellipse(coin.x, coin.y, coin.a, b, coin.angle)
        planes = planes_of_reference(reference, reference.outline, bent, photo, focal)
        plane = planes[seen.way] if seen.way < len(planes) else None
        circle = _circle(plane, seen.rim.points) if plane else None
        if plane is None or circle is None:
            continue
        scatter = _scatter(plane, circle, seen.rim.points)
        cost = count * (scatter / settings["found_px"]) ** 2 / settings["neighbours_alike"]
        cost += ((b - coin.b) / unit) ** 2
        if cost < least - _ALIKE:
            rim = replace(seen.rim, circle=circle, scatter_px=scatter)
            best, least = replace(seen, plane=plane, rim=rim), cost
    return best


def _better(one: Rim, other: Rim) -> bool:
    """Whether a rim is seen in clearly more directions, or in about as many and rounder."""
    more = one.share - other.share
    return more > 0.0 if abs(more) >= 0.1 else one.scatter_px < other.scatter_px - _ALIKE


def outline_of(plane: Plane, circle: Circle) -> list[Point]:
    """The circle as it shows in the photo, as 48 points in pixels."""
    points = []
    for k in range(48):
        turn = 2.0 * math.pi * k / 48
        on = (circle.x + circle.radius * math.cos(turn), circle.y + circle.radius * math.sin(turn))
        points.append(applied(plane.to_px, on))
    return points


def _variance(photo: Grey, reference: Reference, seen: _Seen, focal: float, settings: Settings) -> float:
    """The variance of the diameter in mm²."""
    rim = seen.rim
    scale = px_per_mm(seen.plane, (rim.circle.x, rim.circle.y))
    diameter = 2.0 * rim.circle.radius
    middle = middle_mm(reference)
    far = math.hypot(rim.circle.x - middle[0], rim.circle.y - middle[1]) / max(reference.size_mm)
    away = distance_mm(seen.plane, (rim.circle.x, rim.circle.y), photo.width, photo.height, focal)
    shares = (
        reference.share,
        settings["height_share"] * reference.thick_mm / away,
        settings["lens_share"] * (1.0 + far),
    )
    variance = sum((diameter * share) ** 2 for share in shares)
    return (
        variance
        + _outline_variance(photo, reference, seen, focal, settings)
        + _rim_variance(seen, scale, settings)
    )


def _rim_variance(seen: _Seen, scale: float, settings: Settings) -> float:
    """From the scatter of the rim's points, neighbours being alike, and from where an edge is said to be."""
    rim = seen.rim
    points = [applied(seen.plane.to_mm, point) for point in rim.points]
    free = max(0, len(points) - 3)
    usual, begun = (settings["found_px"], 8.0) if seen.found else (settings["tap_px"], 4.0)
    noise = math.sqrt((begun * usual**2 + free * rim.scatter_px**2) / (begun + free)) / scale
    alike = settings["neighbours_alike"] if seen.found else 1.0
    spread = radius_variance(rim.circle, points, [1.0] * len(points))
    edge = settings["edge_px"] / scale
    return 4.0 * (noise * noise * spread * alike + edge * edge) + rim.doubt_mm**2


def _outline_variance(
    photo: Grey, reference: Reference, seen: _Seen, focal: float, settings: Settings
) -> float:
    """From the noise of the reference's outline, each coordinate moved by itself."""
    noise = reference.noise_px
    total = 0.0
    if reference.coin is None:
        for i in range(4):
            for dx, dy in ((noise, 0.0), (0.0, noise)):
                moved = list(reference.outline)
                moved[i] = (moved[i][0] + dx, moved[i][1] + dy)
                total += _moved(photo, reference, seen, moved, None, focal)
        return total
    coin = reference.coin
    for grown in (
        Ellipse(coin.x, coin.y, coin.a + noise, coin.b, coin.angle),
        Ellipse(coin.x, coin.y, coin.a, coin.b + noise, coin.angle),
    ):
        total += _moved(photo, reference, seen, reference.outline, grown, focal)
    return total + _moved(
        photo, reference, seen, reference.outline, coin, focal * math.exp(settings["focal_spread"])
    )


def _moved(
    photo: Grey,
    reference: Reference,
    seen: _Seen,
    outline: Sequence[Point],
    coin: Ellipse | None,
    focal: float,
) -> float:
    """The square of what the diameter changes with another outline or focal length."""
    planes = planes_of_reference(reference, outline, coin, photo, focal)
    least = math.inf
    for plane in planes:
        circle = _circle(plane, seen.rim.points)
        if circle is not None:
            least = min(least, abs(2.0 * (circle.radius - seen.rim.circle.radius)))
    return least * least if least < math.inf else (2.0 * seen.rim.circle.radius) ** 2


def _notes(photo: Grey, reference: Reference, seen: _Seen, tilt: float, settings: Settings) -> list[str]:
    """What a person should know before trusting the figure."""
    circle = seen.rim.circle
    scale = px_per_mm(seen.plane, (circle.x, circle.y))
    middle = middle_mm(reference)
    far = math.hypot(circle.x - middle[0], circle.y - middle[1]) / max(reference.size_mm)
    x, y = applied(seen.plane.to_px, (circle.x, circle.y))
    off = math.hypot(x - photo.width / 2.0, y - photo.height / 2.0) / math.hypot(
        photo.width / 2.0, photo.height / 2.0
    )
    found = (
        ("too-oblique", tilt > settings["oblique_deg"]),
        ("small-hole", circle.radius * scale < settings["small_radius_px"]),
        ("small-reference", shorter_side_px(reference) < settings["small_side_px"]),
        ("far-off", far > settings["far_off"]),
        ("lens-edge", off > settings["lens_edge"]),
        ("outline-not-found", not reference.as_given and reference.sides_found < 4),
        ("rim-in-part", seen.found and seen.rim.share < settings["whole_share"]),
    )
    return [note for note, holds in found if holds]
