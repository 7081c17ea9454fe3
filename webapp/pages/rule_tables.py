"""The readable rows of several families together, each once: in groups, searched, counted.

Twin of static/js/ui/rule_tables.js.
"""

from collections.abc import Callable, Mapping
from functools import partial

from webapp.pages.rule_row import Json
from webapp.pages.texts import _

BASES = ("published", "common practice", "from memory", "invented")
Tables = list[Json]


def in_groups(tables: Mapping[str, Tables], common: Tables, names: Mapping[str, str]) -> list[Json]:
    """Groups of tables: what several families have alike, each family's own, what belongs to no family.

    `tables` and `names` are by family; of a single family all its rows are its own.
    """
    rows = merged(tables)
    whole = len(tables)
    shared = _only(rows, lambda row: len(row["families"]) == whole > 1)
    several = _only(rows, lambda row: 1 < len(row["families"]) < whole)
    own = [(names[family], _only(rows, partial(_alone_in, family))) for family in tables]
    groups = [(_("Alike in every family"), shared), (_("Alike in several families"), several), *own]
    return [{"title": title, "tables": found} for title, found in [*groups, (_("For every family"), common)]]


def _alone_in(family: str, row: Json) -> bool:
    return bool(row["families"] == [family])


def merged(tables: Mapping[str, Tables]) -> Tables:
    """The tables of all families as one list; one that reads alike in several stands once, with their ids."""
    together: dict[str, Json] = {}
    for family, listed in tables.items():
        for table in listed:
            known = together.setdefault(table["id"], {**table, "rows": {}})
            for row in table["rows"]:
                key = "\n".join(str(value) for value in row.values())
                known["rows"].setdefault(key, {**row, "families": []})["families"].append(family)
    return [{**table, "rows": list(table["rows"].values())} for table in together.values()]


def found(groups: list[Json], words: str, basis: str, source: str, sources: Mapping[str, Json]) -> list[Json]:
    """The groups with only those rows that hold every word and rest on that basis and source ("" for any)."""
    wanted = words.lower().split()

    def holds(row: Json) -> bool:
        if (basis and row["basis"] != basis) or (source and row["source"] != source):
            return False
        title = sources.get(row["source"], {}).get("title")
        text = " ".join([row["group"], row["title"], *row["says"], row["why"] or "", title or ""]).lower()
        return all(word in text for word in wanted)

    kept = [{**group, "tables": _only(group["tables"], holds)} for group in groups]
    return [group for group in kept if group["tables"]]


def counted(tables: Tables) -> dict[str, int]:
    """How many rows rest on each basis."""
    bases = [row["basis"] for table in tables for row in table["rows"]]
    return {basis: bases.count(basis) for basis in BASES}


def _only(tables: Tables, wanted: Callable[[Json], bool]) -> Tables:
    """The tables with the wanted rows, without those left empty."""
    kept = [{**table, "rows": [row for row in table["rows"] if wanted(row)]} for table in tables]
    return [table for table in kept if table["rows"]]
