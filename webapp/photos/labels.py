"""Reads the labels in a photo: plainly with both readers, then with dearer tries while none is found."""

import time
from dataclasses import dataclass

from PIL import Image

from webapp.photos.grey import Grey
from webapp.photos.label_corners import in_reading_order
from webapp.photos.label_readers import Corners, Reader, Symbol, working
from webapp.photos.label_text import label_of
from webapp.photos.label_tries import PLAIN, RETRIES, Try

LONGEST_SIDE = 2400
# No try begins later than this; the dearest takes half a second on a photo of 2,400 pixels.
LONGEST_SECONDS = 1.4


@dataclass(frozen=True)
class FoundLabel:
    """A label in words, its corners in pixels of the photo in the order it is read, and who read it."""

    text: str
    corners: Corners
    reader: str


@dataclass(frozen=True)
class Look:
    """What a look at a photo found: labels of ours, and how many other QR symbols."""

    labels: list[FoundLabel]
    others: int


def read_labels(image: Image.Image) -> list[FoundLabel]:
    """The labels in a photo; none is an answer too. Raises ReaderMissing when no reader is installed."""
    return look_for_labels(image).labels


def look_for_labels(image: Image.Image) -> Look:
    """The labels and other symbols in a photo. Raises ReaderMissing when no reader is installed."""
    available = working()
    grey = image.convert("L")
    factor = min(1.0, LONGEST_SIDE / max(grey.size))
    if factor < 1.0:
        size = (max(1, round(grey.width * factor)), max(1, round(grey.height * factor)))
        grey = grey.resize(size, Image.Resampling.BOX, reducing_gap=None)
    symbols = _symbols(grey, available)
    return _sorted_out(symbols, grey, image.width / grey.width, image.height / grey.height)


def _symbols(grey: Image.Image, available: dict[str, Reader]) -> list[Symbol]:
    """The symbols of the first try that reads a label, else all others that were read."""
    begin = time.monotonic()
    symbols = _tried(grey, PLAIN, available)
    for retry in RETRIES:
        if any(label_of(symbol.held) for symbol in symbols) or time.monotonic() - begin > LONGEST_SECONDS:
            break
        symbols += _tried(grey, retry, available)
    return symbols


def _tried(grey: Image.Image, one: Try, available: dict[str, Reader]) -> list[Symbol]:
    """What the readers of a try see, in pixels of the grey photo."""
    picture = one.prepared(grey)
    across, down = grey.width / picture.width, grey.height / picture.height
    read_by = [available[name] for name in one.readers if name in available] or list(available.values())
    return [_scaled(symbol, across, down) for read in read_by for symbol in read(picture)]


def _scaled(symbol: Symbol, across: float, down: float) -> Symbol:
    first, second, third, fourth = ((x * across, y * down) for x, y in symbol.corners)
    return Symbol(symbol.held, (first, second, third, fourth), symbol.in_order, symbol.reader)


def _sorted_out(symbols: list[Symbol], grey: Image.Image, across: float, down: float) -> Look:
    """Labels, each once, apart from the others; corners in reading order and in pixels of the photo."""
    labels: dict[str, FoundLabel] = {}
    photo = Grey(grey.width, grey.height, grey.tobytes())
    for symbol in symbols:
        text = label_of(symbol.held)
        if text and text not in labels:
            corners = symbol.corners if symbol.in_order else in_reading_order(photo, symbol.corners)
            if corners:
                first, second, third, fourth = ((x * across, y * down) for x, y in corners)
                labels[text] = FoundLabel(text, (first, second, third, fourth), symbol.reader)
    others = {symbol.held for symbol in symbols if not label_of(symbol.held)}
    return Look(list(labels.values()), len(others))
