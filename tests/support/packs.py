"""The shipped rule tables, read and compiled once, and short ways through the engine.

Where no family is named, the one of the demo's Terns is meant.
"""

import shutil
import tomllib
from copy import deepcopy
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from webapp.appraisal.appraise import appraise
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import Numbers, numbers
from webapp.appraisal.prepared import Prepared, prepare
from webapp.pages.appraising import appraise_document
from webapp.pages.money import minor_digits, say_money
from webapp.paths import rules_folder
from webapp.rulebook.book import Rulebook
from webapp.rulebook.books import Books
from webapp.rulebook.compiling import compile_family, compile_sheet
from webapp.rulebook.tables import load, load_all

Json = dict[str, Any]

FAMILY = "aircraft-hf-transmitter"
SHEETS = ("tern-a", "tern-b", "tern-c")
TODAY = date(2026, 11, 25)


@cache
def shipped() -> Rulebook:
    """The shipped rule tables."""
    return load(rules_folder())


@cache
def in_all_languages() -> Books:
    """The same in English and in every further language."""
    return load_all(rules_folder())


@cache
def families() -> tuple[str, ...]:
    """The ids of all shipped families."""
    return tuple(sorted(shipped().families))


@cache
def kinds() -> tuple[tuple[str, str | None], ...]:
    """Every shipped family, alone and with each of its model sheets: (family, sheet or None)."""
    sheets = sorted(shipped().sheets.values(), key=lambda sheet: sheet.head.id)
    alone: list[tuple[str, str | None]] = [(family, None) for family in families()]
    return (*alone, *((sheet.head.family, sheet.head.id) for sheet in sheets))


@cache
def pack_for(sheet: str | None = None, family: str | None = None) -> Json:
    """The compiled pack of a shipped model sheet, or of a family; not to be changed."""
    book = shipped()
    if sheet is None:
        return compile_family(book, family or FAMILY)
    return compile_sheet(book, family or book.sheets[sheet].head.family, sheet)


@cache
def prepared_for(sheet: str | None = None, family: str | None = None) -> Prepared:
    """The same, made ready for arithmetic."""
    return prepare(pack_for(sheet, family))


def prepared_of(document: Json) -> Prepared:
    """The prepared pack that a findings document asks for."""
    return prepared_for(document.get("model_sheet"), document.get("family"))


@cache
def cheap_work() -> Prepared:
    """The shipped family with the materials of every task at a twentieth, so that restoring often pays."""
    pack = deepcopy(pack_for())
    for task in pack["tasks"]:
        for estimate in filter(None, (task["set_up"], task["each"])):
            estimate["materials"] = [figure / 20 for figure in estimate["materials"]]
    return prepare(pack)


def check_of(check_id: str, sheet: str | None = None) -> Json:
    """One check of the shipped family as the pack has it."""
    return next(check for check in pack_for(sheet)["checks"] if check["id"] == check_id)


def numbers_of(document: Json, prepared: Prepared | None = None) -> Numbers:
    """The numbers of a findings document on the family and sheet that it names, or on another pack."""
    prepared = prepared or prepared_of(document)
    return numbers(prepared, read_findings(document, prepared))


def appraised(document: Json) -> Json:
    """The appraisal of a findings document, by the engine alone on the packs compiled once."""
    prepared = prepared_of(document)
    findings = read_findings(document, prepared)
    digits = minor_digits(findings.currency)
    return appraise(prepared, findings, digits, lambda amount: say_money(amount, findings.currency))


def appraised_by_the_app(document: Any) -> Json:
    """The appraisal of whatever came in, the whole way as the command and the plain form take it."""
    return appraise_document(shipped(), document, TODAY)


def with_answer(document: Json, check: str, option: str) -> Json:
    """The document with one answer more, or another one."""
    unseen = [other for other in document.get("unseen", []) if other != check]
    return {**document, "unseen": unseen, "answers": {**document.get("answers", {}), check: option}}


def without_hidden_answers(document: Json) -> Json:
    """The document without the answers of follow-ups that its other answers do not open."""
    checks = {check["id"]: check for check in pack_for()["checks"]}
    answers = document.get("answers", {})

    def shown(check_id: str) -> bool:
        condition = checks[check_id]["shown_if"]
        if condition is None:
            return True
        return shown(condition["check"]) and answers.get(condition["check"]) in condition["options"]

    return {**document, "answers": {check: option for check, option in answers.items() if shown(check)}}


def copy_of_rules(folder: Path, only: str | None = None) -> Path:
    """A copy of the shipped rule folder, named rules, inside another; `only` this family and its sheets."""
    rules = Path(shutil.copytree(rules_folder(), folder / "rules"))
    for path in [*rules.glob("families/*.toml"), *rules.glob("sheets/*.toml")]:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        if only not in (None, table.get("family", table["id"])):
            path.unlink()
            for translation in rules.glob(f"languages/*/{path.relative_to(rules).as_posix()}"):
                translation.unlink()
    return rules
