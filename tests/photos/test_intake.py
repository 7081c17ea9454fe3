"""Photos are taken in by what they are: upright, without metadata; all else is refused with a sentence."""

import subprocess
import sys
import tracemalloc
import warnings
import zlib
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from PIL import ExifTags, Image, ImageCms

from tests.support.photos import (
    FORMATS,
    grain,
    linear_profile,
    off_by,
    png,
    png_head,
    refusal,
    scene,
    segment,
    segments_of,
    with_segments,
    written,
)
from webapp.photos.ends import MOST_PIECES, MOST_SCANS
from webapp.photos.intake import LARGEST_BYTES, LONGEST_SIDE, MOST_PIXELS, keepable, read_photo

ROOT = Path(__file__).resolve().parents[2]
IDAT = (b"IDAT", zlib.compress(bytes(100_000)))
IEND = (b"IEND", b"")
FILM = b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom" + b"\0\0\1\0mdat" + b"secret-film" * 20


def a_zip() -> bytes:
    file = BytesIO()
    with ZipFile(file, "w") as archive:
        archive.writestr("page.html", "<html>")
    return file.getvalue()


@pytest.mark.parametrize("kind", FORMATS)
def test_every_format_is_read_at_its_full_size_whatever_the_file_is_called(kind: str) -> None:
    photo = read_photo(written(scene(), kind), "notes.txt")
    assert (photo.format, photo.image.mode, photo.image.size) == (kind.lower(), "RGB", (96, 64))
    assert off_by(photo, scene()) <= 6


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (written(scene(), "GIF"), "is a GIF picture."),
        (written(scene(), "BMP"), "is a BMP picture."),
        (written(scene(), "TIFF"), "is a TIFF picture or a camera's raw file."),
        (written(scene(), "JPEG2000"), "is a JPEG 2000 picture."),
        (written(scene(), "PPM"), "is no picture of a kind known here."),
        (FILM, "is a video or a sound."),
        (b"%PDF-1.7\n", "is a PDF."),
        (a_zip(), "is a ZIP archive or an office document."),
        (b"  <svg xmlns='http://www.w3.org/2000/svg'/>", "is a drawing or another XML document."),
        (b"<!DOCTYPE html><p>", "is a web page."),
        (b"\x7fELF\2\1\1", "is a program."),
        (b"--boundary\r\nContent-Disposition: form-data\r\n", "is no picture of a kind known here."),
        (b"\0", "is no picture of a kind known here."),
    ],
)
def test_anything_else_is_refused_as_what_it_is(raw: bytes, words: str) -> None:
    assert refusal(raw, "bench.jpg") == f"bench.jpg {words} Send a photo as JPEG, PNG, WebP, AVIF or HEIC."


def test_an_empty_file_is_refused() -> None:
    assert refusal(b"") == "This photo is empty: not one byte of it arrived. Send it again."


def test_a_file_over_the_limit_is_refused_with_its_size() -> None:
    whole = written(scene(), "JPEG")
    read_photo(whole.ljust(LARGEST_BYTES, b"\0"))
    for size, shown in ((31_000_000, "31"), (LARGEST_BYTES + 1, "20.1")):
        assert refusal(whole.ljust(size, b"\0")) == (
            f"This photo is {shown} MB; the limit is 20 MB. Take it again at a smaller size."
        )


@pytest.mark.parametrize(
    ("width", "height", "words"),
    [
        (9000, 6000, "has 54.0 megapixels; the limit is 52 megapixels."),
        (13_000, 13_000, "has 169.0 megapixels; the limit is 52 megapixels."),
        (2**31 - 1, 2**31 - 1, "has more than 170 megapixels; the limit is 52 megapixels."),
        (20_000, 100, "is 20,000 pixels long; the limit is 16,384."),
        (15, 4000, "is only 15 × 4000 pixels: nothing can be seen in it."),
    ],
)
def test_size_in_pixels_is_judged_by_the_head_before_anything_is_decoded(
    width: int, height: int, words: str
) -> None:
    # Decoded, this file would be found damaged: it has data for a few rows only.
    assert words in refusal(png(png_head(width, height), IDAT, IEND))


