"""Photos broken at random from a seed, in every way that has ever upset a decoder."""

import random
import re
import struct
import zlib
from collections.abc import Callable
from functools import cache
from itertools import product

from PIL import ExifTags, Image

from tests.support.photos import FORMATS, grain, linear_profile, segment, with_segments, written

MAGIC = {
    "JPEG": b"\xff\xd8\xff\xe0\x00\x10JFIF\x00",
    "PNG": b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR",
    "WEBP": b"RIFF\xff\xff\x00\x00WEBPVP8 ",
    "HEIF": b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic",
    "AVIF": b"\x00\x00\x00\x18ftypavif\x00\x00\x00\x00mif1avif",
}
# Where a length stands, as seen from the name of the piece it belongs to.
_PIECES = {
    "JPEG": (re.compile(rb"\xff[\xc0-\xcf\xda-\xef\xfe]"), 2, 2, "big"),
    "PNG": (re.compile(rb"IHDR|IDAT|PLTE|tRNS|iCCP|eXIf|acTL|fcTL|fdAT|IEND"), -4, 4, "big"),
    "WEBP": (re.compile(rb"RIFF|VP8[ LX]|ANIM|ANMF|ALPH|ICCP|EXIF|XMP "), 4, 4, "little"),
    "HEIF": (
        re.compile(rb"ftyp|meta|hdlr|pitm|iloc|iinf|infe|iprp|ipco|ipma|ispe|hvcC|colr|mdat"),
        -4,
        4,
        "big",
    ),
    "AVIF": (
        re.compile(rb"ftyp|meta|hdlr|pitm|iloc|iinf|infe|iprp|ipco|ipma|ispe|av1C|colr|mdat"),
        -4,
        4,
        "big",
    ),
}
_LENGTHS = (0, 1, 2, 3, 7, 8, 0x7F, 0xFFFF, 0x7FFFFFFF, 0xFFFFFFF0, 0xFFFFFFFF)
_SIDES = (0, 1, 15, 255, 4000, 8000, 16383, 16384, 65535, 0x7FFFFFFF, 0xFFFFFFFF)

Mutation = Callable[[bytes, str, random.Random], bytes]


@cache
def whole_files(kind: str) -> tuple[bytes, ...]:
    """Give files of one kind that are in order: plain, with metadata, several pictures, other colours."""
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (1.0, 2.0, 3.0)
    with_all = {"exif": exif.tobytes(), "icc_profile": linear_profile()}
    first, second = grain(64, 48), grain(64, 48, seed=2)
    several = "MPO" if kind == "JPEG" else kind
    return (
        written(first, kind),
        written(first, kind, **with_all),
        written(first, several, save_all=True, append_images=[second] * 3),
        written(first.convert("L"), kind, **({"progressive": True} if kind == "JPEG" else {})),
        written(first.convert("CMYK" if kind == "JPEG" else "RGBA"), kind),
    )


def mutated(seed: int) -> tuple[str, bytes]:
    """Give a name that says what was done, and the file; the same seed gives the same file."""
    chance = random.Random(seed)
    kind, mutation = _TURNS[seed % len(_TURNS)]
    raw = mutation(chance.choice(whole_files(kind)), kind, chance)
    return f"{seed}: {kind} {mutation.__name__.strip('_')}", raw


