"""The rule tables as plain pages: every row in words, what it rests on, search, and counts by basis."""

from typing import Any

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue

from webapp.pages.basis_words import basis_words
from webapp.pages.common_rows import common_tables
from webapp.pages.family_rows import family_tables
from webapp.pages.rule_tables import BASES, counted, found, in_groups
from webapp.pages.shown_book import book_of, tables_note, whole_book
from webapp.pages.texts import _
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.sheets import sheet_overrides

pages = Blueprint("rules", __name__, template_folder="templates")
Json = dict[str, Any]


@pages.get("/rules")
def overview() -> ResponseReturnValue:
    """Counts by basis, sources, the tables of no family; when asked, the rows found in all families."""
    names = _names()
    tables, common = _tables(list(names))
    groups = in_groups(tables, common, names)
    counts = [
        (_("All together, what families share once"), None, rows_by_basis(whole_book())),
        (_("For every family"), None, counted(common)),
        *((names[family], family, counted(listed)) for family, listed in tables.items()),
    ]
    return _page(list(names), _("All families"), groups[-1:], groups, counts)


@pages.get("/rules/<family>")
def one(family: str) -> ResponseReturnValue:
    """The tables of one family, or the rows of them that are looked for; NotKnown for an unknown one."""
    name = book_of(family).family(family).name
    tables, common = _tables([family])
    groups = in_groups(tables, common, _names())
    return _page([family], name, groups, groups, [(name, None, counted(tables[family]))])


def _page(families: list[str], title: str, shown: list[Json], searched: list[Json], counts: list[Any]) -> str:
    """The page with the shown groups, or with what is found in the searched ones."""
    words, basis, source = (request.args.get(key, "") for key in ("words", "basis", "source"))
    sources = {key: row.model_dump() for key, row in sorted(book_of(families[0]).sources.items())}
    looked_for = bool(words.strip() or basis or source)
    names = _names()
    groups = found(searched, words, basis, source, sources) if looked_for else shown
    return render_template(
        "rules.html",
        title=title,
        note=tables_note(families),
        groups=groups,
        rows=sum(len(table["rows"]) for group in groups for table in group["tables"]),
        looked_for=looked_for,
        asked={"words": words, "basis": basis, "source": source},
        bases={basis: basis_words(basis) for basis in BASES},
        sources=sources,
        families=names,
        named=lambda ids: "; ".join(names[family] for family in ids),
        counts=counts,
    )


def _tables(families: list[str]) -> tuple[dict[str, list[Json]], list[Json]]:
    """The readable tables of each family, and those of no family."""
    packs = {family: compile_family(book_of(family), family) for family in families}
    listed = {family: family_tables(pack, _sheets(family)) for family, pack in packs.items()}
    return listed, common_tables(packs[families[0]])


def _sheets(family: str) -> dict[str, Json]:
    return {key: sheet_overrides(sheet) for key, sheet in sorted(book_of(family).sheets.items())}


def _names() -> dict[str, str]:
    return {family: book_of(family).families[family].name for family in whole_book().families}