def test_photos_at_the_limits_are_taken() -> None:
    for size in ((LONGEST_SIDE, 16), (16, LONGEST_SIDE), (16, 16)):
        assert read_photo(written(Image.new("RGB", size), "PNG")).image.size == size
    assert MOST_PIXELS >= 8192 * 6144


@pytest.mark.parametrize("kind", FORMATS)
def test_a_file_cut_short_anywhere_is_refused(kind: str) -> None:
    whole = written(grain(), kind)
    for length in (*range(len(whole) // 20, len(whole), len(whole) // 40), len(whole) - 1):
        assert refusal(whole[:length]) == (
            "This photo is cut short: its last part is missing. Take or send it again."
        ), length


def test_a_damaged_file_is_refused() -> None:
    whole = bytearray(written(grain(), "PNG"))
    whole[len(whole) // 2] ^= 0xFF
    assert refusal(bytes(whole)) == "This photo is damaged and cannot be read. Take or send it again."


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize(
    ("document", "words"),
    [
        (a_zip(), "carries a ZIP archive or an office document along"),
        (b"%PDF-1.7\n%%EOF", "carries a PDF along"),
        (b"\n<html><script>alert(1)</script>", "carries a web page along"),
        (b"\0\0\0<?php system('id') ?>", "carries a web page along"),
        (b"MZ" + bytes(80), "carries a program along"),
    ],
)
def test_a_photo_with_a_document_behind_it_is_refused(kind: str, document: bytes, words: str) -> None:
    assert words in refusal(written(scene(), kind) + document)


def test_a_photo_with_a_document_in_its_head_is_refused() -> None:
    assert "carries a PDF along" in refusal(
        with_segments(written(scene(), "JPEG"), segment(0xFE, b"%PDF-1.7\n"))
    )


@pytest.mark.parametrize("front", [b"\0", b"\n", b"<html>", b"GIF89a", b"%PDF-1.7\n", b"PK\x03\x04"])
def test_a_photo_with_something_before_it_is_refused(front: bytes) -> None:
    for kind in FORMATS:
        assert "Send a photo as" in refusal(front + written(scene(), kind))


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("behind", [FILM, bytes(5000), written(grain(), "JPEG"), b"\xff" * 50, b"secret"])
def test_a_film_a_second_picture_or_padding_behind_the_photo_is_left_behind(kind: str, behind: bytes) -> None:
    plain = written(scene(), kind)
    photo = read_photo(plain + behind)
    assert photo.image.tobytes() == read_photo(plain).image.tobytes()
    kept = keepable(photo)
    assert kept == keepable(read_photo(plain))
    assert b"secret" not in kept


@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("WEBP", {"save_all": True}),
        ("PNG", {"save_all": True}),
        ("AVIF", {"save_all": True}),
        ("HEIF", {"save_all": True}),
        ("MPO", {"save_all": True, "quality": 95}),
    ],
)
def test_of_several_pictures_the_first_is_taken(kind: str, options: dict[str, object]) -> None:
    others = [Image.new("RGB", (96, 64), colour) for colour in ("black", "white")]
    photo = read_photo(written(scene(), kind, append_images=others, **options))
    assert off_by(photo, scene()) <= 12


@pytest.mark.parametrize(
    ("image", "colour"),
    [
        (Image.new("L", (32, 32), 90), (90, 90, 90)),
        (Image.new("LA", (32, 32), (0, 0)), (255, 255, 255)),
        (Image.new("RGBA", (32, 32), (255, 0, 0, 128)), (255, 127, 127)),
        (Image.new("RGBA", (32, 32), (10, 20, 30, 255)), (10, 20, 30)),
        (Image.new("1", (32, 32), 1), (255, 255, 255)),
        (Image.new("I;16", (32, 32), 0x8040), (128, 128, 128)),
        (Image.new("I;16", (32, 32), 0xFFFF), (255, 255, 255)),
    ],
)
def test_every_way_of_colours_becomes_plain_rgb_on_white(
    image: Image.Image, colour: tuple[int, int, int]
) -> None:
    photo = read_photo(written(image, "PNG"))
    assert photo.image.mode == "RGB"
    assert off_by(photo, Image.new("RGB", image.size, colour)) <= 1


@pytest.mark.parametrize(("mode", "clear"), [("P", 2), ("L", 2), ("RGB", (2, 2, 2))])
def test_a_colour_named_as_clear_becomes_white(mode: str, clear: int | tuple[int, int, int]) -> None:
    image = Image.new(mode, (32, 32), clear)
    if mode == "P":
        image.putpalette(range(12))
    photo = read_photo(written(image, "PNG", transparency=clear))
    assert off_by(photo, Image.new("RGB", (32, 32), "white")) == 0


def test_a_picture_with_a_palette_is_shown_in_its_colours() -> None:
    image = Image.new("P", (32, 32), 2)
    image.putpalette(range(12))
    assert off_by(read_photo(written(image, "PNG")), Image.new("RGB", (32, 32), (6, 7, 8))) == 0


def test_a_picture_in_four_inks_is_shown_in_its_colours() -> None:
    red = Image.new("CMYK", (32, 32), (0, 255, 255, 0))
    assert off_by(read_photo(written(red, "JPEG")), Image.new("RGB", (32, 32), (255, 0, 0))) <= 3


@pytest.mark.parametrize("profile", [b"no profile", linear_profile()[:-40], bytes(900_000)])
def test_a_colour_profile_that_cannot_be_read_is_left_out(profile: bytes) -> None:
    for kind in ("PNG", "JPEG", "WEBP"):
        kept = keepable(read_photo(written(scene(), kind, icc_profile=profile)))
        assert off_by(Image.open(BytesIO(kept)), scene()) <= 8


def test_a_profile_of_another_kind_of_picture_is_left_out() -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    kept = keepable(read_photo(written(scene(), "PNG", icc_profile=lab)))
    assert off_by(Image.open(BytesIO(kept)), scene()) <= 8


@pytest.mark.parametrize(
    "exif",
    [
        b"",
        b"Exif\0\0",
        b"Exif\0\0II*\0\x08\0\0\0\xff\xff",
        b"Exif\0\0II*\0\xff\xff\xff\xff",
        b"Exif\0\0XX*\0\x08\0\0\0\0\0",
        # A directory whose next one is itself, and an orientation that is a word.
        b"Exif\0\0MM\0*\0\0\0\x08\0\1\x01\x12\0\2\0\0\0\4six\0\0\0\0\x08",
        b"Exif\0\0MM\0*\0\0\0\x08\0\1\x01\x12\0\3\0\0\0\1\0\x09\0\0\0\0\0\0",
        b"Exif\0\0MM\0*\0\0\0\x08\0\1\x01\x12\0\3\0\0\0\1\0\0\0\0\0\0\0\0",
        b"Exif\0\0MM\0*\0\0\0\x08\0\1\x01\x12\0\5\0\0\0\1\0\0\0\x0c\0\0\0\0",
    ],
)
def test_broken_exif_is_ignored(exif: bytes) -> None:
    raw = with_segments(written(scene(), "JPEG"), segment(0xE1, exif))
    assert off_by(read_photo(raw), scene()) <= 6


def test_a_malformed_list_of_further_pictures_is_ignored() -> None:
    broken = segment(0xE2, b"MPF\0II*\0\x08\0\0\0\2\0\1\xb0\4\0\1\0\0\0\2\0\0\0")
    assert off_by(read_photo(with_segments(written(scene(), "JPEG"), broken)), scene()) <= 6


def everything_known_of_a_photo() -> bytes:
    """Give a JPEG that carries metadata of every sort, the word "secret" in each."""
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "secret maker"
    exif.get_ifd(ExifTags.IFD.GPSInfo).update(
        {ExifTags.GPS.GPSLatitudeRef: "N", ExifTags.GPS.GPSLatitude: (12.0, 34.0, 56.0)}
    )
    thumbnail = written(Image.new("RGB", (16, 16)), "JPEG", comment=b"secret thumbnail")
    return with_segments(
        written(
            grain(), "JPEG", exif=exif.tobytes() + thumbnail, comment=b"secret comment", progressive=True
        ),
        segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>secret</x:xmpmeta>"),
        segment(0xE2, b"ICC_PROFILE\0\1\1" + linear_profile() + b"secret"),
        segment(0xED, b"Photoshop 3.0\x008BIM\x04\x04\0\0\0\0\0\x0b\x1c\x02\x05\0\6secret"),
        segment(0xEB, b"secret"),
    )


def test_nothing_but_the_picture_is_kept() -> None:
    raw = everything_known_of_a_photo()
    assert raw.count(b"secret") == 7
    photo = read_photo(raw)
    assert (photo.image.info, dict(photo.image.getexif())) == ({}, {})
    kept = keepable(photo)
    assert b"secret" not in kept
    # Only what a baseline JPEG needs: its name, tables, frame and scan (ITU-T T.81, table B.1).
    assert set(segments_of(kept)) == {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
    assert kept.endswith(b"\xff\xd9")


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "HEIF", "AVIF"])
def test_nothing_but_the_picture_is_kept_of_other_formats(kind: str) -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "secret maker"
    raw = written(scene(), kind, exif=exif.tobytes(), xmp=b"<x:xmpmeta>secret</x:xmpmeta>")
    if kind == "PNG":
        raw = raw[:33] + png((b"tEXt", b"Comment\0secret"))[8:] + raw[33:]
    assert b"secret" in raw
    photo = read_photo(raw)
    assert photo.image.info == {}
    kept = keepable(photo)
    assert b"secret" not in kept
    assert set(segments_of(kept)) == {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}


