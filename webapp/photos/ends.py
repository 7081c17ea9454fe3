"""Where a picture ends in its file, found by walking over its pieces without decoding any of them."""

import re
from collections.abc import Iterator
from itertools import islice

# Decoders read a file's pieces one by one, and some join them in a time that grows with the square of their
# number: 20 MB of small ones keep them busy for minutes. Depth pictures and long notes make 200 in a JPEG.
MOST_PIECES = {"JPEG": 500, "PNG": 65_536, "WEBP": 1, "HEIF": 500, "AVIF": 500}
# A progressive JPEG has about ten scans. Each one more costs a pass over the whole picture.
MOST_SCANS = 48
# Bytes of padding before a segment of a JPEG.
MOST_PADDING = 1000

# The next marker of a JPEG (ITU-T T.81, B.1.1): in a scan 0xFF 0x00 is data, as are restarts D0 to D7.
_MARKER = re.compile(rb"\xff([^\x00\xff\xd0-\xd7])", re.DOTALL)
_WITHOUT_LENGTH = {0x01, 0xD8}
_BOX = re.compile(rb".{4}[0-9A-Za-z ]{4}", re.DOTALL)
_END_OF_IMAGE, _START_OF_SCAN = 0xD9, 0xDA


class Unlikely(Exception):
    """The file is put together as no camera does it, and would be slow to read."""


def picture_end(raw: bytes, kind: str) -> int | None:
    """Where the picture of this kind ends, in bytes from the start; None when the file is cut short.

    Raises Unlikely.
    """
    walk = {"JPEG": _jpeg, "PNG": _png, "WEBP": _riff}.get(kind, _boxes)
    ends = list(islice(walk(raw), MOST_PIECES[kind] + 1))
    if len(ends) > MOST_PIECES[kind]:
        raise Unlikely
    return ends[-1]


# Each walk gives the end of every piece, and None as the last when the file stops before the picture does.


def _jpeg(raw: bytes) -> Iterator[int | None]:
    at, scans = 2, 0
    while found := _MARKER.search(raw, at):
        padding = 0 if scans else found.start() - at
        code, at = found[1][0], found.end()
        if code == _END_OF_IMAGE:
            yield at
            return
        scans += code == _START_OF_SCAN
        if scans > MOST_SCANS or padding > MOST_PADDING:
            raise Unlikely
        if code not in _WITHOUT_LENGTH:
            at += int.from_bytes(raw[at : at + 2], "big")
        yield at
    yield None


def _png(raw: bytes) -> Iterator[int | None]:
    at, name = 8, b""
    while at + 12 <= len(raw) and name != b"IEND":
        name = raw[at + 4 : at + 8]
        at += 12 + int.from_bytes(raw[at : at + 4], "big")
        yield at
    if name != b"IEND" or at > len(raw):
        yield None


def _riff(raw: bytes) -> Iterator[int | None]:
    end = 8 + int.from_bytes(raw[4:8], "little")
    yield end if end <= len(raw) else None


def _boxes(raw: bytes) -> Iterator[int | None]:
    """ISO/IEC 14496-12, 4.2: a size of 1 means that 64 bits follow, 0 that the box goes to the end.

    A second box `ftyp` begins another file.
    """
    at = 0
    while _BOX.match(raw, at) and not (at and raw[at + 4 : at + 8] == b"ftyp"):
        size = int.from_bytes(raw[at : at + 4], "big")
        if size == 1:
            size = int.from_bytes(raw[at + 8 : at + 16], "big")
        if size < 8:
            yield len(raw) if size == 0 else at
            return
        at += size
        yield at if at <= len(raw) else None
