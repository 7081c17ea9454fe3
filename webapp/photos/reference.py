"""The thing of known size in the photo: where it lies, and the planes that it gives."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.photos.coin import planes_of_coin, refined_coin
from webapp.photos.ellipse import Ellipse, fitted_ellipse
from webapp.photos.grey import Grey, Point
from webapp.photos.plane import Plane, plane_of_corners
from webapp.photos.sides import refined_corners

Settings = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Reference:
    """What gives the photo its scale.

    `outline` is four corners in pixels, or points of a coin's rim; `size_mm` its two lengths; `sides_found`
    how many of four sides (for a coin, 4 or 0) the photo showed; `noise_px` the standard deviation of the
    outline; `share` that of its size as a part of it; `thick_mm` how far its face stands before the panel.
    """

    kind: str
    outline: list[Point]
    coin: Ellipse | None
    size_mm: tuple[float, float]
    sides_found: int
    as_given: bool
    noise_px: float
    share: float
    thick_mm: float


def four_cornered(
    photo: Grey,
    kind: str,
    corners: Sequence[Point],
    size_mm: tuple[float, float],
    thick_mm: float,
    as_given: bool,
    settings: Settings,
) -> Reference:
    """A card or a printed label by its corners: refined in the photo, or as given."""
    points, found, noise = list(corners), 0, settings["given_px"]
    if not as_given:
        refined = refined_corners(photo, corners, kind == "label", settings)
        points, found = refined.points, refined.sides_found
        if found > 0:
            fine = math.hypot(settings["refined_px"], settings["scatter_share"] * refined.scatter_px)
            noise = fine if found == 4 else settings["given_px"]
    return Reference(kind, points, None, size_mm, found, as_given, noise, settings[f"{kind}_share"], thick_mm)


def round_coin(
    photo: Grey,
    rim: Sequence[Point],
    diameter_mm: float,
    thick_mm: float,
    as_given: bool,
    settings: Settings,
) -> Reference | None:
    """A coin by five points of its rim or more; None when they lie on no ellipse."""
    ellipse = fitted_ellipse(rim, [1.0] * len(rim))
    if ellipse is None:
        return None
    found, noise = 0, settings["given_px"]
    if not as_given:
        refined = refined_coin(photo, ellipse, settings)
        ellipse = refined.ellipse
        if refined.found:
            found, noise = (
                4,
                math.hypot(settings["refined_px"], settings["scatter_share"] * refined.scatter_px),
            )
    size = (diameter_mm, diameter_mm)
    return Reference(
        "coin", list(rim), ellipse, size, found, as_given, noise, settings["coin_share"], thick_mm
    )


def corners_mm(reference: Reference) -> list[Point]:
    """The corners of a card or label in its own plane, the first at (0, 0)."""
    width, height = reference.size_mm
    return [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]


def planes_of_reference(
    reference: Reference, outline: Sequence[Point], coin: Ellipse | None, photo: Grey, focal: float
) -> list[Plane]:
    """The planes in which the outline has the reference's size: one of a card or label, two of a coin."""
    if coin is not None:
        return planes_of_coin(coin, reference.size_mm[0], photo.width, photo.height, focal)
    plane = plane_of_corners(corners_mm(reference), outline)
    return [] if plane is None else [plane]


def middle_mm(reference: Reference) -> Point:
    """The middle of the reference in its own plane."""
    if reference.coin is not None:
        return (0.0, 0.0)
    return (reference.size_mm[0] / 2.0, reference.size_mm[1] / 2.0)


def shorter_side_px(reference: Reference) -> float:
    """The shortest side, or the short axis of a coin, in the photo."""
    if reference.coin is not None:
        return 2.0 * reference.coin.b
    return min(math.dist(reference.outline[i], reference.outline[(i + 1) % 4]) for i in range(4))
