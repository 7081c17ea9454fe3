"""From the bytes that came in to an upright photo without metadata, and to the JPEG that may be kept."""

import warnings
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass
from io import BytesIO
from threading import Lock

from PIL import ExifTags, Image, features

from webapp.errors import BadPhoto, Sentence
from webapp.photos.colours import in_rgb, in_srgb
from webapp.photos.ends import Unlikely, picture_end
from webapp.photos.kinds import document_in, in_words, photo_kind

LARGEST_BYTES = 20_000_000
# The largest sensors of phones in use give 8192 × 6144, which they call 50 megapixels. Decoded, a pixel takes
# four bytes, and more than one copy at times.
MOST_PIXELS = 52_000_000
LONGEST_SIDE, SHORTEST_SIDE = 16_384, 16
# All that a JPEG's segment can hold; elsewhere more may stand there, which nobody needs.
LARGEST_EXIF = 65_535
KEPT_SIDE, KEPT_QUALITY = 1600, 85

_READABLE = ["JPEG", "PNG", "WEBP"]
if features.check("avif"):
    _READABLE.append("AVIF")
with suppress(ImportError):
    from pillow_heif import register_heif_opener

    register_heif_opener(thumbnails=False, decode_threads=1)
    _READABLE.append("HEIF")

# EXIF (CIPA DC-008), tag Orientation: what has to be done to a picture that is stored that way.
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}

# Pillow's block allocator. Of the usual blocks of 16 MB each thread keeps for good what it once used; larger
# ones go back to the system, but for three that the next photo finds ready.
Image.core.set_block_size(64 * 1024 * 1024)
Image.core.set_blocks_max(3)
# Decoded, a picture of 52 megapixels takes up to 900 MB for a moment: of large ones, one at a time.
_LARGE = 16_000_000
_one_large = Lock()
# `catch_warnings` is of the whole process: two threads in it at once would leave it changed.
_one_at_a_time = Lock()


_THIS_PHOTO = Sentence("This photo")
_SMALLER = Sentence("Take it again at a smaller size.")
_ONCE_MORE = Sentence("Take or send it again.")


@dataclass(frozen=True)
class Photo:
    """An upright picture in mode RGB without metadata, the format it came in, and its colour profile."""

    image: Image.Image
    format: str
    profile: bytes = b""


def read_photo(raw: bytes, name: str = _THIS_PHOTO) -> Photo:
    """The photo in these bytes, at its full size; of an animation the first picture.

    Raises BadPhoto for whatever is no photo, too large, cut short, damaged, or carries a document along.
    """
    if not raw:
        raise BadPhoto(
            Sentence("{photo} is empty: not one byte of it arrived.", photo=name), Sentence("Send it again.")
        )
    if len(raw) > LARGEST_BYTES:
        raise too_large(len(raw), name)
    kind = _kind(raw, name)
    return _decoded(raw[: _end(raw, kind, name)], kind, name)


def keepable(photo: Photo) -> bytes:
    """A JPEG of the photo in sRGB, its longer side at most 1,600 pixels, with no metadata."""
    image = in_srgb(_shrunk(photo.image), photo.profile)
    image.info = {}
    written = BytesIO()
    image.save(written, "JPEG", quality=KEPT_QUALITY, progressive=False)
    return written.getvalue()


