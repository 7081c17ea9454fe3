"""A phone as the server sees it: one key, and requests with it."""

import hashlib
import itertools
import secrets
from typing import Any

from flask import Flask
from werkzeug.test import TestResponse

Json = dict[str, Any]

_numbers = itertools.count(1)


def an_operation(record: str = "ab12/check/dial", value: Any = "cracked", **other: Any) -> Json:
    """Give an operation of the contract's form, with a new id and a later time each."""
    number = next(_numbers)
    kind = "findings" if "/" in record else "sets"
    time = 1_795_000_000_000 + number
    return {
        # As phones make them: they begin with their time.
        "id": f"{time:012x}{secrets.token_hex(6)}",
        "device": "0123456789abcdef01234567",
        "by": "the phone in the coat",
        "time": time,
        "at": "2026-11-26T20:30:00.000Z",
        "kind": kind,
        "record": record,
        "after": [],
        "value": value,
        **other,
    }


def a_photo(size: int = 1000) -> tuple[str, bytes]:
    """Give bytes that stand for a photo, new each time, and their hash."""
    content = secrets.token_bytes(size)
    return hashlib.sha256(content).hexdigest(), content


class ServerPhone:
    """Asks an app in this process. Nothing here is asserted; the answers are given back."""

    def __init__(self, app: Flask, key: str | None = None) -> None:
        self.key = key or secrets.token_hex(16)
        self.app = app
        self._client = app.test_client(use_cookies=False)

    def opened(self) -> "ServerPhone":
        """Open the notebook of this key."""
        assert self.open().status_code in (200, 201)
        return self

    def ask(self, method: str, path: str = "", **options: Any) -> TestResponse:
        """Send any request with the key."""
        headers = {"Authorization": f"Bearer {self.key}"} | options.pop("headers", {})
        return self._client.open(f"/notebook{path}", method=method, headers=headers, **options)

    def open(self) -> TestResponse:
        """Open or make the notebook."""
        return self.ask("PUT", json={})

    def send(self, *operations: Any, since: int = 0, generation: str | None = None) -> TestResponse:
        """Exchange these operations."""
        asked = {"generation": generation, "since": since, "operations": list(operations)}
        return self.ask("POST", "/exchange", json=asked)

    def listed(self) -> list[Json]:
        """Give every operation of the notebook in the order of the server, page by page."""
        found: list[Json] = []
        answer = self.send().json
        while True:
            assert answer is not None
            found += answer["operations"]
            if not answer["more"]:
                return found
            answer = self.send(since=answer["cursor"], generation=answer["generation"]).json

    def send_part(self, sha256: str, content: bytes, start: int, end: int) -> TestResponse:
        """Send the bytes of a photo from start up to, but not with, end."""
        header = {"Content-Range": f"bytes {start}-{end - 1}/{len(content)}"}
        return self.ask("PUT", f"/pictures/{sha256}", data=content[start:end], headers=header)

    def send_photo(self, sha256: str, content: bytes) -> TestResponse:
        """Send a small photo as one part."""
        return self.send_part(sha256, content, 0, len(content))


def error_of(answer: TestResponse) -> tuple[int, str]:
    """Give status and code of a refusal; AssertionError when it has another shape."""
    body = answer.json
    assert body is not None
    assert set(body["error"]) == {"code", "message", "hint"}
    assert all(isinstance(text, str) and text for text in body["error"].values())
    assert answer.headers["Cache-Control"] == "no-store"
    return answer.status_code, body["error"]["code"]