@pytest.mark.parametrize(
    ("size", "kept_size"),
    [((3200, 2400), (1600, 1200)), ((1000, 2000), (800, 1600)), ((1600, 20), (1600, 20))],
)
def test_what_is_kept_is_shrunk_and_never_enlarged(size: tuple[int, int], kept_size: tuple[int, int]) -> None:
    photo = read_photo(written(scene(*size), "PNG"))
    assert photo.image.size == size
    assert off_by(Image.open(BytesIO(keepable(photo))), scene(*kept_size)) <= 8


def test_files_that_would_keep_a_decoder_busy_for_minutes_are_refused() -> None:
    plain = written(scene(), "JPEG")
    scans = written(scene(), "JPEG", progressive=True)
    last = scans[scans.rindex(b"\xff\xda") : -2]
    empty = segment(0xE1, b"Exif\0\0")
    for raw in (
        with_segments(plain, *[empty] * (MOST_PIECES["JPEG"] + 1)),
        with_segments(plain, b"\xff" * 2000),
        scans[:-2] + last * MOST_SCANS + scans[-2:],
        png(png_head(32, 32), *[(b"IDAT", b"")] * (MOST_PIECES["PNG"] + 1), IDAT, IEND),
    ):
        assert "is put together as no camera does it" in refusal(raw)
    read_photo(with_segments(plain, *[empty] * 200))


