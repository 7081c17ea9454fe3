"""Backups: written while serving, checked whole before anything is changed, one form for both databases."""

import random
import shutil
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import select

from tests.notebook.conftest import BOTH, Rows, rows_of
from tests.support.server_phone import ServerPhone, a_photo, an_operation, error_of
from tests.support.shares import a_body, a_token
from webapp.errors import BadBackup, BadFile
from webapp.notebook import schema
from webapp.notebook.backup import write_backup
from webapp.notebook.database import Database
from webapp.notebook.restore import restore_backup


def generation(database: Database) -> str:
    """Give the server's generation."""
    with database.read() as connection:
        return str(connection.scalar(select(schema.server.c.generation)))


def filled(app: Flask) -> tuple[ServerPhone, tuple[str, bytes]]:
    """Give a phone whose notebook holds some of everything, and its photo."""
    phone, photo = ServerPhone(app).opened(), a_photo(700)
    phone.send(
        an_operation("ab12", {"family": "x"}),
        an_operation("ab12/title", 'Sender, é𝄞, from "the barn"'),
        an_operation("p1", {"set": "ab12", "sha256": photo[0]}, kind="photos"),
    )
    phone.send_part(*photo, 0, 300)
    phone.send_part(*photo, 300, 700)
    phone.send_part(*a_photo(500), 0, 200)
    for token in (tokens := [a_token(), a_token()]):
        phone.ask("PUT", f"/shares/{token}", json=a_body(photo[0]))
    phone.ask("DELETE", f"/shares/{tokens[0]}")
    ServerPhone(app).opened().ask("POST", "/key", json={"key": ServerPhone(app).key})
    return phone, photo


@pytest.mark.parametrize("source", BOTH)
@pytest.mark.parametrize("target", BOTH)
def test_a_backup_of_either_database_goes_back_into_either(
    make_store: Callable[[str], Database],
    make_app: Callable[..., Flask],
    tmp_path: Path,
    source: str,
    target: str,
) -> None:
    first, second = make_store(source), make_store(target)
    phone, photo = filled(make_app(first))
    before, file = generation(second), tmp_path / "backup.sqlite3"
    assert write_backup(first, file) == 2
    restored = restore_backup(second, file, tmp_path)
    assert (restored.notebooks, restored.before) == (2, None)
    assert rows_of(second) == rows_of(first)
    assert generation(second) not in (before, generation(first))
    there = ServerPhone(make_app(second), phone.key)
    assert there.listed() == phone.listed()
    assert there.ask("GET", f"/pictures/{photo[0]}").data == photo[1]
    assert there.ask("GET", "/contents").json == phone.ask("GET", "/contents").json


@pytest.mark.parametrize("kind", BOTH)
def test_after_a_restore_phones_are_told_and_what_stood_there_is_kept(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path, kind: str
) -> None:
    store = make_store(kind)
    phone, _ = filled(make_app(store))
    write_backup(store, tmp_path / "backup.sqlite3")
    place = phone.send(an_operation("ab12/late", "not in the backup")).json
    late = rows_of(store)
    restored = restore_backup(store, tmp_path / "backup.sqlite3", tmp_path / "data")
    refused = phone.send(since=place["cursor"], generation=place["generation"])
    assert error_of(refused) == (409, "other-generation")
    assert len(phone.listed()) == 3
    assert restored.before
    assert restored.before.parent == tmp_path / "data"
    restore_backup(store, restored.before, tmp_path / "data")
    assert rows_of(store) == late


@pytest.mark.parametrize("kind", BOTH)
def test_a_backup_written_while_phones_write_is_of_one_moment(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path, kind: str
) -> None:
    store, empty = make_store(kind), make_store("sqlite")
    app = make_app(store)
    phones = [ServerPhone(app).opened() for _ in range(3)]
    stop = threading.Event()

    def write(phone: ServerPhone) -> None:
        while not stop.is_set():
            phone.send(*(an_operation() for _ in range(5)))

    writers = [threading.Thread(target=write, args=[phone]) for phone in phones]
    for writer in writers:
        writer.start()
    try:
        while min(len(phone.listed()) for phone in phones) < 20:
            pass
        write_backup(store, tmp_path / "backup.sqlite3")
    finally:
        stop.set()
        for writer in writers:
            writer.join()
    restore_backup(empty, tmp_path / "backup.sqlite3", tmp_path)
    there = make_app(empty)
    for phone in phones:
        kept, all_of_it = ServerPhone(there, phone.key), phone.listed()
        found = kept.listed()
        assert len(found) >= 20
        assert found == all_of_it[: len(found)]
        assert kept.ask("GET", "/contents").json["operations"] == len(found)


@pytest.mark.parametrize("kind", BOTH)
def test_a_restore_while_phones_write_leaves_one_whole_state(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path, kind: str
) -> None:
    store = make_store(kind)
    app = make_app(store)
    phone = ServerPhone(app).opened()
    base = [an_operation() for _ in range(5)]
    phone.send(*base)
    write_backup(store, tmp_path / "backup.sqlite3")
    stop, answers = threading.Event(), []

    def write() -> None:
        writing = ServerPhone(app, phone.key)
        while not stop.is_set():
            answers.append(writing.send(an_operation()).status_code)

    writer = threading.Thread(target=write)
    writer.start()
    while len(answers) < 5:
        pass
    restored = restore_backup(store, tmp_path / "backup.sqlite3", tmp_path / "data")
    seen = len(answers)
    while len(answers) < seen + 3:
        pass
    stop.set()
    writer.join()
    assert set(answers) == {200}
    after = phone.listed()
    assert after[:5] == base
    counted = phone.ask("GET", "/contents").json["operations"]
    assert counted == len(after)
    # What was written before the restore is in the file that it kept, what came after in the database.
    assert restored.before
    with closing(sqlite3.connect(restored.before)) as kept:
        [before] = kept.execute("SELECT count(*) FROM operation").fetchone()
    assert before + counted - 5 == 5 + len(answers)


