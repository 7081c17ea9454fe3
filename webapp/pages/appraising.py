"""From a findings document to the appraisal document, for the command line and the plain form alike."""

from datetime import date
from typing import Any

from webapp.appraisal.appraise import appraise
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import Prepared, prepare
from webapp.errors import BadFindings
from webapp.pages.money import minor_digits
from webapp.pages.reading_habits import reader
from webapp.rulebook.book import Rulebook
from webapp.rulebook.compiling import compile_family, compile_sheet


def pack_of(book: Rulebook, family: str, sheet: str | None) -> dict[str, Any]:
    """The pack of a family, or of a model sheet on it; raises NotKnown."""
    return compile_sheet(book, family, sheet) if sheet is not None else compile_family(book, family)


def family_and_sheet(book: Rulebook, document: Any) -> tuple[str, str | None]:
    """The family and the model sheet that a findings document names; raises BadFindings."""
    if not isinstance(document, dict):
        raise BadFindings(
            "The findings should be a JSON object with named values.", 'At least {"family": "..."}.'
        )
    family, sheet = document.get("family"), document.get("model_sheet")
    if not isinstance(family, str):
        raise BadFindings('The findings name no "family".', f"Known: {', '.join(sorted(book.families))}.")
    if sheet is not None and not isinstance(sheet, str):
        raise BadFindings('"model_sheet" should be the id of a model sheet, or null.')
    return family, sheet


def prepared_for(book: Rulebook, document: Any) -> Prepared:
    """The prepared pack that a findings document asks for; raises BadFindings and NotKnown."""
    return prepare(pack_of(book, *family_and_sheet(book, document)))


def appraise_document(book: Rulebook, document: Any, today: date) -> dict[str, Any]:
    """The appraisal of a decoded findings document; `today` counts where the document gives no date.

    Raises BadFindings and NotKnown.
    """
    prepared = prepared_for(book, document)
    dated = document if document.get("today") is not None else {**document, "today": today.isoformat()}
    findings = read_findings(dated, prepared)
    digits = minor_digits(findings.currency)
    habits = reader()
    appraisal = appraise(prepared, findings, digits, lambda amount: habits.exactly(amount, findings.currency))
    return {**appraisal, "today": (findings.today or today).isoformat()}
