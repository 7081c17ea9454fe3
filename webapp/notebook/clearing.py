"""Lets go of photos that were removed long ago."""

from sqlalchemy import Connection, and_, not_, select, update

from webapp.notebook import schema
from webapp.notebook.database import Database
from webapp.notebook.keys import notebook_of
from webapp.notebook.pictures import drop_pictures

DAY = 24 * 60 * 60
# Seconds by the server's clock, from when it heard of the removal: long enough to notice a mistake.
KEPT_AFTER_REMOVAL = 30 * DAY


def is_due(cleared: int, now: int) -> bool:
    """Whether a notebook last cleared then is to be cleared again."""
    return now - cleared >= DAY


def clear_removed(database: Database, key: str, now: int) -> int:
    """Drops photos removed more than 30 days ago, at most once a day a notebook; gives how many.

    Raises KeyUnknown, KeyReplaced and StoreRefused.
    """
    with database.write() as connection:
        notebook = notebook_of(connection, key, to_change=True)
        if not is_due(notebook.cleared, now):
            return 0
        doomed = _removed_long_ago(connection, notebook.id, now)
        if doomed:
            drop_pictures(connection, notebook.id, doomed)
        own = schema.notebook.c
        connection.execute(update(schema.notebook).where(own.id == notebook.id).values(cleared=now))
    return len(doomed)


def _removed_long_ago(connection: Connection, notebook: int, now: int) -> list[str]:
    """Photos held of which every head was removed that long ago, whatever record it stands in."""
    head, held = schema.photo_overview.c, schema.picture.c
    long_ago = and_(head.removed == 1, head.received < now - KEPT_AFTER_REMOVAL)
    mine = head.notebook == notebook
    wanted = select(head.sha256).where(mine, not_(long_ago))
    return list(
        connection.scalars(
            select(held.sha256).where(
                held.notebook == notebook,
                held.sha256.in_(select(head.sha256).where(mine, long_ago)),
                held.sha256.not_in(wanted),
            )
        )
    )
