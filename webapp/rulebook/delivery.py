"""The packs in the documents that a phone fetches: what families share once, the reasons apart.

A phone composes a pack from `shared.json` and its family's file, and lays `reasons.json` over it once that
has come; the result is the compiler's pack to the letter.
"""

import json
from collections import Counter
from collections.abc import Mapping
from typing import Any

Json = dict[str, Any]

FOLDER = "packs"
ROWS = ("parts", "checks", "tasks")
# Tables that no first screen needs; they travel with the reasons, and an empty table holds their place.
LATE = (
    "words", "index", "index_years", "nomenclature", "component_holes", "tube_numbers", "band_rows",
    "constant_rows", "scale_objects", "measuring", "sources",
)  # fmt: skip
# What stands behind the rows: the reason everywhere, what to say of a finding when the price is talked about
# and what to tell of it, the faces drawn for holes, and what only the verdict shows of a task. A caution that
# is called says its title at once, and the rest as soon as it is there.
REASON = frozenset({"why", "say", "tell", "aspect", "drawn"})
TASK_TEXT = REASON | {"label", "stage", "undo", "after", "cautions", "basis", "source"}
CAUTION_TEXT = REASON | {"look", "text", "who", "basis", "source"}


def phone_documents(packs: Mapping[str, Json], folder: str = FOLDER) -> dict[str, Json]:
    """The documents by name: `packs/shared.json`, one for each family, and `packs/reasons.json`."""
    late = {key: pack[key] for pack in packs.values() for key in LATE if key in pack}
    bodies = {
        family: {key: {} if key in late else value for key, value in pack.items()}
        for family, pack in packs.items()
    }
    shared = _shared(list(bodies.values()))
    documents, reasons = {}, {}
    for family, body in bodies.items():
        lean, behind = _parted(_own(body, shared))
        documents[f"{folder}/{family}.json"] = lean
        reasons[family] = behind
    lean, behind = _parted(shared)
    documents[f"{folder}/shared.json"] = lean
    documents[f"{folder}/reasons.json"] = {"shared": behind, "families": reasons, "late": late}
    return documents


def _shared(bodies: list[Json]) -> Json:
    """Values that at least two families have alike: whole tables under their key, rows by list and id."""
    rows: Json = {}
    for name in ROWS:
        ids = {row["id"]: None for body in bodies for row in body[name]}
        found = {row_id: [r for b in bodies for r in b[name] if r["id"] == row_id] for row_id in ids}
        commonest = {row_id: _commonest(alike) for row_id, alike in found.items()}
        rows[name] = {row_id: row for row_id, row in commonest.items() if row is not None}
    keys = {key: None for body in bodies for key in body if key not in ROWS}
    tables = {key: _commonest([body[key] for body in bodies if key in body]) for key in keys}
    return {"rows": rows, "tables": {key: value for key, value in tables.items() if value is not None}}


def _commonest(values: list[Any]) -> Any:
    """The value met most often, the first of equals; None when none is met twice."""
    texts = [json.dumps(value, sort_keys=True) for value in values]
    text, count = Counter(texts).most_common(1)[0]
    return values[texts.index(text)] if count > 1 else None


def _own(body: Json, shared: Json) -> Json:
    """A family's document: tables that differ, and each row as an id, as [id, changes], or whole."""
    tables = {key: value for key, value in body.items() if key not in ROWS}
    alike = {key for key, value in shared["tables"].items() if key in tables and tables[key] == value}
    own = {key: value for key, value in tables.items() if key not in alike}
    own["without"] = sorted(set(shared["tables"]) - set(body))
    for name in ROWS:
        own[name] = [_entry(row, shared["rows"][name].get(row["id"])) for row in body[name]]
    return own


def _entry(row: Json, common: Json | None) -> Any:
    if common is None or set(common) - set(row):
        return row
    changes = {key: value for key, value in row.items() if key not in common or common[key] != value}
    return [row["id"], changes] if changes else row["id"]


def _parted(node: Any, behind: frozenset[str] = REASON) -> tuple[Any, Json]:
    """A document without the keys `behind`, and these in a mirror of it, list places as keys."""
    if not isinstance(node, dict | list):
        return node, {}
    if isinstance(node, dict) and node.get("standing") is False:
        behind = CAUTION_TEXT
    places = node.items() if isinstance(node, dict) else enumerate(node)
    kept: dict[Any, Any] = {}
    reasons: Json = {}
    for key, value in places:
        if key in behind:
            reasons[key] = value
            continue
        kept[key], inner = _parted(value, TASK_TEXT if key == "tasks" else behind)
        if inner:
            reasons[str(key)] = inner
    return (kept if isinstance(node, dict) else list(kept.values())), reasons
