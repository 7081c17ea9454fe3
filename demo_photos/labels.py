"""Printed labels with a QR symbol, fresh or after years on a set."""

import numpy as np
import segno
from PIL import Image
from scipy import ndimage

from demo_photos.lettering import Drawing
from demo_photos.shapes import Point, smooth
from demo_photos.skin import Canvas, Material
from demo_photos.slab import Slab
from demo_photos.textures import Rng, noise, scratches


def label(
    rng: Rng,
    text: str,
    centre: Point,
    turn: float,
    per_mm: float,
    side: float = 30.0,
    dirt: float = 0.1,
    curl: float = 0.0,
    torn: bool = False,
    taped: bool = False,
) -> Slab:
    """A printed label stuck on the panel; `text` such as K7Q2-007, `side` that of its QR symbol."""
    module = side / 21
    width, height = side + 9 * module, side + 9 * module + 0.16 * side
    half = (width / 2, height / 2)
    fine = max(3.0, per_mm * 1.3)
    canvas = Canvas(width, height, fine, Material((0.80, 0.79, 0.76), rough=0.75))
    ink = canvas.picture(_printed(text, side, module, width, height))
    faded = 0.97 - 0.12 * smooth(noise(rng, canvas.shape, 9 * fine, 3), 0.5, 2.5)
    canvas.lay(ink * faded, Material((0.018, 0.018, 0.02), rough=0.6))
    _soil_label(rng, canvas, dirt, fine)
    if taped:
        _, ys = canvas.grid()
        band = 1 - smooth(np.abs(ys - height * 0.5), height * 0.36, height * 0.36 + 0.15)
        canvas.rough += band * (0.12 - canvas.rough)
        canvas.stain(band, 0.93)
    if torn:
        _tear(rng, canvas, width, height, fine)
    face = canvas.bake((-half[0], -half[1]))
    flat = 0.12
    lifted = max(curl, 0.001 if torn else 0.0)
    return Slab(centre, half, 0.4, flat, Material((0.7, 0.69, 0.66)), face, turn=turn, curl=lifted)


def payload(text: str) -> str:
    """What the symbol of a label holds."""
    return "UC:" + text.replace("-", ":")


def _printed(text: str, side: float, module: float, width: float, height: float) -> Image.Image:
    """The print on a label, black as white, at twelve texels a module."""
    code = segno.make(payload(text), version=1, error="q", mode="alphanumeric", boost_error=False)
    drawn = Drawing(width, height, 6 / module)
    low = (4.5 * module, 4.5 * module)
    for row, line in enumerate(code.matrix):
        for column, dark in enumerate(line):
            if dark:
                x, y = low[0] + column * module, low[1] + row * module
                drawn.pen.rectangle((*drawn.at((x, y))[0], *drawn.at((x + module, y + module))[0]), fill=255)
    drawn.text((width / 2, low[1] + side + 4.5 * module + 0.02 * side), text, 0.125 * side)
    return drawn.image


def _soil_label(rng: Rng, canvas: Canvas, dirt: float, fine: float) -> None:
    yellow = smooth(noise(rng, canvas.shape, 16 * fine, 3), -1.0, 2.0)
    canvas.colour *= 1 - (dirt * yellow)[..., None] * np.array([0.12, 0.28, 0.55], dtype=np.float32)
    spots = smooth(noise(rng, canvas.shape, 3.5 * fine, 3), 3.0 - 2.2 * dirt, 4.2 - 1.6 * dirt)
    canvas.lay(spots * np.float32(min(0.85, 0.3 + dirt)), Material((0.10, 0.075, 0.045), rough=0.7))
    rubbed = scratches(rng, canvas.shape, fine, int(26 * dirt))
    canvas.lay(
        ndimage.gaussian_filter(rubbed, 0.12 * fine) * np.float32(0.8 * dirt), Material((0.6, 0.58, 0.54))
    )
    canvas.relief += noise(rng, canvas.shape, 7 * fine, 3) * np.float32(0.02 + 0.16 * dirt)


def _tear(rng: Rng, canvas: Canvas, width: float, height: float, fine: float) -> None:
    """One corner gone, with a white fibrous edge; it may take a little of the quiet zone."""
    xs, ys = canvas.grid()
    if rng.random() < 0.5:
        xs = np.float32(width) - xs
    if rng.random() < 0.5:
        ys = np.float32(height) - ys
    reach = float(rng.uniform(0.14, 0.30)) * width
    past = xs + ys * float(rng.uniform(0.6, 1.5)) - reach + 0.6 * noise(rng, canvas.shape, 2.2 * fine, 3)
    canvas.lay(1 - smooth(past, 0.3, 0.9), Material((0.72, 0.70, 0.66), rough=0.95))
    canvas.presence = (past > 0).astype(np.float32)
