"""What the server holds of a notebook, set by set, for a person to look through."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, func, select

from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.keys import notebook_of
from webapp.notebook.limits import Limits
from webapp.notebook.merging import heads

Json = dict[str, Any]

_operation = schema.operation.c
_picture = schema.picture.c
_TITLE = "/title"


def contents(database: Database, key: str, limits: Limits) -> Json:
    """The notebook's sets, last changed first, and how much of its limits is used.

    A set's `findings` are the records written for it, its title among them, `changed` is the phone's clock in
    ms. Raises KeyUnknown, KeyReplaced and StoreRefused.
    """
    with database.read() as connection:
        notebook = notebook_of(connection, key)
        return {
            "sets": _sets(connection, notebook.id),
            "operations": notebook.operation_count,
            "bytes": notebook.operation_bytes,
            "photos": {"count": notebook.picture_count, "bytes": notebook.picture_bytes},
            "limits": {name: size for name, size in asdict(limits).items() if name != "one_photo"},
        }


def standing_photos(connection: Connection, notebook: int) -> Iterable[tuple[str, list[Json]]]:
    """The id and the heads of every photo's record, removed ones too; the standing head first."""
    return _heads(connection, notebook, _operation.kind == "photos").items()


def value_of(operation: Json) -> Json:
    """An operation's value where it is an object; an empty one otherwise."""
    value = operation["value"]
    return value if isinstance(value, dict) else {}


def _sets(connection: Connection, notebook: int) -> list[Json]:
    counts = _counts(connection, notebook)
    titles = _heads(
        connection,
        notebook,
        and_(_operation.kind == "findings", _operation.record == _operation.set_id + _TITLE),
    )
    photos = _photo_counts(connection, notebook)
    listed = []
    for set_id, known in _heads(connection, notebook, _operation.kind == "sets").items():
        value = value_of(known[0])
        title = titles.get(set_id + _TITLE)
        findings, changed = counts.get(set_id, (0, 0))
        total, held = photos.get(set_id, (0, 0))
        listed.append({
            "id": set_id,
            "title": _text(title[0]["value"]) if title else "",
            "family": _text(value.get("family")),
            "changed": changed,
            "removed": bool(value.get("removed")),
            "findings": findings,
            "photos": total,
            "photos_held": held,
        })  # fmt: skip
    return sorted(listed, key=lambda entry: (-entry["changed"], entry["id"]))


def _text(value: Any) -> str:
    return value if isinstance(value, str) else ""


def _counts(connection: Connection, notebook: int) -> Mapping[str, tuple[int, int]]:
    """Findings and the last change of every set."""
    records = (
        select(_operation.kind, _operation.set_id, func.max(_operation.time).label("changed"))
        .where(_operation.notebook == notebook, _operation.kind.in_(("sets", "findings", "photos")))
        .group_by(_operation.kind, _operation.set_id, _operation.record)
        .subquery()
    )
    rows = connection.execute(
        select(records.c.kind, records.c.set_id, func.count(), func.max(records.c.changed)).group_by(
            records.c.kind, records.c.set_id
        )
    )
    counts: dict[str, tuple[int, int]] = {}
    for kind, set_id, number, changed in rows:
        findings, latest = counts.get(set_id, (0, 0))
        counts[set_id] = (number if kind == "findings" else findings, max(latest, changed))
    return counts


def _photo_counts(connection: Connection, notebook: int) -> Mapping[str, tuple[int, int]]:
    """Photos of every set that are not removed, and how many of them are held whole."""
    whole = set(
        connection.scalars(
            select(_picture.sha256).where(_picture.notebook == notebook, _picture.held == _picture.total)
        )
    )
    counts: dict[str, tuple[int, int]] = {}
    for _, known in standing_photos(connection, notebook):
        value = value_of(known[0])
        if not value.get("removed"):
            total, held = counts.get(_text(value.get("set")), (0, 0))
            counts[_text(value.get("set"))] = (total + 1, held + (_text(value.get("sha256")) in whole))
    return counts


def _heads(connection: Connection, notebook: int, which: ColumnElement[bool]) -> dict[str, list[Json]]:
    """The heads of every record of these operations; nearly all records have a single one, and then no more
    is read of it than its text."""
    rows = connection.execute(
        select(_operation.record, _operation.received, _operation.document).where(
            _operation.notebook == notebook, which
        )
    )
    records: dict[str, list[Json]] = {}
    for record, received, document in rows:
        records.setdefault(record, []).append(json.loads(document) | {"received": received})
    return {record: heads(known) for record, known in records.items()}
