"""A language table: the texts of one English table in another language, row by row by id."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from webapp.errors import did_you_mean
from webapp.rulebook.layers import Layers, sentences
from webapp.rulebook.reading import TableFile, id_of, is_rows, row_name
from webapp.rulebook.rows import Row
from webapp.rulebook.texts import SENTENCES, Form, Forms, Translated, inner_id, spoken, translation_of
from webapp.rulebook.words import blanks_of, unpaired_brace

Raw = dict[str, Any]


class LanguageTable(TableFile):
    """A language table, checked against the files that it translates; its tables are ready to be laid.

    `below` are the English files of its name, the lowest first. Faults are noted; what has one is left out.
    """

    texts_only = True

    def __init__(self, path: Path, root: Path, below: Sequence[TableFile], forms: Forms) -> None:
        super().__init__(path, root, below[-1].problems)
        self.translates = below[-1].name
        self.tables = _Translating(self, Layers(below).tables, forms).whole()


class _Translating:
    def __init__(self, file: LanguageTable, english: Raw, forms: Forms) -> None:
        self.file = file
        self.english = english
        self.forms = forms

    def whole(self) -> Raw:
        given = self.file.tables
        head = {key: value for key, value in given.items() if key not in self.forms}
        tables = {key: self._table(key, value) for key, value in given.items() if key in self.forms}
        return {**self._head(head), **{key: value for key, value in tables.items() if value}}

    def _head(self, given: Raw) -> Raw:
        """The first keys of the file; one that is none of them was meant as a table."""
        form = self.forms.get("")
        keys = set(form.model.model_fields) if form is not None else set()
        for key in [key for key in given if key not in keys]:
            known = sorted({*self.forms, *(spoken(form.model) if form is not None else ())} - {""})
            sentence = f'"{key}" is no text or table of {self.file.translates}. {did_you_mean(key, known)}'
            self.file.fault("", sentence.strip())
        known_head = {key: value for key, value in given.items() if key in keys}
        if form is None or not known_head:
            return {}
        return self._row("", known_head, self.english, form.model)

    def _table(self, name: str, given: Any) -> Any:
        form, english = self.forms[name], self.english.get(name)
        if english is None:
            self.file.fault(name, f'{self.file.translates} has no table "{name}" to translate.')
            return None
        if isinstance(english, dict):
            if not isinstance(given, dict):
                self.file.fault(name, f"this should be the table [{name}], as in {self.file.translates}.")
                return None
            return (
                self._sentences(name, given, english)
                if form is SENTENCES
                else self._row(name, given, english, form.model)
            )
        if not is_rows(given):
            self.file.fault(name, f"this should be [[{name}]] rows, as in {self.file.translates}.")
            return None
        return list(self._rows(name, given, english, form))

    def _sentences(self, name: str, given: Raw, english: Raw) -> Raw:
        said: Raw = {}
        for key, text in given.items():
            if key not in english:
                guess = did_you_mean(key, sorted(english))
                self.file.fault(name, f'{self.file.translates} has no sentence "{key}". {guess}'.strip())
            elif not isinstance(text, str) or not text:
                self.file.fault(name, f'the sentence "{key}" should be a text.')
            elif self._blanks_agree(name, key, text, english[key]):
                said[key] = Translated(text)
        return said

    def _rows(self, name: str, given: list[Raw], english: list[Raw], form: Form) -> Iterator[Raw]:
        by_id = {id_of(row): row for row in english}
        for index, raw in enumerate(given):
            where = row_name(name, index, raw)
            row = self._known(where, name, raw, by_id)
            if row is None:
                continue
            inner = {key: value for key, value in raw.items() if key in form.inner}
            texts = {key: value for key, value in raw.items() if key != "id" and key not in inner}
            laid = self._row(where, texts, row, form.model)
            for key, value in inner.items():
                laid[key] = self._inner(where, key, value, row.get(key), form.inner[key])
            yield {"id": raw["id"], **{key: value for key, value in laid.items() if value}}

    def _known(self, where: str, kind: str, raw: Raw, by_id: dict[str | None, Raw]) -> Raw | None:
        """The English row that a row translates."""
        row_id = id_of(raw)
        if row_id is None:
            self.file.fault(where, f'the key "id" is missing; it should be that of the {kind} to translate.')
            return None
        if row_id not in by_id:
            guess = did_you_mean(row_id, sorted(known for known in by_id if known is not None))
            self.file.fault(where, f'{self.file.translates} has no {kind} "{row_id}". {guess}'.strip())
        return by_id.get(row_id)

    def _inner(self, where: str, key: str, given: Any, english: Any, model: type[Row]) -> list[Raw]:
        """The rows inside a row. Where the English ones have no ids, their label is their id here."""
        if not is_rows(given):
            self.file.fault(where, f'"{key}" should be rows with an id, as in {self.file.translates}.')
            return []
        rows: list[Raw] = english if is_rows(english) else []
        by_id = {inner_id(row): row for row in rows}
        said: dict[str, Raw] = {}
        for index, raw in enumerate(given):
            spot = f"{where}, {row_name(key, index, raw)}"
            row = self._known(spot, key, raw, by_id)
            if row is None:
                continue
            if raw["id"] in said:
                self.file.fault(spot, "this id is used twice; every row needs its own.")
            texts = {name: value for name, value in raw.items() if name != "id"}
            said[raw["id"]] = self._row(spot, texts, row, model)
        if all(id_of(row) is not None for row in rows):
            return [{"id": row_id, **texts} for row_id, texts in said.items()]
        # A list of rows without ids is laid whole over the one below it.
        return [{**row, **said.get(inner_id(row) or "", {})} for row in rows]

    def _row(self, where: str, given: Raw, english: Raw, model: type[Row]) -> Raw:
        """The texts of one row, each as long as it may be and with the blanks of the English one."""
        texts = spoken(model)
        for key in [key for key in given if key in model.model_fields and key not in texts and key != "id"]:
            self.file.fault(
                where,
                f'"{key}" stands in {self.file.translates} alone; a language table holds ids and texts only.',
            )
        told = {key: value for key, value in given.items() if key in texts or key not in model.model_fields}
        form = translation_of(model)
        try:
            form.model_validate(told)
        except ValidationError as error:
            for sentence in sentences(error, form):
                self.file.fault(where, sentence)
            return {}
        if "id" in given and id_of(given) != inner_id(english):
            self.file.fault(where, f'"id" is {given["id"]!r}, but that of the English table is another.')
        return {
            key: [Translated(text) for text in value] if isinstance(value, list) else Translated(value)
            for key, value in told.items()
            if self._agrees(where, key, value, english.get(key))
        }

    def _agrees(self, where: str, key: str, given: Any, english: Any) -> bool:
        if not english:
            sentence = f'{self.file.translates} says no "{key}" of this row, so there is none to translate.'
            self.file.fault(where, sentence)
            return False
        if isinstance(given, str) and isinstance(english, str):
            return self._blanks_agree(where, key, given, english)
        return True

    def _blanks_agree(self, where: str, key: str, given: str, english: str) -> bool:
        if unpaired_brace(given):
            self.file.fault(where, f'"{key}" has a brace without its partner.')
            return False
        expected, found = blanks_of(english), blanks_of(given)
        for blank in sorted(expected - found):
            self.file.fault(where, f'"{key}" lacks the blank {{{blank}}} of the English text.')
        for blank in sorted(found - expected):
            self.file.fault(
                where, f'"{key}" has the blank {{{blank}}}, which the English text does not have.'
            )
        return expected == found
