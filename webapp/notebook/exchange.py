"""One exchange between a phone and its notebook: what is new there is stored, what is new here is given."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, bindparam, insert, select, update

from webapp.errors import OtherGeneration
from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.keys import generation_of, notebook_of
from webapp.notebook.limits import Limits
from webapp.notebook.operations import Refusal, Written, differing, read_operations
from webapp.notebook.overview import keep_overview

# Operations in one answer, and bytes after which it ends early.
MOST_GIVEN = 1000
GIVEN_BYTES = 4_000_000

_operation = schema.operation.c

# Put together once: that takes as long as running them. The notebook's number stands in a sum, since SQLite
# takes reading a whole notebook by it for less work than a hundred look-ups by id.
_STORED = select(_operation.id, _operation.document).where(
    _operation.id.in_(bindparam("ids", expanding=True)), _operation.notebook + 0 == bindparam("notebook")
)
_own = schema.notebook.c
_NUMBERS = (
    update(schema.notebook)
    .where(_own.id == bindparam("this_one"))
    .values(
        last_sequence=_own.last_sequence + bindparam("count"),
        operation_count=_own.operation_count + bindparam("count"),
        operation_bytes=_own.operation_bytes + bindparam("size"),
    )
    .returning(_own.last_sequence)
)
_STORE = insert(schema.operation)


@dataclass(frozen=True)
class Exchanged:
    """What a phone is told; `documents` are operations as JSON texts, `cursor` its place from now on.

    `cleared` is when photos removed long ago were last let go of.
    """

    generation: str
    refused: Sequence[Refusal]
    documents: Sequence[str]
    cursor: int
    more: bool
    cleared: int


def exchange(
    database: Database,
    key: str,
    generation: str | None,
    since: int,
    raw: Sequence[Any],
    limits: Limits,
    now: int,
) -> Exchanged:
    """Stores what can be kept of these operations, durably, and lists what others stored after `since`.

    Without a generation it lists from the beginning. Raises KeyUnknown, KeyReplaced, OtherGeneration,
    NotebookFull (nothing stored) and StoreRefused.
    """
    sent, refused = read_operations(raw)
    with database.write() if sent else database.read() as connection:
        notebook = notebook_of(connection, key, to_change=bool(sent))
        known_as = generation_of(connection, notebook)
        place = since if generation is not None else 0
        if generation not in (None, known_as) or place > notebook.last_sequence:
            raise OtherGeneration(known_as)
        new, twice = _told_apart(connection, notebook.id, sent)
        _store(connection, notebook, new, limits, now)
        own = {written.operation.id for written in sent}
        documents, cursor, more = _list(connection, notebook, place, own)
    if not more:
        cursor = notebook.last_sequence + len(new)
    return Exchanged(known_as, [*refused, *twice], documents, cursor, more, notebook.cleared)


def _told_apart(
    connection: Connection, notebook: int, sent: Sequence[Written]
) -> tuple[list[Written], list[Refusal]]:
    """Those not stored before, and a refusal for each whose id was stored with other contents."""
    if not sent:
        return [], []
    ids = [written.operation.id for written in sent]
    rows = connection.execute(_STORED, {"notebook": notebook, "ids": ids})
    stored = {row.id: row.document for row in rows}
    new = [written for written in sent if written.operation.id not in stored]
    twice = [
        differing(written.operation.id)
        for written in sent
        if stored.get(written.operation.id, written.document) != written.document
    ]
    return new, twice


def _store(
    connection: Connection, notebook: Row[tuple[int, ...]], new: Sequence[Written], limits: Limits, now: int
) -> None:
    if not new:
        return
    size = sum(written.size for written in new)
    limits.check_operations(notebook, len(new), size)
    # Numbers are given under the notebook's lock, so they are committed in their order and none is seen late.
    counted = {"this_one": notebook.id, "count": len(new), "size": size}
    last = connection.execute(_NUMBERS, counted).scalar_one()
    first = last - len(new) + 1
    rows = [_row(notebook.id, sequence, written, now) for sequence, written in enumerate(new, first)]
    keep_overview(connection, notebook.id, new, now)
    connection.execute(_STORE, rows)


def _row(notebook: int, sequence: int, written: Written, now: int) -> dict[str, Any]:
    operation = written.operation
    return {
        "notebook": notebook,
        "sequence": sequence,
        "id": operation.id,
        "kind": operation.kind,
        "record": operation.record,
        "device": operation.device,
        "time": operation.time,
        "received": now,
        "document": written.document,
    }


def _list(
    connection: Connection, notebook: Row[tuple[int, ...]], since: int, own: set[str]
) -> tuple[list[str], int, bool]:
    """Documents of others after `since`, the last number looked at, and whether there are more.

    What this exchange stored lies behind the notebook's last number as it was before, and is not looked at.
    """
    if since >= notebook.last_sequence:
        return [], since, False
    rows = connection.execute(
        select(_operation.sequence, _operation.id, _operation.document)
        .where(
            _operation.notebook == notebook.id,
            _operation.sequence > since,
            _operation.sequence <= notebook.last_sequence,
        )
        .order_by(_operation.sequence)
        .limit(MOST_GIVEN + 1)
        .execution_options(yield_per=100)
    )
    documents: list[str] = []
    cursor, size = since, 0
    for row in rows:
        if len(documents) == MOST_GIVEN or size > GIVEN_BYTES:
            rows.close()
            return documents, cursor, True
        cursor = row.sequence
        if row.id not in own:
            documents.append(row.document)
            size += len(row.document)
    # Where this phone's own are among as many as were asked for, more may follow.
    return documents, cursor, cursor < notebook.last_sequence
