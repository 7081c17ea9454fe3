"""The tables of holes and tube numbers, read from the shipped files or from changed copies of them."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from webapp.paths import rules_folder
from webapp.rulebook import component_holes, tube_numbers
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile

Json = dict[str, Any]
READERS: dict[str, Callable[[Layers], Any]] = {
    "component_holes.toml": component_holes.read_component_holes,
    "tube_numbers.toml": tube_numbers.read_tube_numbers,
}


def read_from(folder: Path, name: str) -> tuple[Any, list[str]]:
    """What the reader of that file gives for the one in a rules folder, and what it says of faults."""
    problems: list[str] = []
    tables = READERS[name](Layers([TableFile(folder / name, folder, problems)]))
    return tables, problems


def problems_after(folder: Path, name: str, old: str, new: str) -> list[str]:
    """What the reader says of the shipped file with one passage changed, in its first place."""
    text = (rules_folder() / name).read_text(encoding="utf-8")
    assert old in text, f"{name} no longer holds {old!r}"
    rules = folder / "rules"
    rules.mkdir()
    (rules / name).write_text(text.replace(old, new, 1), encoding="utf-8")
    tables, problems = read_from(rules, name)
    assert tables is not None or problems, "nothing was read, and nothing said why"
    return problems


@cache
def holes() -> Json:
    """The compiled table of holes; not to be changed."""
    return component_holes.compiled(read_from(rules_folder(), "component_holes.toml")[0])


@cache
def tubes() -> Json:
    """The compiled table of tube numbers; not to be changed."""
    return tube_numbers.compiled(read_from(rules_folder(), "tube_numbers.toml")[0])
