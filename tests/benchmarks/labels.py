"""How many labels are read, and in what time, beside the two readers alone on the same photos.

The photos are rendered at random from seeds that were used for nothing else.
"""

import io
import os
import statistics
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import zxingcpp
from PIL import Image
from pyzbar import pyzbar

from demo_photos.at_random import random_label_photo
from tests.benchmarks.table import Row, at_most, note
from webapp.photos.intake import read_photo
from webapp.photos.label_text import label_of
from webapp.photos.labels import read_labels

COUNTS = {"easy": 20, "medium": 20, "hard": 40}
FILED = 20
FIRST_SEED = 5_000_000
CORES, ROUNDS = 2, 3

Photo = tuple[bytes, str]
Texts = list[str | None]


def rows(folder: Path) -> Iterator[Row]:
    """The rates at each level, and the time for sixty photos."""
    photos = {level: _rendered(level, count) for level, count in COUNTS.items()}
    read = dict.fromkeys(READERS, 0)
    with _no_warnings():
        for level, some in photos.items():
            hits = {name: sum(text in look(raw) for raw, text in some) for name, look in READERS.items()}
            read = {name: read[name] + hits[name] for name in READERS}
            yield _rates(level, hits, len(some), hits["plain pyzbar"] + (level == "hard") * len(some) / 10)
        yield _rates("all", read, sum(COUNTS.values()), read["zxing-cpp"])
        yield from _times([raw for some in photos.values() for raw, _ in some[:FILED]])


def _rates(level: str, hits: dict[str, int], count: int, least: float) -> Row:
    shown = ", ".join(f"{name} {100 * hit / count:.0f} %" for name, hit in hits.items())
    return Row(
        f"labels read, {level} photos ({count})",
        f"≥ {100 * least / count:.0f} %",
        shown,
        hits["ours"] >= least,
    )


def _times(photos: list[bytes]) -> Iterator[Row]:
    """Sixty photos through two threads; the ways take turns, so that a busy moment hits all of them."""
    ways = {"JPEG decoding alone": _decoded, **READERS, "pyzbar for QR symbols only": _pyzbar_qr}
    taken: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(ROUNDS):
        for name, way in ways.items():
            taken[name].append(_seconds(way, photos))
    seconds = {name: statistics.median(rounds) for name, rounds in taken.items()}
    bare = seconds["plain pyzbar"]
    yield at_most(
        f"{len(photos)} photos filed on {CORES} cores", 1.5 * bare, seconds["ours"], "s",
        f"{seconds['ours'] / bare:.2f} × bare decoding",
    )  # fmt: skip
    for name in ways:
        if name != "ours":
            yield note(f"the same photos: {name}", seconds[name], "s")


def _seconds(way: Callable[[bytes], object], photos: list[bytes]) -> float:
    begin = time.perf_counter()
    with ThreadPoolExecutor(CORES) as threads:
        list(threads.map(way, photos))
    return time.perf_counter() - begin


def _rendered(level: str, count: int) -> list[Photo]:
    with ProcessPoolExecutor(CORES) as processes:
        seeds = range(FIRST_SEED, FIRST_SEED + count)
        return list(processes.map(_photo, seeds, [level] * count))


def _photo(seed: int, level: str) -> Photo:
    raw, truth = random_label_photo(seed, level)
    return raw, truth["label"]


def _decoded(raw: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(raw))
    image.load()
    return image


def _ours(raw: bytes) -> Texts:
    """The way a photo sent to the server takes."""
    return [label.text for label in read_labels(read_photo(raw).image)]


def _pyzbar(raw: bytes) -> Texts:
    return [label_of(one.data.decode(errors="replace")) for one in pyzbar.decode(_decoded(raw))]


def _pyzbar_qr(raw: bytes) -> Texts:
    found = pyzbar.decode(_decoded(raw), symbols=[pyzbar.ZBarSymbol.QRCODE])
    return [label_of(one.data.decode(errors="replace")) for one in found]


def _zxing(raw: bytes) -> Texts:
    grey = _decoded(raw).convert("L")
    pixels = memoryview(grey.tobytes()).cast("B", (grey.height, grey.width))
    return [label_of(one.text) for one in zxingcpp.read_barcodes(pixels, zxingcpp.BarcodeFormat.QRCode)]


READERS: dict[str, Callable[[bytes], Texts]] = {"ours": _ours, "plain pyzbar": _pyzbar, "zxing-cpp": _zxing}


@contextmanager
def _no_warnings() -> Iterator[None]:
    """Lets plain pyzbar's library, which writes to standard error past Python, write nowhere."""
    kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    try:
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)
