"""Pages of labels as drawings (SVG) in millimetres, and the whole as one document."""

from collections.abc import Callable, Iterable

import segno
from markupsafe import Markup, escape

from webapp.errors import Sentence
from webapp.photos.label_text import MODULES, QUIET_MODULES, in_words, payload
from webapp.photos.tags import HEAD_MM, TEXT_MM, TagSheet, printed_width

RULER_MM = 100
MEASURE_IT = Sentence(
    "Measure this line. If it is not {mm} mm, print again at 100 %, "
    "or give the side you measured when measuring.",
    mm=RULER_MM,
)
_RULER_FROM_TOP = 17.0
Say = Callable[[Sentence], str]


def tag_pages(asked: TagSheet, say: Say = str) -> list[Markup]:
    """Each page as one drawing, to be shown at the size it names; `say` gives a sentence as it is printed."""
    return [_page(asked, page, say) for page in range(len(asked.pages))]


def tag_document(asked: TagSheet, style: str) -> str:
    """A self-contained HTML document of all pages in ASCII; `style` is the text of the style sheet."""
    title = f"Labels {in_words(asked.sheet, asked.first)} to {in_words(asked.sheet, asked.pages[-1][-1])}"
    lines = [
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">',
        f"<title>{title}</title>\n<style>\n{style}</style>\n</head>",
        f'<body>\n<main class="tags paper-{asked.paper}">',
        *tag_pages(asked),
        "</main>\n</body>\n</html>",
    ]
    return "\n".join(lines).encode("ascii", "xmlcharrefreplace").decode()


def _page(asked: TagSheet, page: int, say: Say) -> Markup:
    width, height = asked.area_mm
    across, down = asked.cell_mm
    numbers = asked.pages[page]
    first, last = in_words(asked.sheet, numbers[0]), in_words(asked.sheet, numbers[-1])
    spoken = Sentence(
        "Labels {first} to {last}, page {page} of {pages}",
        first=first, last=last, page=page + 1, pages=len(asked.pages),
    )  # fmt: skip
    parts = [f'<rect width="{width:g}" height="{height:g}" fill="#fff"/>', *_head(asked, page, say)]
    for place, number in enumerate(numbers):
        row, column = divmod(place, asked.columns)
        parts.append(_label(asked, number, column * across, HEAD_MM + row * down))
    return Markup(
        f'<svg class="tag-page" xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-label="{escape(say(spoken))}" '
        f'width="{width:g}mm" height="{height:g}mm" viewBox="0 0 {width:g} {height:g}" '
        f'font-family="sans-serif" fill="#000">\n' + "\n".join(parts) + "\n</svg>"
    )


def _head(asked: TagSheet, page: int, say: Say) -> Iterable[str]:
    """The lot's name, what is on the page, and the ruler that tells whether the printer keeps the size."""
    numbers = asked.pages[page]
    holds = Sentence(
        "{first} to {last}, symbols {mm} mm a side, page {page} of {pages}",
        first=in_words(asked.sheet, numbers[0]), last=format(numbers[-1], "03d"),
        mm=format(asked.side_mm, "g"), page=page + 1, pages=len(asked.pages),
    )  # fmt: skip
    size = min(5.0, asked.area_mm[0] / max(printed_width(asked.lot), 1.0))
    if asked.lot:
        yield f'<text y="5" font-size="{size:.2f}" font-weight="bold">{escape(asked.lot)}</text>'
    yield f'<text y="11" font-size="3.5">{escape(say(holds))}</text>'
    yield _ruler(_RULER_FROM_TOP)
    yield f'<text y="{_RULER_FROM_TOP + 5.5:g}" font-size="3.2">{escape(say(MEASURE_IT))}</text>'


def _ruler(y: float) -> str:
    """A line whose outer ends, with the ticks there, are 100 mm apart; a tick every 5 mm."""
    ticks = []
    for mm in range(0, RULER_MM + 1, 5):
        x = min(max(mm, 0.1), RULER_MM - 0.1)
        ticks.append(f"M{x:g} {y:g}v-{3 if mm % 50 == 0 else 2 if mm % 10 == 0 else 1.2}")
    return (
        f'<path class="ruler" d="M0 {y:g}h{RULER_MM}{"".join(ticks)}" fill="none" stroke="#000" '
        'stroke-width="0.2"/>'
    )


def _label(asked: TagSheet, number: int, x: float, y: float) -> str:
    across, down = asked.cell_mm
    module = asked.side_mm / MODULES
    quiet = QUIET_MODULES * module
    text = in_words(asked.sheet, number)
    letters = min(5.0, max(2.2, asked.side_mm * 0.16))
    return (
        f'<g transform="translate({x:.4g} {y:.4g})">'
        f'<rect width="{across:.4f}" height="{down:.4f}" fill="none" stroke="#999" stroke-width="0.15" '
        'stroke-dasharray="1.5 1.5"/>'
        f'<path class="symbol" transform="translate({quiet:.4f} {quiet:.4f}) scale({module:.6f})" '
        f'd="{_symbol(payload(asked.sheet, number))}"/>'
        f'<text x="{across / 2:.4f}" y="{down - TEXT_MM / 2 + letters * 0.3:.4f}" text-anchor="middle" '
        f'font-size="{letters:g}" font-family="monospace" font-weight="bold">{text}</text></g>'
    )


def _symbol(held: str) -> str:
    """A label's symbol as a path: ISO/IEC 18004, version 1, level Q."""
    return dark_modules(segno.make(held, version=1, error="q", mode="alphanumeric", boost_error=False))


def dark_modules(symbol: segno.QRCode) -> str:
    """The dark modules of a symbol as a path, a module being one unit."""
    steps = []
    for y, row in enumerate(symbol.matrix):
        x = 0
        while x < len(row):
            run = 0
            while x + run < len(row) and row[x + run]:
                run += 1
            if run:
                steps.append(f"M{x} {y}h{run}v1h-{run}z")
            x += max(run, 1)
    return "".join(steps)