def test_exif_of_many_large_values_takes_no_large_memory() -> None:
    many, size = 5000, 10_000_000
    head = b"II*\0\x08\0\0\0" + many.to_bytes(2, "little")
    entry = b"\x07\0" + size.to_bytes(4, "little") + (100_000).to_bytes(4, "little")
    entries = b"".join((1000 + number).to_bytes(2, "little") + entry for number in range(many))
    raw = written(scene(), "PNG", exif=b"Exif\0\0" + (head + entries).ljust(100_000 + size, b"x"))
    tracemalloc.start()
    photo = read_photo(raw)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert off_by(photo, scene()) == 0
    assert peak < 5 * len(raw)


def test_a_warning_of_the_decoder_stays_silent_and_leaves_the_rules_for_warnings_as_they_are() -> None:
    before = list(warnings.filters)
    read_photo(with_segments(written(scene(), "JPEG"), segment(0xE1, b"Exif\0\0II*\0\x08\0\0\0\xff\xff")))
    assert warnings.filters == before


def test_where_no_library_reads_heic_it_is_said_and_the_rest_goes_on(tmp_path: Path) -> None:
    for kind in ("HEIF", "JPEG"):
        (tmp_path / kind).write_bytes(written(scene(), kind))
    program = f"""
import sys
sys.modules["pillow_heif"] = None
from pathlib import Path
from webapp.errors import BadPhoto
from webapp.photos.intake import read_photo
print(read_photo(Path({str(tmp_path / "JPEG")!r}).read_bytes()).format)
try:
    read_photo(Path({str(tmp_path / "HEIF")!r}).read_bytes())
except BadPhoto as refusal:
    print(refusal)
"""
    ended = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert ended.stdout.splitlines() == [
        "jpeg",
        "This photo is HEIC, which this machine cannot read. Send a photo as JPEG, PNG, WebP or AVIF.",
    ]
