"""One language table: it says texts of rows that are there, within their limits, and nothing else."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.support.other_language import CODE, written
from webapp.rulebook import texts
from webapp.rulebook.language_table import LanguageTable
from webapp.rulebook.reading import TableFile
from webapp.rulebook.rows import Row

Json = dict[str, Any]

CHECKS = """name = "Lamp"
about = "A lamp."
default_aim = "display"

[reference]
median = 40
why = "A guess."

[[check]]
id = "plate"
label = "Plate"
help = "Read it."
seconds = 5
why = "It names it."

  [[check.option]]
  id = "there"
  label = "There"
  prior = 0.7
  say = "It is there."

  [[check.option]]
  id = "gone"
  label = "Gone"
  prior = 0.3

[[hole_place]]
id = "front"
label = "front"

  [[hole_place.size]]
  label = "screw hole"
  up_to_mm = 6
  severity = 0.1
  why = "Small."

  [[hole_place.size]]
  label = "larger"
  severity = 1

[[face]]
id = "front"
width_mm = 300
twice = ["left", "right"]
feature = [
  {label = "dial", at_mm = [1, 2], round_mm = 3},
  {label = "knob", at_mm = [4, 5], round_mm = 6},
  {label = "knob", at_mm = [7, 8], round_mm = 6},
]
"""
WORDS = """[words]
offer = "Offer {offer} of {worth}."
plain = "Look."
"""
ENGLISH = {
    "families/lamp.toml": CHECKS,
    "words.toml": WORDS,
    "walk.toml": '[[stage]]\nid = "front"\ntitle = "x"',
}


def said(folder: Path, given: str, name: str = "families/lamp.toml") -> tuple[Json, list[str]]:
    """A language table over a small English one: its tables, ready to be laid, and what is told of it."""
    problems: list[str] = []
    rules = folder / "rules"
    english = rules / name
    english.parent.mkdir(parents=True)
    english.write_text(ENGLISH[name], encoding="utf-8")
    written(rules, {name: given})
    forms = texts.forms_of(name)
    assert forms is not None
    table = LanguageTable(
        rules / "languages" / CODE / name, rules, [TableFile(english, rules, problems)], forms
    )
    return table.tables, problems


def test_texts_of_every_sort_of_row_are_taken_and_nothing_else_is_touched(tmp_path: Path) -> None:
    given = """name = "Lampe"

[reference]
why = "Geraten."

[[check]]
id = "plate"
label = "Schild"

  [[check.option]]
  id = "gone"
  label = "Fort"

[[hole_place]]
id = "front"

  [[hole_place.size]]
  id = "screw hole"
  label = "Schraubenloch"

