"""Languages: what their tables are laid over, and when a family is complete in one."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.support.other_language import CODE, NAME, OTHER, swapped, written
from tests.support.own_rules import GROUNDS, own_folder
from tests.support.packs import FAMILY
from webapp.errors import NotKnown, RulesBroken
from webapp.rulebook.book import Rulebook
from webapp.rulebook.books import Books
from webapp.rulebook.compiling import compile_family, compile_sheet
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.progress import progress
from webapp.rulebook.tables import load, load_all

Json = dict[str, Any]
FAM = f"families/{FAMILY}.toml"


def problems_with(rules: Path, own: Path) -> list[str]:
    with pytest.raises(RulesBroken) as broken:
        load_all(rules, own)
    return broken.value.problems


def row_of(book: Rulebook, table: str, row_id: str) -> Json:
    row: Json = next(row for row in compile_family(book, FAMILY)[table] if row["id"] == row_id)
    return row


OWN = """[[part]]
id = "wiring"
label = "own wires"
weight = 3
basis = "invented"
why = "Own reason."

[[part]]
id = "case"
label = "own case"
"""
OWN_TRANSLATION = """[[part]]
id = "case"
label = "OWN SHELL"

[[part]]
id = "knobs"
label = "OWN KNOBS"
"""


def test_shipped_translations_lie_over_shipped_texts_then_own_texts_then_own_translations(
    rules: Path, books: Books, tmp_path: Path
) -> None:
    own = own_folder(tmp_path, {"common/every-set.toml": OWN})
    written(own, {"common/every-set.toml": OWN_TRANSLATION})
    book = load(rules, own, CODE)
    labels = {part: row_of(book, "parts", part)["label"] for part in ("nameplate", "wiring", "case", "knobs")}
    assert labels == {
        "nameplate": swapped("nameplate"),
        "wiring": "own wires",
        "case": "OWN SHELL",
        "knobs": "OWN KNOBS",
    }
    assert row_of(book, "parts", "wiring")["weight"] == 3
    found = progress(book, FAMILY)
    assert found.texts == progress(books.further[CODE], FAMILY).texts
    assert [missing.place for missing in found.missing] == [
        f'own/languages/{CODE}/common/every-set.toml, part "wiring": why',
        f'own/languages/{CODE}/common/every-set.toml, part "wiring": label',
    ]


def test_the_text_of_a_family_goes_before_the_translation_of_the_common_one(
    rules: Path, tmp_path: Path
) -> None:
    own = own_folder(tmp_path, {FAM: '[[part]]\nid = "wiring"\nlabel = "own wires"'})
    book = load(rules, own, CODE)
    assert row_of(book, "parts", "wiring")["label"] == "own wires"
    assert [missing.place for missing in progress(book, FAMILY).missing] == [
        f'own/languages/{CODE}/{FAM}, part "wiring": label'
    ]


def test_an_own_list_of_features_is_translated_row_by_row_by_its_own_labels(
    rules: Path, tmp_path: Path
) -> None:
    features = (
        '{label = "dial", at_mm = [50, 50], round_mm = 9}, {label = "slot", at_mm = [90, 90], round_mm = 9}'
    )
    own = own_folder(tmp_path, {FAM: f'[[face]]\nid = "side"\nfeature = [{features}]\n{GROUNDS}'})
    text = '[[face]]\nid = "side"\nwhy = "GESEHEN"\nfeature = [{id = "slot", label = "SCHLITZ"}]'
    written(own, {FAM: text})
    book = load(rules, own, CODE)
    face = next(face for face in book.families[FAMILY].faces if face.row.id == "side")
    assert [feature.label for feature in face.features] == ["dial", "SCHLITZ"]
    assert [missing.place for missing in progress(book, FAMILY).missing] == [
        f'own/languages/{CODE}/{FAM}, face "side", feature "dial": label'
    ]


def test_a_language_of_ones_own_needs_no_shipped_table_of_it(rules: Path, tmp_path: Path) -> None:
    own = own_folder(tmp_path, {})
    written(own, {"walk.toml": '[[aim]]\nid = "bench"\nlabel = "OP DE BANK"'}, "nl")
    book = load(rules, own, "nl")
    assert (book.language.code, book.language.name) == ("nl", NAME)
    assert [aim.label for aim in book.aims if aim.id == "bench"] == ["OP DE BANK"]
    assert [entry["code"] for entry in load_all(rules, own).listed()] == ["en", "nl", CODE]


def test_faults_of_all_files_and_languages_are_told_at_once(rules: Path, tmp_path: Path) -> None:
    own = own_folder(tmp_path, {})
    written(own, {"sources.toml": "", "famlies/x.toml": "", "families/lamp.toml": "", "words.toml": "[words"})
    wrong = '[[aim]]\nid = "bench"\ntext = "x"'
    written(own, {"language.toml": 'code = "se"\nname = "Svenska"', "walk.toml": wrong}, "sv")
    written(own, {"language.toml": 'name = ""', "walk.toml": wrong}, "nl")
    written(own, {}, "en")
    (own / "languages" / "fr").mkdir()
    unknown = 'unknown key "text". Known: "id", "label", "meaning".'
    assert problems_with(rules, own) == [
        "own/languages/en/language.toml: English is the language of the tables themselves.",
        'own/languages/fr: there is no language.toml; it gives code = "fr" and the language\'s name.',
        'own/languages/nl/language.toml: the key "code" is missing (lower-case words joined by dashes).',
        "own/languages/nl/language.toml: \"name\" is '': string should have at least 1 character "
        "(its own name, such as Deutsch).",
        'own/languages/nl/walk.toml (line 1), aim "bench": ' + unknown,
        "own/languages/sv/language.toml: the code must be that of its folder, sv.",
        'own/languages/sv/walk.toml (line 1), aim "bench": ' + unknown,
        "own/languages/xx/families/lamp.toml: there is no table families/lamp.toml with texts to translate. "
        'Did you mean "families/supply-unit.toml"?',
        "own/languages/xx/famlies/x.toml: there is no table famlies/x.toml with texts to translate. "
        'Did you mean "finishes.toml"?',
        "own/languages/xx/sources.toml: there is no table sources.toml with texts to translate. "
        'Did you mean "words.toml"?',
        "own/languages/xx/words.toml: not valid TOML: "
        "Expected ']' at the end of a table declaration (at end of document)",
    ]


def test_a_file_beside_the_folders_of_languages_is_told(rules: Path, tmp_path: Path) -> None:
    own = own_folder(tmp_path, {"languages/words.toml": ""})
    (problem,) = problems_with(rules, own)
    assert problem.startswith("own/languages/words.toml: this is none of the rule tables. ")


def test_english_is_read_without_the_language_tables_and_an_unknown_language_is_refused(
    rules: Path, books: Books, tmp_path: Path
) -> None:
    own = own_folder(tmp_path, {})
    written(own, {"words.toml": "[words"})
    assert load(rules, own).words == books.english.words
    with pytest.raises(NotKnown, match=f'no language "fr". Known: en, {CODE}.'):
        load(rules, None, "fr")


# ---- when a family is complete

ALIKE = {
    "basis", "source", "id", "sets", "units", "letter", "letters", "code", "form", "example",
    "marks", "screw", "thread", "close_drill", "free_drill", "suffix", "currency", "where", "stage",
    "aims", "after", "check", "options", "cautions", "tasks", "task", "part", "asks", "sign",
    "place", "kind", "find", "undo", "aspect", "family", "default_aim", "crystal_part", "book_part",
    "book",
}  # fmt: skip


def not_translated(english: Any, other: Any, keys: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Where two packs hold the same words, beside ids and the like; all else is asserted to be alike."""
    if isinstance(english, dict):
        assert english.keys() == other.keys()
        for key, value in english.items():
            yield from not_translated(value, other[key], (*keys, key))
    elif isinstance(english, list):
        assert len(english) == len(other)
        for value, theirs in zip(english, other, strict=True):
            yield from not_translated(value, theirs, keys)
    elif not isinstance(english, str):
        assert english == other
    elif other == english:
        if swapped(english) != english and keys[-1] not in ALIKE:
            yield keys
    else:
        assert other == swapped(english), keys


