"""What is asked of a sheet of labels, checked, and how its labels stand on the paper."""

import unicodedata
from collections.abc import Callable
from dataclasses import dataclass

from webapp.errors import BadInput, Sentence
from webapp.photos.label_text import LAST_NUMBER, MODULES, QUIET_MODULES, SIGNS, is_sheet, new_sheet

# Width and height in millimetres: ISO 216 and ANSI/ASME Y14.1.
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MARGIN_MM = 10.0
SMALLEST_MM, LARGEST_MM, USUAL_MM = 10.0, 120.0, 30.0
MOST_AT_ONCE, USUAL_COUNT = 200, 24
LONGEST_LOT = 80

HEAD_MM, TEXT_MM = 28.0, 6.0


@dataclass(frozen=True)
class TagSheet:
    """Labels to be printed: numbers from `first` on, symbols of `side_mm`, a text on top of each page."""

    sheet: str
    first: int
    count: int
    side_mm: float
    paper: str
    lot: str

    @property
    def area_mm(self) -> tuple[float, float]:
        """Width and height of the printed area."""
        width, height = PAPERS[self.paper]
        return width - 2 * MARGIN_MM, height - 2 * MARGIN_MM

    @property
    def cell_mm(self) -> tuple[float, float]:
        """Width and height of a label as it is cut out: symbol, quiet zone, text below."""
        across = self.side_mm * (MODULES + 2 * QUIET_MODULES) / MODULES
        return across, across + TEXT_MM

    @property
    def columns(self) -> int:
        """How many labels stand side by side."""
        return int(self.area_mm[0] / self.cell_mm[0])

    @property
    def pages(self) -> list[list[int]]:
        """The numbers on each page."""
        each = self.columns * int((self.area_mm[1] - HEAD_MM) / self.cell_mm[1])
        numbers = range(self.first, self.first + self.count)
        return [list(numbers[start : start + each]) for start in range(0, self.count, each)]


def tag_sheet(
    sheet: str = "",
    first: str = "1",
    count: str = str(USUAL_COUNT),
    side_mm: str = f"{USUAL_MM:g}",
    paper: str = "a4",
    lot: str = "",
) -> TagSheet:
    """The sheet asked for, as typed; a sheet left empty is a new one at random.

    Raises BadInput for what cannot be printed.
    """
    asked = TagSheet(
        checked_sheet(sheet) or new_sheet(),
        checked_first(first),
        checked_count(count),
        checked_side(side_mm),
        checked_paper(paper),
        checked_lot(lot),
    )
    check_end(asked.first, asked.count)
    return asked


def checked_sheet(text: str) -> str:
    """The sheet in capital letters, or empty; BadInput for other signs."""
    sheet = text.strip().upper()
    if sheet and not is_sheet(sheet):
        raise BadInput(
            Sentence('"{typed}" names no sheet.', typed=text.strip()[:20]),
            Sentence("Give four signs out of {signs}, or none for a new one.", signs=SIGNS),
        )
    return sheet


def checked_first(text: str) -> int:
    """The number of the first label; BadInput when no label can have it."""
    return _whole(
        text, LAST_NUMBER, lambda typed: Sentence('"{typed}" is no number of a label.', typed=typed)
    )


def checked_count(text: str) -> int:
    """How many labels; BadInput for none, too many, or no number."""
    return _whole(
        text,
        MOST_AT_ONCE,
        lambda typed: Sentence('"{typed}" is no count of labels to print at once.', typed=typed),
    )


def _whole(text: str, most: int, refusal: Callable[[str], Sentence]) -> int:
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and 1 <= int(plain[:9]) <= most):
        raise BadInput(refusal(plain[:20]), Sentence("Give a whole number from 1 to {most}.", most=most))
    return int(plain)


def checked_side(text: str) -> float:
    """The symbol's side in millimetres; BadInput for what is no number or cannot be printed well."""
    try:
        side = float(text.strip().replace(",", "."))
    except ValueError:
        side = 0.0
    if not SMALLEST_MM <= side <= LARGEST_MM:
        raise BadInput(
            Sentence('"{typed}" is no side for a symbol.', typed=text.strip()[:20]),
            Sentence(
                "Give millimetres from {smallest} to {largest}; {usual} is a good size.",
                smallest=format(SMALLEST_MM, "g"),
                largest=format(LARGEST_MM, "g"),
                usual=format(USUAL_MM, "g"),
            ),
        )
    return side


def checked_paper(text: str) -> str:
    """The paper's name in small letters; BadInput for another."""
    paper = text.strip().lower()
    if paper not in PAPERS:
        raise BadInput(f'"{text.strip()[:20]}" is no paper known here.', f"Give {' or '.join(PAPERS)}.")
    return paper


def checked_lot(text: str) -> str:
    """The text on top of each page; BadInput when it is too long or cannot be printed."""
    lot = text.strip()
    if len(lot) > LONGEST_LOT:
        raise BadInput(
            Sentence("The name of the lot has {count} signs.", count=len(lot)),
            Sentence("Give at most {most}.", most=LONGEST_LOT),
        )
    if not lot.isprintable():
        raise BadInput(
            Sentence("The name of the lot holds signs that cannot be printed."),
            Sentence("Write it in one line."),
        )
    return lot


def check_end(first: int, count: int) -> None:
    """BadInput when the numbers would go beyond the last one of a sheet."""
    if first + count - 1 > LAST_NUMBER:
        raise BadInput(
            Sentence(
                "{count} labels from {first} would end at {end}; a sheet ends at {last}.",
                count=count,
                first=first,
                end=first + count - 1,
                last=LAST_NUMBER,
            ),
            Sentence("Print at most {most}, or begin a new sheet.", most=LAST_NUMBER - first + 1),
        )


def printed_width(text: str) -> float:
    """How wide a text is at most, in its letters' height; wide signs of East Asian scripts count double."""
    return sum(1.1 if unicodedata.east_asian_width(letter) in "WF" else 0.75 for letter in text)
