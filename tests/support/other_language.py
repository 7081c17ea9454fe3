"""A further language for the tests: English with its letters swapped between large and small."""

import json
import re
import shutil
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from tests.support.packs import FAMILY
from webapp.paths import rules_folder
from webapp.rulebook import rows
from webapp.rulebook.texts import SENTENCES, Form, forms_of, inner_id, spoken

Json = dict[str, Any]

CODE, NAME = "xx", "sWAPPED"
OTHER = "supply-unit"
"""A family with a model sheet, and in the language only as far as it shares texts with the complete one."""


def swapped(text: str) -> str:
    """A text in the language; its blanks stay as they are."""
    return re.sub(r"(\{\w*\})|([^{}]+)", lambda found: found[1] or found[2].swapcase(), text)


def written(folder: Path, files: dict[str, str], code: str = CODE) -> None:
    """Puts language tables into a rule folder, with the file that names the language."""
    for name, text in {"language.toml": f'code = "{code}"\nname = "{NAME}"\n', **files}.items():
        path = folder / "languages" / code / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def rules_in_two_languages(folder: Path) -> Path:
    """A copy of the shipped rules with two families, one of them complete in the language."""
    rules = Path(shutil.copytree(rules_folder(), folder / "rules", ignore=lambda *_: {"languages"}))
    for path in [*rules.glob("families/*.toml"), *rules.glob("sheets/*.toml")]:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        if table.get("family", table["id"]) not in (FAMILY, OTHER):
            path.unlink()
    names = {path.relative_to(rules).as_posix() for path in rules.rglob("*.toml")} - {
        f"families/{OTHER}.toml"
    }
    written(rules, {name: translation(rules / name, name) for name in names if forms_of(name) is not None})
    return rules


def translation(path: Path, name: str) -> str:
    """A whole table in the language, as a text file; `name` is its path in the rule folder."""
    tables = tomllib.loads(path.read_text(encoding="utf-8"))
    forms = forms_of(name) or {}
    lines = _pairs(tables, forms[""].model) if "" in forms else []
    for table, form in forms.items():
        value = tables.get(table)
        if table == "" or value is None:
            continue
        if form is SENTENCES:
            lines += [f"[{table}]", *(f"{key} = {_quoted(swapped(text))}" for key, text in value.items())]
        elif isinstance(value, dict):
            lines += [f"[{table}]", *_pairs(value, form.model)]
        else:
            lines += [line for row in value for line in _row(table, row, form)]
    return "\n".join(lines) + "\n"


def _row(table: str, row: Json, form: Form) -> Iterable[str]:
    yield from (f"[[{table}]]", f"id = {_quoted(row['id'])}", *_pairs(row, form.model))
    for key, model in form.inner.items():
        for inner_row in {inner_id(inner): inner for inner in row.get(key, ())}.values():
            said = [f"id = {_quoted(str(inner_id(inner_row)))}", *_pairs(inner_row, model)]
            yield from (f"[[{table}.{key}]]", *said)


def _pairs(row: Json, model: type[rows.Row]) -> list[str]:
    return [f"{key} = {_in_the_language(row[key])}" for key in spoken(model) if row.get(key)]


def _in_the_language(value: str | list[str]) -> str:
    if isinstance(value, list):
        return f"[{', '.join(_quoted(swapped(text)) for text in value)}]"
    return _quoted(swapped(value))


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
