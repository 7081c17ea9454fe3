"""Rule files laid over one another, row by row by id, and read as if they were one."""

from collections.abc import Sequence
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from webapp.errors import did_you_mean
from webapp.rulebook.reading import TableFile, id_of, is_rows, row_name

Model = TypeVar("Model", bound=BaseModel)
Raw = dict[str, Any]


class Layers:
    """The tables of one or more files; of a row, or of a key of it, the last file that speaks goes before.

    A row is known by its id, and so are the rows inside it; rows inside a row without ids replace the list
    below them. Whoever changes a number says anew what it rests on. Faults are told of the file that spoke
    last of the row.
    """

    def __init__(self, files: Sequence[TableFile]) -> None:
        self.files = list(files)
        self.name = files[-1].name
        self.problems = files[-1].problems
        # What a file says that cannot be read may be all that the others lack.
        self.readable = all(file.readable for file in files)
        self.tables: Raw = {}
        # Table → ids of the rows taken out of it because nothing uses them.
        self.left_out: dict[str, list[str]] = {}
        for file in files:
            self.tables = _Laying(file).whole(self.tables)

    def fault(self, where: str, sentence: str) -> None:
        """Notes one problem of the row or table `where`, or of the whole for ""."""
        if self.readable:
            self._speaking_of(where)[-1].fault(where, sentence)

    def says(self, where: str, key: str) -> TableFile:
        """The file whose word on this key of the row or table `where` holds; "" names the whole."""
        speaking = self._speaking_of(where)
        return ([file for file in speaking if file.says(where, key)] or speaking)[-1]

    def _speaking_of(self, where: str) -> list[TableFile]:
        return [file for file in self.files if file.speaks_of(where)] or self.files

    def only(self, known: set[str]) -> None:
        """Notes every top-level table that is not one of `known`."""
        for key in self.tables:
            if key not in known:
                guess = did_you_mean(key, sorted(known))
                self.says("", key).fault("", f'unknown table "{key}". {guess}')

    def row(self, raw: Any, model: type[Model], where: str) -> Model | None:
        """One validated row, or None with its faults noted."""
        if not isinstance(raw, dict):
            self.fault(where, "this should be a table of keys and values.")
            return None
        try:
            return model.model_validate(raw)
        except ValidationError as error:
            for sentence in sentences(error, model):
                self.fault(where, sentence)
            return None

    def table(self, name: str, model: type[Model]) -> Model | None:
        """The validated single table `[name]`, or None with its faults noted."""
        if name not in self.tables:
            self.fault("", f"the table [{name}] is missing.")
            return None
        return self.row(self.tables[name], model, name)

    def table_if_there(self, name: str, model: type[Model]) -> Model | None:
        """The validated single table `[name]`, or None when there is none (or its faults were noted)."""
        return self.table(name, model) if name in self.tables else None

    def raw_rows(self, name: str) -> list[tuple[str, Any]]:
        """The rows of `[[name]]` with the words that name each; having none is a fault."""
        rows = self.tables.get(name)
        if not isinstance(rows, list) or not rows:
            self.fault("", f"there are no [[{name}]] rows.")
            return []
        return [(row_name(name, index, raw), raw) for index, raw in enumerate(rows)]

    def rows(self, name: str, model: type[Model]) -> list[Model]:
        """All validated rows of `[[name]]`."""
        found = [self.row(raw, model, where) for where, raw in self.raw_rows(name)]
        return [row for row in found if row is not None]


