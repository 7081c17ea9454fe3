"""Loads the rule folder, and a person's own laid over it: every table typed, every problem told at once."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from webapp.errors import NotKnown, RulesBroken, did_you_mean
from webapp.rulebook import crosscheck, languages, references, rows
from webapp.rulebook.book import Rulebook, Sheet
from webapp.rulebook.books import Books
from webapp.rulebook.common import in_order_of_the_walk, laid_over
from webapp.rulebook.family import read_family
from webapp.rulebook.language_table import LanguageTable
from webapp.rulebook.languages import ENGLISH, Language
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile
from webapp.rulebook.texts import forms_of
from webapp.rulebook.words import WORDS, read_words

_FILES = ("sources", "walk", "cautions", "bands", "model", "words", "finishes", *references.FILES)
_FOLDERS = ("common", "families", "sheets")


def load(shipped: Path, own: Path | None = None, language: str = ENGLISH.code) -> Rulebook:
    """The checked rule tables of a folder, with another laid over it row by row, in one language.

    Over the tables of each folder lie those of its language. Raises RulesBroken with one sentence for each
    problem, and NotKnown for a language that no folder has tables for.
    """
    folders = [shipped] if own is None else [shipped, own]
    known = languages.codes(folders)
    if language not in (ENGLISH.code, *known):
        raise NotKnown(f'There is no language "{language}".', f"Known: {', '.join([ENGLISH.code, *known])}.")
    english = _english(folders)
    return english if language == ENGLISH.code else _translated(folders, [language], english)[0]


def load_all(shipped: Path, own: Path | None = None) -> Books:
    """The same in English and in every language that the folders have tables for; raises RulesBroken."""
    folders = [shipped] if own is None else [shipped, own]
    english = _english(folders)
    return Books(english, _translated(folders, languages.codes(folders), english))


def _english(folders: Sequence[Path]) -> Rulebook:
    problems: list[str] = []
    book = _Folders(folders, problems).read()
    if not problems:
        crosscheck.rulebook(book)
    if problems:
        raise RulesBroken(problems)
    return book


def _translated(folders: Sequence[Path], codes: Sequence[str], english: Rulebook) -> list[Rulebook]:
    """The tables in each of these languages; the faults of all are told at once."""
    problems: list[str] = []
    books = []
    for code in codes:
        languages.stray_tables(code, folders, problems)
        language = languages.read_language(code, folders, problems)
        books.append(_Folders(folders, problems, language).read().in_words_of(english))
    if problems:
        raise RulesBroken(problems)
    return books


class _Folders:
    """Rule folders, the lowest first, being read in one language."""

    def __init__(self, folders: Sequence[Path], problems: list[str], language: Language = ENGLISH) -> None:
        self.folders = folders
        self.problems = problems
        self.language = language
        self.files: dict[str, Layers] = {}
        if language == ENGLISH:
            for folder in folders[1:]:
                self._only_rule_files(folder)

    def _only_rule_files(self, folder: Path) -> None:
        known = [f"{name}.toml" for name in _FILES]
        for path in sorted(folder.rglob("*.toml")):
            name = path.relative_to(folder).as_posix()
            if name.split("/")[0] == languages.FOLDER and name.count("/") > 1:
                continue
            if name not in known and name.rpartition("/")[0] not in _FOLDERS:
                guess = did_you_mean(name, known)
                self.problems.append(
                    f"{folder.name}/{name}: this is none of the rule tables. {guess} "
                    "Families stand in families/, model sheets in sheets/, what families share in common/."
                )

    def _stack(self, name: str) -> list[TableFile]:
        """The file of that name in each folder that has it; without any, the lowest is at fault."""
        english: list[TableFile] = []
        stack: list[TableFile] = []
        for folder in self.folders:
            if (path := folder / name).is_file():
                english.append(TableFile(path, folder, self.problems))
                stack.append(english[-1])
            stack += self._translation(folder, name, english)
        lowest = self.folders[0]
        return stack or [TableFile(lowest / name, lowest, self.problems)]

    def _translation(self, folder: Path, name: str, english: Sequence[TableFile]) -> list[LanguageTable]:
        """The table of the folder that says in this language what the English ones up to it say."""
        path, forms = folder / languages.FOLDER / self.language.code / name, forms_of(name)
        if self.language == ENGLISH or not english or forms is None or not path.is_file():
            return []
        return [LanguageTable(path, folder, english, forms)]

    def _stacks(self, folder: str) -> dict[str, list[TableFile]]:
        names = {path.name for root in self.folders for path in root.glob(f"{folder}/*.toml")}
        return {name.removesuffix(".toml"): self._stack(f"{folder}/{name}") for name in sorted(names)}

    def _open(self, file: str) -> Layers:
        self.files[file] = Layers(self._stack(file))
        return self.files[file]

    def _rows_of(self, file: str, **models: type[BaseModel]) -> list[list[Any]]:
        tables = self._open(file)
        tables.only(set(models))
        return [tables.rows(name, model) for name, model in models.items()]

    def read(self) -> Rulebook:
        """All tables; what is wrong in them is noted."""
        (sources,) = self._rows_of("sources.toml", source=rows.Source)
        stages, aims, plan = self._rows_of(
            "walk.toml", stage=rows.Stage, aim=rows.Aim, plan_stage=rows.PlanStage
        )
        caution_file = self._open("cautions.toml")
        caution_file.only({"caution", "sign"})
        (bands,) = self._rows_of("bands.toml", band=rows.Band)
        (constants,) = self._rows_of("model.toml", constant=rows.Constant)
        finish_file = self._open("finishes.toml")
        finish_file.only({"finish", "service", "mismatch"})
        common = self._stacks("common")
        families = []
        for own in self._stacks("families").values():
            layers = laid_over(common, own)
            in_order_of_the_walk(layers, [stage.id for stage in stages])
            families.append(read_family(layers))
        sheets = [_read_sheet(Layers(files)) for files in self._stacks("sheets").values()]
        if not families:
            self.problems.append(f"{self.folders[0].name}/families: there is no family file.")
        return Rulebook(
            language=self.language,
            sources={row.id: row for row in sources},
            stages=stages,
            aims=aims,
            plan_stages=plan,
            cautions=caution_file.rows("caution", rows.Caution),
            bands=bands,
            constants=constants,
            finishes=finish_file.rows("finish", rows.FinishKind),
            services=finish_file.rows("service", rows.Service),
            mismatch=finish_file.table("mismatch", rows.FinishMismatch),
            references=references.read_references(self._open, caution_file),
            words=read_words(self._open("words.toml"), WORDS),
            families={family.id: family for family in families if family is not None},
            sheets={sheet.head.id: sheet for sheet in sheets if sheet is not None},
            files=self.files,
        )


def _read_sheet(file: Layers) -> Sheet | None:
    inner = {"reference", "part", "extra_part"}
    head_keys = {key: value for key, value in file.tables.items() if key not in inner}
    head = file.row(head_keys, rows.SheetHead, "")
    reference = file.table_if_there("reference", rows.SheetReference)
    parts = file.rows("part", rows.SheetPart) if "part" in file.tables else []
    extra = file.rows("extra_part", rows.ExtraPart) if "extra_part" in file.tables else []
    if head is not None and not file.name.endswith(f"/{head.id}.toml"):
        file.fault("", f'the sheet "{head.id}" must stand in the file sheets/{head.id}.toml.')
    return Sheet(head, reference, parts, extra, file) if head is not None else None