def test_a_complete_family_has_no_word_of_its_pack_in_english(books: Books) -> None:
    """Beside sources, names, and the words of finishes, which keep the English ones for what was typed so."""
    packs = [compile_family(book, FAMILY) for book in (books.english, books.further[CODE])]
    english, other = ({**pack, "hash": "", "language": "", "finishes": [], "services": []} for pack in packs)
    left = {keys[:2] for keys in not_translated(english, other) if keys[0] != "sources"}
    assert left == {("nomenclature", "families"), ("component_holes", "reference")}
    assert (
        english["nomenclature"]["families"][OTHER]["name"] == other["nomenclature"]["families"][OTHER]["name"]
    )
    names = [drill["name"] for drill in english["component_holes"]["reference"]["drills"]]
    assert [drill["name"] for drill in other["component_holes"]["reference"]["drills"]] == names


def test_numbers_rows_and_grounds_are_those_of_english(books: Books) -> None:
    assert rows_by_basis(books.further[CODE]) == rows_by_basis(books.english)
    assert compile_family(books.further[CODE], FAMILY)["language"] == CODE


def test_one_family_is_complete_and_the_other_counts_what_it_shares(books: Books) -> None:
    assert books.complete == {"en": [FAMILY, OTHER], CODE: [FAMILY]}
    assert books.listed() == [
        {"code": "en", "name": "English", "complete": [FAMILY, OTHER]},
        {"code": CODE, "name": NAME, "complete": [FAMILY]},
    ]
    found = progress(books.further[CODE], OTHER)
    tables = {missing.table for missing in found.missing}
    # Of what it shares with the complete family all is there.
    assert f"rules/languages/{CODE}/families/{OTHER}.toml" in tables
    assert 100 < len(found.missing) < found.texts / 2
    with pytest.raises(NotKnown):
        progress(books.english, "signal-lamp")


def test_a_family_that_is_not_complete_and_a_language_that_is_not_there_are_used_in_english(
    books: Books,
) -> None:
    assert books.book_for(CODE, FAMILY) is books.further[CODE]
    assert books.book_for(CODE, OTHER) is books.book_for("fr", FAMILY) is books.english


def test_a_model_sheet_and_typed_words_go_by_the_finish_in_both_languages(books: Books) -> None:
    english = compile_sheet(books.english, FAMILY, "tern-a")
    other = compile_sheet(books.further[CODE], FAMILY, "tern-a")
    assert english["sheet"]["finish"] == "bare metal"
    assert other["sheet"]["finish"] == swapped("bare metal")
    before, after = (pack["finishes"][0] for pack in (english, other))
    assert after["words"] == [*map(swapped, before["words"]), before["label"], *before["words"]]
