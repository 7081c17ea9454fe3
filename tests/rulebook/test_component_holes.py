"""The table of holes: the shipped one is sound, and a broken row gets a sentence with file and line."""

from pathlib import Path

import pytest

from tests.support.reference_tables import holes, problems_after, read_from
from webapp.paths import rules_folder

NAME = "component_holes.toml"
JACK = 'from_mm = 9.5\nto_mm = 10.0\nextra = "No locating hole."'
MISTAKES = [
    (JACK, JACK.replace("10.0", "9.0"), ('component "phone-jack"', "from_mm must not be above to_mm")),
    (JACK, JACK.replace("9.5", "-1"), ('component "phone-jack"', "a number above 0")),
    (JACK, JACK.replace("9.5", '"9.5"'), ('component "phone-jack"', "a number above 0")),
    (JACK, JACK.replace("9.5", "nan"), ('component "phone-jack"', "a number above 0")),
    (JACK, JACK.replace("from_mm", "form_mm"), ('unknown key "form_mm"', 'Did you mean "from_mm"')),
    ('id = "small-phone-jack"', 'id = "phone-jack"', ('component "phone-jack"', "used twice")),
    ('kind = "jack"', 'kind = "hole"', ('component "phone-jack"', '"kind"')),
    ('label = "phone jack (1/4 in)"', f'label = "{"x" * 41}"', ('component "phone-jack"', "40 letters")),
    ('basis = "from memory"', 'basis = "published"', ('component "phone-jack"', "needs a source")),
    ('why = "The 3/8 in bushing of key and headphone jacks."\n', "", ('"why" is missing',)),
    ("mm = 0.8", "mm = 0", ('tolerance "tape"', "a number above 0")),
    ("smallest_mm = 0.1", "smallest_mm = 600", ("limits", "smallest_mm must lie below")),
    ("named = 6", "named = 0", ("limits", "a whole number from 1")),
    ("[limits]", "[limit]", ("the table [limits] is missing",)),
    ("fine_mm = 3.2", "fine_mm = 3.5", ('clearance "m3"', "must rise")),
    ("normal_mm = 3.3", "normal_mm = 3.8", ('screw "b18-4"', "must rise")),
    ("major_inch = 0.112", "major_inch = 0.122", ('screw "b18-4"', "must rise")),
    ('close_drill = "32"', 'close_drill = "33"', ('shop_screw "shop-4"', 'the drill "33" measures 0.116')),
    ('free_drill = "H"', 'free_drill = "AA"', ('shop_screw "shop-quarter-inch"', 'the drill "AA"')),
    ('name = "80"', 'name = "#80"', ('drill "number-80"', "30, F or 1/4")),
    ("{count}", "{number}", ("words", "{number}", "not filled there")),
    ("none =", "nothing =", ('the sentence "none" is missing',)),
]


def test_the_shipped_table_is_without_fault() -> None:
    tables, problems = read_from(rules_folder(), NAME)
    assert problems == []
    kinds = {row.kind for row in tables.components}
    assert len(kinds) == 10
    assert len(tables.components) >= 30


@pytest.mark.parametrize(("old", "new", "words"), MISTAKES, ids=[" ".join(m[2])[:70] for m in MISTAKES])
def test_a_broken_row_is_told_with_its_file(
    old: str, new: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    problems = problems_after(tmp_path, NAME, old, new)
    assert [line for line in problems if all(word in line for word in (f"rules/{NAME}", *words))], problems


def test_the_line_of_the_row_is_told(tmp_path: Path) -> None:
    text = (rules_folder() / NAME).read_text(encoding="utf-8")
    line = text[: text.index('id = "phone-jack"')].count("\n")
    (problem,) = problems_after(tmp_path, NAME, JACK, JACK.replace("10.0", "9.0"))
    assert f"(line {line})" in problem


def test_every_row_says_what_it_rests_on_and_only_published_or_supported_rows_name_a_source() -> None:
    tables, _ = read_from(rules_folder(), NAME)
    grounds = tables.grounds()
    assert len(grounds) > 150
    assert all(row.source for _, row in grounds if row.basis == "published")
    memory = [where for where, row in grounds if row.basis in ("from memory", "invented") and row.source]
    assert memory == []


def test_the_compiled_document_keeps_the_order_and_basis_of_the_rows() -> None:
    tables, _ = read_from(rules_folder(), NAME)
    document = holes()
    assert [row["id"] for row in document["components"]] == [row.id for row in tables.components]
    assert all(row["basis"] for row in document["components"])
    assert set(document["reference"]) == {"clearances", "screws", "shop_screws", "drills"}


def test_labels_tell_the_parts_apart() -> None:
    labels = [row["label"] for row in holes()["components"]]
    assert len(set(labels)) == len(labels)
    assert all(len(label) <= 40 for label in labels)
