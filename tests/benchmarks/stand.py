"""The stand that measures run on: the running app and a phone, both real, in folders of their own."""

import statistics
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.support.phone import Phone
from tests.support.server import LiveServer, free_port


@contextmanager
def app(folder: Path) -> Iterator[LiveServer]:
    """The app with an empty notebook, not yet started; stopped in the end."""
    script, port, data = Path(sys.executable).with_name("underchassis"), free_port(), folder / "data"
    command = [str(script), "serve", "--host", "127.0.0.1", "--port", str(port), "--data", str(data)]
    server = LiveServer(command, port, data)
    try:
        yield server
    finally:
        server.stop()


@contextmanager
def phone(folder: Path) -> Iterator[Phone]:
    """A phone on a new profile; closed in the end."""
    started = Phone(folder / "profile")
    try:
        yield started
    finally:
        started.close()


def seconds_each(work: Callable[[], object], times: int, rounds: int = 9) -> float:
    """Seconds that one piece of work takes: the median of rounds of several times each."""
    taken = []
    for _ in range(rounds):
        begin = time.perf_counter()
        for _ in range(times):
            work()
        taken.append((time.perf_counter() - begin) / times)
    return statistics.median(taken)
