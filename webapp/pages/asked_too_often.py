"""Slows down who tries keys or links, or makes notebooks without end, by the address that asks.

Counted in the memory of each server process, and from nothing after a restart: several processes allow
several times as much, which is still far from finding a key or a link of 128 bits.
"""

import ipaddress
import time

from flask import Flask, Response, request
from flask_limiter import Limiter, RequestLimit
from werkzeug.exceptions import TooManyRequests

from webapp.pages import description, notebook, shares

UNKNOWN_KEYS = UNKNOWN_LINKS = "30 per minute; 300 per hour"
NEW_NOTEBOOKS = "20 per hour"


def install(app: Flask) -> None:
    """Counts refused keys and links and new notebooks, and answers with 429 beyond their limits."""
    limiter = Limiter(_visitor, on_breach=_too_often, storage_uri="memory://")
    keys = limiter.shared_limit(UNKNOWN_KEYS, deduct_when=_refused_key, scope="keys")
    keys(notebook.pages)
    keys(shares.pages)
    limiter.limit(NEW_NOTEBOOKS, deduct_when=_made_a_notebook, scope="notebooks")(notebook.pages)
    limiter.shared_limit(UNKNOWN_LINKS, deduct_when=_unknown_link, scope="links")(description.pages)
    limiter.init_app(app)


def _visitor() -> str:
    """The address that asks; of an IPv6 address the half that names a household."""
    address = request.remote_addr or "nobody"
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        return address
    return str(ipaddress.ip_network((known, 64), strict=False)) if known.version == 6 else address


def _refused_key(answer: Response) -> bool:
    return answer.status_code == 401


def _unknown_link(answer: Response) -> bool:
    # A photo that is gone is no try at a link.
    return answer.status_code == 404 and request.endpoint != "description.photo"


def _made_a_notebook(answer: Response) -> bool:
    return answer.status_code == 201


def _too_often(breached: RequestLimit) -> Response:
    raise TooManyRequests(retry_after=max(1, int(breached.reset_at - time.time())))
