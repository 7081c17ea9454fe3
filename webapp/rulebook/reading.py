"""Reads one TOML file row by row, and says of every fault where it stands."""

import re
import tomllib
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from webapp.errors import did_you_mean

_HEADER = re.compile(r"^\s*\[\[?\s*([A-Za-z0-9_.-]+)\s*\]\]?")
Model = TypeVar("Model", bound=BaseModel)


class TableFile:
    """One rule file: its raw tables, and the sentences about what is wrong in it.

    `problems` is the list shared by all files of a load, so that everything is told at once.
    """

    def __init__(self, path: Path, root: Path, problems: list[str]) -> None:
        self.name = path.relative_to(root.parent).as_posix()
        self.problems = problems
        self.tables: dict[str, Any] = {}
        self._readable = True
        text = self._text(path)
        self._lines = _header_lines(text)
        try:
            self.tables = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            self._give_up(f"not valid TOML: {error}")

    def _text(self, path: Path) -> str:
        try:
            return path.read_text(encoding="utf-8-sig")
        except FileNotFoundError:
            self._give_up("the file is missing.")
        except (OSError, UnicodeDecodeError) as error:
            self._give_up(f"cannot be read as UTF-8 text: {error}")
        return ""

    def _give_up(self, sentence: str) -> None:
        """Notes why the file cannot be read; what it therefore lacks is not told on top of that."""
        self.problems.append(f"{self.name}: {sentence}")
        self._readable = False

    def fault(self, where: str, sentence: str) -> None:
        """Notes one problem; `where` is a row such as `check "dial", option 2`, or "" for the file."""
        if not self._readable:
            return
        line = self._lines.get(_plain(where))
        spot = f" (line {line})" if line else ""
        self.problems.append(
            f"{self.name}{spot}, {where}: {sentence}" if where else f"{self.name}: {sentence}"
        )

    def only(self, known: set[str]) -> None:
        """Notes every top-level table that is not one of `known`."""
        for key in self.tables:
            if key not in known:
                self.fault("", f'unknown table "{key}". {did_you_mean(key, sorted(known))}')

    def row(self, raw: Any, model: type[Model], where: str) -> Model | None:
        """One validated row, or None with its faults noted."""
        if not isinstance(raw, dict):
            self.fault(where, "this should be a table of keys and values.")
            return None
        try:
            return model.model_validate(raw)
        except ValidationError as error:
            for item in error.errors(include_url=False):
                self.fault(where, _sentence(item, model))
            return None

    def table(self, name: str, model: type[Model]) -> Model | None:
        """The validated single table `[name]`, or None with its faults noted."""
        if name not in self.tables:
            self.fault("", f"the table [{name}] is missing.")
            return None
        return self.row(self.tables[name], model, name)

    def raw_rows(self, name: str) -> list[tuple[str, Any]]:
        """The rows of `[[name]]` with the words that name each: its id where it has one, else its number."""
        rows = self.tables.get(name)
        if not isinstance(rows, list) or not rows:
            self.fault("", f"there are no [[{name}]] rows.")
            return []
        self._remember(name, rows)
        return [(_named(name, index, raw), raw) for index, raw in enumerate(rows)]

    def rows(self, name: str, model: type[Model]) -> list[Model]:
        """All validated rows of `[[name]]`; ids seen twice are noted."""
        found = [self.row(raw, model, where) for where, raw in self.raw_rows(name)]
        kept = [row for row in found if row is not None]
        self.no_twins(name, [getattr(row, "id", "") for row in kept])
        return kept

    def no_twins(self, name: str, ids: list[str]) -> None:
        """Notes ids used by more than one row."""
        for twin in sorted({i for i in ids if i and ids.count(i) > 1}):
            self.fault(f'{name} "{twin}"', "this id is used twice; every row needs its own.")

    def _remember(self, name: str, rows: list[Any]) -> None:
        for index, raw in enumerate(rows):
            line = self._lines.get(f"{name} {index + 1}")
            if line:
                self._lines[_plain(_named(name, index, raw))] = line
            for key, value in raw.items() if isinstance(raw, dict) else ():
                for number in range(len(value) if isinstance(value, list) else 0):
                    inner = self._lines.get(f"{name} {index + 1}, {key} {number + 1}")
                    if inner:
                        self._lines[_plain(f"{_named(name, index, raw)}, {key} {number + 1}")] = inner


def _named(name: str, index: int, raw: Any) -> str:
    if isinstance(raw, dict) and isinstance(raw.get("id"), str):
        return f'{name} "{raw["id"]}"'
    return f"{name} {index + 1}"


def _plain(where: str) -> str:
    return where.split(" (")[0]


def _header_lines(text: str) -> dict[str, int]:
    """Line numbers of row headers: `check 3`, `check 3, option 2`, and of single tables by name."""
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if not header:
            continue
        names = header.group(1).split(".")
        if not line.lstrip().startswith("[["):
            lines[names[0]] = number
        elif len(names) == 1:
            counts[names[0]] = counts.get(names[0], 0) + 1
            counts = {k: v for k, v in counts.items() if not k.startswith(f"{names[0]}.")}
            lines[f"{names[0]} {counts[names[0]]}"] = number
        else:
            key = ".".join(names)
            counts[key] = counts.get(key, 0) + 1
            lines[f"{names[0]} {counts.get(names[0], 0)}, {names[1]} {counts[key]}"] = number
    return lines


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
