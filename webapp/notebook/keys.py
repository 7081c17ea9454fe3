"""The keys that open notebooks. What the server keeps of a key does not open anything."""

import hashlib
import re
import secrets

from sqlalchemy import Connection, Row, delete, insert, select, update
from sqlalchemy.exc import IntegrityError

from webapp.errors import KeyInUse, KeyReplaced, KeyUnknown
from webapp.notebook import schema
from webapp.notebook.database import Database

_KEY = re.compile(r"[0-9a-f]{32}")


def hashed(key: str) -> str:
    """SHA-256 of the key's 16 bytes, in hex. Raises KeyUnknown for what is no key."""
    if not _KEY.fullmatch(key):
        raise KeyUnknown
    return hashlib.sha256(bytes.fromhex(key)).hexdigest()


def notebook_of(connection: Connection, key: str, *, to_change: bool = False) -> Row[tuple[int, ...]]:
    """The notebook that this key opens; `to_change` holds it against all others until the transaction ends.

    Raises KeyUnknown and KeyReplaced.
    """
    own = schema.notebook_key.c
    asked = select(schema.notebook, own.replaced).join(schema.notebook_key).where(own.hash == hashed(key))
    if to_change:
        asked = asked.with_for_update(of=schema.notebook)
    found = connection.execute(asked).one_or_none()
    if found is None:
        raise KeyUnknown
    if found.replaced is not None:
        raise KeyReplaced
    return found


def generation_of(connection: Connection, notebook: Row[tuple[int, ...]]) -> str:
    """What a phone's place in this notebook holds for: new after a restore, and for a notebook made anew."""
    return f"{connection.scalar(select(schema.server.c.generation))}.{notebook.id:x}"


def open_notebook(database: Database, key: str, now: int) -> tuple[bool, str]:
    """Opens the key's notebook, or makes it: whether it was made, and its generation. Raises KeyReplaced."""
    found = _opened(database, key)
    if found is not None:
        return False, found
    number = secrets.randbits(62)
    try:
        with database.write() as connection:
            connection.execute(insert(schema.notebook).values(id=number, created=now, **_NOTHING_YET))
            _give(connection, number, key, now)
            return True, generation_of(connection, notebook_of(connection, key))
    except IntegrityError:
        # Another request of the same key was quicker.
        return False, _opened(database, key) or ""


def check(database: Database, key: str) -> None:
    """Raises KeyUnknown and KeyReplaced unless the key opens a notebook."""
    with database.read() as connection:
        notebook_of(connection, key)


def replace_key(database: Database, key: str, new: str, now: int) -> None:
    """Lets the new key open what this one opened. Raises KeyUnknown, KeyReplaced and KeyInUse."""
    try:
        with database.write() as connection:
            notebook = notebook_of(connection, key, to_change=True)
            _give(connection, notebook.id, new, now)
            own = schema.notebook_key.c
            connection.execute(
                update(schema.notebook_key).where(own.hash == hashed(key)).values(replaced=now)
            )
    except IntegrityError as error:
        raise KeyInUse from error


def delete_notebook(database: Database, key: str) -> None:
    """Removes all that the server holds of this notebook, its keys too. Raises KeyUnknown and KeyReplaced."""
    with database.write() as connection:
        notebook = notebook_of(connection, key, to_change=True)
        connection.execute(delete(schema.notebook).where(schema.notebook.c.id == notebook.id))


_NOTHING_YET = {"last_sequence": 0, "operation_count": 0, "operation_bytes": 0}


def _opened(database: Database, key: str) -> str | None:
    with database.read() as connection:
        try:
            return generation_of(connection, notebook_of(connection, key))
        except KeyUnknown:
            # What is no key at all makes no notebook.
            hashed(key)
            return None


def _give(connection: Connection, notebook: int, key: str, now: int) -> None:
    row = {"hash": hashed(key), "notebook": notebook, "created": now}
    connection.execute(insert(schema.notebook_key).values(row))
