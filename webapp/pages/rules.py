"""The rule tables as plain pages: every row in words, what it rests on, search, and counts by basis."""

from typing import Any

from flask import Blueprint, current_app, render_template, request
from flask.typing import ResponseReturnValue

from webapp.pages.common_rows import common_tables
from webapp.pages.family_rows import family_tables
from webapp.pages.rule_tables import BASES, counted, found, in_groups
from webapp.rulebook.book import Rulebook
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.sheets import sheet_overrides

pages = Blueprint("rules", __name__, template_folder="templates")
Json = dict[str, Any]


@pages.get("/rules")
def overview() -> ResponseReturnValue:
    """Counts by basis, sources, the tables of no family; when asked, the rows found in all families."""
    book: Rulebook = current_app.config["BOOK"]
    tables, common = _tables(book, list(book.families))
    groups = in_groups(tables, common, _names(book))
    counts = [
        ("All together, what families share once", None, rows_by_basis(book)),
        ("For every family", None, counted(common)),
        *((_names(book)[family], family, counted(listed)) for family, listed in tables.items()),
    ]
    return _page(book, "All families", groups[-1:], groups, counts)


@pages.get("/rules/<family>")
def one(family: str) -> ResponseReturnValue:
    """The tables of one family, or the rows of them that are looked for; NotKnown for an unknown one."""
    book: Rulebook = current_app.config["BOOK"]
    name = book.family(family).name
    tables, common = _tables(book, [family])
    groups = in_groups(tables, common, _names(book))
    return _page(book, name, groups, groups, [(name, None, counted(tables[family]))])


def _page(book: Rulebook, title: str, shown: list[Json], searched: list[Json], counts: list[Any]) -> str:
    """The page with the shown groups, or with what is found in the searched ones."""
    words, basis, source = (request.args.get(key, "") for key in ("words", "basis", "source"))
    sources = {key: row.model_dump() for key, row in sorted(book.sources.items())}
    looked_for = bool(words.strip() or basis or source)
    groups = found(searched, words, basis, source, sources) if looked_for else shown
    return render_template(
        "rules.html",
        title=title,
        groups=groups,
        rows=sum(len(table["rows"]) for group in groups for table in group["tables"]),
        looked_for=looked_for,
        asked={"words": words, "basis": basis, "source": source},
        bases=BASES,
        sources=sources,
        families=_names(book),
        counts=counts,
    )


def _tables(book: Rulebook, families: list[str]) -> tuple[dict[str, list[Json]], list[Json]]:
    """The readable tables of each family, and those of no family."""
    sheets = {key: sheet_overrides(sheet) for key, sheet in sorted(book.sheets.items())}
    packs = {family: compile_family(book, family) for family in families}
    common = common_tables(packs[families[0]])
    return {key: family_tables(pack, sheets) for key, pack in packs.items()}, common


def _names(book: Rulebook) -> dict[str, str]:
    return {family.id: family.name for family in book.families.values()}
