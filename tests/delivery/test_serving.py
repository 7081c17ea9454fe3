"""What goes over the wire: lifetimes, compression and security headers, of files and of pages alike."""

import contextlib
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest
from werkzeug.test import Client, TestResponse

from tests.delivery.small_app import small_app
from tests.support.server import LiveServer
from webapp.paths import static_folder
from webapp.serving import SECURITY_HEADERS, wrap
from webapp.site import Site, build

DOCUMENTS = {"packs/index.json": b'["' + b"word " * 400 + b'"]'}


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """A second release, with a first one before it."""
    data = tmp_path_factory.mktemp("data")
    first = build(static_folder(), DOCUMENTS | {"old.json": b"[]"}, data, demo=False)
    os.utime(data / "site" / first.version, (1, 1))
    return build(static_folder(), DOCUMENTS, data, demo=False)


@pytest.fixture
def client(site: Site) -> Client:
    return Client(wrap(small_app(), site))


def get(client: Client, path: str, encoding: str = "") -> TestResponse:
    return client.get(path, headers={"Accept-Encoding": encoding} if encoding else None, buffered=True)


def test_files_of_a_version_never_change_and_are_kept_for_a_year(client: Client, site: Site) -> None:
    for path in (f"/a/{site.version}/packs/index.json", f"/a/{site.previous}/old.json"):
        answer = get(client, path)
        assert (answer.status_code, answer.headers["Cache-Control"]) == (
            200,
            "max-age=31536000, public, immutable",
        )


def test_files_at_the_root_are_asked_for_each_time(client: Client, site: Site) -> None:
    for path, kind in (
        ("/", "text/html"),
        ("/service-worker.js", "text/javascript"),
        ("/manifest.webmanifest", "application/manifest+json"),
    ):
        answer = get(client, path)
        assert (answer.status_code, answer.mimetype) == (200, kind)
        assert answer.headers["Cache-Control"] == "no-cache"
        assert answer.headers["ETag"] == f'"{site.version}"'
        unchanged = client.get(path, headers={"If-None-Match": answer.headers["ETag"]}, buffered=True)
        assert unchanged.status_code == 304
        # Built in the same second, two versions differ in their tag alone.
        changed = {"If-None-Match": '"another"', "If-Modified-Since": answer.headers["Last-Modified"]}
        assert client.get(path, headers=changed, buffered=True).status_code == 200


@pytest.mark.parametrize(("accepted", "sent"), [("br, gzip", "br"), ("gzip", "gzip"), ("", None)])
def test_each_browser_gets_the_smallest_form_it_reads(
    client: Client, site: Site, accepted: str, sent: str | None
) -> None:
    answer = get(client, f"/a/{site.version}/packs/index.json", accepted)
    assert answer.headers.get("Content-Encoding") == sent
    assert answer.headers["Vary"] == "Accept-Encoding"
    assert (int(answer.headers["Content-Length"]) < 200) == (sent is not None)


@pytest.mark.parametrize("path", ["/", "/service-worker.js", "/form", "/nowhere", "/a/unknown/x.js"])
def test_every_answer_carries_the_security_headers(client: Client, path: str) -> None:
    answer = get(client, path)
    assert {name: answer.headers.get(name) for name in SECURITY_HEADERS} == SECURITY_HEADERS
    assert "Access-Control-Allow-Origin" not in answer.headers


def test_a_page_may_be_stricter_than_the_rest(site: Site) -> None:
    app = small_app()
    app.add_url_rule("/own", "own", lambda: ("", 200, {"Content-Security-Policy": "default-src 'none'"}))
    answer = get(Client(wrap(app, site)), "/own")
    assert answer.headers.getlist("Content-Security-Policy") == ["default-src 'none'"]


@pytest.mark.parametrize("path", ["/../secret_key", "/a/../../secret_key", "/a/%2e%2e/%2e%2e/secret_key"])
def test_nothing_outside_the_site_is_served(client: Client, path: str) -> None:
    assert get(client, path).status_code == 404


def refusal_of(tmp_path: Path, host: str, port: int) -> str:
    """Give the last line of a program that could not open this address."""
    program = f"""
from pathlib import Path
from tests.delivery.small_app import small_app
from webapp.serving import run
from webapp.site import Site
run(small_app(), Site("none", Path({str(tmp_path)!r}), None), {host!r}, {port})
"""
    (tmp_path / "site" / "none" / "assets").mkdir(parents=True)
    (tmp_path / "site" / "none" / "root").mkdir()
    root = Path(__file__).resolve().parents[2]
    ended = subprocess.run(
        [sys.executable, "-c", program], cwd=root, capture_output=True, text=True, check=False
    )
    return ended.stderr.strip().splitlines()[-1]


def test_a_busy_port_is_said_in_one_sentence(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        refusal = refusal_of(tmp_path, "127.0.0.1", port)
    assert refusal == (
        f"webapp.errors.PortBusy: Another program already uses port {port}. "
        f"Stop that program, or choose another port: underchassis serve --port {port + 1}"
    )


@pytest.mark.parametrize("host", ["192.0.2.1", "no such host"])
def test_a_host_that_is_not_ours_is_refused(tmp_path: Path, host: str) -> None:
    assert f"PortBusy: The address {host}, port 8000 cannot be opened on this machine." in refusal_of(
        tmp_path, host, 8000
    )


def test_phones_that_hold_their_connections_open_do_not_keep_the_next_one_waiting(
    live_server: LiveServer,
) -> None:
    port = int(live_server.url.rpartition(":")[2])
    asked = b"HEAD /service-worker.js HTTP/1.1\r\nHost: localhost\r\n\r\n"
    with contextlib.ExitStack() as open_ones:
        for _ in range(150):
            phone = open_ones.enter_context(socket.create_connection(("127.0.0.1", port), timeout=10))
            phone.sendall(asked)
            assert phone.recv(4096).startswith(b"HTTP/1.1 200")
