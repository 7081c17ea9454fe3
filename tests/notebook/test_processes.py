"""Real server processes: several on one database, killed in the middle of writing, on a full disk."""

import resource
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, closing, suppress
from http.client import HTTPException
from pathlib import Path
from typing import Any

import pytest

from tests.support.line_phone import LinePhone
from tests.support.notebook_server import notebook_server
from tests.support.server import LiveServer
from tests.support.server_phone import a_photo, an_operation
from webapp.notebook.database import FILE_NAME

Json = dict[str, Any]


@pytest.fixture
def serving(tmp_path: Path) -> Iterator[Callable[..., LiveServer]]:
    """Give a function that starts the notebook's routes on one data folder or database."""
    with ExitStack() as stack:

        def started(*more: str) -> LiveServer:
            server = notebook_server(tmp_path / "data", *more)
            stack.callback(server.stop)
            server.start()
            return server

        (tmp_path / "data").mkdir()
        yield started


def test_two_servers_on_one_database_and_no_phone_skips_an_operation(
    serving: Callable[..., LiveServer], store_address: str | None
) -> None:
    more = [store_address] if store_address else []
    servers = [serving(*more), serving(*more)]
    key = LinePhone(servers[0].url).open().key
    sent: list[list[Json]] = [[] for _ in range(6)]
    seen: list[list[str]] = [[] for _ in range(6)]
    failed: list[BaseException] = []

    def one(number: int) -> None:
        try:
            phone = LinePhone(servers[number % 2].url, key)
            place: Json = {"cursor": 0, "generation": None}
            for _ in range(25):
                mine = [an_operation() for _ in range(3)]
                status, said = phone.send(*mine, since=place["cursor"], generation=place["generation"])
                assert (status, said.get("refused")) == (200, []), said
                sent[number] += mine
                seen[number] += [operation["id"] for operation in said["operations"]]
                place = said
            finished.wait(timeout=60)
            while True:
                place = phone.send(since=place["cursor"], generation=place["generation"])[1]
                seen[number] += [operation["id"] for operation in place["operations"]]
                if not place["more"]:
                    break
        except BaseException as error:
            failed.append(error)
            raise

    finished = threading.Barrier(6)
    threads = [threading.Thread(target=one, args=[number]) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    everything = {operation["id"] for one in sent for operation in one}
    assert len(everything) == 6 * 75
    for number in range(6):
        own = {operation["id"] for operation in sent[number]}
        # Each of the others' exactly once, none of its own.
        assert sorted(seen[number]) == sorted(everything - own)


def test_a_server_killed_while_writing_has_all_that_it_acknowledged(
    tmp_path: Path, sweep: Callable[..., Sequence[int]]
) -> None:
    """Killed ten times, each at another moment of a write; thirty times with --long."""
    data = tmp_path / "data"
    data.mkdir()
    server = notebook_server(data)
    key, acknowledged = "5a" * 16, []
    kills = sweep(30, one_in=3)
    for turn, kill in enumerate(kills):
        server.start()
        phone = LinePhone(server.url, key).open()
        reached = threading.Event()
        threading.Thread(target=_kill_after, args=[server, reached, kill]).start()
        with suppress(OSError, HTTPException):
            while True:
                operation = an_operation(value="x" * (kill * 200))
                status, said = phone.send(operation, since=len(acknowledged))
                assert (status, said["refused"]) == (200, [])
                acknowledged.append(operation["id"])
                reached.set()
        server.wait()
        with closing(sqlite3.connect(data / FILE_NAME)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            stored = {row[0] for row in connection.execute("SELECT id FROM operation")}
        assert stored >= set(acknowledged)
        # At most the one that was under way when it was killed, each time.
        assert len(stored) <= len(acknowledged) + turn + 1
    assert len(acknowledged) >= len(kills)
    server.start()
    assert {operation["id"] for operation in LinePhone(server.url, key).listed()} >= set(acknowledged)
    server.stop()


def _kill_after(server: LiveServer, reached: threading.Event, kill: int) -> None:
    reached.wait(timeout=30)
    # At another moment of a write each time.
    threading.Event().wait(0.003 * (kill % 10))
    server.kill()


def test_the_server_answered_although_nobody_listened_and_the_same_again_is_one(
    serving: Callable[..., LiveServer],
) -> None:
    server = serving()
    phone = LinePhone(server.url).open()
    sent = [an_operation() for _ in range(40)]
    phone.send_and_hang_up(*sent)
    status, said = phone.send(*sent)
    assert (status, said["refused"], said["operations"]) == (200, [], [])
    assert len(phone.listed()) == 40
    assert phone.ask("GET", "/contents")[1]["operations"] == 40


def test_a_full_disk_is_a_sentence_and_leaves_nothing_half_written(
    serving: Callable[..., LiveServer], tmp_path: Path
) -> None:
    server = serving()
    phone, words = LinePhone(server.url).open(), "x" * 20_000
    first = an_operation(value=words)
    assert phone.send(first)[0] == 200
    room = max(path.stat().st_size for path in (tmp_path / "data").glob("notebooks.sqlite3*")) + 200_000
    _limit_files(server, room)
    stored, refused = [first], None
    for _ in range(100):
        batch = [an_operation(value=words) for _ in range(4)]
        status, said = phone.send(*batch, since=len(stored), generation=None)
        if status != 200:
            refused = (status, said["error"])
            break
        stored += batch
    assert refused is not None
    assert (refused[0], refused[1]["code"]) == (507, "server-full")
    assert "disk is full" in refused[1]["message"]
    sha256, content = a_photo(400_000)
    part = {"Content-Range": "bytes 0-399999/400000"}
    status, said = phone.ask("PUT", f"/pictures/{sha256}", content, **part)
    assert (status, said["error"]["code"]) == (507, "server-full")
    # Reading goes on, and what is there is whole batches.
    assert [operation["id"] for operation in phone.listed()] == [operation["id"] for operation in stored]
    _limit_files(server, resource.RLIM_INFINITY)
    assert phone.send(*batch)[0] == 200
    assert phone.ask("PUT", f"/pictures/{sha256}", content, **part) == (200, {"held": 400_000, "whole": True})
    contents = phone.ask("GET", "/contents")[1]
    assert (contents["operations"], contents["photos"]["count"]) == (len(stored) + 4, 1)
    assert "Traceback" not in server.log.read_text()


def _limit_files(server: LiveServer, size: int) -> None:
    """No file of the server may grow beyond this size: to a program, a disk that is full."""
    resource.prlimit(server.pid, resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def test_servers_that_start_at_once_make_the_database_once(tmp_path: Path, store_address: str | None) -> None:
    program = f"""
import sys
from pathlib import Path
from sqlalchemy import select
from webapp.notebook.migrating import opened
from webapp.notebook.schema import server
database = opened(Path({str(tmp_path)!r}), {store_address!r})
with database.read() as connection:
    print(connection.execute(select(server)).all())
"""
    root = Path(__file__).resolve().parents[2]
    running = [
        subprocess.Popen(
            [sys.executable, "-c", program], cwd=root, stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        for _ in range(4)
    ]
    ended = [process.communicate(timeout=60) for process in running]
    assert [complaints.decode() for _, complaints in ended] == [""] * 4
    # One generation, drawn by whichever came first.
    assert len({said for said, _ in ended}) == 1
    assert ended[0][0].startswith(b"[('")


def test_the_key_is_in_no_line_that_the_server_prints(serving: Callable[..., LiveServer]) -> None:
    server = serving()
    phone = LinePhone(server.url).open()
    phone.send(an_operation(value="words of mine"), 7)  # type: ignore[arg-type]
    phone.ask("GET", "/nowhere")
    phone.ask("POST", "/exchange", b"{")
    server.stop()
    said = server.log.read_text()
    assert "Underchassis is open" in said
    assert phone.key not in said
    assert "words of mine" not in said
