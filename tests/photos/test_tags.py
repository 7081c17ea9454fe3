"""Sheets of labels: what may be asked for, where the labels stand, what the drawing says."""

import itertools
import re

import pytest

from webapp.errors import BadInput
from webapp.photos.label_text import is_sheet
from webapp.photos.tag_drawing import MEASURE_IT, tag_document, tag_pages
from webapp.photos.tags import HEAD_MM, PAPERS, TagSheet, tag_sheet

SIDES = ["10", "18.5", "30", "42", "75", "120"]


def test_nothing_asked_gives_24_labels_of_30_mm_on_a_new_sheet() -> None:
    asked = tag_sheet()
    assert is_sheet(asked.sheet)
    assert (asked.first, asked.count, asked.side_mm, asked.paper, asked.lot) == (1, 24, 30.0, "a4", "")


def test_what_is_typed_is_taken_in_any_case_and_with_a_decimal_comma() -> None:
    asked = tag_sheet(" k7q2 ", "7", " 12", "25,5", "LETTER", "  Petrel Street lot ")
    assert asked == TagSheet("K7Q2", 7, 12, 25.5, "letter", "Petrel Street lot")


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"sheet": "K7Q"}, '"K7Q" names no sheet. Give four signs out of 2345'),
        ({"sheet": "K0Q2"}, "names no sheet"),
        ({"sheet": "K7Q2 K7Q3"}, "names no sheet"),
        ({"first": "0"}, '"0" is no number of a label. Give a whole number from 1 to 999.'),
        ({"first": "1000"}, "no number of a label"),
        ({"first": "-1"}, "no number of a label"),
        ({"first": "٣"}, "no number of a label"),
        ({"count": "0"}, '"0" is no count of labels to print at once. Give a whole number from 1 to 200.'),
        ({"count": "201"}, "no count of labels"),
        ({"count": "9" * 5000}, "no count of labels"),
        ({"count": ""}, '"" is no count'),
        ({"count": "12.5"}, "no count of labels"),
        ({"first": "990"}, "24 labels from 990 would end at 1013; a sheet ends at 999. Print at most 10,"),
        ({"side_mm": "9.9"}, '"9.9" is no side for a symbol. Give millimetres from 10 to 120'),
        ({"side_mm": "121"}, "no side for a symbol"),
        ({"side_mm": "nan"}, "no side for a symbol"),
        ({"side_mm": "inf"}, "no side for a symbol"),
        ({"side_mm": "wide"}, "no side for a symbol"),
        ({"paper": "a3"}, '"a3" is no paper known here. Give a4 or letter.'),
        ({"lot": "x" * 81}, "has 81 signs. Give at most 80."),
        ({"lot": "two\nlines"}, "signs that cannot be printed"),
        ({"lot": "\udc80"}, "signs that cannot be printed"),
    ],
)
def test_what_cannot_be_printed_is_refused_in_words(given: dict[str, str], words: str) -> None:
    with pytest.raises(BadInput, match=re.escape(words)):
        tag_sheet(**given)


@pytest.mark.parametrize(("paper", "side"), list(itertools.product(PAPERS, SIDES)))
def test_every_label_stands_whole_on_its_page(paper: str, side: str) -> None:
    asked = tag_sheet(count="200", side_mm=side, paper=paper)
    width, height = asked.area_mm
    across, down = asked.cell_mm
    for numbers in asked.pages:
        rows = -(-len(numbers) // asked.columns)
        assert asked.columns * across <= width
        assert HEAD_MM + rows * down <= height


@pytest.mark.parametrize(("paper", "side"), list(itertools.product(PAPERS, SIDES)))
def test_numbers_run_on_over_all_pages(paper: str, side: str) -> None:
    asked = tag_sheet(first="5", count="61", side_mm=side, paper=paper)
    assert [number for page in asked.pages for number in page] == list(range(5, 66))


def test_the_quiet_zone_of_four_modules_is_kept_all_round() -> None:
    """Source: ISO/IEC 18004: the quiet zone is four modules wide on all four sides."""
    asked = tag_sheet(side_mm="21")
    (page,) = tag_pages(tag_sheet(count="1", side_mm="21"))
    assert asked.cell_mm[0] == pytest.approx(21 + 2 * 4)
    assert 'class="symbol" transform="translate(4.0000 4.0000) scale(1.000000)"' in page
    (text_top,) = re.findall(r'y="([\d.]+)" text-anchor="middle" font-size="([\d.]+)"', page)
    assert float(text_top[0]) - float(text_top[1]) * 0.75 > 4 + 21 + 4


def test_each_page_names_its_labels_and_has_the_ruler_with_its_sentence() -> None:
    pages = tag_pages(tag_sheet("K7Q2", count="45", lot="Petrel Street lot"))
    assert len(pages) == 3
    for page in pages:
        assert page.count('class="ruler"') == 1
        assert MEASURE_IT in page
        assert "Petrel Street lot" in page
    assert "K7Q2-041 to 045, symbols 30 mm a side, page 3 of 3" in pages[2]
    printed = [text for page in pages for text in re.findall(r">(K7Q2-\d{3})</text>", page)]
    assert printed == [f"K7Q2-{number:03d}" for number in range(1, 46)]


def test_the_lot_is_text_whatever_stands_in_it() -> None:
    document = tag_document(tag_sheet(lot='</svg><script>alert("1")</script> Ünder 蔵'), "")
    assert "<script>" not in document
    assert "&lt;/svg&gt;&lt;script&gt;" in document
    assert document.isascii()
    assert "&#220;nder &#34101;" in document


def test_a_long_lot_is_printed_smaller_so_that_it_stays_on_the_page() -> None:
    (page,) = tag_pages(tag_sheet(count="1", lot="W" * 80))
    (size,) = re.findall(r'y="5" font-size="([\d.]+)"', page)
    # No letter of the usual fonts is wider than it is high.
    assert 80 * float(size) * 0.75 <= 190.5
