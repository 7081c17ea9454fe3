"""The panel's plane in the photo: from millimetres to pixels and back, and how it stands to the camera.

The camera is a pinhole whose axis goes through the middle of the photo (Hartley and Zisserman, Multiple View
Geometry, 2nd edition, chapters 4 and 8).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.photos.grey import Point
from webapp.photos.linear import Matrix, inverse3, solved


@dataclass(frozen=True, slots=True)
class Plane:
    """`to_px` takes millimetres in the plane to pixels, `to_mm` back; 3 by 3, homogeneous."""

    to_px: Matrix
    to_mm: Matrix


def applied(matrix: Matrix, point: Point) -> Point:
    """A point through a homography."""
    x, y = point
    w = matrix[2][0] * x + matrix[2][1] * y + matrix[2][2]
    return (
        (matrix[0][0] * x + matrix[0][1] * y + matrix[0][2]) / w,
        (matrix[1][0] * x + matrix[1][1] * y + matrix[1][2]) / w,
    )


def plane_of_corners(corners_mm: Sequence[Point], corners_px: Sequence[Point]) -> Plane | None:
    """The plane from four corners; None when they name none: three in a line, or not going round once.

    Source: the direct linear transformation, Hartley and Zisserman, section 4.1, with four points exact.
    """
    if not convex(corners_px):
        return None
    middle_x = sum(x for x, _ in corners_px) / 4.0
    middle_y = sum(y for _, y in corners_px) / 4.0
    reach = max(math.hypot(x - middle_x, y - middle_y) for x, y in corners_px)
    # Pixels are taken from the middle of the corners in units of their reach, so that no figure is large.
    rows, right = [], []
    for (x, y), (u_px, v_px) in zip(corners_mm, corners_px, strict=True):
        u, v = (u_px - middle_x) / reach, (v_px - middle_y) / reach
        rows.append([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y])
        rows.append([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y])
        right += [u, v]
    found = solved(rows, right)
    if found is None:
        return None
    bottom = [found[6], found[7], 1.0]
    to_px = [
        [reach * found[j] + middle_x * bottom[j] if j < 2 else reach * found[2] + middle_x for j in range(3)],
        [reach * found[3 + j] + middle_y * bottom[j] for j in range(3)],
        bottom,
    ]
    return plane_of(to_px)


def plane_of(to_px: Matrix) -> Plane | None:
    """The plane of a homography from millimetres to pixels; None when it cannot be turned round."""
    to_mm = inverse3(to_px)
    return Plane(to_px, to_mm) if to_mm is not None else None


def convex(corners: Sequence[Point]) -> bool:
    """Whether four points go round once, each corner turning the same way by a good bit."""
    turns = []
    for i in range(4):
        (ax, ay), (bx, by), (cx, cy) = corners[i], corners[(i + 1) % 4], corners[(i + 2) % 4]
        sides = math.hypot(bx - ax, by - ay) * math.hypot(cx - bx, cy - by)
        if sides == 0.0:
            return False
        turns.append(((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) / sides)
    return min(turns) > 0.05 or max(turns) < -0.05


def px_per_mm(plane: Plane, at_mm: Point) -> float:
    """How many pixels a millimetre is there: the geometric mean over all directions."""
    step = 0.01
    x, y = at_mm
    right = applied(plane.to_px, (x + step, y))
    left = applied(plane.to_px, (x - step, y))
    down = applied(plane.to_px, (x, y + step))
    up = applied(plane.to_px, (x, y - step))
    a, b = (right[0] - left[0]) / (2 * step), (right[1] - left[1]) / (2 * step)
    c, d = (down[0] - up[0]) / (2 * step), (down[1] - up[1]) / (2 * step)
    return math.sqrt(abs(a * d - b * c))


def axes_seen(plane: Plane, width: int, height: int, focal: float) -> tuple[list[float], list[float]]:
    """The plane's two axes in the camera's frame, up to one common factor; focal length in pixels."""
    h = plane.to_px
    columns = []
    for j in (0, 1):
        columns.append(
            [
                (h[0][j] - width / 2.0 * h[2][j]) / focal,
                (h[1][j] - height / 2.0 * h[2][j]) / focal,
                h[2][j],
            ]
        )
    return columns[0], columns[1]


def tilt_of(plane: Plane, width: int, height: int, focal: float) -> float:
    """The angle between the plane's normal and the camera's axis, in degrees, 0 to 90."""
    a, b = axes_seen(plane, width, height, focal)
    normal = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    length = math.sqrt(normal[0] ** 2 + normal[1] ** 2 + normal[2] ** 2)
    return math.degrees(math.acos(min(1.0, abs(normal[2]) / length)))


def distance_mm(plane: Plane, at_mm: Point, width: int, height: int, focal: float) -> float:
    """How far from the camera, along its axis, a point of the plane is."""
    a, b = axes_seen(plane, width, height, focal)
    one = math.sqrt(math.sqrt(_dot(a, a) * _dot(b, b)))
    h = plane.to_px
    return abs(h[2][0] * at_mm[0] + h[2][1] * at_mm[1] + h[2][2]) / one


def eye_over(plane: Plane, width: int, height: int, focal: float) -> Point:
    """Where a plumb line from the camera meets the plane, in mm."""
    h = plane.to_px
    a, b = axes_seen(plane, width, height, focal)
    c = [(h[0][2] - width / 2.0 * h[2][2]) / focal, (h[1][2] - height / 2.0 * h[2][2]) / focal, h[2][2]]
    return (-_dot(a, c) / _dot(a, a), -_dot(b, c) / _dot(b, b))


def likely_focal(plane: Plane, width: int, height: int, usual: float, spread: float, noise: float) -> float:
    """The focal length, in pixels, that agrees best with the usual one and with the plane's axes.

    `usual` is in units of the longer side and `spread` its standard deviation in ln. The axes must come out
    square and of one length; `noise` is the standard deviation of what each misses.
    """
    longer = float(max(width, height))
    best, least = usual * longer, math.inf
    for step in range(-40, 41):
        offset = step * spread / 13.0
        focal = usual * longer * math.exp(offset)
        a, b = axes_seen(plane, width, height, focal)
        first, second = _dot(a, a), _dot(b, b)
        askew = _dot(a, b) / math.sqrt(first * second)
        uneven = math.log(first / second) / 2.0
        cost = (offset / spread) ** 2 + (askew / noise) ** 2 + (uneven / noise) ** 2
        if cost < least:
            best, least = focal, cost
    return best


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
