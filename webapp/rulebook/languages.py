"""The languages that rule folders hold tables for, and what a table in one means for findings in another."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, TypeVar

from pydantic import Field

from webapp.errors import did_you_mean
from webapp.rulebook import rows
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile
from webapp.rulebook.texts import OF_NO_FAMILY, forms_of

FOLDER = "languages"
_HEAD = "language.toml"
Kind = TypeVar("Kind", bound=rows.Kind)


class Language(rows.Row):
    """A language by its code, which is also its folder, and its own name for itself."""

    code: rows.Id
    name: Annotated[str, Field(min_length=1, max_length=40, description="its own name, such as Deutsch")]


ENGLISH = Language(code="en", name="English")


def codes(folders: Sequence[Path]) -> list[str]:
    """The codes of the languages that any of the folders holds tables for."""
    found = [path for folder in folders for path in (folder / FOLDER).glob("*") if path.is_dir()]
    return sorted({path.name for path in found})


def read_language(code: str, folders: Sequence[Path], problems: list[str]) -> Language:
    """The language of that code by its language.toml; what is wrong there is noted."""
    places = [(folder / FOLDER / code / _HEAD, folder) for folder in folders]
    there = [(path, folder) for path, folder in places if path.is_file()]
    if not there:
        name = next(folder.name for path, folder in places if path.parent.is_dir())
        problems.append(
            f'{name}/{FOLDER}/{code}: there is no {_HEAD}; it gives code = "{code}" and the language\'s name.'
        )
        return Language.model_construct(code=code, name=code)
    file = Layers([TableFile(path, folder, problems) for path, folder in there])
    language = file.row(file.tables, Language, "") or Language.model_construct(code=code, name=code)
    if code == ENGLISH.code:
        file.fault("", "English is the language of the tables themselves.")
    elif language.code != code:
        file.fault("", f"the code must be that of its folder, {code}.")
    return language.model_copy(update={"code": code})


def stray_tables(code: str, folders: Sequence[Path], problems: list[str]) -> None:
    """Notes every file of a language that translates no table of its folder or of one below it."""
    for index, folder in enumerate(folders):
        tables = folder / FOLDER / code
        for path in sorted(tables.rglob("*.toml")):
            name = path.relative_to(tables).as_posix()
            english = [below / name for below in folders[: index + 1] if (below / name).is_file()]
            if name == _HEAD or (english and forms_of(name) is not None):
                continue
            told = f"{folder.name}/{FOLDER}/{code}/{name}"
            guess = did_you_mean(name, _translatable(folders[: index + 1]))
            problems.append(f"{told}: there is no table {name} with texts to translate. {guess}")


def _translatable(folders: Sequence[Path]) -> list[str]:
    inside = [path.relative_to(folder) for folder in folders for path in folder.glob("*/*.toml")]
    return sorted({*OF_NO_FAMILY, *(path.as_posix() for path in inside)})


def known_in_both(kinds: Sequence[Kind], english: Sequence[Kind]) -> list[Kind]:
    """Finishes or services with the English label and words among their words.

    Sets and model sheets that name them in English are understood in the other language so.
    """
    before = {kind.id: [kind.label, *kind.words] for kind in english}
    return [kind.model_copy(update={"words": [*kind.words, *before[kind.id]]}) for kind in kinds]


def in_the_language(name: str | None, kinds: Sequence[Kind], english: Sequence[Kind]) -> str | None:
    """The label that a finish or service has here, by what it goes by in English."""
    row_id = next((kind.id for kind in english if kind.goes_by(name)), None)
    return next((kind.label for kind in kinds if kind.id == row_id), name)
