"""Descriptions shared by a link that nobody guesses, and that whoever made it can take back.

A link holds a token of 128 bits, and the server keeps the token's SHA-256. Taking a link back drops the
document for good; the row stays, so that the link says what became of it and is never made again. A link
holds through the end of its last day in UTC.
"""

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Connection, Row, bindparam, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from webapp.errors import NoLongerShared, NotKnown, Sentence
from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.keys import notebook_of
from webapp.notebook.limits import Limits
from webapp.notebook.pictures import content_of, whole_of
from webapp.notebook.share_form import Share

Json = dict[str, Any]

_TOKEN = re.compile(r"[0-9a-f]{32}")

_share = schema.share.c


@dataclass(frozen=True)
class Shared:
    """What a link shows: the document, its last day (YYYY-MM-DD) or None, and whether engines may list it.

    Photos that the server does not hold, not yet or not any more, are left out of the document.
    """

    document: Json
    expires: str | None
    found: bool


def put_share(
    database: Database, key: str, token: str, share: Share, limits: Limits, now: int
) -> tuple[bool, Json]:
    """Shares a description under this token, in the place of what was shared there: whether the link is new,
    and its row as in `list_shares`.

    Raises KeyUnknown, KeyReplaced, NotKnown for a token of another notebook, NoLongerShared for one taken
    back, NotebookFull and StoreRefused.
    """
    values = {
        "changed": now, "expires": share.expires, "found": int(share.found), "document": share.text,
    }  # fmt: skip
    try:
        with database.write() as connection:
            notebook = notebook_of(connection, key, to_change=True)
            row = _row(connection, token)
            if row is None:
                _check_room(connection, notebook.id, limits)
                new = values | {"hash": _hashed(token), "notebook": notebook.id, "created": now}
                connection.execute(insert(schema.share).values(new))
            else:
                _check_own(row, notebook.id)
                _check_not_withdrawn(row)
                connection.execute(update(schema.share).where(_share.hash == row.hash).values(values))
            return row is None, _listed(_found(connection, token))
    except IntegrityError as error:
        # Another notebook of the same token was quicker.
        raise _unknown() from error


def withdraw(database: Database, key: str, token: str, now: int) -> None:
    """Takes a link back for good and drops its document; one taken back before stays as it is.

    Raises KeyUnknown, KeyReplaced, NotKnown for a token that is none of this notebook's, and StoreRefused.
    """
    with database.write() as connection:
        notebook = notebook_of(connection, key, to_change=True)
        row = _found(connection, token)
        _check_own(row, notebook.id)
        connection.execute(
            update(schema.share)
            .where(_share.hash == row.hash, _share.revoked.is_(None))
            .values(revoked=now, document=None)
        )


def list_shares(database: Database, key: str) -> list[Json]:
    """The notebook's links, oldest first: `hash` of the token, times in seconds, last day, and `found`.

    Raises KeyUnknown, KeyReplaced and StoreRefused.
    """
    with database.read() as connection:
        notebook = notebook_of(connection, key)
        mine = select(schema.share).where(_share.notebook == notebook.id)
        return [_listed(row) for row in connection.execute(mine.order_by(_share.created, _share.hash))]


def check_share(database: Database, key: str, token: str, now: int) -> None:
    """Raises NotKnown unless the token is this notebook's, NoLongerShared unless it can be read now.

    Raises KeyUnknown, KeyReplaced and StoreRefused too.
    """
    with database.read() as connection:
        notebook = notebook_of(connection, key)
        row = _found(connection, token)
        _check_own(row, notebook.id)
        _check_readable(row, now)


def shared(database: Database, token: str, now: int) -> Shared:
    """What this link shows. Raises NotKnown, NoLongerShared and StoreRefused."""
    with database.read() as connection:
        row = _readable(connection, token, now)
        document = json.loads(row.document)
        hashes = [photo["sha256"] for photo in document["photos"]]
        here = whole_of(connection, row.notebook, hashes)
    document["photos"] = [photo for photo in document["photos"] if photo["sha256"] in here]
    return Shared(document, row.expires, bool(row.found))


def shared_picture(database: Database, token: str, sha256: str, now: int) -> tuple[bytes, bool]:
    """A photo that this link's document lists, and whether engines may list it.

    Raises NotKnown, NoLongerShared and StoreRefused.
    """
    with database.read() as connection:
        row = _readable(connection, token, now)
        listed = {photo["sha256"] for photo in json.loads(row.document)["photos"]}
        if sha256 not in listed:
            raise NotKnown(
                Sentence("This description shows no such photo."), Sentence("Go back to its page.")
            )
        return content_of(connection, row.notebook, sha256), bool(row.found)


def withdrawn(connection: Connection) -> dict[str, int]:
    """The links of all notebooks that were taken back, by the token's hash, and when."""
    rows = connection.execute(select(_share.hash, _share.revoked).where(_share.revoked.is_not(None)))
    return {row.hash: row.revoked for row in rows}


def withdraw_again(connection: Connection, taken_back: Mapping[str, int]) -> None:
    """Takes these links back where a restore has put them in again."""
    if taken_back:
        back = (
            update(schema.share)
            .where(_share.hash == bindparam("link"), _share.revoked.is_(None))
            .values(revoked=bindparam("when"), document=None)
        )
        rows = [{"link": link, "when": when} for link, when in taken_back.items()]
        connection.execute(back, rows)


def _hashed(token: str) -> str:
    """SHA-256 of the token's 16 bytes, in hex. Raises NotKnown for what is no token."""
    if not _TOKEN.fullmatch(token):
        raise _unknown()
    return hashlib.sha256(bytes.fromhex(token)).hexdigest()


def _unknown() -> NotKnown:
    return NotKnown(
        Sentence("Nothing is shared by this link."),
        Sentence("Check that it is whole, or scan the tag once more."),
    )


def _row(connection: Connection, token: str) -> Row[Any] | None:
    return connection.execute(select(schema.share).where(_share.hash == _hashed(token))).one_or_none()


def _found(connection: Connection, token: str) -> Row[Any]:
    row = _row(connection, token)
    if row is None:
        raise _unknown()
    return row


def _readable(connection: Connection, token: str, now: int) -> Row[Any]:
    row = _found(connection, token)
    _check_readable(row, now)
    return row


def _check_own(row: Row[Any], notebook: int) -> None:
    # Whoever was given the link may read it; nothing more than that it is none of his is said.
    if row.notebook != notebook:
        raise _unknown()


def _check_not_withdrawn(row: Row[Any]) -> None:
    if row.revoked is not None:
        raise NoLongerShared


def _check_readable(row: Row[Any], now: int) -> None:
    _check_not_withdrawn(row)
    if row.expires is not None and day_of(now).isoformat() > row.expires:
        raise NoLongerShared(date.fromisoformat(row.expires))


def day_of(now: int) -> date:
    """The day in UTC of a time in seconds."""
    return datetime.fromtimestamp(now, UTC).date()


def _check_room(connection: Connection, notebook: int, limits: Limits) -> None:
    # What is withdrawn has no document, so only those that are not are counted by it.
    counted = select(func.count(_share.document), func.count()).where(_share.notebook == notebook)
    shared_now, links = connection.execute(counted).one()
    limits.check_share(shared_now, links)


def _listed(row: Row[Any]) -> Json:
    return {
        "hash": row.hash,
        "created": row.created,
        "changed": row.changed,
        "expires": row.expires,
        "revoked": row.revoked,
        "found": bool(row.found),
    }
