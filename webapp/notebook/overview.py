"""What the operations say of each set and photo, kept ready as they arrive.

A pure function of the operations: it is taken from the heads of the records touched, never from what stood
here before. Whatever in them cannot be read is treated as absent.
"""

import json
import re
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select, update

from webapp.notebook import schema
from webapp.notebook.merging import heads
from webapp.notebook.operations import Written

Json = dict[str, Any]

_operation = schema.operation.c
_set = schema.set_overview.c
_photo = schema.photo_overview.c
_TITLE = "/title"

# Put together once, as in the exchange.
_KNOWN = (
    select(_operation.record)
    .distinct()
    .where(
        _operation.notebook == bindparam("notebook"),
        _operation.kind == "findings",
        _operation.record.in_(bindparam("records", expanding=True)),
    )
)
_ROWS = select(schema.set_overview).where(
    _set.notebook == bindparam("notebook"), _set.set_id.in_(bindparam("sets", expanding=True))
)
_CHANGE = update(schema.set_overview).where(
    _set.notebook == bindparam("this_notebook"), _set.set_id == bindparam("this_one")
)
# Signs of a title or a name that are enough to know it by.
_LONGEST = 200
# What a database's text, or a screen, has no place for.
_UNFIT = re.compile("[\\x00-\\x1f\\x7f\\ud800-\\udfff]")


def keep_overview(connection: Connection, notebook: int, new: Sequence[Written], now: int) -> None:
    """Brings the overview up to date with operations that are about to be stored."""
    _keep_photos(connection, notebook, _arriving(new, "photos", now))
    sets = _arriving(new, "sets", now)
    titles = _arriving(new, "findings", now, _TITLE)
    findings = {written.operation.record for written in new if written.operation.kind == "findings"}
    unknown = findings - _known(connection, notebook, findings)
    rows = _set_rows(connection, notebook, _touched(new))
    for record in unknown:
        rows[_set_of(record)]["findings"] += 1
    for record, known in _heads(connection, notebook, "findings", titles).items():
        if record == _set_of(record) + _TITLE:
            rows[_set_of(record)]["title"] = _text(known[0]["value"])
    for record, known in _heads(connection, notebook, "sets", sets).items():
        value = _object(known[0])
        rows[record] |= {"family": _text(value.get("family")), "removed": int(bool(value.get("removed")))}
    _write_sets(connection, notebook, rows)


def _arriving(new: Sequence[Written], kind: str, now: int, ending: str = "") -> dict[str, list[Json]]:
    """The new operations of one kind by their record, those of records that end so."""
    records: dict[str, list[Json]] = {}
    for written in new:
        operation = written.operation
        if operation.kind == kind and operation.record.endswith(ending):
            records.setdefault(operation.record, []).append(operation.model_dump() | {"received": now})
    return records


def _heads(
    connection: Connection, notebook: int, kind: str, arriving: Mapping[str, list[Json]]
) -> dict[str, list[Json]]:
    """The heads of the records that these operations arrive in, the standing one first."""
    if not arriving:
        return {}
    rows = connection.execute(
        select(_operation.record, _operation.received, _operation.document).where(
            _operation.notebook == notebook, _operation.kind == kind, _operation.record.in_(list(arriving))
        )
    )
    known = {record: list(operations) for record, operations in arriving.items()}
    for record, received, document in rows:
        known[record].append(json.loads(document) | {"received": received})
    return {record: heads(operations) for record, operations in known.items()}


def _known(connection: Connection, notebook: int, findings: Collection[str]) -> set[str]:
    """Which of these findings' records have an operation already."""
    if not findings:
        return set()
    return set(connection.scalars(_KNOWN, {"notebook": notebook, "records": list(findings)}))


def _touched(new: Sequence[Written]) -> dict[str, int]:
    """The sets that these operations speak of, each with the latest time."""
    latest: dict[str, int] = {}
    for written in new:
        operation = written.operation
        set_id = operation.record
        if operation.kind == "photos":
            set_id = _text(_object({"value": operation.value}).get("set"))
        elif operation.kind == "findings":
            set_id = _set_of(operation.record)
        elif operation.kind != "sets":
            continue
        if set_id:
            latest[set_id] = max(latest.get(set_id, 0), operation.time)
    return latest


def _set_rows(connection: Connection, notebook: int, touched: Mapping[str, int]) -> dict[str, Json]:
    """The rows of these sets as they stand, `there` telling whether they are stored."""
    stored = connection.execute(_ROWS, {"notebook": notebook, "sets": list(touched)})
    rows = {row.set_id: row._asdict() | {"there": True} for row in stored}
    for set_id, changed in touched.items():
        blank = {"title": "", "family": None, "removed": 0, "findings": 0, "changed": 0, "there": False}
        row = rows.setdefault(set_id, {"notebook": notebook, "set_id": set_id} | blank)
        row["changed"] = max(row["changed"], changed)
    return rows


def _write_sets(connection: Connection, notebook: int, rows: Mapping[str, Json]) -> None:
    names = ("title", "family", "removed", "findings", "changed")
    stored = [row for row in rows.values() if row["there"]]
    if stored:
        which = {"this_notebook": notebook}
        changed = [
            {name: row[name] for name in names} | which | {"this_one": row["set_id"]} for row in stored
        ]
        connection.execute(_CHANGE, changed)
    fresh = [{name: row[name] for name in ("notebook", "set_id", *names)} for row in rows.values()]
    fresh = [row for row in fresh if not rows[row["set_id"]]["there"]]
    if fresh:
        connection.execute(insert(schema.set_overview), fresh)


def _keep_photos(connection: Connection, notebook: int, arriving: Mapping[str, list[Json]]) -> None:
    if not arriving:
        return
    rows = [
        {
            "notebook": notebook,
            "record": record,
            "place": place,
            "set_id": _text(_object(head).get("set")),
            "sha256": _text(_object(head).get("sha256")),
            "removed": int(bool(_object(head).get("removed"))),
            "received": head["received"],
        }
        for record, known in _heads(connection, notebook, "photos", arriving).items()
        for place, head in enumerate(known)
    ]
    connection.execute(
        delete(schema.photo_overview).where(_photo.notebook == notebook, _photo.record.in_(list(arriving)))
    )
    connection.execute(insert(schema.photo_overview), rows)


def _set_of(record: str) -> str:
    return record.partition("/")[0]


def _object(operation: Json) -> Json:
    value = operation["value"]
    return value if isinstance(value, dict) else {}


def _text(value: Any) -> str:
    return _UNFIT.sub("", value)[:_LONGEST] if isinstance(value, str) else ""
