"""The descriptions of the demo's sets, word by word as they were read and found good."""

import json
from datetime import date
from pathlib import Path

import pytest
from babel.core import Locale

from tests.support.packs import prepared_for
from webapp.appraisal.describing.describe import Wishes
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import prepare
from webapp.pages.describing import Seller, described
from webapp.pages.description_text import description_text
from webapp.pages.habits import Habits
from webapp.paths import rules_folder
from webapp.rulebook.compiling import compile_sheet
from webapp.rulebook.tables import load

HERE = Path(__file__).parent
SETS = ("demo-tern-a-barn", "demo-tern-b-1184", "demo-tern-c-0377")
WORDS = "My uncle kept it in his workshop.\n\nIt can be seen on Sundays at the quay."
WISHES = Wishes("range", 140.0, (date(2026, 11, 20), date(2026, 11, 25)), date(2026, 11, 26))


def text_of(name: str, language: str, *, short: bool) -> str:
    """The description of a demo set as text."""
    document = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
    prepared = prepared_for(document["model_sheet"])
    if language != "en":
        book = load(rules_folder(), None, language)
        prepared = prepare(compile_sheet(book, document["family"], document["model_sheet"]))
    seller = Seller("The one from the quay", WORDS, WISHES)
    view = described(
        prepared, read_findings(document, prepared), seller, Habits(language, Locale(language), "mm")
    )
    return description_text(view, short=short)


def kept(name: str) -> str:
    return (HERE / "descriptions" / f"{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", SETS)
def test_the_description_of_a_demo_set_reads_as_it_was_found_good(name: str) -> None:
    assert text_of(name, "en", short=False) == kept(name)


@pytest.mark.parametrize("name", SETS)
def test_the_short_description_of_a_demo_set_reads_as_it_was_found_good(name: str) -> None:
    assert text_of(name, "en", short=True) == kept(f"{name}-short")


def test_the_german_description_reads_as_it_was_found_good() -> None:
    assert text_of("demo-tern-c-0377", "de", short=False) == kept("demo-tern-c-0377-de")
