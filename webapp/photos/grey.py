"""A photo in shades of grey, and how bright it is between its pixels."""

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Grey:
    """Brightness 0 to 255 row by row; (0, 0) is the outer corner of the top left pixel."""

    width: int
    height: int
    pixels: bytes


def inside(photo: Grey, x: float, y: float) -> bool:
    """Whether a point lies on the photo."""
    return 0.0 <= x <= photo.width and 0.0 <= y <= photo.height


def brightness(photo: Grey, x: float, y: float) -> float:
    """Brightness at a point, bilinear between the four pixel centres around it; held at the border."""
    u = min(max(x - 0.5, 0.0), photo.width - 1.0)
    v = min(max(y - 0.5, 0.0), photo.height - 1.0)
    left, top = int(u), int(v)
    right, bottom = min(left + 1, photo.width - 1), min(top + 1, photo.height - 1)
    across, down = u - left, v - top
    upper, lower = top * photo.width, bottom * photo.width
    pixels = photo.pixels
    above = pixels[upper + left] * (1.0 - across) + pixels[upper + right] * across
    below = pixels[lower + left] * (1.0 - across) + pixels[lower + right] * across
    return above * (1.0 - down) + below * down
