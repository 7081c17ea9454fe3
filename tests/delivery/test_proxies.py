"""Whose address is counted: the visitor's, as told by the proxies that are trusted, and by nobody else."""

import sys
from pathlib import Path
from urllib.request import Request, urlopen

import pytest

from tests.support.server import LiveServer, free_port

PROGRAM = """
import sys
from pathlib import Path
from flask import Flask, request
from webapp.serving import run
from webapp.site import Site
data, port, proxies = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
site = Site("none", data, None)
site.assets.mkdir(parents=True)
site.root.mkdir()
app = Flask("small", static_folder=None)
app.add_url_rule("/who", "who", lambda: request.remote_addr)
run(app, site, "127.0.0.1", port, proxies)
"""


@pytest.mark.parametrize(
    ("proxies", "said", "seen"),
    [
        (0, "192.0.2.7", "127.0.0.1"),
        (1, "192.0.2.7", "192.0.2.7"),
        # What a visitor makes up stands further left than what the proxies add.
        (1, "203.0.113.9, 192.0.2.7", "192.0.2.7"),
        (2, "203.0.113.9, 192.0.2.7, 198.51.100.1", "192.0.2.7"),
    ],
)
def test_the_address_is_the_one_that_the_outermost_trusted_proxy_noted(
    tmp_path: Path, proxies: int, said: str, seen: str
) -> None:
    port = free_port()
    command = [sys.executable, "-c", PROGRAM, str(tmp_path / "data"), str(port), str(proxies)]
    server = LiveServer(command, port, tmp_path / "data")
    server.start()
    try:
        with urlopen(Request(f"{server.url}/who", headers={"X-Forwarded-For": said}), timeout=10) as answer:
            assert answer.read().decode() == seen
    finally:
        server.stop()
