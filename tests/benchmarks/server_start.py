"""How long the server takes from the command to its first answer, when it has built its files before."""

import time
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.stand import app
from tests.benchmarks.table import Row, at_most, note
from tests.support.server import LiveServer


def rows(folder: Path) -> Iterator[Row]:
    """The first start, which builds and compresses, and the second."""
    with app(folder) as server:
        first, second = _start(server), _start(server)
    yield note("first start of the server", first, "s")
    yield at_most("second start of the server", 5, second, "s")


def _start(server: LiveServer) -> float:
    begin = time.perf_counter()
    server.start()
    taken = time.perf_counter() - begin
    server.stop()
    return taken
