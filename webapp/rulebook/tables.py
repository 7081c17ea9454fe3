"""Loads the rule folder, and a person's own laid over it: every table typed, every problem told at once."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from webapp.errors import RulesBroken, did_you_mean
from webapp.rulebook import crosscheck, references, rows
from webapp.rulebook.book import Rulebook, Sheet
from webapp.rulebook.common import in_order_of_the_walk, laid_over
from webapp.rulebook.family import read_family
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile
from webapp.rulebook.words import WORDS, read_words

_FILES = ("sources", "walk", "cautions", "bands", "model", "words", "finishes", *references.FILES)
_FOLDERS = ("common", "families", "sheets")


def load(shipped: Path, own: Path | None = None) -> Rulebook:
    """The checked rule tables of a folder, with another laid over it row by row.

    Raises RulesBroken with one sentence for each problem.
    """
    problems: list[str] = []
    book = _Folders([shipped] if own is None else [shipped, own], problems).read()
    if not problems:
        crosscheck.rulebook(book)
    if problems:
        raise RulesBroken(problems)
    return book


class _Folders:
    """Rule folders, the lowest first, being read."""

    def __init__(self, folders: Sequence[Path], problems: list[str]) -> None:
        self.folders = folders
        self.problems = problems
        self.files: dict[str, Layers] = {}
        for folder in folders[1:]:
            self._only_rule_files(folder)

    def _only_rule_files(self, folder: Path) -> None:
        known = [f"{name}.toml" for name in _FILES]
        for path in sorted(folder.rglob("*.toml")):
            name = path.relative_to(folder).as_posix()
            if name not in known and name.rpartition("/")[0] not in _FOLDERS:
                guess = did_you_mean(name, known)
                self.problems.append(
                    f"{folder.name}/{name}: this is none of the rule tables. {guess} "
                    "Families stand in families/, model sheets in sheets/, what families share in common/."
                )

    def _stack(self, name: str) -> list[TableFile]:
        """The file of that name in each folder that has it; without any, the lowest is at fault."""
        paths = [(folder / name, folder) for folder in self.folders]
        there = [(path, folder) for path, folder in paths if path.is_file()]
        return [TableFile(path, folder, self.problems) for path, folder in there or paths[:1]]

    def _stacks(self, folder: str) -> dict[str, list[TableFile]]:
        names = {path.name for root in self.folders for path in root.glob(f"{folder}/*.toml")}
        return {name.removesuffix(".toml"): self._stack(f"{folder}/{name}") for name in sorted(names)}

    def _rows_of(self, file: str, **models: type[BaseModel]) -> list[list[Any]]:
        tables = self.files[file] = Layers(self._stack(file))
        tables.only(set(models))
        return [tables.rows(name, model) for name, model in models.items()]

    def read(self) -> Rulebook:
        """All tables; what is wrong in them is noted."""
        (sources,) = self._rows_of("sources.toml", source=rows.Source)
        stages, aims, plan = self._rows_of(
            "walk.toml", stage=rows.Stage, aim=rows.Aim, plan_stage=rows.PlanStage
        )
        caution_file = self.files["cautions.toml"] = Layers(self._stack("cautions.toml"))
        caution_file.only({"caution", "sign"})
        (bands,) = self._rows_of("bands.toml", band=rows.Band)
        (constants,) = self._rows_of("model.toml", constant=rows.Constant)
        finish_file = self.files["finishes.toml"] = Layers(self._stack("finishes.toml"))
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
            references=references.read_references(lambda name: Layers(self._stack(name)), caution_file),
            words=read_words(Layers(self._stack("words.toml")), WORDS),
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
