"""What a file is, told by its own bytes; its name, and what a browser calls it, are never asked."""

import re
from typing import NamedTuple

# ISO/IEC 23008-12 and the AVIF specification: the brands of pictures in an ISO base media file.
_AVIF_BRANDS = {b"avif", b"avis"}
_HEIF_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1"}


class _Other(NamedTuple):
    """A file that is no photo: how it begins, what it is in words, and whether it is a document."""

    begins: re.Pattern[bytes]
    words: str
    document: bool = False


def _other(begins: bytes, words: str, document: bool = False) -> _Other:
    return _Other(re.compile(begins, re.DOTALL | re.IGNORECASE), words, document)


_OTHERS = (
    _other(rb"GIF8", "a GIF picture"),
    _other(rb"BM.{4}\0\0\0\0", "a BMP picture"),
    _other(rb"II\*\0|MM\0\*", "a TIFF picture or a camera's raw file"),
    _other(rb"\0\0\0\x0cJXL |\xff\x0a", "a JPEG XL picture"),
    _other(rb"\0\0\0\x0cjP  |\xff\x4f\xff\x51", "a JPEG 2000 picture"),
    _other(rb"....ftyp|RIFF....(AVI |WAVE)|\x1a\x45\xdf\xa3", "a video or a sound"),
    _other(rb"%PDF-", "a PDF", document=True),
    _other(rb"PK\x03\x04", "a ZIP archive or an office document", document=True),
    _other(rb"\s*<\?xml|\s*<svg", "a drawing or another XML document", document=True),
    _other(rb"\s*<(!doctype html|html|head|script|body|\?php)", "a web page", document=True),
    _other(rb"MZ.{58}|\x7fELF|#!", "a program", document=True),
)

# PKWARE's application note, 4.3.16: the end record of a ZIP, at most 65,535 bytes of comment behind it.
_ZIP_END, _ZIP_END_LENGTH, _LONGEST_COMMENT = b"PK\x05\x06", 22, 65_535


def photo_kind(raw: bytes) -> str:
    """The kind of photo, as Pillow names it: JPEG, PNG, WEBP, HEIF, AVIF, or "" for anything else."""
    if raw.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if raw.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if raw.startswith(b"RIFF") and raw[8:12] == b"WEBP":
        return "WEBP"
    if raw[4:8] == b"ftyp":
        return _boxed_kind(raw)
    return ""


def _boxed_kind(raw: bytes) -> str:
    box = raw[8 : min(int.from_bytes(raw[:4], "big"), 512)]
    brands = {box[at : at + 4] for at in range(0, len(box), 4) if at != 4}
    if brands & _AVIF_BRANDS:
        return "AVIF"
    return "HEIF" if box[:4] in _HEIF_BRANDS else ""


def in_words(raw: bytes) -> str:
    """What a file is that is no photo, such as "a GIF picture"; "" when it is nothing known."""
    return next((other.words for other in _OTHERS if other.begins.match(raw)), "")


def document_in(raw: bytes, end: int) -> str:
    """The document, in words, that a photo whose picture ends at `end` carries along; "" for none.

    Phones put a film or a second picture behind the first, which is no fault. A PDF is found where readers
    look for it, in the first 1,024 bytes; a ZIP at the file's end.
    """
    if b"%PDF-" in raw[:1024]:
        return "a PDF"
    if _ends_as_zip(raw):
        return "a ZIP archive or an office document"
    behind = raw[end : end + 4096].lstrip(b"\0\xff \t\r\n")
    return next((other.words for other in _OTHERS if other.document and other.begins.match(behind)), "")


def _ends_as_zip(raw: bytes) -> bool:
    at = raw.rfind(_ZIP_END, max(0, len(raw) - _ZIP_END_LENGTH - _LONGEST_COMMENT))
    if at < 0:
        return False
    comment = int.from_bytes(raw[at + 20 : at + 22], "little")
    return at + _ZIP_END_LENGTH + comment == len(raw)
