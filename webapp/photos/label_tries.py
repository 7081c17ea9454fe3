"""The ways in which a photo is looked at for labels, from the cheapest to the dearest."""

from collections.abc import Callable
from dataclasses import dataclass

from PIL import Image, ImageChops, ImageFilter

from webapp.photos.label_readers import PYZBAR, ZXING

Picture = Image.Image


@dataclass(frozen=True)
class Try:
    """A picture to make of the grey photo, and who reads it; others step in for readers that are missing."""

    prepared: Callable[[Picture], Picture]
    readers: tuple[str, ...]


def _plain(grey: Picture) -> Picture:
    return grey


def _smooth(grey: Picture) -> Picture:
    """Against noise: each pixel the mean of nine."""
    return grey.filter(ImageFilter.BoxBlur(1))


def _local(grey: Picture) -> Picture:
    """Against shadow and noise: smoothed, less the brightness around."""
    return _sharpened(grey, 1, 8)


def _fine(grey: Picture) -> Picture:
    """Against small modules: enlarged, and the next modules taken out."""
    return _sharpened(_enlarged(grey, 2400), 0, 5)


def _finest(grey: Picture) -> Picture:
    return _sharpened(_enlarged(grey, 3200), 1, 6)


def _sharpened(grey: Picture, near: int, around: int) -> Picture:
    """Three and a half times the difference between the means near and around each pixel."""
    less_noise = grey.filter(ImageFilter.BoxBlur(near)) if near else grey
    return ImageChops.subtract(less_noise, grey.filter(ImageFilter.BoxBlur(around)), scale=2 / 7, offset=128)


def _enlarged(grey: Picture, longest: int) -> Picture:
    """Longer side brought to so many pixels, at most doubled and never made smaller."""
    factor = max(1.0, min(2.0, longest / max(grey.size)))
    width, height = round(grey.width * factor), round(grey.height * factor)
    return grey.resize((width, height), Image.Resampling.BICUBIC)


# Chosen by rate and time on photos rendered at random; zxing-cpp gains most, at a third of the time.
# Smaller pictures, other scales, stretched contrast, thresholds and turns found next to nothing more.
PLAIN = Try(_plain, (PYZBAR, ZXING))
RETRIES = (
    Try(_smooth, (ZXING,)),
    Try(_local, (ZXING,)),
    Try(_fine, (ZXING,)),
    Try(_finest, (ZXING,)),
    Try(_local, (PYZBAR,)),
)
