"""The languages of the screens: each holds every text that the code asks for."""

import re
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from webapp.languages import catalogs
from webapp.languages.update import extract

PO = """
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\\n"

#: static/js/main.js
msgid "Close"
msgstr "Zamknij"

#: static/js/main.js
msgid "Open"
msgstr ""

#: static/js/main.js
#, fuzzy
msgid "Shut"
msgstr "Zamknij"

#: webapp/pages/templates/page.html
msgid "Page"
msgstr "Strona"

#: static/js/main.js
msgid "{count} set"
msgid_plural "{count} sets"
msgstr[0] "{count} zestaw"
msgstr[1] "{count} zestawy"
msgstr[2] "{count} zestawów"

#: static/js/main.js
msgid "{count} lot"
msgid_plural "{count} lots"
msgstr[0] "{count} partia"
msgstr[1] ""
msgstr[2] ""
"""


@pytest.fixture(scope="module")
def asked_for(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """All texts that the code asks for."""
    template = tmp_path_factory.mktemp("texts") / "messages.pot"
    extract(template)
    with template.open("rb") as file:
        return read_po(file)


def _asked(catalog: Catalog) -> set[object]:
    return {message.id for message in catalog if message.id}


def _blanks(text: str) -> list[str]:
    """What must stand in a translation too: blanks, and the marks around strong words."""
    return sorted(re.findall(r"\{\w+\}|%\(\w+\)s|\*", text))


def _keeps_blanks(message: Message) -> bool:
    if isinstance(message.id, str):
        return _blanks(message.id) == _blanks(message.string)
    one, many = map(_blanks, message.id)
    *few, rest = map(_blanks, message.string)
    return rest == many and all(form in (one, many) for form in few)


@pytest.mark.parametrize("language", catalogs.languages())
def test_a_language_holds_the_texts_that_the_code_asks_for_and_no_others(
    language: str, asked_for: Catalog
) -> None:
    held = catalogs.read_catalog(language)
    say = "Run: python -m webapp.languages.update"
    assert _asked(held) == _asked(asked_for), say
    assert not held.obsolete, say


@pytest.mark.parametrize("language", catalogs.languages())
def test_every_text_is_translated_in_all_its_forms(language: str) -> None:
    texts = [message for message in catalogs.read_catalog(language) if message.id]
    assert [message.id for message in texts if not catalogs.is_translated(message)] == []


@pytest.mark.parametrize("language", catalogs.languages())
def test_a_translation_keeps_the_blanks_of_its_text(language: str) -> None:
    odd = [
        message.id
        for message in catalogs.read_catalog(language)
        if message.id and catalogs.is_translated(message) and not _keeps_blanks(message)
    ]
    assert odd == []


def test_a_translation_that_loses_or_invents_a_blank_is_found() -> None:
    count = ("One photo of {set}", "{count} photos of {set}")
    for text, string, fits in (
        ("*{name}* removed.", "*{name}* entfernt.", True),
        ("*{name}* removed.", "{name} entfernt.", False),
        ("%(name)s removed.", "%(Name)s entfernt.", False),
        (count, ("Ein Foto von {set}", "{count} Fotos von {set}"), True),
        (count, ("{count} Foto von {set}", "{count} Fotos von {set}"), True),
        (count, ("Ein Foto", "{count} Fotos von {set}"), False),
        (count, ("Ein Foto von {set}", "Mehrere Fotos von {set}"), False),
    ):
        assert _keeps_blanks(Message(text, string)) is fits, string


def test_the_code_asks_in_scripts_with_plural_forms(asked_for: Catalog) -> None:
    assert {"Keeping and exporting", ("{count} set", "{count} sets")} <= _asked(asked_for)


def test_the_phone_gets_its_own_translated_texts_with_the_name_of_each_form(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(catalogs, "FOLDER", tmp_path)
    catalogs.catalog_file("pl").parent.mkdir(parents=True)
    catalogs.catalog_file("pl").write_text(PO, encoding="utf-8")
    assert catalogs.languages() == ["pl"]
    assert catalogs.phone_catalog("pl") == {
        "plurals": ["one", "few", "many"],
        "texts": {
            "Close": "Zamknij",
            "{count} set": ("{count} zestaw", "{count} zestawy", "{count} zestawów"),
        },
    }