[[face]]
id = "front"
twice = ["links", "rechts"]
feature = [{id = "knob", label = "Knopf"}]
"""
    tables, problems = said(tmp_path, given)
    assert problems == []
    assert tables == {
        "name": "Lampe",
        "reference": {"why": "Geraten."},
        "check": [{"id": "plate", "label": "Schild", "option": [{"id": "gone", "label": "Fort"}]}],
        # Rows without ids are named by their English label, wherever it stands, and laid as a whole list.
        "hole_place": [
            {
                "id": "front",
                "size": [
                    {"label": "Schraubenloch", "up_to_mm": 6, "severity": 0.1, "why": "Small."},
                    {"label": "larger", "severity": 1},
                ],
            }
        ],
        "face": [
            {
                "id": "front",
                "twice": ["links", "rechts"],
                "feature": [
                    {"label": "dial", "at_mm": [1, 2], "round_mm": 3},
                    {"label": "Knopf", "at_mm": [4, 5], "round_mm": 6},
                    {"label": "Knopf", "at_mm": [7, 8], "round_mm": 6},
                ],
            }
        ],
    }


LAMP = "rules/families/lamp.toml"
PLATE = '[[check]]\nid = "plate"\n'
GONE = PLATE + '\n  [[check.option]]\n  id = "gone"\n  '
ENGLISH_ALONE = f"stands in {LAMP} alone; a language table holds ids and texts only."
FAULTS = {
    "a number": (PLATE + "seconds = 4", ' (line 1), check "plate": "seconds" ' + ENGLISH_ALONE),
    "an option's number": (
        GONE + "prior = 0.4",
        ' (line 4), check "plate", option 1: "prior" ' + ENGLISH_ALONE,
    ),
    "a list of numbers": (GONE + "effect = [0, 1]", 'option 1: "effect" ' + ENGLISH_ALONE),
    "a basis": (PLATE + 'basis = "invented"', 'check "plate": "basis" ' + ENGLISH_ALONE),
    "a number of a single table": (
        "[reference]\nmedian = 4",
        ' (line 1), reference: "median" ' + ENGLISH_ALONE,
    ),
    "a feature's place": (
        '[[face]]\nid = "front"\nfeature = [{id = "dial", at_mm = [1, 2]}]',
        'face "front", feature 1: "at_mm" ' + ENGLISH_ALONE,
    ),
    "a key of the family": ('default_aim = "bench"', '"default_aim" ' + ENGLISH_ALONE),
    "an unknown key": (
        PLATE + 'lable = "x"',
        'check "plate": unknown key "lable". Did you mean "label" (at most 40',
    ),
    "an unknown first key": ('nme = "x"', f'"nme" is no text or table of {LAMP}. Did you mean "name"?'),
    "an unknown table": ('[[chek]]\nid = "plate"', f'"chek" is no text or table of {LAMP}. Did you'),
    "a table that English lacks": ('[[task]]\nid = "x"', f'task: {LAMP} has no table "task" to translate.'),
    "an unknown row": (
        '[[check]]\nid = "plat"',
        f' (line 1), check "plat": {LAMP} has no check "plat". Did you mean "plate"?',
    ),
    "an unknown option": (
        PLATE + '[[check.option]]\nid = "lost"\nlabel = "x"',
        f' (line 3), check "plate", option 1: {LAMP} has no option "lost". Known: "gone", "there".',
    ),
    "an unknown feature": (
        '[[face]]\nid = "front"\nfeature = [{id = "dail", label = "x"}]',
        f'face "front", feature 1: {LAMP} has no feature "dail". Did you mean "dial"?',
    ),
    "a row without an id": (
        '[[check]]\nlabel = "x"',
        ' (line 1), check 1: the key "id" is missing; it should be that of the check to translate.',
    ),
    "another id": ('id = "lantern"', "\"id\" is 'lantern', but that of the English table is another."),
    "a feature said twice": (
        '[[face]]\nid = "front"\nfeature = [{id = "dial", label = "x"}, {id = "dial", label = "y"}]',
        'face "front", feature 2: this id is used twice; every row needs its own.',
    ),
    "a text that English lacks": (
        GONE + 'say = "x"',
        f'option 1: {LAMP} says no "say" of this row, so there is none to translate.',
    ),
    "a label too long": (PLATE + f'label = "{"x" * 41}"', '"label" is \'x'),
    "an empty text": (PLATE + 'label = ""', "string should have at least 1 character"),
    "one word of two": (
        '[[face]]\nid = "front"\ntwice = ["x"]',
        "\"twice\" is ['x']: list should have at least 2 items",
    ),
    "a number for a text": (PLATE + "label = 5", '"label" is 5: input should be a valid string'),
    "a blank of its own": (
        PLATE + 'label = "Schild {serial}"',
        'check "plate": "label" has the blank {serial}, which the English text does not have.',
    ),
    "a table for rows": ('check = "plate"', f"check: this should be [[check]] rows, as in {LAMP}."),
    "rows for a table": (
        '[[reference]]\nid = "x"',
        f"reference: this should be the table [reference], as in {LAMP}.",
    ),
    "no rows inside": (
        PLATE + "option = 7",
        f'check "plate": "option" should be rows with an id, as in {LAMP}.',
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_gets_one_sentence_with_file_line_and_row(fault: str, tmp_path: Path) -> None:
    given, expected = FAULTS[fault]
    _, problems = said(tmp_path, given)
    assert len(problems) == 1, problems
    assert problems[0].startswith(f"rules/languages/{CODE}/families/lamp.toml")
    assert expected in problems[0]


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ('offer = "Biete {offer}."', ['"offer" lacks the blank {worth} of the English text.']),
        (
            'offer = "Biete {offre} von {worth}."',
            [
                '"offer" lacks the blank {offer} of the English text.',
                '"offer" has the blank {offre}, which the English text does not have.',
            ],
        ),
        ('plain = "Sieh {nach."', ['"plain" has a brace without its partner.']),
        ('plian = "Sieh."', ['rules/words.toml has no sentence "plian". Did you mean "plain"?']),
        ("plain = 5", ['the sentence "plain" should be a text.']),
        ('plain = ""', ['the sentence "plain" should be a text.']),
        ('offer = "Von {worth} biete {offer}; {offer} genügt."', []),
    ],
)
def test_sentences_keep_their_blanks(given: str, expected: list[str], tmp_path: Path) -> None:
    _, problems = said(tmp_path, f"[words]\n{given}\n", "words.toml")
    place = f"rules/languages/{CODE}/words.toml (line 1), words: "
    assert problems == [place + sentence for sentence in expected]


def test_a_key_where_the_file_holds_tables_alone_is_told(tmp_path: Path) -> None:
    _, problems = said(tmp_path, 'title = "x"', "walk.toml")
    assert problems == [
        f'rules/languages/{CODE}/walk.toml: "title" is no text or table of rules/walk.toml. '
        'Known: "aim", "plan_stage", "stage".'
    ]


def test_every_text_of_a_row_is_either_translated_or_named_as_alike_everywhere() -> None:
    """A new key that holds words shows here: it is a Text, Label or Name, else Kept or of a pattern."""
    forms = [form for table in [*texts.OF_NO_FAMILY.values(), *_folders()] for form in table.values()]
    models = {model for form in forms for model in (form.model, *form.inner.values())} - {Row}
    plain = {
        f"{model.__name__}.{key}"
        for model in models
        for key, field in model.model_fields.items()
        if key not in texts.spoken(model)
        and field.annotation in (str, str | None, list[str])
        and not any(getattr(mark, "pattern", None) for mark in field.metadata)
    }
    assert plain == {"Grammar.form", "Grammar.example", "Screw.screw", "ShopScrew.screw",
                     "ShopScrew.close_drill", "ShopScrew.free_drill"}  # fmt: skip


def _folders() -> Iterator[texts.Forms]:
    for folder in ("families/", "sheets/"):
        forms = texts.forms_of(folder)
        assert forms is not None
        yield forms
