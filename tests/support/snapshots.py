"""Photo files as cameras and galleries leave them, drawn by Pillow; labels by segno."""

import io
import random
from pathlib import Path

import pillow_heif
import segno
from PIL import Image, ImageDraw

RED, GREEN, BLUE, WHITE = (200, 30, 30), (30, 160, 40), (30, 50, 200), (240, 240, 240)
# EXIF tags (CIPA DC-008): orientation, and the directory of the position.
ORIENTATION, POSITION = 0x0112, 0x8825
MAKER = "Zebrafinch camera"


def quarters(width: int, height: int) -> Image.Image:
    """A picture whose quarters are red, green, blue and white, as one reads."""
    image = Image.new("RGB", (width, height), WHITE)
    draw = ImageDraw.Draw(image)
    for box, colour in (
        ((0, 0, width // 2, height // 2), RED),
        ((width // 2, 0, width, height // 2), GREEN),
        ((0, height // 2, width // 2, height), BLUE),
    ):
        draw.rectangle(box, fill=colour)
    return image


def turned_with_position(path: Path, upright: Image.Image) -> Path:
    """The picture as a phone held upright writes it: lying, with orientation 6, and where it was taken."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[0x010F] = MAKER
    exif.get_ifd(POSITION).update({1: "N", 2: (51.0, 28.0, 38.0), 3: "W", 4: (0.0, 0.0, 5.0)})
    lying = upright.transpose(Image.Transpose.ROTATE_90)
    lying.save(path, "JPEG", quality=95, exif=exif, comment=b"taken at the quay")
    return path


def snapshot(path: Path, label: str = "", size: tuple[int, int] = (1200, 900), seed: int = 1) -> Path:
    """A JPEG of blots, with the symbol of a label such as K7Q2-007 in it, if one is given."""
    dice = random.Random(seed)
    image = Image.new("RGB", size, (dice.randint(90, 170),) * 3)
    draw = ImageDraw.Draw(image)
    for _ in range(30):
        x, y, side = dice.randrange(size[0]), dice.randrange(size[1]), dice.randint(10, 120)
        draw.ellipse((x, y, x + side, y + side), fill=(dice.randint(0, 255),) * 3)
    if label:
        symbol = io.BytesIO()
        payload = "UC:" + label.replace("-", ":")
        segno.make(payload, version=1, error="q").save(symbol, kind="png", scale=12, border=4)
        image.paste(Image.open(symbol).convert("RGB"), (size[0] // 4, size[1] // 4))
    image.save(path, "JPEG", quality=90)
    return path


def heic(path: Path) -> Path:
    """The quarters in the form that some phones hand over."""
    pillow_heif.from_pillow(quarters(800, 600)).save(path)
    return path
