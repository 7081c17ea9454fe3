"""Labels against the standard, through libraries of others: printed by a browser, read by two readers."""

import io
import re
from base64 import b64decode
from pathlib import Path

import numpy as np
import pytest
import segno
import zxingcpp
from PIL import Image
from pyzbar import pyzbar

from tests.support.command import run
from tests.support.phone import Phone
from webapp.photos.label_text import payload
from webapp.photos.tag_drawing import tag_pages
from webapp.photos.tags import tag_sheet

INCH_MM = 25.4
# A pixel of CSS is the ninety-sixth part of an inch (W3C, CSS Values and Units, 5.2); the picture is finer.
SCALE = 4
PX_PER_MM = 96 / INCH_MM * SCALE


@pytest.mark.parametrize("number", [1, 7, 500, 999])
def test_the_symbol_is_the_smallest_of_the_standard_at_level_q(number: int) -> None:
    """Source: ISO/IEC 18004, table 7: version 1 at level Q holds 16 alphanumeric signs, at level H 10."""
    free = segno.make(payload("K7Q2", number), error="q", micro=False, boost_error=False)
    assert (free.version, free.error, free.mode) == (1, "Q", "alphanumeric")
    assert len(payload("K7Q2", number)) == 11
    (page,) = tag_pages(tag_sheet("K7Q2", first=str(number), count="1"))
    assert _drawn(page) == {(x, y) for y, row in enumerate(free.matrix) for x, dark in enumerate(row) if dark}


def _drawn(page: str) -> set[tuple[int, int]]:
    """The dark modules of the first symbol of a page."""
    path = re.search(r'class="symbol"[^>]* d="([^"]+)"', page)
    assert path
    runs = re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path[1])
    return {(int(x) + i, int(y)) for x, y, run in runs for i in range(int(run))}


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_printed_labels_are_read_and_have_their_size(
    paper: str, bare_phone: Phone, tmp_path: Path
) -> None:
    """Source: libzbar and zxing-cpp as readers; Chromium's layout for paper, in CSS millimetres."""
    picture = _first_page(bare_phone, _document(tmp_path, paper, 30), tmp_path)
    wanted = {payload("K7Q2", number) for number in range(1, (20 if paper == "a4" else 16) + 1)}
    by_zxing = zxingcpp.read_barcodes(np.asarray(picture), formats=zxingcpp.BarcodeFormat.QRCode)
    assert {one.text for one in by_zxing} == wanted
    for one in by_zxing:
        # Cut along its lines: libzbar does not find twenty on one page.
        begin, end, quiet = one.position.top_left, one.position.bottom_right, int(5.5 * PX_PER_MM)
        label = picture.crop((begin.x - quiet, begin.y - quiet, end.x + quiet, end.y + quiet))
        (same,) = pyzbar.decode(label, symbols=[pyzbar.ZBarSymbol.QRCODE])
        assert same.data.decode() == one.text
        assert same.rect.width / PX_PER_MM == pytest.approx(30, abs=0.2)
        assert same.rect.height / PX_PER_MM == pytest.approx(30, abs=0.2)


def test_the_ruler_is_100_mm_long_on_paper(bare_phone: Phone, tmp_path: Path) -> None:
    picture = _first_page(bare_phone, _document(tmp_path, "a4", 30), tmp_path)
    dark = np.asarray(picture) < 128
    # The ruler is the first row, from the top, with one unbroken dark run of more than half its width.
    runs = (max(map(len, "".join("#" if d else " " for d in row).split()), default=0) for row in dark)
    length = next(run for run in runs if run > 50 * PX_PER_MM)
    assert length / PX_PER_MM == pytest.approx(100, abs=0.1)


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
@pytest.mark.parametrize("side", [30, 75])
def test_the_document_prints_on_as_many_pages_as_it_has(
    paper: str, points: tuple[int, int], side: int, bare_phone: Phone, tmp_path: Path
) -> None:
    """Source: ISO 32000, MediaBox in points of 1/72 inch; the pages as Chromium prints them."""
    document = _document(tmp_path, paper, side)
    driver = bare_phone.driver
    driver.get(document.as_uri())
    answer = driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})  # type: ignore[attr-defined]
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", b64decode(answer["data"]))
    pages = document.read_text(encoding="ascii").count("<svg")
    assert len(boxes) == pages > 1
    assert {(round(float(width)), round(float(height))) for width, height in boxes} == {points}


def _document(folder: Path, paper: str, side: int) -> Path:
    path = folder / "labels.html"
    result = run("tags", "--sheet", "K7Q2", "--paper", paper, "--side-mm", str(side), "--out", str(path))
    assert result.returncode == 0
    return path


def _first_page(phone: Phone, document: Path, folder: Path) -> Image.Image:
    """The first page as it goes onto paper, in grey, SCALE pixels to a CSS pixel."""
    driver = phone.driver
    driver.get(document.as_uri())
    send = driver.execute_cdp_cmd  # type: ignore[attr-defined]
    send("Emulation.setEmulatedMedia", {"media": "print"})
    box = phone.js(
        "const box = document.querySelector('svg').getBoundingClientRect();"
        "return [box.left + scrollX, box.top + scrollY, box.width, box.height];"
    )
    clip = dict(zip(("x", "y", "width", "height"), box, strict=True))
    clip["scale"] = SCALE / phone.js("return devicePixelRatio;")
    shot = send("Page.captureScreenshot", {"format": "png", "clip": clip, "captureBeyondViewport": True})
    return Image.open(io.BytesIO(b64decode(shot["data"]))).convert("L")
