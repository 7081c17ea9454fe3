"""Photos, part by part, so that a broken line costs one part. A notebook's photos are its own alone: another
that holds the same photo sends it itself, since knowing a hash is no right to the photo."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Row, delete, insert, select, update

from webapp.errors import BadInput, NotKnown, PartDoesNotFollow, PictureDamaged, Sentence
from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.keys import notebook_of
from webapp.notebook.limits import Limits

# RFC 9110, section 14.4.
_RANGE = re.compile(r"bytes ([0-9]{1,10})-([0-9]{1,10})/([0-9]{1,10})")

_picture = schema.picture.c
_part = schema.picture_part.c


@dataclass(frozen=True)
class Part:
    """Some bytes of a photo of `total` bytes, from `start` on."""

    start: int
    total: int
    content: bytes

    @property
    def end(self) -> int:
        """The first byte after this part."""
        return self.start + len(self.content)


def read_part(content_range: str, content: bytes) -> Part:
    """The part that a request holds. Raises BadInput when header and body do not belong together."""
    found = _RANGE.fullmatch(content_range)
    if not found:
        raise BadInput(
            "The header Content-Range is missing or unreadable.", "Expected: bytes 0-524287/700000"
        )
    first, last, total = (int(number) for number in found.groups())
    if not first <= last < total or last - first + 1 != len(content):
        raise BadInput(
            f"{len(content):,} bytes arrived; the header Content-Range says bytes {first}-{last} of {total}.",
            "Send exactly the bytes that it names.",
        )
    return Part(first, total, content)


def store_part(database: Database, key: str, sha256: str, part: Part, limits: Limits) -> tuple[int, bool]:
    """Adds a part that follows on those held: bytes held now, and whether the photo is whole.

    A part held already changes nothing. Raises PictureTooLarge, PartDoesNotFollow, PictureDamaged (the parts
    are dropped), NotebookFull, KeyUnknown, KeyReplaced and StoreRefused.
    """
    limits.check_size(part.total)
    with database.write() as connection:
        notebook = notebook_of(connection, key, to_change=True)
        held, total = _begun(connection, notebook, sha256, part, limits)
        if held == total or part.end <= held:
            return held, held == total
        _append(connection, notebook.id, sha256, part)
        damaged = part.end == total and not _is_whole(connection, notebook.id, sha256)
        if damaged:
            drop_pictures(connection, notebook.id, [sha256])
    # Outside, so that the dropping is stored.
    if damaged:
        raise PictureDamaged
    return part.end, part.end == total


def held_of(database: Database, key: str, hashes: Sequence[str]) -> tuple[dict[str, int], list[str]]:
    """Of these photos, bytes held of each that is not whole, and those that are whole."""
    with database.read() as connection:
        notebook = notebook_of(connection, key)
        rows = connection.execute(
            select(_picture.sha256, _picture.held, _picture.total)
            .where(_picture.notebook == notebook.id, _picture.sha256.in_(hashes))
            .order_by(_picture.sha256)
        ).all()
    begun = {row.sha256: row.held for row in rows if row.held < row.total}
    return begun, [row.sha256 for row in rows if row.held == row.total]


def picture(database: Database, key: str, sha256: str) -> bytes:
    """A whole photo of this notebook. Raises NotKnown, KeyUnknown, KeyReplaced and StoreRefused."""
    with database.read() as connection:
        return content_of(connection, notebook_of(connection, key).id, sha256)


def content_of(connection: Connection, notebook: int, sha256: str) -> bytes:
    """A whole photo of this notebook; raises NotKnown."""
    row = _row(connection, notebook, sha256)
    if row is None or row.held < row.total:
        raise NotKnown(
            Sentence("The server does not hold this photo."),
            Sentence("It comes once the phone that took it sends it."),
        )
    return b"".join(_contents(connection, notebook, sha256))


def whole_of(connection: Connection, notebook: int, hashes: Sequence[str]) -> set[str]:
    """Those of these photos that the notebook holds whole."""
    asked = select(_picture.sha256).where(_picture.notebook == notebook, _picture.sha256.in_(hashes))
    return set(connection.scalars(asked.where(_picture.held == _picture.total)))


def drop_pictures(connection: Connection, notebook: int, hashes: Sequence[str]) -> None:
    """Removes these photos, and takes them off the notebook's account."""
    mine = (_picture.notebook == notebook, _picture.sha256.in_(hashes))
    sizes = connection.scalars(select(_picture.total).where(*mine)).all()
    connection.execute(delete(schema.picture).where(*mine))
    _account(connection, notebook, -len(sizes), -sum(sizes))


def _begun(
    connection: Connection, notebook: Row[tuple[int, ...]], sha256: str, part: Part, limits: Limits
) -> tuple[int, int]:
    """Bytes held of the photo, and its size; a photo not begun is begun by its first part."""
    row = _row(connection, notebook.id, sha256)
    if row is not None and row.held < row.total != part.total:
        # Whoever began it had another size in mind, and one of the two is wrong.
        drop_pictures(connection, notebook.id, [sha256])
        row = None
    if row is None:
        if part.start > 0:
            raise PartDoesNotFollow(0)
        limits.check_picture(notebook, part.total)
        values = {"notebook": notebook.id, "sha256": sha256, "total": part.total, "held": 0}
        connection.execute(insert(schema.picture).values(values))
        _account(connection, notebook.id, 1, part.total)
        return 0, part.total
    if row.held < row.total and part.end > row.held != part.start:
        raise PartDoesNotFollow(row.held)
    return row.held, row.total


def _append(connection: Connection, notebook: int, sha256: str, part: Part) -> None:
    values = {"notebook": notebook, "sha256": sha256, "start": part.start, "content": part.content}
    connection.execute(insert(schema.picture_part).values(values))
    connection.execute(
        update(schema.picture)
        .where(_picture.notebook == notebook, _picture.sha256 == sha256)
        .values(held=part.end)
    )


def _account(connection: Connection, notebook: int, photos: int, size: int) -> None:
    own = schema.notebook.c
    connection.execute(
        update(schema.notebook)
        .where(own.id == notebook)
        .values(picture_count=own.picture_count + photos, picture_bytes=own.picture_bytes + size)
    )


def _is_whole(connection: Connection, notebook: int, sha256: str) -> bool:
    content = hashlib.sha256()
    for part in _contents(connection, notebook, sha256):
        content.update(part)
    return content.hexdigest() == sha256


def _row(connection: Connection, notebook: int, sha256: str) -> Row[tuple[int, ...]] | None:
    mine = (_picture.notebook == notebook, _picture.sha256 == sha256)
    return connection.execute(select(schema.picture).where(*mine)).one_or_none()


def _contents(connection: Connection, notebook: int, sha256: str) -> Sequence[bytes]:
    mine = (_part.notebook == notebook, _part.sha256 == sha256)
    return connection.scalars(select(_part.content).where(*mine).order_by(_part.start)).all()
