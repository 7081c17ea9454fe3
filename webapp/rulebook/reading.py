"""One TOML file as it stands on the disk, and the words for a fault in it: file, line, row."""

import re
import tomllib
from pathlib import Path
from typing import Any, NamedTuple

_HEADER = re.compile(r"^\s*\[\[?\s*([A-Za-z0-9_.-]+)\s*\]\]?")


class _Place(NamedTuple):
    """Where a row stands: the words that show it, its line if known, and the row itself."""

    shown: str
    line: int | None
    raw: Any


class TableFile:
    """One rule file: its raw tables, and where its rows stand.

    `problems` is the list shared by all files of a load, so that everything is told at once.
    """

    # Whether it says texts alone, so that whatever else it holds was taken over from below.
    texts_only = False

    def __init__(self, path: Path, root: Path, problems: list[str]) -> None:
        self.name = path.relative_to(root.parent).as_posix()
        self.problems = problems
        self.tables: dict[str, Any] = {}
        self.readable = True
        self._places: dict[str, _Place] = {}
        text = self._text(path)
        try:
            self.tables = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            self._give_up(f"not valid TOML: {error}")
        self._places = _places(self.tables, _header_lines(text))

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
        self.readable = False

    def speaks_of(self, where: str) -> bool:
        """Whether the row or table `where` stands in this file."""
        return where in self._places

    def says(self, where: str, key: str) -> bool:
        """Whether the row or table `where`, or for "" the file itself, gives this key here."""
        place = self._places.get(where)
        return place is not None and isinstance(place.raw, dict) and key in place.raw

    def fault(self, where: str, sentence: str) -> None:
        """Notes one problem; `where` is a row such as `check "dial", option "worn"`, or "" for the file."""
        if not self.readable:
            return
        place = self._places.get(where, _Place(where, None, None))
        spot = f" (line {place.line})" if place.line else ""
        told = f"{self.name}{spot}, {place.shown}: {sentence}" if where else f"{self.name}: {sentence}"
        # A row shared by several families is at fault once.
        if told not in self.problems:
            self.problems.append(told)


def row_name(name: str, index: int, raw: Any) -> str:
    """The words that name a row: its id where it has one, else its number in the list."""
    row_id = id_of(raw)
    return f'{name} "{row_id}"' if row_id is not None else f"{name} {index + 1}"


def id_of(raw: Any) -> str | None:
    """The id of a raw row, or None."""
    row_id = raw.get("id") if isinstance(raw, dict) else None
    return row_id if isinstance(row_id, str) else None


def is_rows(value: Any) -> bool:
    """Whether a raw value is a list of tables."""
    return isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)


def _places(tables: dict[str, Any], lines: dict[str, int]) -> dict[str, _Place]:
    """Every row and table by the words that name it; rows inside a row are shown by number, as one counts."""
    places = {"": _Place("", None, tables)}
    for name, value in tables.items():
        places[name] = _Place(name, lines.get(name), value)
        for index, raw in enumerate(value if isinstance(value, list) else ()):
            row = row_name(name, index, raw)
            # Of two rows with one id the second is the one too many.
            places[row] = _Place(row, lines.get(f"{name} {index + 1}"), raw)
            for key, listed in raw.items() if isinstance(raw, dict) else ():
                for number, inner in enumerate(listed if is_rows(listed) else ()):
                    line = lines.get(f"{name} {index + 1}, {key} {number + 1}")
                    shown = f"{row}, {key} {number + 1}"
                    places[f"{row}, {row_name(key, number, inner)}"] = _Place(shown, line, inner)
    return places


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
