"""The tag to tape on a set for sale: the QR symbol of its description's address, as a drawing (SVG) in mm."""

from html import escape

import segno

from webapp.photos.label_text import QUIET_MODULES
from webapp.photos.tag_drawing import dark_modules

HEADING = "What its seller found: scan"
SIDE_MM, HEAD_MM, LETTERS_MM, LINE_MM, FOOT_MM = 50.0, 7.0, 2.2, 3.0, 1.5
# As many letters of one width as fit a line: one is at most 0.62 of its height wide.
LINE_LETTERS = int(SIDE_MM / (LETTERS_MM * 0.62))


def share_tag(address: str) -> str:
    """The symbol with its quiet zone, a line above it and the address below it: ISO/IEC 18004, level M."""
    symbol = segno.make(address, error="m", micro=False, boost_error=False)
    modules = symbol.symbol_size(border=0)[0]
    module = SIDE_MM / (modules + 2 * QUIET_MODULES)
    quiet = QUIET_MODULES * module
    lines = _lines(address)
    height = HEAD_MM + SIDE_MM + LINE_MM * len(lines) + FOOT_MM
    return "\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(f"{HEADING}: {address}")}" '
        f'width="{SIDE_MM:g}mm" height="{height:g}mm" viewBox="0 0 {SIDE_MM:g} {height:g}" fill="#000">',
        f'<rect width="{SIDE_MM:g}" height="{height:g}" fill="#fff"/>',
        f'<text x="{SIDE_MM / 2:g}" y="5" text-anchor="middle" font-size="2.8" font-family="sans-serif" '
        f'font-weight="bold">{HEADING}</text>',
        f'<path class="symbol" transform="translate({quiet:.4f} {HEAD_MM + quiet:.4f}) '
        f'scale({module:.6f})" d="{dark_modules(symbol)}"/>',
        *(
            f'<text x="{SIDE_MM / 2:g}" y="{HEAD_MM + SIDE_MM + LINE_MM * number:g}" text-anchor="middle" '
            f'font-size="{LETTERS_MM:g}" font-family="monospace">{escape(line)}</text>'
            for number, line in enumerate(lines, 1)
        ),
        "</svg>",
    ])  # fmt: skip


def _lines(address: str) -> list[str]:
    """The address cut to lines that fit, where it goes on from the server to the page above all."""
    server, slash, page = address.partition("/d/")
    return [
        part[start : start + LINE_LETTERS]
        for part in (server, slash + page)
        for start in range(0, len(part), LINE_LETTERS)
    ]
