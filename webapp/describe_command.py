"""The command `underchassis describe`: a findings file in, its description out."""

import argparse
import math
from datetime import date
from pathlib import Path
from typing import Any

from babel.core import Locale
from markupsafe import Markup

from webapp.appraisal.describing.describe import Wishes
from webapp.appraisal.findings import read_findings
from webapp.errors import BadInput
from webapp.pages.appraising import prepared_for
from webapp.pages.describing import Seller, described
from webapp.pages.description_text import description_text
from webapp.pages.habits import Habits
from webapp.paths import static_folder
from webapp.rulebook.book import Rulebook

_STYLES = ("app.css", "holes.css", "description.css")
_LONGEST = 4000
_MOST_MONEY = 1e12


def add_options(parser: argparse.ArgumentParser) -> None:
    """Gives the command its options."""
    parser.add_argument("file", metavar="FILE", help="a findings file, or - for standard input")
    parser.add_argument("--format", choices=("text", "html"), default="text", help="default: text")
    parser.add_argument("--short", action="store_true", help="for a notice or a card on the table")
    parser.add_argument("--title", default="", metavar="TEXT", help="your name for it")
    parser.add_argument("--words", default="", metavar="TEXT", help="your own words, shown apart")
    parser.add_argument(
        "--asked", metavar="AMOUNT", help="what you ask, in the findings' currency; left out: no price"
    )
    parser.add_argument(
        "--range", action="store_true", help="tell what the market would pay, with the reasons"
    )
    parser.add_argument("--units", choices=("mm", "inch"), default="mm", help="lengths in (default: mm)")
    parser.add_argument("--out", type=Path, metavar="FILE", help="write there (default: standard output)")


def document_of(options: argparse.Namespace, book: Rulebook, findings: Any, today: date) -> str:
    """The description that the options ask for, in the language of the tables.

    Raises BadFindings, NotKnown and BadInput.
    """
    seller = _seller(options, today)
    prepared = prepared_for(book, findings)
    dated = findings if findings.get("today") is not None else {**findings, "today": today.isoformat()}
    habits = Habits(book.language.code, Locale.parse(book.language.code), options.units)
    view = described(prepared, read_findings(dated, prepared), seller, habits)
    if options.format == "text":
        return description_text(view, short=options.short).rstrip("\n")
    return _paper({**view, "sections": []} if options.short else view, habits)


def _seller(options: argparse.Namespace, today: date) -> Seller:
    for name in ("title", "words"):
        if len(getattr(options, name)) > _LONGEST:
            raise BadInput(f"--{name} is longer than {_LONGEST} letters.", "Shorten it.")
    asked = _amount(options.asked)
    price = "range" if options.range else "none" if asked is None else "asked"
    return Seller(options.title, options.words, Wishes(price, asked, None, today))


def _amount(text: str | None) -> float | None:
    if text is None:
        return None
    try:
        amount = float(text)
    except ValueError:
        amount = math.nan
    if not 0 <= amount <= _MOST_MONEY:
        raise BadInput(f'--asked is "{text[:60]}".', "Expected an amount from 0 upward, such as 120.")
    return amount


def _paper(view: dict[str, Any], habits: Habits) -> str:
    """The page as one file that needs nothing else."""
    from jinja2 import Environment, PackageLoader

    static = static_folder()
    style = "\n".join((static / "css" / name).read_text(encoding="utf-8") for name in _STYLES)
    symbols = (static / "icons" / "signs.svg").read_text(encoding="utf-8")
    page = Environment(loader=PackageLoader("webapp.pages"), autoescape=True, trim_blocks=True).get_template(
        "description_paper.html"
    )
    # Styles and signs are files of ours, shipped with the program.
    return page.render(view=view, habits=habits, style=Markup(style), symbols=Markup(symbols))
