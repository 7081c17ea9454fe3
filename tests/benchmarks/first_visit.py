"""What the first visit fetches, compressed as the real server sends it.

The browser tells which files it fetched until a new set could be appraised (its resource timing), and which
ones the service worker keeps. Each of them is then asked for over HTTP as a browser asks, with brotli, and
the bytes of the answers are counted. 1 KB is 1,000 bytes; the headers are counted in a row of their own.
"""

from collections.abc import Iterable, Iterator
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

from tests.benchmarks.stand import app, phone
from tests.benchmarks.table import Row, at_most, note
from tests.support.phone import Phone
from tests.support.table import Table

FETCHED = """
const links = [...document.querySelectorAll('link[rel=icon], link[rel=manifest]')].map((link) => link.href);
const [shown] = performance.getEntriesByName('set-shown');
const timed = performance.getEntriesByType('resource')
  .filter((entry) => entry.startTime <= shown.startTime).map((entry) => entry.name);
return [...new Set([location.origin + '/', location.origin + '/service-worker.js', ...links, ...timed])];
"""
KEPT = """
const keys = await Promise.all((await caches.keys()).map(async (name) => (await caches.open(name)).keys()));
return [location.origin + '/service-worker.js', ...keys.flat().map((request) => request.url)];
"""


def rows(folder: Path) -> Iterator[Row]:
    """The first visit to a Set screen that can be used, and all that is kept for the field."""
    with app(folder) as server, phone(folder) as visitor:
        server.start()
        fetched, kept = _visit(visitor, server.url)
        body, head = _sizes(fetched)
        yield at_most("first visit to a new set, compressed", 70, body / 1000, "KB", f"{len(fetched)} files")
        yield note("  headers of these answers", head / 1000, "KB")
        body, _ = _sizes(kept)
        yield note("everything that the service worker keeps", body / 1000, "KB", f"{len(kept)} files")


def _visit(visitor: Phone, url: str) -> tuple[list[str], list[str]]:
    table = Table(visitor, url)
    table.open()
    table.new_set()
    table.find(".check .option")
    fetched: list[str] = visitor.js(FETCHED)
    table.until_ready_offline()
    return fetched, visitor.js(KEPT)


def _sizes(addresses: Iterable[str]) -> tuple[int, int]:
    """Bytes of the bodies and of the headers of these files, as sent."""
    body = head = 0
    for address in addresses:
        parts = urlsplit(address)
        connection = HTTPConnection(parts.netloc)
        connection.request("GET", parts.path, headers={"Accept-Encoding": "gzip, deflate, br"})
        answer = connection.getresponse()
        assert answer.status == 200, f"{address}: {answer.status}"
        body += len(answer.read())
        head += sum(len(name) + len(value) + 4 for name, value in answer.getheaders())
        connection.close()
    return body, head
