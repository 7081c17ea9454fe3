"""Loads the whole rule folder: every table typed, every problem told at once."""

import re
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from webapp.errors import RulesBroken, did_you_mean
from webapp.rulebook import crosscheck, rows
from webapp.rulebook.book import Rulebook, Sheet
from webapp.rulebook.family import read_family
from webapp.rulebook.reading import TableFile
from webapp.rulebook.words import WORDS

_BLANK = re.compile(r"{([^{}]*)}")


def load(folder: Path) -> Rulebook:
    """The checked rule tables of a folder. Raises RulesBroken with one sentence for each problem."""
    problems: list[str] = []
    book = _read(folder, problems)
    if not problems:
        crosscheck.rulebook(book)
    if problems:
        raise RulesBroken(problems)
    return book


def _read(folder: Path, problems: list[str]) -> Rulebook:
    files: dict[str, TableFile] = {}

    def rows_of(file: str, **models: type[BaseModel]) -> list[list[Any]]:
        table = files[file] = TableFile(folder / file, folder, problems)
        table.only(set(models))
        return [table.rows(name, model) for name, model in models.items()]

    (sources,) = rows_of("sources.toml", source=rows.Source)
    stages, aims, plan = rows_of("walk.toml", stage=rows.Stage, aim=rows.Aim, plan_stage=rows.PlanStage)
    (cautions,) = rows_of("cautions.toml", caution=rows.Caution)
    (bands,) = rows_of("bands.toml", band=rows.Band)
    (constants,) = rows_of("model.toml", constant=rows.Constant)
    families = [read_family(TableFile(p, folder, problems)) for p in sorted(folder.glob("families/*.toml"))]
    sheets = [_read_sheet(TableFile(p, folder, problems)) for p in sorted(folder.glob("sheets/*.toml"))]
    if not families:
        problems.append(f"{folder.name}/families: there is no family file.")
    return Rulebook(
        sources={row.id: row for row in sources},
        stages=stages,
        aims=aims,
        plan_stages=plan,
        cautions=cautions,
        bands=bands,
        constants=constants,
        words=_read_words(TableFile(folder / "words.toml", folder, problems)),
        families={family.id: family for family in families if family is not None},
        sheets={sheet.head.id: sheet for sheet in sheets if sheet is not None},
        files=files,
    )


def _read_sheet(file: TableFile) -> Sheet | None:
    head_keys = {key: value for key, value in file.tables.items() if key != "reference"}
    head = file.row(head_keys, rows.SheetHead, "")
    reference = None
    if "reference" in file.tables:
        reference = file.table("reference", rows.SheetReference)
    if head is not None and not file.name.endswith(f"/{head.id}.toml"):
        file.fault("", f'the sheet "{head.id}" must stand in the file sheets/{head.id}.toml.')
    return Sheet(head, reference, file) if head is not None else None


def _read_words(file: TableFile) -> dict[str, str]:
    """The sentences of words.toml; each must be there, and use only the blanks its place can fill."""
    found = file.tables.get("words")
    if not isinstance(found, dict):
        file.fault("", "the table [words] is missing.")
        return {}
    for key in sorted(set(found) - set(WORDS)):
        file.fault("words", f'unknown sentence "{key}". {did_you_mean(key, sorted(WORDS))}')
    for key, blanks in WORDS.items():
        text = found.get(key)
        if not isinstance(text, str) or not text:
            file.fault("words", f'the sentence "{key}" is missing.')
            continue
        if set(_BLANK.sub("", text)) & set("{}"):
            file.fault("words", f'the sentence "{key}" has a brace without its partner.')
        for blank in sorted(set(_BLANK.findall(text)) - blanks):
            file.fault(
                "words", f'the sentence "{key}" uses the blank {{{blank}}}, which is not filled there.'
            )
    return {key: text for key, text in found.items() if isinstance(text, str)}
