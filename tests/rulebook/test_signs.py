"""Each caution carries a sign of ISO 7010 that the tables name and the sprite draws in the safety colours."""

from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import brotli
import pytest

from webapp.paths import rules_folder, static_folder
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile
from webapp.rulebook.rows import Caution
from webapp.rulebook.signs import Sign, read_signs

SPRITE = static_folder() / "icons" / "signs.svg"
YELLOW, BLUE, BLACK, WHITE = "#f9a800", "#005387", "#000", "#fff"

# The code and a word of its meaning. W001 to W017: ASR A1.3 (Germany), Annex 1, part 2. W021, W023: public
# source files that name the codes. M002, M021: a table of the mandatory signs used with ASR A1.3 of 2013.
MEANINGS = {
    "W001": "General",
    "W003": "radioactive",
    "W005": "non-ionizing",
    "W012": "electricity",
    "W016": "toxic",
    "W017": "hot surface",
    "W021": "flammable",
    "W023": "corrosive",
    "M002": "instruction manual",
    "M021": "Disconnect before maintenance",
}


def _layers(folder: Path, problems: list[str]) -> Layers:
    return Layers([TableFile(folder / "cautions.toml", folder, problems)])


@pytest.fixture(scope="module")
def shipped() -> Layers:
    """The shipped file of cautions, which must hold no fault in its signs."""
    problems: list[str] = []
    file = _layers(rules_folder(), problems)
    read_signs(file)
    assert problems == []
    return file


@pytest.fixture(scope="module")
def signs(shipped: Layers) -> dict[str, Sign]:
    return {sign.id: sign for sign in read_signs(shipped)}


def _symbols() -> dict[str, ElementTree.Element]:
    root = ElementTree.parse(SPRITE).getroot()
    return {child.attrib["id"]: child for child in root}


def _painted(symbol: ElementTree.Element) -> Iterator[str]:
    for element in symbol.iter():
        yield from (element.attrib[name] for name in ("fill", "stroke") if name in element.attrib)


def test_every_caution_carries_a_sign_that_is_listed_and_drawn(
    shipped: Layers, signs: dict[str, Sign]
) -> None:
    carried = {row.sign for row in shipped.rows("caution", Caution)}
    assert len(carried) > 5
    assert carried <= set(signs)
    assert set(signs) == set(_symbols())


def test_the_codes_mean_what_published_lists_of_the_standard_say(signs: dict[str, Sign]) -> None:
    for code, word in MEANINGS.items():
        assert word in signs[code].name, code
        assert signs[code].basis == "published", code


def test_a_warning_is_yellow_and_black_and_an_order_blue_and_white_in_every_scheme() -> None:
    for code, symbol in _symbols().items():
        painted = set(_painted(symbol)) - {"none"}
        wanted = {YELLOW, BLACK} if code.startswith("W") else {BLUE, WHITE}
        assert wanted <= painted <= wanted | {BLACK}, code
        # Without a fill of its own a shape would take the colour of the page's text.
        assert symbol.attrib["fill"] == BLACK, code
        # Nor can a style reach it: what is painted stands in attributes only.
        assert not any({"class", "style"} & set(element.attrib) for element in symbol.iter()), code


def test_every_sign_fills_the_same_square_and_links_to_nothing() -> None:
    shapes = {"symbol", "g", "path", "circle"}
    for code, symbol in _symbols().items():
        assert symbol.attrib["viewBox"] == "0 0 100 100", code
        assert {element.tag.partition("}")[2] for element in symbol.iter()} <= shapes, code


def test_all_signs_together_are_a_small_file() -> None:
    assert len(brotli.compress(SPRITE.read_bytes())) < 2500


def test_a_caution_whose_sign_is_not_listed_is_told_with_what_was_meant(tmp_path: Path) -> None:
    text = (rules_folder() / "cautions.toml").read_text()
    (tmp_path / "cautions.toml").write_text(text.replace('sign = "W023"', 'sign = "W022"', 1))
    problems: list[str] = []
    read_signs(_layers(tmp_path, problems))
    (told,) = problems
    assert 'caution "leaked-batteries"' in told
    assert 'no sign "W022". Did you mean "W0' in told


def test_a_sign_with_another_code_is_refused(tmp_path: Path) -> None:
    row = '[[sign]]\nid = "skull"\nname = "Poison"\nbasis = "invented"\n'
    (tmp_path / "cautions.toml").write_text(row + '[[caution]]\nid = "one"\n')
    problems: list[str] = []
    assert read_signs(_layers(tmp_path, problems)) == []
    assert "ISO 7010" in problems[0]


def test_a_file_without_signs_has_none_and_no_fault(tmp_path: Path) -> None:
    (tmp_path / "cautions.toml").write_text('[[caution]]\nid = "one"\nsign = "W001"\n')
    problems: list[str] = []
    assert read_signs(_layers(tmp_path, problems)) == []
    assert problems == []
