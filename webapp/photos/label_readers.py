"""The two readers of QR symbols, each loaded when first needed and missing without harm."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from PIL import Image

from webapp.errors import ReaderMissing
from webapp.photos.grey import Point

if TYPE_CHECKING:
    from types import ModuleType

PYZBAR, ZXING = "pyzbar", "zxing-cpp"
Corners = tuple[Point, Point, Point, Point]


@dataclass(frozen=True)
class Symbol:
    """A QR symbol that was read: what it holds, its corners going round, and whether they begin top left."""

    held: str
    corners: Corners
    in_order: bool
    reader: str


Reader = Callable[[Image.Image], list[Symbol]]


def readers() -> dict[str, str]:
    """Each reader of labels, and in words what is off about it: empty where it works."""
    return {name: "" if module() else off for name, (module, _, off) in _READERS.items()}


def working() -> dict[str, Reader]:
    """The readers that can run here, the first one first. Raises ReaderMissing when there is none."""
    found = {name: read for name, (module, read, _) in _READERS.items() if module()}
    if not found:
        off = " ".join(readers().values())
        raise ReaderMissing(f"Labels cannot be read on this machine. {off}", "Choose the set by hand.")
    return found


@cache
def _pyzbar() -> "ModuleType | None":
    try:
        # Without the system's libzbar this import fails, though the package is there.
        from pyzbar import pyzbar
    except (ImportError, OSError):
        return None
    return pyzbar


@cache
def _zxing() -> "ModuleType | None":
    try:
        import zxingcpp
    except (ImportError, OSError):
        return None
    return zxingcpp


def _by_pyzbar(grey: Image.Image) -> list[Symbol]:
    pyzbar = _pyzbar()
    assert pyzbar
    # Looking for QR symbols alone takes half the time; the decoders of bars also write warnings to stderr.
    found = pyzbar.decode(grey, symbols=[pyzbar.ZBarSymbol.QRCODE])
    # It gives whole pixels, rounded down, in no promised order.
    outlines = [(one.data, [(x + 0.5, y + 0.5) for x, y in one.polygon]) for one in found]
    return [
        Symbol(data.decode(errors="replace"), _four(outline), False, PYZBAR)
        for data, outline in outlines
        if len(outline) == 4
    ]


def _by_zxing(grey: Image.Image) -> list[Symbol]:
    zxing = _zxing()
    assert zxing
    pixels = memoryview(grey.tobytes()).cast("B", (grey.height, grey.width))
    found = zxing.read_barcodes(pixels, formats=zxing.BarcodeFormat.QRCode)
    return [Symbol(one.text, _outer(one.position), True, ZXING) for one in found]


def _outer(position: Any) -> Corners:
    names = ("top_left", "top_right", "bottom_right", "bottom_left")
    return _four((float(corner.x), float(corner.y)) for corner in (getattr(position, name) for name in names))


def _four(points: Iterable[Point]) -> Corners:
    first, second, third, fourth = points
    return first, second, third, fourth


_READERS: dict[str, tuple[Callable[[], Any], Reader, str]] = {
    PYZBAR: (_pyzbar, _by_pyzbar, "pyzbar is off: install it and the system's libzbar (package libzbar0)."),
    ZXING: (_zxing, _by_zxing, "zxing-cpp is off: install it."),
}
