"""The texts of a language: read from its folder here, and made ready for the phone and the server."""

from functools import cache
from gettext import NullTranslations, c2py
from io import BytesIO
from pathlib import Path

from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from babel.support import Translations

# The language of the texts themselves, which needs no catalog.
ENGLISH = "en"
FOLDER = Path(__file__).parent
# Where the texts of the phone's screens stand; a catalog names the file of each text.
PHONE = "static/"
# Numbers up to here show which form each category of a language takes.
NUMBERS = 200


def languages() -> list[str]:
    """The codes of the languages beside English."""
    return sorted(path.parent.parent.name for path in FOLDER.glob("*/LC_MESSAGES/messages.po"))


def catalog_file(language: str) -> Path:
    """Where the texts of a language stand."""
    return FOLDER / language / "LC_MESSAGES" / "messages.po"


def read_catalog(language: str) -> Catalog:
    """The texts of a language, the English ones as keys; PoFileError and OSError when they cannot be read."""
    with catalog_file(language).open("rb") as file:
        return read_po(file, locale=language, abort_invalid=True)


def phone_catalog(language: str) -> dict[str, object]:
    """What the phone needs of a language: `texts`, and `plurals`, the category of each form of a plural text.

    A text without its translation is left out, so that the English one shows.
    """
    catalog = read_catalog(language)
    texts = {_key(message): message.string for message in catalog if _is_shown(message)}
    return {"plurals": _plural_categories(catalog, language), "texts": texts}


@cache
def translations(language: str) -> NullTranslations:
    """The texts of a language as gettext looks them up; English needs none."""
    if language == ENGLISH:
        return NullTranslations()
    compiled = BytesIO()
    write_mo(compiled, read_catalog(language))
    compiled.seek(0)
    return Translations(compiled)


def is_translated(message: Message) -> bool:
    """Whether a text is there in all its forms, and nobody doubts it."""
    forms = [message.string] if isinstance(message.string, str) else [*(message.string or [""])]
    return all(forms) and not message.fuzzy


def _is_shown(message: Message) -> bool:
    on_phone = any(file.startswith(PHONE) for file, _line in message.locations)
    return bool(message.id) and on_phone and is_translated(message)


def _key(message: Message) -> str:
    return message.id if isinstance(message.id, str) else message.id[0]


def _plural_categories(catalog: Catalog, language: str) -> list[str]:
    # Gettext counts the forms of a language, browsers name them as CLDR does.
    form, category = c2py(catalog.plural_expr), Locale.parse(language).plural_form
    named = {form(number): category(number) for number in range(NUMBERS)}
    return [named[index] for index in range(catalog.num_plurals)]
