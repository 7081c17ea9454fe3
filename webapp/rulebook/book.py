"""The rule tables, read: what the rest of the program knows of them."""

from dataclasses import dataclass, replace

from webapp.errors import NotKnown, Sentence, did_you_mean
from webapp.rulebook import rows
from webapp.rulebook.family import FamilyTables
from webapp.rulebook.languages import Language, in_the_language, known_in_both
from webapp.rulebook.layers import Layers
from webapp.rulebook.references import References


@dataclass(frozen=True)
class Sheet:
    """A model sheet: one type on top of its family; `file` reports faults found later."""

    head: rows.SheetHead
    reference: rows.SheetReference | None
    parts: list[rows.SheetPart]
    extra_parts: list[rows.ExtraPart]
    file: Layers


@dataclass(frozen=True)
class Rulebook:
    """Everything the rule folder says; `files` report faults found later in the tables of no family."""

    language: Language
    sources: dict[str, rows.Source]
    stages: list[rows.Stage]
    aims: list[rows.Aim]
    plan_stages: list[rows.PlanStage]
    cautions: list[rows.Caution]
    bands: list[rows.Band]
    constants: list[rows.Constant]
    finishes: list[rows.FinishKind]
    services: list[rows.Service]
    mismatch: rows.FinishMismatch | None
    references: References
    words: dict[str, str]
    families: dict[str, FamilyTables]
    sheets: dict[str, Sheet]
    files: dict[str, Layers]

    def in_words_of(self, english: "Rulebook") -> "Rulebook":
        """The tables with what goes by a finish or service taken from English: model sheets, typed words."""
        return replace(
            self,
            finishes=known_in_both(self.finishes, english.finishes),
            services=known_in_both(self.services, english.services),
            sheets={
                sheet_id: self._sheet_in_words_of(english, sheet) for sheet_id, sheet in self.sheets.items()
            },
        )

    def _sheet_in_words_of(self, english: "Rulebook", sheet: Sheet) -> Sheet:
        head = sheet.head
        labels = {
            "finish": in_the_language(head.finish, self.finishes, english.finishes),
            "service": in_the_language(head.service, self.services, english.services),
        }
        return replace(sheet, head=head.model_copy(update=labels))

    def family(self, family_id: str) -> FamilyTables:
        """The family of that id; raises NotKnown."""
        if family_id not in self.families:
            raise NotKnown(
                Sentence('There is no family "{family}".', family=family_id),
                did_you_mean(family_id, sorted(self.families)),
            )
        return self.families[family_id]

    def sheet(self, sheet_id: str, family_id: str) -> Sheet:
        """The model sheet of that id, which must belong to the family; raises NotKnown."""
        if sheet_id not in self.sheets:
            raise NotKnown(
                Sentence('There is no model sheet "{sheet}".', sheet=sheet_id),
                did_you_mean(sheet_id, sorted(self.sheets)),
            )
        sheet = self.sheets[sheet_id]
        if sheet.head.family != family_id:
            raise NotKnown(
                Sentence(
                    'The model sheet "{sheet}" belongs to the family "{family}", not to "{asked}".',
                    sheet=sheet_id,
                    family=sheet.head.family,
                    asked=family_id,
                )
            )
        return sheet
