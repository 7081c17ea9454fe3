"""Photos made for tests: a scene whose corners differ, written in every format, and pieces of files."""

import struct
import zlib
from collections.abc import Sequence
from io import BytesIO
from typing import Any

import numpy as np
from PIL import Image, ImageChops

from webapp.errors import BadPhoto
from webapp.photos.intake import Photo, read_photo

FORMATS = ("JPEG", "PNG", "WEBP", "HEIF", "AVIF")
CORNERS = ((200, 40, 40), (40, 160, 60), (50, 70, 190), (230, 210, 60))


def scene(width: int = 96, height: int = 64) -> Image.Image:
    """Give a picture in four flat quarters: red and green above, blue and yellow below."""
    small = Image.new("RGB", (2, 2))
    for place, colour in zip(((0, 0), (1, 0), (0, 1), (1, 1)), CORNERS, strict=True):
        small.putpixel(place, colour)
    return small.resize((width, height), Image.Resampling.NEAREST)


def grain(width: int = 96, height: int = 64, seed: int = 1) -> Image.Image:
    """Give a picture that compresses badly: the scene under noise."""
    noise = np.random.default_rng(seed).integers(0, 60, (height, width, 3), dtype=np.uint8)
    return ImageChops.add(scene(width, height), Image.fromarray(noise))


def written(image: Image.Image, kind: str, **options: Any) -> bytes:
    """Give the file of a picture, written finely enough to compare colours."""
    fine = {"JPEG": {"quality": 95, "subsampling": 0}, "HEIF": {"quality": 90}, "AVIF": {"quality": 90}}
    file = BytesIO()
    image.save(file, kind, **fine.get(kind, {}) | options)
    return file.getvalue()


def refusal(raw: bytes, name: str = "This photo") -> str:
    """Give the sentence with which the intake refuses these bytes; AssertionError when it takes them."""
    try:
        photo = read_photo(raw, name)
    except BadPhoto as refused:
        return str(refused)
    raise AssertionError(f"taken as {photo}")


def off_by(photo: Photo | Image.Image, expected: Image.Image) -> int:
    """Give the largest difference of a colour between a photo and what it should show, at quarter points."""
    image = photo.image if isinstance(photo, Photo) else photo
    assert image.size == expected.size
    width, height = image.size
    places = [(width * a // 4, height * b // 4) for a in (1, 3) for b in (1, 3)]
    pairs = [(image.getpixel(place), expected.getpixel(place)) for place in places]
    return max(abs(a - b) for got, want in pairs for a, b in zip(got, want, strict=True))  # type: ignore[arg-type]


def png(*chunks: tuple[bytes, bytes]) -> bytes:
    """Give a PNG of these chunks, with right sums behind each."""
    pieces = (
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in chunks
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(pieces)


def png_head(width: int, height: int, bits: int = 8, colours: int = 2) -> tuple[bytes, bytes]:
    """Give the first chunk of a PNG that claims to be so large."""
    return b"IHDR", struct.pack(">IIBBBBB", width, height, bits, colours, 0, 0, 0)


def segment(code: int, data: bytes) -> bytes:
    """Give a segment of a JPEG."""
    return struct.pack(">BBH", 0xFF, code, len(data) + 2) + data


def with_segments(jpeg: bytes, *segments: bytes) -> bytes:
    """Give a JPEG with these segments right behind its start."""
    return jpeg[:2] + b"".join(segments) + jpeg[2:]


def segments_of(jpeg: bytes) -> list[int]:
    """Give the codes of a JPEG's segments up to its first scan."""
    codes, at = [], 2
    while not codes or codes[-1] != 0xDA:
        assert jpeg[at] == 0xFF
        codes.append(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return codes


def linear_profile() -> bytes:
    """Give a colour profile (ICC.1) with the primaries of sRGB and a straight tone curve."""
    xyz = {
        b"rXYZ": (0.4361, 0.2225, 0.0139),
        b"gXYZ": (0.3851, 0.7169, 0.0971),
        b"bXYZ": (0.1431, 0.0606, 0.7139),
        b"wtpt": (0.9642, 1.0, 0.8249),
    }
    tags = {name: b"XYZ \0\0\0\0" + _fixed(values) for name, values in xyz.items()}
    tags |= {name: b"curv" + bytes(8) for name in (b"rTRC", b"gTRC", b"bTRC")}
    at, table, data = 132 + 12 * len(tags), b"", b""
    for name, body in tags.items():
        table += name + struct.pack(">II", at + len(data), len(body))
        data += body
    head = struct.pack(">I4sI4s4s4s", at + len(data), b"", 0x02100000, b"mntr", b"RGB ", b"XYZ ")
    head += bytes(12) + b"acsp" + bytes(28) + _fixed((0.9642, 1.0, 0.8249))
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + data


def _fixed(values: Sequence[float]) -> bytes:
    return struct.pack(f">{len(values)}i", *(round(value * 65536) for value in values))