class _Laying:
    """One file being laid over what lies below it."""

    def __init__(self, file: TableFile) -> None:
        self.file = file

    def whole(self, below: Raw) -> Raw:
        """The whole file: rows by id, single tables key by key, and its first keys as those of one row."""
        own = self.file.tables
        tables = {name: value for name, value in own.items() if isinstance(value, dict) or is_rows(value)}
        laid = self.row("", below, {name: value for name, value in own.items() if name not in tables})
        for name, value in tables.items():
            under = below.get(name)
            if is_rows(value):
                laid[name] = self.rows(name, under, value)
            else:
                laid[name] = self.row(name, under if isinstance(under, dict) else {}, value)
        return laid

    def rows(self, name: str, below: Any, above: list[Raw], inside: str = "") -> list[Raw]:
        """The rows below, changed by those above with the same id, then the new ones."""
        merged: list[Raw] = list(below) if is_rows(below) else []
        place = {id_of(raw): index for index, raw in enumerate(merged)}
        said: set[str] = set()
        for index, raw in enumerate(above):
            row_id = id_of(raw)
            where = inside + row_name(name, index, raw)
            if row_id is None:
                self._no_id(where, raw)
                continue
            if row_id in said:
                self.file.fault(where, "this id is used twice; every row needs its own.")
            if row_id in place:
                merged[place[row_id]] = self.row(where, merged[place[row_id]], raw)
            else:
                merged.append(self._inner(where, {}, raw))
            said.add(row_id)
        return merged

    def _no_id(self, where: str, raw: Raw) -> None:
        # Told here, where its number among the rows is still that of the file.
        given = f'"id" is {raw["id"]!r}: it' if "id" in raw else 'the key "id" is missing; it'
        self.file.fault(where, f"{given} should be a valid string of lower-case words joined by dashes.")

    def row(self, where: str, below: Raw, above: Raw) -> Raw:
        """A row or table, its keys changed by those above."""
        told = {k: v for k, v in above.items() if not _answer_for_themselves(v) and v != below.get(k)}
        changed = [] if self.file.texts_only else [key for key, value in told.items() if _holds_number(value)]
        if changed and "basis" in below and not {"basis", "why"} <= set(above):
            self.file.fault(where, f'it changes "{min(changed)}", so it needs a basis and a why of its own.')
        elif "basis" in above:
            below = {key: value for key, value in below.items() if key not in ("basis", "source", "why")}
        return self._inner(where, below, above)

    def _inner(self, where: str, below: Raw, above: Raw) -> Raw:
        laid = dict(below)
        for key, value in above.items():
            if is_rows(value) and all(id_of(raw) is not None for raw in value):
                laid[key] = self.rows(key, below.get(key), value, f"{where}, ")
            else:
                laid[key] = value
        return laid


def _answer_for_themselves(value: Any) -> bool:
    """Whether these are rows inside a row that say what they rest on, or change others by their ids."""
    return is_rows(value) and any("basis" in raw or "id" in raw for raw in value)


def _holds_number(value: Any) -> bool:
    if isinstance(value, list | dict):
        return any(_holds_number(item) for item in (value.values() if isinstance(value, dict) else value))
    return isinstance(value, int | float) and not isinstance(value, bool)


def sentences(error: ValidationError, model: type[BaseModel]) -> list[str]:
    """What is wrong with a row, one sentence a fault."""
    return [_sentence(item, model) for item in error.errors(include_url=False)]


def _sentence(item: Any, model: type[BaseModel]) -> str:
    path = [str(part) for part in item["loc"]]
    key = path[0] if path else ""
    field = model.model_fields.get(key)
    expected = f" ({field.description})" if field is not None and field.description else ""
    if item["type"] == "extra_forbidden":
        known = sorted(model.model_fields)
        guess = did_you_mean(key, known).rstrip("?")
        named = model.model_fields.get(guess.split('"')[1]) if guess.startswith("Did") else None
        tail = f" ({named.description})" if named is not None and named.description else ""
        return f'unknown key "{key}". {guess}{tail}?' if named else f'unknown key "{key}". {guess}'
    if item["type"] == "missing":
        return f'the key "{key}" is missing{expected}.'
    if item["type"] == "value_error":
        sentence = str(item["ctx"]["error"]).rstrip(".") + "."
        return f'"{".".join(path)}" is {item["input"]!r}: {sentence}' if path else sentence
    message = str(item["msg"])
    return f'"{".".join(path)}" is {item["input"]!r}: {message[0].lower() + message[1:]}{expected}.'
