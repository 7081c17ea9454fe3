"""The server's side of the notebook: exchanges beside a bare durable write, and what a large one costs."""

import os
import statistics
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.benchmarks.stand import seconds_each
from tests.benchmarks.table import Row, at_least, at_most, note
from tests.support.line_phone import LinePhone
from tests.support.notebook_server import notebook_server
from tests.support.server import LiveServer, free_port
from tests.support.server_phone import an_operation
from webapp.notebook.contents import contents
from webapp.notebook.exchange import exchange
from webapp.notebook.keys import open_notebook
from webapp.notebook.limits import Limits
from webapp.notebook.migrating import opened

Json = dict[str, Any]

BATCH, ROUNDS = 100, 40
FINDINGS_A_SET = 12


def rows(folder: Path) -> Iterator[Row]:
    """Throughput beside a bare write, a sync of a thousand findings, and a notebook of ten thousand sets."""
    yield note("the disk: one flushed write", _flush_seconds(folder) * 1e3, "ms")
    ours, bare = notebook_server(folder / "ours"), _bare(folder / "bare")
    for server in (ours, bare):
        server.data.mkdir()
        server.start()
    try:
        # In turns, so that both see the same moods of the disk.
        taken = [(_batch_seconds(bare), _batch_seconds(ours)) for _ in range(3)]
        bare_seconds, own_seconds = (statistics.median(column) for column in zip(*taken, strict=True))
        beside = f"{BATCH / own_seconds:,.0f} against {BATCH / bare_seconds:,.0f} operations a second"
        yield at_least(
            "exchange, share of a bare durable write", 40, 100 * bare_seconds / own_seconds, "%", beside
        )
        yield at_most("1,000 findings sent and fetched, loopback", 2, _sync_seconds(ours), "s")
    finally:
        ours.stop()
        bare.stop()
    small, large = (_contents_seconds(folder / str(count), count) * 1e3 for count in (1_000, 10_000))
    yield at_most("contents of a notebook of 10,000 sets", 150, large, "ms", f"{small:.0f} ms at 1,000")


def _bare(data: Path) -> LiveServer:
    port = free_port()
    return LiveServer(
        [sys.executable, "-m", "tests.benchmarks.bare_server", str(data), str(port)], port, data
    )


def _flush_seconds(folder: Path) -> float:
    file = os.open(folder / "flushed", os.O_CREAT | os.O_WRONLY)

    def write() -> None:
        os.write(file, b"x" * 4096)
        os.fsync(file)

    try:
        return seconds_each(write, 20)
    finally:
        os.close(file)


def _findings(count: int, first: int = 0) -> list[Json]:
    return [
        an_operation(f"{(first + n) // 30:016x}/check/part-{(first + n) % 30}", {"option": "as-made"})
        for n in range(count)
    ]


def _batch_seconds(server: LiveServer) -> float:
    """Seconds that an exchange of a batch of new findings takes: the median."""
    phone = LinePhone(server.url)
    place: Json = {"cursor": 0, "generation": None}
    if "bare_server" not in " ".join(server.command):
        phone.open()
    taken = []
    for number in range(ROUNDS):
        batch = _findings(BATCH, number * BATCH)
        begin = time.perf_counter()
        status, said = phone.send(*batch, since=place["cursor"], generation=place["generation"])
        taken.append(time.perf_counter() - begin)
        assert (status, said["refused"]) == (200, [])
        place = said
    return statistics.median(taken)


def _sync_seconds(server: LiveServer) -> float:
    """Seconds until a second phone holds a thousand findings that the first one has yet to send."""
    first, findings = LinePhone(server.url).open(), _findings(1000)
    begin = time.perf_counter()
    place: Json = {"cursor": 0, "generation": None}
    for start in range(0, 1000, BATCH):
        batch = findings[start : start + BATCH]
        place = first.send(*batch, since=place["cursor"], generation=place["generation"])[1]
    found = LinePhone(server.url, first.key).listed()
    taken = time.perf_counter() - begin
    assert len(found) == 1000
    return taken


def _contents_seconds(data: Path, count: int) -> float:
    """Seconds that the list of so many sets takes, each with a title, a dozen findings and a photo."""
    database, key = opened(data), "0c" * 16
    open_notebook(database, key, 1)
    for start in range(0, count, 100):
        batch = [operation for number in range(start, start + 100) for operation in _set(number)]
        exchange(database, key, None, 0, batch, Limits(), 1)
    listed = contents(database, key, Limits())["sets"]
    assert len(listed) == count
    taken = seconds_each(lambda: contents(database, key, Limits()), 1)
    database.engine.dispose()
    return taken


def _set(number: int) -> list[Json]:
    name = f"{number:016x}"
    photo = {"set": name, "about": "front", "width": 1600, "height": 1200, "sha256": f"{number:064x}"}
    return [
        an_operation(name, {"family": "aircraft-receiver", "model_sheet": None, "created": 1}),
        an_operation(f"{name}/title", f"Receiver {number} from the barn"),
        *(an_operation(f"{name}/check/part-{part}", {"option": "as-made"}) for part in range(FINDINGS_A_SET)),
        an_operation(f"{name}-front", photo, kind="photos"),
    ]
