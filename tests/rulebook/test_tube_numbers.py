"""The table of tube numbers: the shipped one is sound, and a broken row gets a sentence with its line."""

from pathlib import Path

import pytest

from tests.support.reference_tables import problems_after, read_from, tubes
from webapp.paths import rules_folder

NAME = "tube_numbers.toml"
MISTAKES = [
    ('lead = "6"', "lead = 6", ('lead "lead-6"', "a text of figures")),
    ('lead = "6"', 'lead = "06"', ('lead "lead-6"', "a text of figures")),
    ('lead = "6"', 'lead = "5"', ('lead "lead-6"', 'the row "lead-5" speaks of "5" already')),
    ("volts = [6.3]", "volts = 6.3", ('lead "lead-6"', '"volts"')),
    ("volts = [6.3]", "volts = [0]", ('lead "lead-6"', "volts")),
    ("volts = [6.3]", "volt = [6.3]", ('unknown key "volt"', 'Did you mean "volts"')),
    ('id = "lead-7"', 'id = "lead-6"', ('lead "lead-6"', "used twice")),
    ('source = "designation-museum-page"\nwhy = "14', 'why = "14', ('lead "lead-14"', "needs a source")),
    ('letters = "IO"', 'letters = "io"', ("not_used", "capital letters")),
    ('letter = "P"', 'letter = "PP"', ("cathode_ray", "one capital letter")),
    ("fewest_figures = 2", "fewest_figures = 4", ("older", "must not be above most_figures")),
    ("first = 5500", "first = 5500.5", ("industrial", "a whole number")),
    ("[serials]", "[serial]", ("the table [serials] is missing",)),
    ('digit = "2"', 'digit = "0"', ('power_class "class-2"', "one figure")),
    ('digit = "2"', 'digit = "1"', ('power_class "class-2"', 'speaks of "1" already')),
    ('letter = "C"', 'letter = "D"', ('letter "letter-d"', 'the row "letter-c" speaks of "D" already')),
    ('suffix = "GTG"', 'suffix = "GT-G"', ('suffix "suffix-gtg"', "capital letters")),
    ("{power}", "{watts}", ("words", "{watts}", "not filled there")),
    ("empty =", "emptied =", ('the sentence "empty" is missing',)),
]


def test_the_shipped_table_is_without_fault() -> None:
    tables, problems = read_from(rules_folder(), NAME)
    assert problems == []
    assert len(tables.leads) >= 15
    assert len(tables.power_classes) == 9


@pytest.mark.parametrize(("old", "new", "words"), MISTAKES, ids=[" ".join(m[2])[:70] for m in MISTAKES])
def test_a_broken_row_is_told_with_its_file(
    old: str, new: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    problems = problems_after(tmp_path, NAME, old, new)
    assert [line for line in problems if all(word in line for word in (f"rules/{NAME}", *words))], problems


def test_the_line_of_the_row_is_told(tmp_path: Path) -> None:
    text = (rules_folder() / NAME).read_text(encoding="utf-8")
    line = text[: text.index('id = "lead-6"')].count("\n")
    (problem,) = problems_after(tmp_path, NAME, "volts = [6.3]", "volts = 6.3")
    assert f"(line {line})" in problem


def test_every_row_says_what_it_rests_on_and_published_rows_name_a_source() -> None:
    tables, _ = read_from(rules_folder(), NAME)
    grounds = tables.grounds()
    assert len(grounds) > 50
    for where, row in grounds:
        assert (row.basis == "published") == (row.source is not None), where


def test_only_the_cold_cathode_has_no_volts_and_the_order_of_the_rows_is_kept() -> None:
    tables, _ = read_from(rules_folder(), NAME)
    assert [row["lead"] for row in tubes()["leads"] if not row["volts"]] == ["0"]
    assert [row["id"] for row in tubes()["leads"]] == [row.id for row in tables.leads]
