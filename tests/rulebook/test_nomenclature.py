"""The table of type designations: the shipped one is sound, a broken row gets a sentence with its line."""

from pathlib import Path

import pytest

from tests.support.nameplates import FAMILIES, NAME, nomenclature, read_from
from webapp.paths import rules_folder
from webapp.rulebook.nomenclature import GRAMMAR, WORDS

CALLED = 'set = "{written} is a set'
MISTAKES = [
    ('letter = "B"', 'letter = "b"', ('letter "installation-b"', "one capital letter")),
    ('letter = "B"', 'letter = "BC"', ('letter "installation-b"', "one capital letter")),
    ('place = "installation"', 'place = "platform"', ('letter "installation-a"', "\"place\" is 'platform'")),
    ('period = "all editions"\n', "", ('letter "installation-a"', '"period" is missing', "all editions")),
    ('source = "radio-designation-page"\n', "", ('letter "installation-a"', "needs a source")),
    ('basis = "from memory"', 'basis = "sure"', ('letter "installation-b"', "common practice")),
    ('letter = "B"', 'letter = "A"\nperiods = "x"', ('unknown key "periods"', 'Did you mean "period"')),
    (
        'meaning = "carried by air to where it is used"\nperiod = "from 1943, later withdrawn"',
        'meaning = "carried by air"\nperiod = "late editions"',
        ('letter "installation-c"', 'C as installation has more than one row for "late editions"'),
    ),
    ('id = "installation-b"', 'id = "installation-a"', ('letter "installation-a"', "used twice")),
    ('code = "AM"', 'code = "AMP"', ('indicator "indicator-am"', "one or two capital letters")),
    ('code = "AM"', 'code = "AB"', ('indicator "indicator-ab"', '"AB" has more than one row')),
    ('id = "power-input"', 'id = "power"', ('the row grammar "power-input" is missing',)),
    ('letters = "XYZ"\n', "", ('grammar "power-input"', '"letters" is missing')),
    ('letters = "XYZ"', 'letters = "X-Z"', ('grammar "power-input"', "letters")),
    ('check = "moisture-stamp"', 'check = "stamps"', ('stamp "moisture-proofed"', "moisture-stamp")),
    ("from_year = 1930", "from_year = 1929", ("order", "a year from 1930 to 1969")),
    ("from_year = 1930", 'from_year = "30"', ("order", "a year from 1930 to 1969")),
    ("to_year = 1969", "to_year = 1970", ("order", "a year from 1930 to 1969")),
    ("to_year = 1969", "to_year = 1930\nfrom = 1", ("order", 'unknown key "from"')),
    ("from_year = 1930\nto_year = 1969", "from_year = 1950\nto_year = 1940", ("order", "comes before")),
    ('marks = ["ORDER"', 'marks = ["ORDER NO."', ("order", "'ORDER NO.'", "^[A-Z]+$")),
    ("[order]", "[orders]", ("the table [order] is missing",)),
    ("[[stamp]]", "[[stamps]]\n[[stamp]]", ('unknown table "stamps"', 'Did you mean "stamp"')),
    (CALLED, 'sets = "{written} is a set', ('the sentence "set" is missing',)),
    (CALLED, 'sets = "{written} is a set', ('unknown sentence "sets"', "Did you mean")),
    (CALLED, 'set = "{name} is a set', ("words", "{name}", "not filled there")),
    (CALLED, 'set = "{written is a set', ('"set" has a brace',)),
    ("[words]", "[word]", ("the table [words] is missing",)),
]


def changed(folder: Path, old: str, new: str) -> list[str]:
    """What is said of the shipped file with one passage changed, in its first place."""
    text = (rules_folder() / NAME).read_text(encoding="utf-8")
    assert old in text, f"{NAME} no longer holds {old!r}"
    rules = folder / "rules"
    rules.mkdir()
    (rules / NAME).write_text(text.replace(old, new, 1), encoding="utf-8")
    return read_from(rules)[1]


def test_the_shipped_table_is_without_fault() -> None:
    table, problems = read_from(rules_folder())
    assert problems == []
    assert len(table.letters) > 50
    assert len(table.indicators) > 100
    assert {row.check for row in table.stamps} == {"inspection-stamps", "moisture-stamp"}


@pytest.mark.parametrize(("old", "new", "words"), MISTAKES, ids=[" ".join(m[2])[:70] for m in MISTAKES])
def test_a_broken_row_is_told_with_its_file(
    old: str, new: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    problems = changed(tmp_path, old, new)
    assert [line for line in problems if all(word in line for word in (f"rules/{NAME}", *words))], problems


def test_the_line_of_the_row_is_told(tmp_path: Path) -> None:
    text = (rules_folder() / NAME).read_text(encoding="utf-8")
    line = text[: text.index('id = "installation-b"')].count("\n")
    (problem,) = changed(tmp_path, 'letter = "B"', 'letter = "b"')
    assert f"(line {line})" in problem


def test_only_what_was_seen_in_a_source_is_called_published() -> None:
    """The page on radio type designations shows A, P, V as platforms, R as radio and C as two-way."""
    table, _ = read_from(rules_folder())
    rows = [row for _, row in table.grounds()]
    published = {row for row in rows if row.basis == "published"}
    assert {getattr(row, "id", "") for row in published} == {
        "installation-a", "installation-p", "installation-v", "equipment-r", "purpose-c",
    }  # fmt: skip
    assert {row.source for row in published} == {"radio-designation-page"}
    assert {row.basis for row in rows} == {"published", "common practice", "from memory"}


def test_examples_are_invented_numbers_from_991_up() -> None:
    table, _ = read_from(rules_folder())
    assert {row.id for row in table.grammar} >= set(GRAMMAR)
    plain = [row.example for row in table.grammar if row.id != "training-class"]
    assert [example for example in plain if "99" not in example] == []


def test_the_document_holds_rows_words_and_the_families_given() -> None:
    table, _ = read_from(rules_folder())
    document = nomenclature()
    assert set(document) == {
        "letters", "indicators", "grammar", "stamps", "order", "words", "families",
    }  # fmt: skip
    assert document["families"] == FAMILIES
    assert set(document["words"]) == set(WORDS)
    assert set(document["indicators"]) == {row.code for row in table.indicators}
    assert document["indicators"]["RT"]["meaning"] == "receiver-transmitter"
    assert document["order"]["from_year"] == 1930
