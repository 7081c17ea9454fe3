"""What the server holds of a notebook, set by set, for a person to look through."""

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, and_, func, select

from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.keys import notebook_of
from webapp.notebook.limits import Limits

Json = dict[str, Any]

_LIMITS = ("operations", "bytes", "photos", "photo_bytes")

_set = schema.set_overview.c
_photo = schema.photo_overview.c
_picture = schema.picture.c


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
            "limits": {name: getattr(limits, name) for name in _LIMITS},
        }


def _sets(connection: Connection, notebook: int) -> list[Json]:
    photos = _photo_counts(connection, notebook)
    rows = connection.execute(
        select(_set.set_id, _set.title, _set.family, _set.changed, _set.removed, _set.findings)
        .where(_set.notebook == notebook, _set.family.is_not(None))
        .order_by(_set.changed.desc(), _set.set_id)
    )
    listed = []
    for set_id, title, family, changed, removed, findings in rows:
        total, held = photos.get(set_id, (0, 0))
        listed.append({
            "id": set_id, "title": title, "family": family, "changed": changed, "removed": bool(removed),
            "findings": findings, "photos": total, "photos_held": held,
        })  # fmt: skip
    return listed


def _photo_counts(connection: Connection, notebook: int) -> Mapping[str, tuple[int, int]]:
    """Photos of every set that are not removed, and how many of them are held whole."""
    whole = and_(
        _picture.notebook == notebook, _picture.sha256 == _photo.sha256, _picture.held == _picture.total
    )
    rows = connection.execute(
        select(_photo.set_id, func.count(), func.count(_picture.sha256))
        .select_from(schema.photo_overview.outerjoin(schema.picture, whole))
        .where(_photo.notebook == notebook, _photo.place == 0, _photo.removed == 0)
        .group_by(_photo.set_id)
    )
    return {set_id: (total, held) for set_id, total, held in rows}
