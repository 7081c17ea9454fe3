"""A phone without a signal: the browser is started anew and opens the address of a set kept on it.

The app is visited once, with the server there, until it is kept whole; then the server stops for good. A
script put into the page before its own notes when the first check stands on screen, counted from the
beginning of the navigation to the end of the frame.
"""

import statistics
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.stand import app, phone
from tests.benchmarks.table import Row, at_most
from tests.support.phone import Phone
from tests.support.table import Table

STARTS = 5

RECORD = """
const channel = new MessageChannel();
channel.port1.onmessage = () => { globalThis.usable = performance.now(); };
const watcher = new MutationObserver(() => {
  if (!document.querySelector('.check:not([hidden]) .option')) return;
  watcher.disconnect();
  requestAnimationFrame(() => channel.port2.postMessage(null));
});
watcher.observe(document, { childList: true, subtree: true, attributes: true });
"""


def rows(folder: Path) -> Iterator[Row]:
    """Five cold starts without a server."""
    with app(folder) as server, phone(folder) as user:
        server.start()
        table = Table(user, server.url)
        table.open()
        address = f"{server.url}/{table.new_set()}"
        table.until_ready_offline()
        table.until_saved()
        server.stop()
        taken = [_started(user, address) for _ in range(STARTS)]
    beside = "from " + " to ".join(f"{figure:.2f}" for figure in (min(taken), max(taken)))
    median = statistics.median(taken)
    yield at_most(f"cold start without a server, median of {STARTS}", 1, median, "s", beside)


def _started(user: Phone, address: str) -> float:
    user.cold_start()
    user.before_each_page(RECORD)
    user.driver.get(address)
    return (
        user.until(lambda driver: driver.execute_script("return globalThis.usable"), "a check to answer")
        / 1000
    )
