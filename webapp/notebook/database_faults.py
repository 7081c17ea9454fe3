"""What SQLite, PostgreSQL and their drivers complain of, in our words."""

import sqlite3

from sqlalchemy.exc import DBAPIError, OperationalError

from webapp.errors import DatabaseBusy, DatabaseUnusable, ServerFull, StoreRefused

# Not only "full": a write that the system refuses half-way (a quota, a limit on a file's size) is the same to
# whoever asked.
_SQLITE_FULL = {
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_IOERR_WRITE,
    sqlite3.SQLITE_IOERR_FSYNC,
    sqlite3.SQLITE_IOERR_TRUNCATE,
    sqlite3.SQLITE_IOERR_SHMSIZE,
}
_SQLITE_BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_SQLITE_UNUSABLE = {
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened",
    sqlite3.SQLITE_NOTADB: "the file is no database",
    sqlite3.SQLITE_CORRUPT: "the file is damaged",
    sqlite3.SQLITE_READONLY: "it may only be read",
    sqlite3.SQLITE_PERM: "it may not be opened",
    sqlite3.SQLITE_IOERR: "the disk does not answer as it should",
}
# SQLSTATE, https://www.postgresql.org/docs/current/errcodes-appendix.html
_POSTGRESQL_FULL = {"53100"}
_POSTGRESQL_BUSY = {"40001", "40P01", "53200", "53300", "55P03", "57014"}
_POSTGRESQL_UNUSABLE = {
    "28000": "it does not let this user in",
    "28P01": "the password is not accepted",
    "3D000": "there is no such database",
    "42501": "this user may not do there what is needed",
    "25006": "it may only be read",
}

_WHAT_TO_DO = "Check its address, that it runs, and what this program may do there."


def store_fault(error: DBAPIError, name: str) -> StoreRefused | None:
    """The refusal that a driver's error means; None for what would be a bug of ours."""
    original = error.orig
    if isinstance(original, sqlite3.Error):
        return _sqlite_fault(original, name)
    state = getattr(original, "sqlstate", None)
    if state in _POSTGRESQL_FULL:
        return ServerFull()
    if state in _POSTGRESQL_BUSY:
        return DatabaseBusy()
    if state in _POSTGRESQL_UNUSABLE:
        return _unusable(name, _POSTGRESQL_UNUSABLE[state])
    if isinstance(error, OperationalError):
        # Without a state, or with one of a server that starts or stops: nobody answered.
        return _unusable(name, _said_by_the_server(original))
    return None


def _sqlite_fault(original: sqlite3.Error, name: str) -> StoreRefused | None:
    code = getattr(original, "sqlite_errorcode", None)
    if code is None:
        return None
    if code in _SQLITE_FULL:
        return ServerFull()
    family = code & 0xFF
    if family in _SQLITE_BUSY:
        return DatabaseBusy()
    if family in _SQLITE_UNUSABLE:
        return _unusable(name, _SQLITE_UNUSABLE[family])
    return None


def _said_by_the_server(original: BaseException | None) -> str:
    text = str(original)
    if "password authentication failed" in text:
        return "the password is not accepted"
    if "does not exist" in text:
        return "there is no such database or user"
    return "nobody answers there"


def _unusable(name: str, why: str) -> DatabaseUnusable:
    return DatabaseUnusable(f"{name[0].upper()}{name[1:]} cannot be used: {why}.", _WHAT_TO_DO)
