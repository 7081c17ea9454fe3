"""Labels found in photos: their text, their corners, and what happens without a reader."""

import subprocess
import sys
import time

import numpy as np
import pytest
from PIL import Image, ImageFilter, ImageOps

from tests.support.label_photos import Corners, noisy, panel, paste, square, with_label, worst_corner
from webapp.photos.label_readers import PYZBAR, ZXING, readers, working
from webapp.photos.label_tries import PLAIN
from webapp.photos.labels import LONGEST_SIDE, look_for_labels, read_labels

HELD, TEXT = "UC:K7Q2:007", "K7Q2-007"
# Where the refining of corners can still begin.
NEAR = 0.025


def test_a_label_is_read_by_the_first_reader() -> None:
    (found,) = read_labels(with_label(HELD, square((400, 300), 200)))
    assert (found.text, found.reader) == (TEXT, PYZBAR)


@pytest.mark.parametrize("tilt", [0, 25, 45])
@pytest.mark.parametrize("turn", range(0, 360, 24))
def test_corners_come_in_the_order_in_which_the_label_is_read(turn: int, tilt: int) -> None:
    corners = square((400, 300), 240, turn, tilt)
    (found,) = read_labels(with_label(HELD, corners))
    assert worst_corner(list(found.corners), corners) < NEAR


@pytest.mark.parametrize("turn", range(0, 360, 40))
def test_the_second_reader_gives_the_same_corners(turn: int) -> None:
    corners = square((400, 300), 240, turn, 30)
    (symbol,) = working()[ZXING](with_label(HELD, corners).convert("L"))
    assert symbol.in_order
    assert worst_corner(list(symbol.corners), corners) < NEAR


def test_corners_are_those_of_the_photo_when_it_was_reduced_for_reading() -> None:
    corners = square((2600, 1900), 600, 100, 20)
    photo = with_label(HELD, corners, 4000, 3000)
    assert max(photo.size) > LONGEST_SIDE
    (found,) = read_labels(photo)
    assert worst_corner(list(found.corners), corners) < NEAR


def test_all_labels_of_a_photo_are_given_once() -> None:
    places = {"K7Q2-001": (180, 180), "K7Q2-002": (600, 200), "M3XY-999": (380, 430)}
    picture = panel()
    for turn, (text, middle) in enumerate(places.items()):
        paste(picture, f"UC:{text.replace('-', ':')}", square(middle, 150, turn * 35))
    found = {label.text: label for label in read_labels(picture)}
    assert found.keys() == places.keys()
    for text, middle in places.items():
        assert np.allclose(np.mean(found[text].corners, axis=0), middle, atol=3)


def test_a_symbol_of_others_is_counted_and_no_label() -> None:
    look = look_for_labels(with_label("https://example.org/lot/12", square((400, 300), 250)))
    assert (look.labels, look.others) == ([], 1)


def test_a_symbol_of_others_does_not_hide_a_label() -> None:
    picture = panel()
    paste(picture, "https://example.org/lot/12", square((200, 300), 220))
    paste(picture, HELD, square((580, 300), 180, 10))
    look = look_for_labels(picture)
    assert ([label.text for label in look.labels], look.others) == ([TEXT], 1)


def test_a_label_in_a_mirror_is_read() -> None:
    found = read_labels(ImageOps.mirror(with_label(HELD, square((400, 300), 240))))
    assert [label.text for label in found] == [TEXT]


def _far_and_dim(seed: int) -> tuple[Image.Image, Corners]:
    """A label of two pixels a module, out of focus, in noise."""
    random = np.random.default_rng(seed)
    corners = square(
        (random.uniform(150, 650), random.uniform(150, 450)),
        random.uniform(42, 52),
        random.uniform(0, 360),
        25,
    )
    sharp = with_label(HELD, corners).filter(ImageFilter.GaussianBlur(1.0))
    return noisy(sharp, 6, seed), corners


def test_further_tries_read_what_both_readers_miss_plainly() -> None:
    """Seeds of their own, not those on which the tries were chosen."""
    photos = [_far_and_dim(seed) for seed in range(500, 524)]
    plainly = 0
    for photo, _ in photos:
        grey = photo.convert("L")
        seen = [symbol.held for read in working().values() for symbol in read(grey)]
        plainly += HELD in seen
    ours = [worst_corner(list(label.corners), corners)
            for photo, corners in photos for label in read_labels(photo) if label.text == TEXT]  # fmt: skip
    assert len(ours) >= plainly + 6
    assert np.median(ours) < NEAR


@pytest.mark.parametrize("size", [(1, 1), (3, 2), (16, 16), (5000, 16), (40, 2000)])
@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA", "CMYK"])
def test_no_size_or_kind_of_picture_is_a_problem(size: tuple[int, int], mode: str) -> None:
    assert read_labels(Image.new(mode, size)) == []


def test_a_photo_without_a_label_ends_in_bounded_time_and_silently(capfd: pytest.CaptureFixture[str]) -> None:
    photo = noisy(panel(1600, 1200), 60, 1)
    begin = time.process_time()
    assert look_for_labels(photo).labels == []
    assert time.process_time() - begin < 2
    assert capfd.readouterr() == ("", "")


def test_every_reader_works_here() -> None:
    assert readers() == {PYZBAR: "", ZXING: ""}
    assert PLAIN.readers == (PYZBAR, ZXING)


# In a process of its own, before anything is imported: as it is where the library or the package is missing.
NO_LIBRARY = "import ctypes.util; find = ctypes.util.find_library; "
NO_LIBRARY += "ctypes.util.find_library = lambda name: None if 'zbar' in name else find(name); "
NO_ZXING = "import sys; sys.modules['zxingcpp'] = None; "
READ = """
from tests.support.label_photos import square, with_label
from webapp.errors import ReaderMissing
from webapp.photos.label_readers import readers
from webapp.photos.labels import read_labels
import webapp.app
for line in filter(None, readers().values()):
    print(line)
try:
    print(read_labels(with_label("UC:K7Q2:007", square((400, 300), 200, 30)))[0].text)
except ReaderMissing as refusal:
    print(refusal)
"""


def _run(script: str) -> list[str]:
    return subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=120
    ).stdout.splitlines()


def test_without_the_system_library_the_other_reader_reads_on() -> None:
    assert _run(NO_LIBRARY + READ) == [
        "pyzbar is off: install it and the system's libzbar (package libzbar0).", TEXT
    ]  # fmt: skip


def test_without_the_second_reader_the_first_reads_on() -> None:
    assert _run(NO_ZXING + READ) == ["zxing-cpp is off: install it.", TEXT]


def test_without_any_reader_the_app_starts_and_says_so() -> None:
    *off, refused = _run(NO_LIBRARY + NO_ZXING + READ)
    assert len(off) == 2
    assert refused.startswith("Labels cannot be read on this machine. pyzbar is off")
