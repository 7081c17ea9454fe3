"""Pictures with labels in them, laid into four given corners."""

import numpy as np
import segno
from PIL import Image, ImageDraw
from skimage.transform import ProjectiveTransform

Corners = list[tuple[float, float]]

# ISO/IEC 18004: 21 modules and a quiet zone of four all round.
SIDE, QUIET = 21, 4
_FINE = 12


def symbol(held: str) -> segno.QRCode:
    """Give the symbol of a label, or of anything else."""
    if held.startswith("UC:"):
        return segno.make(held, version=1, error="q", mode="alphanumeric", boost_error=False)
    return segno.make(held, micro=False)


def square(middle: tuple[float, float], side: float, turn: float = 0.0, tilt: float = 0.0) -> Corners:
    """Give the corners of a symbol seen by a camera: turned in its plane, then tilted; degrees."""
    turned, tilted = np.radians(turn), np.radians(tilt)
    corners = []
    for x, y in ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)):
        u = x * np.cos(turned) - y * np.sin(turned)
        v = x * np.sin(turned) + y * np.cos(turned)
        # The camera stands four sides away.
        away = 1 + v * np.sin(tilted) / 4
        corners.append((middle[0] + side * u / away, middle[1] + side * v * np.cos(tilted) / away))
    return corners


def paste(picture: Image.Image, held: str, corners: Corners) -> None:
    """Lay a symbol with its quiet zone into a grey picture, its outer corners on these."""
    modules = np.array([list(row) for row in symbol(held).matrix], dtype=np.uint8)
    paper = np.pad(255 * (1 - modules), QUIET, constant_values=255)
    drawn = Image.fromarray(np.kron(paper, np.ones((_FINE, _FINE), np.uint8)))
    low, high = QUIET * _FINE, (QUIET + len(modules)) * _FINE
    own = np.array([(low, low), (high, low), (high, high), (low, high)], float)
    # Drawn three times as large and averaged, as a sensor does.
    there = 3 * np.array(corners)
    matrix = ProjectiveTransform.from_estimate(there, own).params
    data = tuple((matrix / matrix[2, 2]).ravel()[:8])
    large = (picture.width * 3, picture.height * 3)
    seen = drawn.transform(large, Image.Transform.PERSPECTIVE, data, Image.Resampling.BILINEAR)
    outline = ProjectiveTransform.from_estimate(own, there)(
        np.array([(0, 0), (drawn.width, 0), (drawn.width, drawn.height), (0, drawn.height)], float)
    )
    mask = Image.new("L", large)
    ImageDraw.Draw(mask).polygon([tuple(point) for point in outline], fill=255)
    picture.paste(seen.resize(picture.size, Image.Resampling.BOX), mask=mask.resize(picture.size))


def panel(width: int = 800, height: int = 600, shade: int = 120) -> Image.Image:
    """Give a bare grey panel."""
    return Image.new("L", (width, height), shade)


def with_label(held: str, corners: Corners, width: int = 800, height: int = 600) -> Image.Image:
    """Give a photo (RGB) of a panel with one symbol on it."""
    picture = panel(width, height)
    paste(picture, held, corners)
    return picture.convert("RGB")


def noisy(picture: Image.Image, noise: float, seed: int) -> Image.Image:
    """Give the picture with a sensor's noise on it, in brightness (standard deviation)."""
    grey = np.asarray(picture.convert("L"), float)
    grey += np.random.default_rng(seed).normal(0, noise, grey.shape)
    return Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8)).convert("RGB")


def worst_corner(found: Corners, expected: Corners) -> float:
    """Give the largest distance between corners of the same name, as a part of the symbol's side."""
    side = np.hypot(*np.subtract(expected[1], expected[0]))
    return float(np.hypot(*np.subtract(found, expected).T).max() / side)
