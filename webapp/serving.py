"""Puts the static site and the security headers around the app, and listens."""

import errno
import signal
import sys
from collections.abc import Callable, Iterable
from types import FrameType
from typing import TYPE_CHECKING, NoReturn
from wsgiref.headers import Headers

from waitress.server import create_server
from whitenoise import WhiteNoise

from webapp.errors import PortBusy
from webapp.site import Site, base_url

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment
    from flask import Flask

ONE_YEAR = 365 * 24 * 60 * 60

SECURITY_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' blob: data:; style-src 'self'; object-src 'none'; "
        "base-uri 'none'; frame-ancestors 'none'; form-action 'self'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}
ASSET_HEADERS = {"X-Content-Type-Options": "nosniff"}


class _StaticFiles(WhiteNoise):
    FOREVER = ONE_YEAR


def wrap(app: "Flask", site: Site) -> "WSGIApplication":
    """Give the app with the site's files in front of it and the security headers on every answer."""
    files = _StaticFiles(
        app,
        index_file=True,
        max_age=0,
        allow_all_origins=False,
        mimetypes={".webmanifest": "application/manifest+json"},
        immutable_file_test=lambda path, url: url.startswith("/a/"),
        add_headers_function=lambda headers, path, url: _root_headers(headers, url, site.version),
    )
    files.add_files(site.root)
    files.add_files(site.assets, base_url(site.version))
    if site.previous and site.previous_assets:
        files.add_files(site.previous_assets, base_url(site.previous))
    return _with_security_headers(files)


def run(app: "Flask", site: Site, host: str, port: int, proxies: int = 0) -> None:
    """Serve until stopped, after saying where; PortBusy when the address cannot be opened.

    Behind so many proxies, the visitor's address is the one that the outermost of them noted.
    """
    try:
        server = create_server(
            wrap(app, site),
            host=host,
            port=port,
            threads=8,
            ident="underchassis",
            # A browser holds six connections open for two minutes: at the usual limit of 100, the
            # seventeenth phone would wait for the first to let go.
            connection_limit=1000,
            # What is larger than any photo is not even taken in; the pages have their own, lower limits.
            max_request_body_size=100_000_000,
            asyncore_use_poll=True,
            **_trust(proxies),
        )
    except (OSError, ValueError) as problem:
        raise _refused(problem, host, port) from problem
    # Asked to stop, it finishes what it is storing.
    signal.signal(signal.SIGTERM, _stop)
    shown = "localhost" if host in ("0.0.0.0", "127.0.0.1", "::", "::1") else host
    print(
        f"Underchassis is open on http://{shown}:{port}",
        f"Its data is kept in {site.data}",
        sep="\n",
        flush=True,
    )
    server.run()


def _trust(proxies: int) -> dict[str, object]:
    if not proxies:
        return {}
    return {
        "trusted_proxy": "*",
        "trusted_proxy_count": proxies,
        "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
        "clear_untrusted_proxy_headers": True,
    }


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    sys.exit(0)


def _root_headers(headers: Headers, url: str, version: str) -> None:
    if not url.startswith("/a/"):
        headers["Cache-Control"] = "no-cache"
        # The usual tag, time and size, is the same for two versions built within one second.
        headers["ETag"] = f'"{version}"'


def _with_security_headers(inner: "WSGIApplication") -> "WSGIApplication":
    def answer(environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        def start(status: str, headers: list[tuple[str, str]], *problem: object) -> Callable[[bytes], object]:
            named = Headers(headers)
            # The rest guards documents; on each of forty scripts it would only make a first visit longer.
            document = named.get("Content-Type", "").startswith("text/html")
            asset = environ.get("PATH_INFO", "").startswith("/a/") and not document
            sent = ASSET_HEADERS if asset else SECURITY_HEADERS
            for name, value in sent.items():
                named.setdefault(name, value)
            return start_response(status, headers, *problem)  # type: ignore[arg-type]

        return inner(environ, start)

    return answer


def _refused(problem: OSError | ValueError, host: str, port: int) -> PortBusy:
    code = problem.errno if isinstance(problem, OSError) else None
    if code == errno.EADDRINUSE:
        return PortBusy(
            message=f"Another program already uses port {port}.",
            hint=f"Stop that program, or choose another port: underchassis serve --port {port + 1}",
        )
    if code == errno.EACCES:
        return PortBusy(
            message=f"Port {port} may be opened by an administrator only.",
            hint="Choose a port above 1023: underchassis serve --port 8000",
        )
    return PortBusy(
        message=f"The address {host}, port {port} cannot be opened on this machine.",
        hint="Choose this machine's own address, or leave --host out.",
    )
