"""Photos against the standards of their formats: which way up, where taken, what a colour means."""

from collections.abc import Callable
from io import BytesIO

import numpy as np
import pytest
from PIL import ExifTags, Image

from tests.support.photos import (
    CORNERS,
    FORMATS,
    linear_profile,
    off_by,
    scene,
    segment,
    with_segments,
    written,
)
from webapp.photos.intake import keepable, read_photo

# Where the first row and column of the stored picture lie on what was seen: tag 274, Orientation, JEITA
# CP-3451 (Exif 2.2), page 18, http://www.digicamsoft.com/exif22/exif22/html/exif22_24.htm; now CIPA DC-008.
FIRST_ROW_AND_COLUMN = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def stored(seen: Image.Image, orientation: int) -> Image.Image:
    """Give the picture as a camera stores it with that value, pixel by pixel after the table above."""
    pixels = np.asarray(seen)
    height, width = pixels.shape[:2]
    # The line of what was seen on which the stored row, or column, of that number lies.
    along: dict[str, Callable[[int], int]] = {
        "top": lambda n: n,
        "bottom": lambda n: height - 1 - n,
        "left": lambda n: n,
        "right": lambda n: width - 1 - n,
    }
    row_side, column_side = FIRST_ROW_AND_COLUMN[orientation]
    sideways = row_side in ("left", "right")
    rows, columns = (width, height) if sideways else (height, width)
    result = np.zeros((rows, columns, 3), dtype=np.uint8)
    for r in range(rows):
        for c in range(columns):
            across, down = along[row_side](r), along[column_side](c)
            result[r, c] = pixels[down, across] if sideways else pixels[across, down]
    return Image.fromarray(result)


def test_the_table_itself_turns_a_photo_held_upright_as_is_known() -> None:
    # A camera turned a quarter to the left stores the top of what was seen on the right side: value 6 or 8.
    assert stored(scene(4, 2), 6).getpixel((0, 0)) == CORNERS[1] != CORNERS[0]
    assert stored(scene(4, 2), 6).size == (2, 4)


@pytest.mark.parametrize("orientation", FIRST_ROW_AND_COLUMN)
@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("order", ["<", ">"])
def test_all_eight_orientations_come_upright(kind: str, orientation: int, order: str) -> None:
    exif = Image.Exif()
    exif.endian = order
    exif[ExifTags.Base.Orientation] = orientation
    # Those of HEIF and AVIF are written as their containers' own turns (ISO/IEC 23008-12, `irot` and `imir`).
    photo = read_photo(written(stored(scene(), orientation), kind, exif=exif.tobytes()))
    assert off_by(photo, scene()) <= 8
    assert off_by(Image.open(BytesIO(keepable(photo))), scene()) <= 12


@pytest.mark.parametrize("kind", FORMATS)
def test_the_position_is_gone(kind: str) -> None:
    exif = Image.Exif()
    exif.get_ifd(ExifTags.IFD.GPSInfo).update(
        {
            ExifTags.GPS.GPSLatitudeRef: "N",
            ExifTags.GPS.GPSLatitude: (12.0, 34.0, 56.0),
            ExifTags.GPS.GPSProcessingMethod: b"ASCII\0\0\0whereabouts",
        }
    )
    raw = written(scene(), kind, exif=exif.tobytes())
    assert b"whereabouts" in raw
    assert Image.open(BytesIO(raw)).getexif().get_ifd(ExifTags.IFD.GPSInfo)[1] == "N"
    photo = read_photo(raw)
    assert dict(photo.image.getexif().get_ifd(ExifTags.IFD.GPSInfo)) == {}
    kept = keepable(photo)
    assert b"whereabouts" not in kept
    assert b"Exif" not in kept
    assert dict(Image.open(BytesIO(kept)).getexif()) == {}


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "JPEG", "AVIF", "HEIF"])
def test_colours_of_another_profile_come_as_srgb_has_them(kind: str) -> None:
    # IEC 61966-2-1: a share v of full light is written as 1.055 v^(1/2.4) − 0.055.
    photo = read_photo(written(Image.new("RGB", (64, 64), (128, 64, 26)), kind, icc_profile=linear_profile()))
    expected = tuple(round(255 * (1.055 * (value / 255) ** (1 / 2.4) - 0.055)) for value in (128, 64, 26))
    assert off_by(Image.open(BytesIO(keepable(photo))), Image.new("RGB", (64, 64), expected)) <= 4


def test_a_marker_within_a_segment_ends_nothing() -> None:
    # ITU-T T.81, B.1.1.4: a segment is as long as it says, whatever stands in it, a whole picture too.
    thumbnail = written(Image.new("RGB", (32, 32)), "JPEG")
    raw = with_segments(
        written(scene(), "JPEG"), segment(0xE2, thumbnail), segment(0xFE, b"\xff\xd9\xff\xd9")
    )
    assert off_by(read_photo(raw), scene()) <= 6


def test_restarts_and_stuffed_bytes_within_a_scan_end_nothing() -> None:
    # ITU-T T.81, B.1.1.2 and B.1.1.5: in a scan 0xFF 0x00 is data and 0xFF 0xD0 to 0xFF 0xD7 are restarts.
    noise = Image.effect_noise((128, 128), 90).convert("RGB")
    raw = written(noise, "JPEG", restart_marker_blocks=1)
    assert raw.count(b"\xff\x00") > 10
    assert raw.count(b"\xff\xd3") > 10
    assert read_photo(raw + b"behind").image.size == (128, 128)
