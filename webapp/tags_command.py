"""The command `underchassis tags`: a printable sheet of labels as one document."""

import argparse
from pathlib import Path

from webapp.paths import static_folder
from webapp.photos.tags import (
    LARGEST_MM,
    LAST_NUMBER,
    MOST_AT_ONCE,
    PAPERS,
    SMALLEST_MM,
    USUAL_COUNT,
    USUAL_MM,
    tag_sheet,
)


def add_options(parser: argparse.ArgumentParser) -> None:
    """Gives the command its options; all are taken as text and checked together, like those of the page."""
    sizes = f"{SMALLEST_MM:g} to {LARGEST_MM:g}"
    for name, metavar, default, help_text in (
        ("--sheet", "SIGNS", "", "the sheet's four signs, such as K7Q2 (default: a new sheet at random)"),
        ("--from", "NUMBER", "1", f"first number, 1 to {LAST_NUMBER} (default: 1)"),
        ("--count", "COUNT", str(USUAL_COUNT), f"how many, 1 to {MOST_AT_ONCE} (default: {USUAL_COUNT})"),
        ("--side-mm", "MM", f"{USUAL_MM:g}", f"side of a symbol, {sizes} (default: {USUAL_MM:g})"),
        ("--paper", "PAPER", "a4", f"{' or '.join(PAPERS)} (default: a4)"),
        ("--lot", "TEXT", "", "a text on top of each page"),
    ):
        parser.add_argument(name, metavar=metavar, default=default, help=help_text)
    parser.add_argument("--out", type=Path, metavar="FILE", help="write there (default: standard output)")


def document_of(options: argparse.Namespace) -> str:
    """The document that the options ask for. Raises BadInput for what cannot be printed."""
    from webapp.photos.tag_drawing import tag_document

    asked = tag_sheet(
        options.sheet, getattr(options, "from"), options.count, options.side_mm, options.paper, options.lot
    )
    style = (static_folder() / "css" / "tags.css").read_text(encoding="utf-8")
    return tag_document(asked, style)