def _bits_flipped(raw: bytes, kind: str, chance: random.Random) -> bytes:
    broken = bytearray(raw)
    for _ in range(chance.choice((1, 3, 20, 100))):
        broken[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
    return bytes(broken)


def _cut_short(raw: bytes, kind: str, chance: random.Random) -> bytes:
    return raw[: chance.randrange(len(raw))]


def _spliced(raw: bytes, kind: str, chance: random.Random) -> bytes:
    other = chance.choice(whole_files(chance.choice(FORMATS)))
    return raw[: chance.randrange(len(raw))] + other[chance.randrange(len(other)) :]


def _piece_moved(raw: bytes, kind: str, chance: random.Random) -> bytes:
    a, b, to = sorted(chance.randrange(len(raw)) for _ in range(3))
    return raw[:a] + raw[b:to] + raw[a:b] * chance.choice((0, 1, 2, 300)) + raw[to:]


def _head_overwritten(raw: bytes, kind: str, chance: random.Random) -> bytes:
    broken = bytearray(raw)
    for _ in range(chance.choice((1, 4, 16))):
        broken[chance.randrange(8, min(400, len(raw)))] = chance.choice((0, 1, 0x7F, 0x80, 0xFF))
    return bytes(broken)


def _length_lies(raw: bytes, kind: str, chance: random.Random) -> bytes:
    names, offset, size, order = _PIECES[kind]
    broken = bytearray(raw)
    for found in chance.sample(list(names.finditer(raw)), k=chance.choice((1, 2))):
        at = max(0, found.start() + offset)
        length = chance.choice(_LENGTHS) & (256**size - 1)
        broken[at : at + size] = length.to_bytes(size, "little" if order == "little" else "big")
    return bytes(broken)


def _sides_lie(raw: bytes, kind: str, chance: random.Random) -> bytes:
    a, b = chance.choice(_SIDES), chance.choice(_SIDES)
    if kind == "PNG":
        head = b"IHDR" + struct.pack(">II", a, b) + raw[24:29]
        return raw[:12] + head + struct.pack(">I", zlib.crc32(head)) + raw[33:]
    if kind == "JPEG":
        return re.sub(
            rb"(\xff[\xc0-\xc2]...)....",
            lambda m: m[1] + struct.pack(">HH", a & 0xFFFF, b & 0xFFFF),
            raw,
            flags=re.S,
        )
    if kind == "WEBP":
        sides = (a & 0xFFFFFF).to_bytes(3, "little") + (b & 0xFFFFFF).to_bytes(3, "little")
        raw = re.sub(rb"(VP8X.{8}).{6}", lambda m: m[1] + sides, raw, flags=re.S)
        small = struct.pack("<HH", a & 0x3FFF, b & 0x3FFF)
        return re.sub(rb"(\x9d\x01\x2a)....", lambda m: m[1] + small, raw, flags=re.S)
    return re.sub(rb"(ispe\0{4}).{8}", lambda m: m[1] + struct.pack(">II", a, b), raw, flags=re.S)


def _nested(raw: bytes, kind: str, chance: random.Random) -> bytes:
    inner = chance.choice(whole_files(chance.choice(FORMATS)))
    at = chance.choice((0, 8, len(raw) // 2, len(raw)))
    return raw[:at] + inner + raw[at:]


def _random_after_its_name(raw: bytes, kind: str, chance: random.Random) -> bytes:
    return MAGIC[kind] + chance.randbytes(chance.choice((1, 30, 3000, 100_000)))


def _exif_in_a_loop(raw: bytes, kind: str, chance: random.Random) -> bytes:
    order = chance.choice("<>")
    entries = [
        struct.pack(order + "HHII", chance.choice((0x0112, 0x8769, 0x8825, 0x9286, 0xA005, 0x014A)), *values)
        for values in product((3, 4, 5, 7), (1, 0xFFFFFFFF), (0, 8, 26))
    ]
    directory = struct.pack(order + "H", chance.choice((len(entries), 0xFFFF))) + b"".join(entries)
    mark = b"II*\0" if order == "<" else b"MM\0*"
    exif = b"Exif\0\0" + mark + struct.pack(order + "I", 8) + directory + struct.pack(order + "I", 8)
    if kind == "JPEG":
        return with_segments(raw, *[segment(0xE1, exif)] * chance.choice((1, 3)))
    if kind == "WEBP":
        return written(grain(64, 48), kind, exif=exif)
    if kind == "PNG":
        chunk = b"eXIf" + exif[6:]
        return (
            raw[:33]
            + struct.pack(">I", len(exif) - 6)
            + chunk
            + struct.pack(">I", zlib.crc32(chunk))
            + raw[33:]
        )
    # The writers of the other two read what they are given: the loop is laid over EXIF that is in order.
    whole = whole_files(kind)[1]
    at = whole.find(b"II*\0") if b"II*\0" in whole else whole.find(b"MM\0*")
    return whole[: at + 8] + directory[: len(whole) - at - 8] + whole[at + 8 + len(directory) :]


_TURNS: list[tuple[str, Mutation]] = list(
    product(
        FORMATS,
        (
            _bits_flipped, _cut_short, _spliced, _piece_moved, _head_overwritten, _length_lies,
            _sides_lie, _nested, _random_after_its_name, _exif_in_a_loop,
        ),
    )
)  # fmt: skip