def too_large(size: int, name: str = _THIS_PHOTO) -> BadPhoto:
    """The refusal of a photo of so many bytes."""
    megabytes, most = format(-(-size // 100_000) / 10, "g"), LARGEST_BYTES // 1_000_000
    return BadPhoto(
        Sentence(
            "{photo} is {megabytes} MB; the limit is {most} MB.", photo=name, megabytes=megabytes, most=most
        ),
        _SMALLER,
    )


def _kind(raw: bytes, name: str) -> str:
    kind = photo_kind(raw)
    if not kind:
        raise BadPhoto(f"{name} is {in_words(raw) or 'no picture of a kind known here'}.", _send_instead())
    if kind not in _READABLE:
        raise BadPhoto(f"{name} is {_spoken(kind)}, which this machine cannot read.", _send_instead())
    return kind


def _send_instead() -> str:
    *most, last = map(_spoken, _READABLE)
    return f"Send a photo as {', '.join(most)} or {last}."


def _spoken(kind: str) -> str:
    return {"WEBP": "WebP", "HEIF": "HEIC"}.get(kind, kind)


def _end(raw: bytes, kind: str, name: str) -> int:
    """Where the picture ends; what lies behind that is not even given to the decoder."""
    try:
        end = picture_end(raw, kind)
    except Unlikely as error:
        raise BadPhoto(
            Sentence("{photo} is put together as no camera does it.", photo=name),
            Sentence("Take it again, or send another copy."),
        ) from error
    if end is None:
        raise BadPhoto(Sentence("{photo} is cut short: its last part is missing.", photo=name), _ONCE_MORE)
    document = document_in(raw, end)
    if document:
        raise BadPhoto(f"{name} carries {document} along.", "Send the photo alone, as the camera made it.")
    return end


@contextmanager
def _foreign_errors(name: str) -> Iterator[None]:
    """Turns all that Pillow and its decoders raise into ours; on broken files no list of it is complete."""
    try:
        yield
    except Image.DecompressionBombError as error:
        # Pillow's own limit lies at 178 megapixels and ends the reading before their number is known.
        raise _too_many_pixels(name, Sentence("more than {count} megapixels", count=170)) from error
    except Exception as error:
        raise BadPhoto(Sentence("{photo} is damaged and cannot be read.", photo=name), _ONCE_MORE) from error


def _decoded(picture: bytes, kind: str, name: str) -> Photo:
    with _foreign_errors(name):
        image = _opened(picture, kind)
    _dimensions_allowed(image, name)
    large = image.width * image.height > _LARGE
    with _one_large if large else nullcontext(), _foreign_errors(name):
        upright = _upright(image)
        # Decoders hold on to more copies than ours as long as their picture is there.
        del image
        plain = in_rgb(upright)
    # A decoder may find the picture larger than the file's head said.
    _dimensions_allowed(plain, name)
    profile = upright.info.get("icc_profile") if upright.mode in ("RGB", "RGBA", "P") else None
    plain.info = {}
    return Photo(plain, kind.lower(), profile or b"")


def _opened(picture: bytes, kind: str) -> Image.Image:
    """The picture with its head read and nothing decoded."""
    with _one_at_a_time, warnings.catch_warnings():
        # What Pillow has to say of a file's form is for its author; the size is looked at next.
        warnings.simplefilter("ignore")
        return Image.open(BytesIO(picture), formats=[kind])


def _orientation(image: Image.Image) -> int:
    """The value of EXIF's tag, 1 where there is none or none that can be read."""
    exif = Image.Exif()
    with suppress(Exception), _one_at_a_time, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        exif.load(image.info.get("exif", b"")[:LARGEST_EXIF])
        value = exif.get(ExifTags.Base.Orientation)
        return value if isinstance(value, int) else 1
    return 1


def _upright(image: Image.Image) -> Image.Image:
    """A picture of its own, apart from file and decoder, as it is to be looked at."""
    image.load()
    turn = _TURNS.get(_orientation(image))
    return image.copy() if turn is None else image.transpose(turn)


def _dimensions_allowed(image: Image.Image, name: str) -> None:
    longer, shorter = max(image.size), min(image.size)
    if shorter < SHORTEST_SIDE:
        raise BadPhoto(
            Sentence(
                "{photo} is only {width} × {height} pixels: nothing can be seen in it.",
                photo=name,
                width=image.width,
                height=image.height,
            ),
            Sentence("Take or send it at its full size."),
        )
    if longer > LONGEST_SIDE:
        raise BadPhoto(
            Sentence(
                "{photo} is {length} pixels long; the limit is {most}.",
                photo=name,
                length=format(longer, ","),
                most=format(LONGEST_SIDE, ","),
            ),
            _SMALLER,
        )
    if longer * shorter > MOST_PIXELS:
        raise _too_many_pixels(
            name, Sentence("{count} megapixels", count=format(longer * shorter / 1e6, ".1f"))
        )


def _too_many_pixels(name: str, count: Sentence) -> BadPhoto:
    limit = MOST_PIXELS // 1_000_000
    return BadPhoto(
        Sentence("{photo} has {count}; the limit is {most} megapixels.", photo=name, count=count, most=limit),
        _SMALLER,
    )


def _shrunk(image: Image.Image) -> Image.Image:
    factor = KEPT_SIDE / max(image.size)
    if factor >= 1:
        return image.copy()
    width, height = (max(1, round(side * factor)) for side in image.size)
    return image.resize((width, height), Image.Resampling.LANCZOS, reducing_gap=3.0)