def test_a_file_that_exists_is_never_overwritten(
    make_store: Callable[[str], Database], tmp_path: Path
) -> None:
    store = make_store("sqlite")
    file = tmp_path / "letter.txt"
    file.write_text("dear reader")
    with pytest.raises(BadFile, match="exists already"):
        write_backup(store, file)
    assert file.read_text() == "dear reader"
    with pytest.raises(BadFile, match="cannot be written"):
        write_backup(store, tmp_path / "nowhere" / "backup.sqlite3")
    write_backup(store, tmp_path / "backup.sqlite3")
    assert [path.name for path in tmp_path.glob(".backup*")] == []


@pytest.fixture
def kept(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path
) -> tuple[Path, Rows, Database, Rows]:
    """Give a backup, its rows, a database that holds other things, and those."""
    first, second = make_store("sqlite"), make_store("sqlite")
    filled(make_app(first))
    write_backup(first, tmp_path / "backup.sqlite3")
    ServerPhone(make_app(second)).opened().send(an_operation())
    return tmp_path / "backup.sqlite3", rows_of(first), second, rows_of(second)


def test_a_backup_with_any_byte_changed_is_refused_or_restores_the_same_rows(
    kept: tuple[Path, Rows, Database, Rows], tmp_path: Path, sweep: Callable[..., Any]
) -> None:
    file, rows, store, other = kept
    whole, damaged, refused = file.read_bytes(), tmp_path / "damaged.sqlite3", 0
    for case in sweep(2000, one_in=40):
        dice = random.Random(case)
        content = bytearray(whole)
        content[dice.randrange(len(content))] ^= dice.randrange(1, 256)
        damaged.write_bytes(content)
        try:
            restore_backup(store, damaged, tmp_path / "data")
        except BadBackup:
            refused += 1
            assert rows_of(store) == other
        else:
            assert rows_of(store) == rows
            other = rows
    assert refused > 0


def test_a_backup_cut_short_anywhere_is_refused_and_changes_nothing(
    kept: tuple[Path, Rows, Database, Rows], tmp_path: Path
) -> None:
    file, _, store, other = kept
    whole, short = file.read_bytes(), tmp_path / "short.sqlite3"
    for length in (0, 10, 100, 1000, len(whole) // 2, len(whole) - 4096, len(whole) - 1):
        short.write_bytes(whole[:length])
        with pytest.raises(BadBackup):
            restore_backup(store, short, tmp_path / "data")
        assert rows_of(store) == other


def changed(file: Path, statement: str) -> Path:
    """Give a copy of a backup after a change in it."""
    copy = file.with_name("changed.sqlite3")
    shutil.copy(file, copy)
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute(statement)
        connection.commit()
    return copy


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE backup SET form = 3", "of form 3; expected 1 to 2"),
        ("UPDATE backup SET form = 1 WHERE name = 'share'", "expected 1 to 2"),
        ("DROP TABLE share", "damaged or cut short"),
        ("DELETE FROM backup", "of form none"),
        ("DROP TABLE backup", "is a database, but no backup"),
        ("DROP TABLE set_overview", "damaged or cut short"),
        ("DELETE FROM backup WHERE name = 'picture'", "damaged or cut short"),
        ("DELETE FROM operation WHERE sequence = 2", "damaged or cut short"),
        ("UPDATE operation SET document = replace(document, 'barn', 'born')", "damaged or cut short"),
        ("UPDATE share SET document = replace(document, 'barn', 'born')", "damaged or cut short"),
        ("UPDATE operation SET sequence = 7.5 WHERE sequence = 3", "damaged or cut short"),
        ("UPDATE picture_part SET content = zeroblob(300) WHERE start = 0", "damaged or cut short"),
        ("ALTER TABLE notebook RENAME COLUMN created TO made", "damaged or cut short"),
    ],
)
def test_what_is_no_whole_backup_of_this_form_is_refused_in_words(
    kept: tuple[Path, Rows, Database, Rows], tmp_path: Path, statement: str, words: str
) -> None:
    file, _, store, other = kept
    with pytest.raises(BadBackup, match=words):
        restore_backup(store, changed(file, statement), tmp_path / "data")
    assert rows_of(store) == other
    assert not (tmp_path / "data").exists()


def test_a_photo_that_is_not_what_its_hash_says_is_found_even_where_all_digests_agree(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path
) -> None:
    store = make_store("sqlite")
    filled(make_app(store))
    with store.write() as connection:
        connection.execute(schema.picture_part.update().values(content=b"\0" * 300))
    write_backup(store, tmp_path / "backup.sqlite3")
    with pytest.raises(BadBackup, match="damaged"):
        restore_backup(store, tmp_path / "backup.sqlite3", tmp_path / "data")


def test_what_is_no_database_is_refused(make_store: Callable[[str], Database], tmp_path: Path) -> None:
    store = make_store("sqlite")
    (tmp_path / "letter.txt").write_text("dear reader")
    with pytest.raises(BadBackup, match="is no backup"):
        restore_backup(store, tmp_path / "letter.txt", tmp_path)
    for missing in (tmp_path / "nothing", tmp_path):
        with pytest.raises(BadFile, match="cannot be read"):
            restore_backup(store, missing, tmp_path)
