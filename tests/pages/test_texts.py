"""Texts of pages: blanks as on the phone, English outside of a page, markup where it is meant."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from flask import Flask, render_template_string
from markupsafe import Markup

from webapp.errors import BadInput, Sentence
from webapp.languages import catalogs
from webapp.pages import reading_habits
from webapp.pages.texts import _, _n, in_language, refusal_words

PO = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n"

#: webapp/pages/page.html
msgid "{low} to {high}"
msgstr "od {low} do {high}"

#: webapp/pages/page.html
msgid "{count} row, 100 %"
msgid_plural "{count} rows, 100 %"
msgstr[0] "{count} wiersz, 100 %"
msgstr[1] "{count} wiersze, 100 %"
msgstr[2] "{count} wierszy, 100 %"

#: webapp/pages/page.html
msgid "hole {number}"
msgstr "otwór {number}"
"""


@pytest.fixture
def polish(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Flask]:
    """An app whose one further language is Polish, with three texts of its own."""
    monkeypatch.setattr(catalogs, "FOLDER", tmp_path)
    catalogs.catalog_file("pl").parent.mkdir(parents=True)
    catalogs.catalog_file("pl").write_text(PO, encoding="utf-8")
    app = Flask("webapp")
    reading_habits.install(app)
    yield app
    catalogs.translations.cache_clear()


def test_outside_of_a_page_texts_are_english() -> None:
    assert _("{low} to {high}", low=1, high=2) == "1 to 2"
    assert [_n("{count} row", "{count} rows", count) for count in (0, 1, 2)] == ["0 rows", "1 row", "2 rows"]
    assert _("Kept {as_it_is}, {here}", here="said") == "Kept {as_it_is}, said"


def test_a_page_says_them_in_its_language_with_the_forms_of_its_numbers(polish: Flask) -> None:
    with polish.test_request_context("/?language=pl"):
        assert _("{low} to {high}", low=1, high=2) == "od 1 do 2"
        said = [_n("{count} row, 100 %", "{count} rows, 100 %", count) for count in (1, 3, 5)]
        assert said == ["1 wiersz, 100 %", "3 wiersze, 100 %", "5 wierszy, 100 %"]
        assert _("Not there: {what}", what="this") == "Not there: this"


def test_a_refusal_is_said_in_the_language_down_to_its_blanks(polish: Flask) -> None:
    place = Sentence("hole {number}", number=2)
    refusal = BadInput(Sentence("{low} to {high}", low=place, high="{low}"), "As it is.")
    assert str(refusal) == "hole 2 to {low} As it is."
    with polish.test_request_context("/?language=pl"):
        assert refusal_words(refusal) == "od otwór 2 do {low} As it is."
        assert in_language("{low} to {high}") == "{low} to {high}"


def test_a_day_in_a_refusal_is_written_as_the_language_does(polish: Flask) -> None:
    said = Sentence("Until {day}.", day=date(2026, 12, 31))
    assert said == "Until 31 December 2026."
    with polish.test_request_context("/?language=en"):
        assert in_language(said) == "Until 31 December 2026."
    with polish.test_request_context("/?language=pl"):
        assert in_language(said) == "Until 31 grudnia 2026."


def test_templates_escape_texts_and_blanks_but_what_is_markup(polish: Flask) -> None:
    template = "{{ _('{low} to {high}', low='<b>', high=strong) }} {{ _('a < b') }}"
    with polish.test_request_context("/?language=pl"):
        shown = render_template_string(template, strong=Markup("<strong>2</strong>"))
    assert shown == "od &lt;b&gt; do <strong>2</strong> a &lt; b"
